//! A piece: its course, what stands before the next step, its history.

use super::{
    ClockFace, DayState, Fact, Finding, NextStep, PaperKind, PhotoRef, Picture, PieceClock, Severity, When,
};

dto! {
    /// Something the next step has to wait for or to clear.
    #[derive(Eq)]
    pub struct Gate {
        /// What it is.
        pub title: String,
        /// Why.
        pub why: String,
        /// When it opens by itself.
        pub clears_at: Option<When>,
        /// It is open.
        pub open: bool,
        /// The rule behind it.
        pub rule: Option<String>,
    }

    /// A kind of step that can be logged.
    #[derive(Eq)]
    pub struct StepChoice {
        /// The kind.
        pub kind: String,
        /// What it is called.
        pub title: String,
        /// Where it belongs.
        pub group: String,
        /// The route expects it next.
        pub expected: bool,
    }

    /// What an entry is worth, as shown.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum EntryStatus {
        /// It counts.
        Counts,
        /// Taken out by a strike.
        Struck,
        /// Replaced by a correction.
        Replaced,
        /// Of a device that was not accepted.
        Apart,
        /// An entry it refers to has not arrived.
        Waiting,
        /// Written after its device was retired.
        Retired,
        /// Written by a newer version.
        Newer,
    }

    /// One entry of a piece's history.
    #[derive(Eq)]
    pub struct HistoryItem {
        /// Hash of the line.
        pub hash: String,
        /// Its kind.
        pub kind: String,
        /// What was done.
        pub title: String,
        /// When.
        pub done: When,
        /// How late it was written down, where it was late.
        pub late: Option<String>,
        /// Who did it.
        pub person: String,
        /// The device that wrote it.
        pub device: String,
        /// What it is worth.
        pub status: EntryStatus,
        /// The words for it.
        pub status_text: String,
        /// Every recorded value.
        pub facts: Vec<Fact>,
        /// The note, as written.
        pub note: Option<String>,
        /// Its photos.
        pub photos: Vec<PhotoRef>,
        /// Codes of other pieces it covers.
        pub also: Vec<String>,
        /// Entries it refers to.
        pub refers: Vec<String>,
        /// What it changed, where it is a correction.
        pub changes: Vec<ValueChange>,
        /// It stands in the folder.
        pub in_folder: bool,
        /// It can be struck from here.
        pub may_strike: bool,
        /// It can be corrected from here.
        pub may_correct: bool,
    }

    /// What a layer of the column stands for.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum LayerKind {
        /// A step that was done.
        Step,
        /// Time in which nothing was done.
        Wait,
        /// The next step.
        Next,
        /// A step that is planned.
        Planned,
    }

    /// A finding beside the layer that caused it.
    #[derive(Eq)]
    pub struct FindingMark {
        /// The finding's key.
        pub key: String,
        /// Its weight.
        pub severity: Severity,
        /// The rule as one sentence.
        pub title: String,
    }

    /// A gate, drawn as a seam.
    #[derive(Eq)]
    pub struct Seam {
        /// What it is and when it clears.
        pub text: String,
        /// When it clears by itself.
        pub clears_at: Option<When>,
        /// It is open.
        pub open: bool,
    }

    /// A layer of the column; positions in mm of the drawing.
    pub struct Layer {
        /// Its top.
        pub top: f64,
        /// Its bottom.
        pub bottom: f64,
        /// What it stands for.
        pub kind: LayerKind,
        /// The entry it shows.
        pub hash: Option<String>,
        /// What it is.
        pub title: String,
        /// The values that matter.
        pub detail: String,
        /// When.
        pub when: String,
        /// Findings it caused.
        pub findings: Vec<FindingMark>,
        /// The gate at its edge.
        pub seam: Option<Seam>,
    }

    /// The course of a piece as a core sample.
    pub struct Column {
        /// The core, without labels; the top is now.
        pub drawing: Picture,
        /// Its layers, the top one first.
        pub layers: Vec<Layer>,
        /// The scale, in words.
        pub scale: String,
    }

    /// The newest reading of air and surface that speaks for a piece.
    pub struct Conditions {
        /// Air, humidity, surface, dew point, margin.
        pub facts: Vec<Fact>,
        /// When it was read.
        pub when: When,
        /// How old it is, and whether it still speaks for now, in a sentence.
        pub say: String,
        /// It still speaks for now.
        pub fresh: bool,
        /// The margin over the dew point is as large as was asked for.
        pub enough: bool,
    }

    /// How the plan of a piece lies on its drawing.
    #[derive(Copy)]
    pub struct PlanFrame {
        /// Left edge of the plan, in mm of the drawing.
        pub left: f64,
        /// Front edge of the plan, from the top of the drawing.
        pub front: f64,
        /// Millimetres of the drawing to one unit of a place.
        pub scale: f64,
        /// Length of the plan, in units of a place.
        pub length: f64,
        /// Its width.
        pub width: f64,
        /// Decimals of a place.
        pub decimals: u32,
    }

    /// What is marked on a plan.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum MarkKind {
        /// A fill.
        Fill,
        /// A chip or flaw.
        Chip,
        /// What a photo shows.
        Photo,
        /// What a client complains of.
        Claim,
    }

    /// A mark on the plan of a piece.
    pub struct MapMark {
        /// Its number on the plan.
        pub number: u32,
        /// What it is.
        pub kind: MarkKind,
        /// What it is, in words.
        pub title: String,
        /// When.
        pub when: When,
        /// The entry that made it.
        pub hash: String,
    }

    /// The plan of a piece with its marks.
    pub struct PieceMap {
        /// The plan.
        pub picture: Picture,
        /// How it lies; none where no plan can be drawn.
        pub frame: Option<PlanFrame>,
        /// The marks, by number.
        pub marks: Vec<MapMark>,
    }

    /// A value a correction changed.
    #[derive(Eq)]
    pub struct ValueChange {
        /// What it is.
        pub label: String,
        /// What stood there before; none: nothing.
        pub was: Option<String>,
        /// What stands there now.
        pub is: Option<String>,
    }

    /// Everything about one piece.
    pub struct PieceSheet {
        /// Its id.
        pub id: String,
        /// The code people use.
        pub code: String,
        /// Its name.
        pub name: String,
        /// The job, as people call it.
        pub job: String,
        /// Size, mix, route, pour.
        pub facts: Vec<Fact>,
        /// Its plan outline.
        pub outline: Picture,
        /// Where it stands today.
        pub state: DayState,
        /// What may be done, or why not, in a sentence.
        pub line: String,
        /// What runs or is waited for.
        pub clock: Option<ClockFace>,
        /// Every clock that runs on it.
        pub clocks: Vec<PieceClock>,
        /// The newest reading of air and surface.
        pub conditions: Option<Conditions>,
        /// Strength with its gates, climate of the readings.
        pub charts: Vec<Picture>,
        /// Its plan with what is marked on it.
        pub map: PieceMap,
        /// The step the route expects next.
        pub next: Option<NextStep>,
        /// Steps the route lets be done before it.
        pub options: Vec<NextStep>,
        /// What stands before it.
        pub gates: Vec<Gate>,
        /// Every step that can be logged, the expected one first.
        pub kinds: Vec<StepChoice>,
        /// Its course.
        pub column: Column,
        /// Findings, stops first.
        pub findings: Vec<Finding>,
        /// Entries, the newest first.
        pub history: Vec<HistoryItem>,
        /// Papers that can be made.
        pub papers: Vec<PaperKind>,
        /// This device may write.
        pub may_write: bool,
    }
}
