//! What a process record is made from.

use trowelogue_core::column::Column;

use super::{Attachment, Fact, Figure, Imprint, PieceCard};

/// Everything recorded about one piece, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct ProcessRecord {
    /// Who issues it.
    pub imprint: Imprint,
    /// The piece.
    pub piece: PieceCard,
    /// Route, sealing, dates, people: the facts of the first page.
    pub summary: Vec<Fact>,
    /// What was never recorded, a short phrase each.
    pub never_recorded: Vec<String>,
    /// The course of the piece as *the column*; none where nothing was done.
    pub column: Option<Column>,
    /// Strength, climate and other charts.
    pub charts: Vec<Figure>,
    /// The piece map with fills, chips and photo positions.
    pub map: Option<Figure>,
    /// Every step, in the order the rules see.
    pub steps: Vec<Step>,
    /// Every finding.
    pub findings: Vec<Finding>,
    /// Exceptions accepted.
    pub exceptions: Vec<Exception>,
    /// Corrections and strikes.
    pub corrections: Vec<Correction>,
    /// Products used, with lots and limits.
    pub products: Vec<Product>,
    /// Devices that wrote the entries.
    pub devices: Vec<Device>,
    /// Photos, in order.
    pub photos: Vec<Photo>,
    /// Words of the trade used here.
    pub glossary: Vec<Term>,
    /// Rules applied and the basis of each.
    pub basis: Vec<Term>,
    /// The entry lines (`entries.jsonl`) and other files carried inside.
    pub attachments: Vec<Attachment>,
}

/// One step of the course.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// When it was done.
    pub when: String,
    /// What was done.
    pub what: String,
    /// Region of the piece, pour or site.
    pub region: Option<String>,
    /// Every recorded value.
    pub values: Vec<Fact>,
    /// Notes, as written.
    pub note: Option<String>,
    /// Who did it.
    pub who: String,
    /// The device that wrote it, by name.
    pub device: String,
    /// When it was written down; given where it was late.
    pub late: Option<String>,
    /// What the entry counts for.
    pub status: StepStatus,
    /// The entry's hash, shortened.
    pub hash: String,
    /// Findings this step caused.
    pub marks: Vec<StepMark>,
}

/// A finding named beside the step that caused it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepMark {
    /// Code of the rule.
    pub rule: String,
    /// Its weight.
    pub severity: Severity,
    /// Where it stands.
    pub standing: Standing,
    /// Title of the rule.
    pub title: String,
}

/// What an entry counts for in the fold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepStatus {
    /// It counts.
    Counts,
    /// Replaced by a correction; readable for ever.
    Replaced,
    /// Struck; readable for ever.
    Struck,
    /// Written by a device that was not accepted.
    Apart,
    /// One of several current versions, not yet settled.
    Open,
    /// Waits for an entry it refers to.
    Waiting,
}

/// Weight of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Forbids the planned step.
    Stop,
    /// Asks for care.
    Caution,
    /// Worth knowing.
    Note,
}

/// Where a finding stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// It stands.
    Stands,
    /// Accepted by a named person with a reason.
    Accepted,
    /// Waits for a moment or an entry.
    Waiting,
}

/// A finding, explained.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Code of the rule.
    pub rule: String,
    /// Title of the rule.
    pub title: String,
    /// Its weight.
    pub severity: Severity,
    /// Where it stands.
    pub standing: Standing,
    /// Cause, and what goes wrong later.
    pub why: String,
    /// Source of the rule.
    pub basis: String,
    /// What to do now.
    pub remedy: String,
    /// Earliest moment it can clear.
    pub clears: Option<String>,
    /// The entries that caused it, by shortened hash and what they are.
    pub entries: Vec<String>,
}

/// An exception: a finding a person accepted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Exception {
    /// Code of the rule.
    pub rule: String,
    /// Title of the rule.
    pub title: String,
    /// Who accepts it.
    pub who: String,
    /// When.
    pub when: String,
    /// The reason given.
    pub why: String,
    /// The entry's hash, shortened.
    pub hash: String,
}

/// A correction or a strike, with both versions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// What the corrected step was.
    pub what: String,
    /// Who corrected it.
    pub who: String,
    /// When.
    pub when: String,
    /// The reason given.
    pub why: String,
    /// The first version: hash, shortened.
    pub before_hash: String,
    /// The first version: values.
    pub before: Vec<Fact>,
    /// The new version: hash, shortened.
    pub after_hash: String,
    /// The new version: values; none for a strike.
    pub after: Option<Vec<Fact>>,
}

/// A product used on the piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Product {
    /// Its name in the shop.
    pub name: String,
    /// Material class.
    pub class: String,
    /// What it was used for.
    pub used_for: String,
    /// Lots with expiry, as shown. Empty: none recorded, and said so.
    pub lots: Vec<String>,
    /// Limits applied, each value with its source (`data sheet …` or `class default`).
    pub limits: Vec<Fact>,
}

/// A device whose entries stand in the paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// Its name.
    pub name: String,
    /// Its id.
    pub id: String,
    /// Accepted, apart or retired, in words.
    pub status: String,
    /// How many of its entries stand here, and their signatures, in words.
    pub entries: String,
}

/// A photo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// SHA-256 of the file in the folder, lower-case hex.
    pub hash: String,
    /// Printed below it: step and moment.
    pub caption: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// The JPEG file; none where the file is missing, and said so.
    pub jpeg: Option<Vec<u8>>,
}

/// A word and its meaning, or a rule and its basis.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Term {
    /// The word, or code and title of the rule.
    pub term: String,
    /// What it means, or where it comes from.
    pub meaning: String,
}
