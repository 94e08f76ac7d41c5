//! Entries about entries and about devices: correction, strike, exception, acceptance, retirement, roles.

use serde_json::{Map, Value};

use crate::moment::Moment;

choices! {
    /// What a device may do. Owners accept and retire devices, give roles, settle forks, change settings.
    pub enum Role {
        Owner = "owner": "owner", "dueño";
        Crew = "crew": "crew", "cuadrilla";
    }

    /// Why a device is retired.
    pub enum RetireReason {
        Replaced = "replaced": "replaced", "sustituido";
        Lost = "lost": "lost or stolen", "perdido o robado";
        PersonLeft = "person_left": "its person left", "su persona se fue";
        Other = "other": "another reason", "otro motivo";
    }
}

bodies! {
    /// Replaces the versions named in `refs`. The first version stays readable for ever.
    pub struct Correction {
        /// What was wrong, and why.
        pub why: String,
        /// The whole body as it should have been; its kind is that of the entry corrected.
        pub body: Map<String, Value>,
        /// When the work was done, if that was wrong.
        pub done: Option<Moment>,
        /// When it ended, if that was wrong.
        pub until: Option<Moment>,
    }

    /// Takes the entries named in `refs` out of the record; they stay readable.
    pub struct Strike {
        /// Why.
        pub why: String,
    }

    /// A named person accepts a finding, with a reason. `refs` names the entries concerned, if any.
    pub struct Exception {
        /// Code of the rule.
        pub rule: String,
        /// Who accepts it.
        pub accepted_by: String,
        /// Why.
        pub why: String,
    }

    /// What a device says of itself.
    pub struct Device {
        /// The name people use for it.
        pub name: String,
        /// What it is, in words.
        pub model: Option<String>,
    }

    /// A device accepted by an owner.
    pub struct Accept {
        /// What it may do. Crew unless said.
        pub role: Option<Role>,
    }

    /// A device retired: `refs` names the last entry of it that counts.
    pub struct Retire {
        /// Why.
        pub reason: RetireReason,
    }

    /// A role given to an accepted device.
    pub struct RoleGiven {
        /// The role.
        pub role: Role,
    }

    /// A fork settled: of the entries that share a device and number, those named in `refs` count.
    pub struct SettleFork {
        /// Why.
        pub why: String,
    }
}
