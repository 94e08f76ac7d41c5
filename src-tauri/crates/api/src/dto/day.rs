//! The day: every piece by what can be done.

use super::{Choice, Finding, Picture, When};

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

    /// A clock that runs on a piece: a dwell, a cure, pot life.
    #[derive(Eq)]
    pub struct PieceClock {
        /// Names this clock for as long as it runs.
        pub key: String,
        /// The piece.
        pub piece: String,
        /// The code people use.
        pub code: String,
        /// What runs, from when until when.
        pub face: ClockFace,
        /// Of a recoat window: past this the face is abraded first.
        pub latest: Option<When>,
        /// It presses: work has to be done before it ends.
        pub presses: bool,
        /// What is said when it ends.
        pub over: String,
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
        /// The pieces, the most pressing first; of many, the first of them, and of those handed over the newest, as
        /// many as were asked for. `day_more` gives those after.
        pub pieces: Vec<DayPiece>,
        /// How many there are.
        pub count: u32,
    }

    /// Which pieces the day shows.
    #[derive(Eq, Default)]
    #[serde(default)]
    pub struct DayAsk {
        /// Words that have to fit: code, name, job, client, lot, product, person or note.
        pub find: Option<String>,
        /// A person who has worked on them.
        pub person: Option<String>,
        /// The job they belong to.
        pub job: Option<String>,
        /// Where they are: `shop` or `site`.
        pub place: Option<String>,
        /// How many of those handed over; none: the newest few.
        pub done: Option<u32>,
    }

    /// What the day can be narrowed to: what its pieces have.
    #[derive(Eq)]
    pub struct DayFilters {
        /// People who have worked on them.
        pub people: Vec<Choice>,
        /// Their jobs, those with work left first.
        pub jobs: Vec<Choice>,
        /// Where they are.
        pub places: Vec<Choice>,
    }

    /// What a photo of a label says.
    #[derive(Eq)]
    pub struct LabelRead {
        /// The piece, by id; none where the code is no piece of this shop.
        pub piece: Option<String>,
        /// What was read, or why nothing was, in a sentence.
        pub say: String,
    }

    /// The day.
    pub struct Day {
        /// The moment it was made for.
        pub now: When,
        /// The civil day.
        pub date: String,
        /// All five groups, in order of the states.
        pub groups: Vec<DayGroup>,
        /// What the day can be narrowed to.
        pub filters: DayFilters,
        /// Entries of this device that are not in the folder yet.
        pub not_in_folder: u32,
        /// Entries that stand apart.
        pub apart: u32,
        /// What a person should know now: of the folder, and what is new about people and days.
        pub notices: Vec<String>,
        /// Findings about people, days and the record that stand.
        pub beside: u32,
    }

    /// Findings about people, days and the record.
    pub struct FindingsBeside {
        /// How many stand.
        pub count: u32,
        /// Those that were asked for, that with the newest cause first.
        pub findings: Vec<Finding>,
    }
}
