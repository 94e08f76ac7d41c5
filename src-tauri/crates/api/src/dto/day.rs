//! The day: every piece by what can be done.

use super::{Picture, When};

dto! {
    /// Where a piece stands today.
    #[derive(Copy, Eq, PartialOrd, Ord)]
    #[serde(rename_all = "snake_case")]
    pub enum DayState {
        /// A stop stands.
        Trouble,
        /// Something is under way.
        Running,
        /// The next step may be done.
        Ready,
        /// The next step has to wait.
        Waiting,
        /// Handed over.
        Done,
    }

    /// A span of time that runs on the wall clock.
    #[derive(Eq)]
    pub struct ClockFace {
        /// What runs.
        pub label: String,
        /// From when.
        pub starts: When,
        /// Until when.
        pub ends: When,
    }

    /// The step the route expects next.
    #[derive(Eq)]
    pub struct NextStep {
        /// Its kind.
        pub kind: String,
        /// What it is called, with what the plan says of it.
        pub title: String,
        /// The region it is for.
        pub region: Option<String>,
    }

    /// A piece in the day's list.
    pub struct DayPiece {
        /// Its id.
        pub id: String,
        /// The code people use.
        pub code: String,
        /// Its name.
        pub name: String,
        /// The job, as people call it.
        pub job: String,
        /// The job's id.
        pub job_id: Option<String>,
        /// Its plan outline.
        pub outline: Picture,
        /// The step the route expects next.
        pub next: Option<NextStep>,
        /// What may be done, or why not, in a sentence.
        pub line: String,
        /// What runs or is waited for.
        pub clock: Option<ClockFace>,
        /// Stops that stand.
        pub stops: u32,
        /// Cautions that stand.
        pub cautions: u32,
        /// The handover agreed on.
        pub handover: Option<When>,
    }

    /// Pieces in one state.
    pub struct DayGroup {
        /// The state.
        pub state: DayState,
        /// The pieces, the most pressing first.
        pub pieces: Vec<DayPiece>,
    }

    /// The day.
    pub struct Day {
        /// The moment it was made for.
        pub now: When,
        /// The civil day.
        pub date: String,
        /// All five groups, in order of the states.
        pub groups: Vec<DayGroup>,
        /// Entries of this device that are not in the folder yet.
        pub not_in_folder: u32,
        /// Entries that stand apart.
        pub apart: u32,
        /// What a person should know about the folder.
        pub notices: Vec<String>,
    }
}
