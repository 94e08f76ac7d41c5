//! Entries about entries and about devices: correction, strike, exception, acceptance, retirement, roles.

use serde_json::{Map, Value};

use crate::id::Hash;
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

    /// This device goes on as an owner in the place of the founding device (`peer`), whose last entry that counts
    /// `refs` names. It counts by the recovery key alone.
    pub struct Recover {
        /// The recovery key's signature over shop, this device, founding device and that entry, in base64url.
        pub proof: String,
    }

    /// A role given to an accepted device.
    pub struct RoleGiven {
        /// The role.
        pub role: Role,
    }

    /// A passphrase set for the folder: how its key is made, and the keys before it, encrypted with it.
    pub struct Passphrase {
        /// 16 random bytes in base64url.
        pub key_salt: String,
        /// Argon2id: memory, in KiB.
        pub memory_kib: u32,
        /// Argon2id: passes.
        pub passes: u32,
        /// Argon2id: lanes.
        pub lanes: u32,
        /// The keys of earlier passphrases, encrypted.
        pub earlier: String,
    }

    /// Personal data erased on request: the bodies of the entries named in `refs` are withheld for good.
    pub struct Erase {
        /// Why.
        pub why: String,
        /// Photos that go with them, by their hash.
        pub removed: Option<Vec<Hash>>,
    }

    /// A fork settled: of the entries that share a device and number, those named in `refs` count.
    pub struct SettleFork {
        /// Why.
        pub why: String,
    }
}
