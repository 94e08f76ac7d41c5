//! What the shop keeps: people, clients, jobs, pieces, mixes, products, tools, routes. Each kind is a shelf; what
//! stands on it is an object with its facts and its history.

use std::collections::BTreeMap;

use super::{Choice, Fact, Field, HistoryItem, Picture, Problem};

dto! {
    /// A shelf, as the list of shelves shows it.
    #[derive(Eq)]
    pub struct ShelfHead {
        /// The kind of entry that puts something on it.
        pub kind: String,
        /// What stands on it.
        pub title: String,
        /// What it is for, in a sentence.
        pub about: String,
        /// How much stands on it.
        pub count: u32,
    }

    /// One object, as a list shows it.
    pub struct ObjectRow {
        /// The kind.
        pub kind: String,
        /// Its id; of a shipped route, its code.
        pub id: String,
        /// What people call it.
        pub name: String,
        /// A few more words.
        pub about: String,
        /// The plan of a piece.
        pub outline: Option<Picture>,
    }

    /// Everything of one kind.
    pub struct Shelf {
        /// The kind.
        pub kind: String,
        /// What stands on it.
        pub title: String,
        /// What one of them is called.
        pub one: String,
        /// What it is for, in a sentence.
        pub about: String,
        /// What stands on it, by name.
        pub rows: Vec<ObjectRow>,
        /// This device may write.
        pub may_write: bool,
    }

    /// A limit of a product and where it comes from.
    #[derive(Eq)]
    pub struct LimitRow {
        /// What it limits.
        pub label: String,
        /// The value with its unit.
        pub value: String,
        /// Where it comes from.
        pub source: String,
        /// The shop took it from the data sheet.
        pub own: bool,
    }

    /// A hazard pictogram.
    #[derive(Eq)]
    pub struct Hazard {
        /// Its code, such as `GHS05`.
        pub code: String,
        /// Its name.
        pub name: String,
    }

    /// A lot of a product, as it was used.
    #[derive(Eq)]
    pub struct LotRow {
        /// The lot.
        pub lot: String,
        /// Its best-before date, and whether it is past; or that none was recorded.
        pub date: String,
        /// It is past.
        pub past: bool,
        /// Where it went.
        pub used: String,
    }

    /// One object.
    pub struct ObjectSheet {
        /// The kind.
        pub kind: String,
        /// Its id.
        pub id: String,
        /// What one of its kind is called.
        pub one: String,
        /// What people call it.
        pub name: String,
        /// A few more words.
        pub about: String,
        /// What is recorded of it.
        pub facts: Vec<Fact>,
        /// Limits of a product.
        pub limits: Vec<LimitRow>,
        /// Hazard pictograms of a product, and where they come from.
        pub hazards: Vec<Hazard>,
        /// Where the pictograms come from, and what governs.
        pub hazards_say: Option<String>,
        /// Lots of a product.
        pub lots: Vec<LotRow>,
        /// Drawings: the plan of a piece, the strength of a mix.
        pub pictures: Vec<Picture>,
        /// Stages of a route, in order.
        pub stages: Vec<RouteStage>,
        /// What belongs to it: jobs of a client, pieces of a job.
        pub related: Vec<ObjectRow>,
        /// Its entries, the newest first.
        pub history: Vec<HistoryItem>,
        /// This device may write.
        pub may_write: bool,
        /// It may be written anew as another one like it.
        pub may_copy: bool,
    }

    /// Pieces numbered in a row.
    #[derive(Eq)]
    pub struct Series {
        /// Their codes, in order.
        pub codes: Vec<String>,
        /// All of it in a sentence.
        pub say: String,
    }

    /// A stage of a route as it is edited.
    pub struct RouteStage {
        /// Its name within the route; empty for a new one.
        pub id: String,
        /// The kind of step.
        pub kind: String,
        /// What it is called.
        pub title: String,
        /// It is done only if the person wants it.
        pub optional: bool,
        /// When it is done, where not always.
        pub when: Option<String>,
        /// Hours to wait before it; none where the product in hand says it, or nothing has to pass.
        pub wait_h: Option<f64>,
        /// What the wait is for, in words; none where there is no wait.
        pub wait_for: Option<String>,
        /// Number of coats, where the route says so.
        pub coats: Option<u32>,
        /// Values it proposes, as a form shows them.
        pub values: BTreeMap<String, serde_json::Value>,
        /// What it proposes and waits for, in a line.
        pub says: String,
    }

    /// A route as it is edited.
    pub struct RouteEdit {
        /// The shop's own route it changes.
        pub object: Option<String>,
        /// The route it is copied from.
        pub copied_from: Option<String>,
        /// What people call it.
        pub name: String,
        /// What to know before it is chosen.
        pub about: String,
        /// The finishes it is the usual route for.
        pub finishes: Vec<String>,
        /// The finishes there are.
        pub all_finishes: Vec<Choice>,
        /// Steps a stage may be.
        pub kinds: Vec<Choice>,
        /// The version it becomes.
        pub version: u32,
        /// The stages, in order.
        pub stages: Vec<RouteStage>,
        /// What keeps it from being written.
        pub problems: Vec<Problem>,
    }

    /// The fields of one stage.
    pub struct StageForm {
        /// What it is called.
        pub title: String,
        /// Fields it may propose values for.
        pub fields: Vec<Field>,
    }
}
