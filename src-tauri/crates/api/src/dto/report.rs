//! The stable machine form of the reading commands (`--json`). Keys may be added, never renamed.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::{Fact, HealthRow, Severity};

macro_rules! reports {
    ($($(#[$meta:meta])* pub struct $name:ident $body:tt)*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Serialize)]
        pub struct $name $body
    )*};
}

reports! {
    /// What `show` gives.
    pub struct Show {
        /// Format of the folder.
        pub format: u32,
        /// The shop.
        pub shop: ShopRow,
        /// Its people.
        pub people: Vec<PersonRow>,
        /// Its devices.
        pub devices: Vec<DeviceRow>,
        /// Its jobs.
        pub jobs: Vec<JobRow>,
        /// Its pieces, by code.
        pub pieces: Vec<PieceRow>,
        /// Names of other things by id: clients, mixes, products, tools, pours, routes.
        pub things: BTreeMap<&'static str, Vec<ThingRow>>,
        /// Entries that stand apart.
        pub apart: usize,
        /// Entries that wait for one they refer to.
        pub waiting: usize,
    }

    /// The shop.
    pub struct ShopRow {
        /// Its id.
        pub id: String,
        /// Its name.
        pub name: String,
        /// Settings in force.
        pub settings: Value,
    }

    /// A person.
    pub struct PersonRow {
        /// The id.
        pub id: String,
        /// The name.
        pub name: String,
    }

    /// A device.
    pub struct DeviceRow {
        /// Its id.
        pub id: String,
        /// Its name.
        pub name: Option<String>,
        /// `accepted`, `apart` or `retired`.
        pub status: &'static str,
        /// `owner` or `crew`.
        pub role: &'static str,
        /// Both as people read them.
        pub shown: String,
        /// Its highest number.
        pub last_seq: u64,
    }

    /// A job.
    pub struct JobRow {
        /// Its id.
        pub id: String,
        /// The code people use.
        pub code: String,
        /// Its name.
        pub name: String,
        /// The client's name.
        pub client: Option<String>,
        /// The day of handover agreed on.
        pub handover_by: Option<String>,
    }

    /// A piece.
    pub struct PieceRow {
        /// Its id.
        pub id: String,
        /// The code people use.
        pub code: String,
        /// Its name.
        pub name: String,
        /// The job's id.
        pub job: Option<String>,
        /// Code of the route chosen.
        pub route: Option<String>,
        /// Its handover is recorded.
        pub finished: bool,
        /// Its facts as recorded.
        pub facts: Value,
        /// Its entries, in order of work.
        pub steps: Vec<StepRow>,
    }

    /// An entry of a piece.
    pub struct StepRow {
        /// Hash of the line.
        pub hash: String,
        /// Its kind.
        pub kind: String,
        /// When the work was done.
        pub done: String,
        /// When it ended, if that was recorded.
        pub until: Option<String>,
        /// When it was written down.
        pub wrote: String,
        /// It was written down late.
        pub late: bool,
        /// Who did it, by id.
        pub person: String,
        /// Who did it, by name.
        pub person_name: String,
        /// The device that wrote it.
        pub device: String,
        /// Its number in the device's log.
        pub seq: u64,
        /// `counts`, `struck`, `replaced`, `apart` or `waiting`.
        pub status: &'static str,
        /// One of several current versions.
        pub open: bool,
        /// The first version, where this is a correction.
        pub corrects: Option<String>,
        /// Entries it refers to.
        pub refs: Vec<String>,
        /// The body as stored; null where it cannot be read here.
        pub body: Value,
        /// Its values as people read them; not part of the machine form.
        #[serde(skip)]
        pub shown: Shown,
    }

    /// Anything with an id and a name.
    pub struct ThingRow {
        /// Its id.
        pub id: String,
        /// Its name, or code.
        pub name: String,
    }

    /// What `check` gives.
    pub struct Check {
        /// The findings, stops first.
        pub findings: Vec<FindingRow>,
    }

    /// A finding.
    pub struct FindingRow {
        /// Code of the rule.
        pub rule: &'static str,
        /// The rule as one sentence.
        pub title: String,
        /// Its weight.
        pub severity: Severity,
        /// `stands`, `accepted` or `waiting`.
        pub state: &'static str,
        /// `violated` or `cannot_tell`.
        pub verdict: &'static str,
        /// The piece's id.
        pub piece: Option<String>,
        /// The piece's code.
        pub piece_code: Option<String>,
        /// The entries that caused it.
        pub entries: Vec<String>,
        /// What was measured and what it was held against.
        pub facts: Vec<Fact>,
        /// Cause, and what goes wrong later.
        pub why: String,
        /// What the rule rests on.
        pub basis: String,
        /// What to do now.
        pub remedy: String,
        /// When it clears by itself.
        pub clears_at: Option<String>,
        /// The exception that accepted it.
        pub accepted: Option<AcceptedRow>,
        /// Words for weight and state, and the entries in words; not part of the machine form.
        #[serde(skip)]
        pub shown: ShownFinding,
    }

    /// Who accepted a finding.
    pub struct AcceptedRow {
        /// The exception's entry.
        pub entry: String,
        /// Who accepted it.
        pub by: String,
        /// Why.
        pub why: String,
    }

    /// What `next` gives.
    pub struct Next {
        /// The pieces.
        pub pieces: Vec<NextRow>,
    }

    /// What may be done next on a piece.
    pub struct NextRow {
        /// Its id.
        pub id: String,
        /// The code people use.
        pub code: String,
        /// Its name.
        pub name: String,
        /// `trouble`, `running`, `ready`, `waiting` or `done`.
        pub state: super::DayState,
        /// The kind of the step the route expects next.
        pub step: Option<String>,
        /// What it is called.
        pub title: Option<String>,
        /// Its region.
        pub region: Option<String>,
        /// The earliest moment for it; null where that cannot be said.
        pub earliest: Option<String>,
        /// The rule of the gate that opens last.
        pub binding: Option<String>,
        /// Everything that stands before it.
        pub gates: Vec<GateRow>,
        /// All of it in a sentence.
        pub line: String,
    }

    /// Something that stands before a step.
    pub struct GateRow {
        /// Code of the rule.
        pub rule: String,
        /// The rule as one sentence.
        pub title: String,
        /// Its weight.
        pub severity: Severity,
        /// `open`, `until`, `blocked` or `accepted`.
        pub state: &'static str,
        /// `violated` or `cannot_tell`.
        pub verdict: &'static str,
        /// When it opens by itself.
        pub until: Option<String>,
        /// The entries it rests on.
        pub entries: Vec<String>,
        /// What was measured and what it is held against.
        pub facts: Vec<Fact>,
        /// Cause, and what goes wrong later.
        pub why: String,
        /// What to do now.
        pub remedy: String,
        /// `until` as people read it; not part of the machine form.
        #[serde(skip)]
        pub until_text: Option<String>,
    }

    /// What `verify` gives for a folder.
    pub struct Verify {
        /// What is wrong.
        pub breaks: Vec<BreakRow>,
        /// What there is to know.
        pub notes: Vec<NoteRow>,
        /// How the folder stands, thing by thing, with what to do; of a paper nothing.
        pub health: Vec<HealthRow>,
        /// Entries checked.
        pub entries: usize,
    }

    /// Something wrong with a file.
    pub struct BreakRow {
        /// The file, relative to the folder.
        pub file: String,
        /// The line, from 1.
        pub line: Option<u64>,
        /// Its stable name.
        pub kind: &'static str,
        /// What it means.
        pub text: String,
    }

    /// Something to know about the folder.
    pub struct NoteRow {
        /// Its stable name.
        pub kind: &'static str,
        /// The file, relative to the folder.
        pub file: Option<String>,
        /// The line, from 1.
        pub line: Option<u64>,
        /// The device.
        pub device: Option<String>,
        /// First and last number meant.
        pub range: Option<(u64, u64)>,
        /// What it means.
        pub text: String,
    }

    /// An entry that was written.
    pub struct WrittenRow {
        /// The object it created, if it created one.
        pub id: Option<String>,
        /// Its hash.
        pub hash: String,
        /// Its number in this device's log.
        pub seq: u64,
    }
}

/// What `add` and the like give.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// The entries, in the order given.
    pub entries: Vec<WrittenRow>,
    /// What a person should know: not in the folder yet, stands apart, clock set back.
    pub remarks: Vec<String>,
    /// They stand in the folder too.
    pub in_folder: bool,
}

/// An entry as people read it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shown {
    /// What was done.
    pub title: String,
    /// When.
    pub done: String,
    /// The device's name.
    pub device: String,
    /// How late it was written down, where it was late.
    pub late: Option<String>,
    /// The word for its status; none where it simply counts.
    pub status: Option<String>,
    /// Every recorded value.
    pub facts: Vec<Fact>,
    /// The note, as written.
    pub note: Option<String>,
}

/// A finding as people read it, beyond what the machine form carries.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShownFinding {
    /// The word for its weight.
    pub severity: String,
    /// The words for its state.
    pub state: String,
    /// The entries, a line each.
    pub entries: Vec<String>,
    /// When it clears by itself.
    pub clears_at: Option<String>,
}
