//! Logging a step: the form, what comes back from it, what became of it.

use std::collections::BTreeMap;

use super::{Choice, Fact, Finding, Picture, PieceRef, PlanFrame, When};

dto! {
    /// Whether a field has to be filled.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum Need {
        /// It has to be.
        Must,
        /// It is proposed; touching on confirms it.
        Proposed,
        /// It may be left out.
        Optional,
    }

    /// How a value is entered.
    #[serde(tag = "kind", rename_all = "snake_case")]
    pub enum Control {
        /// One or several of a list.
        Choice {
            /// The list.
            options: Vec<Choice>,
            /// Several may be chosen.
            many: bool,
            /// A text of one's own may be given.
            free: bool,
        },
        /// A number in the unit of the field.
        Number {
            /// Smallest.
            min: f64,
            /// Largest.
            max: f64,
            /// Step of the buttons.
            step: f64,
            /// Decimals shown.
            decimals: u32,
            /// Values to touch.
            quick: Vec<f64>,
        },
        /// Words.
        Text {
            /// Lines to show.
            lines: u32,
        },
        /// Civil local time, `2025-03-04T10:20`.
        Moment,
        /// A civil day, `2025-03-04`.
        Day,
        /// Yes or no.
        YesNo {
            /// What yes is called.
            yes: String,
            /// What no is called.
            no: String,
        },
        /// Parts to parts, `20:1`.
        Ratio {
            /// Ratios to touch.
            quick: Vec<String>,
        },
        /// A list of words, an item each.
        List,
        /// Small records: a row of these fields each.
        Records {
            /// The fields of one.
            fields: Vec<Field>,
        },
        /// Photos, as a list of hashes, or of the ids `add_photo` gave.
        Photo,
        /// Places on the plan of the piece, a line each: from the left, from the front, size.
        Places {
            /// The plan.
            plan: Picture,
            /// How it lies; none where no plan can be drawn.
            frame: Option<PlanFrame>,
            /// Places that have a name.
            named: Vec<NamedSpot>,
        },
    }

    /// A place on a plan that has a name: for whoever does not point.
    #[derive(Eq)]
    pub struct NamedSpot {
        /// What it is called.
        pub label: String,
        /// The line for it.
        pub line: String,
    }

    /// One field of a form.
    pub struct Field {
        /// Its name among the values.
        pub name: String,
        /// What it is called.
        pub label: String,
        /// A few more words.
        pub help: Option<String>,
        /// The unit of the number.
        pub unit: Option<String>,
        /// Whether it has to be filled.
        pub need: Need,
        /// Where the value shown comes from.
        pub from: Option<String>,
        /// How it is entered.
        pub control: Control,
    }

    /// A caution to confirm, once per shift.
    #[derive(Eq)]
    pub struct Confirm {
        /// Its name, sent back in `confirmed`.
        pub key: String,
        /// What is confirmed.
        pub text: String,
        /// More words.
        pub details: Vec<String>,
    }

    /// A form for one step.
    pub struct Form {
        /// The kind of step.
        pub kind: String,
        /// What it is called.
        pub title: String,
        /// What the route says, in a sentence.
        pub plan: Option<String>,
        /// The pieces it is for.
        pub pieces: Vec<PieceRef>,
        /// Pieces that are ready for the same step.
        pub could_join: Vec<PieceRef>,
        /// Other pieces of the same job or pour, which the route does not expect it on.
        pub others: Vec<PieceRef>,
        /// Several fields answered with one touch.
        pub at_once: Vec<AtOnce>,
        /// Sums that help to fill it in.
        pub helpers: Vec<Helper>,
        /// The fields, in order.
        pub fields: Vec<Field>,
        /// Values, by name of field.
        pub values: BTreeMap<String, serde_json::Value>,
        /// Cautions to confirm.
        pub confirm: Vec<Confirm>,
        /// The values come from a draft.
        pub from_draft: bool,
        /// The entry it corrects.
        pub corrects: Option<String>,
    }

    /// A form filled in.
    pub struct StepDraft {
        /// The kind of step.
        pub kind: String,
        /// Ids of the pieces.
        pub pieces: Vec<String>,
        /// Civil local time of the work; none for now.
        pub done: Option<String>,
        /// Who did it; none for the home's person.
        pub person: Option<String>,
        /// Values, by name of field.
        pub values: BTreeMap<String, serde_json::Value>,
        /// Cautions confirmed.
        pub confirmed: Vec<String>,
        /// A note.
        pub note: Option<String>,
    }

    /// Something that keeps a step from being logged.
    #[derive(Eq)]
    pub struct Problem {
        /// The field.
        pub field: Option<String>,
        /// What is wrong.
        pub message: String,
    }

    /// What a step would say and raise, before it is logged.
    pub struct Tried {
        /// What keeps it from being logged.
        pub problems: Vec<Problem>,
        /// Sums over what was entered.
        pub says: Vec<Fact>,
        /// Findings it would raise.
        pub findings: Vec<Finding>,
        /// It would be marked as written down late, in words.
        pub late: Option<String>,
        /// Cautions to confirm, as the values stand now.
        pub confirm: Vec<Confirm>,
        /// What it would look like, where it can be drawn: the plan of a piece.
        pub pictures: Vec<Picture>,
        /// It may be logged.
        pub ready: bool,
    }

    /// A step that is on disk.
    pub struct Logged {
        /// Hashes of the entries written.
        pub hashes: Vec<String>,
        /// Ids of what they made, where they made something.
        pub objects: Vec<String>,
        /// They stand in the folder too.
        pub in_folder: bool,
        /// Where it stands, in a sentence.
        pub say: String,
        /// Findings it raised.
        pub findings: Vec<Finding>,
    }

    /// A form half filled in.
    #[derive(Eq)]
    pub struct DraftNote {
        /// The kind of step.
        pub kind: String,
        /// What it is called.
        pub title: String,
        /// Ids of the pieces.
        pub pieces: Vec<String>,
        /// Their codes; what an object is called, where the form changes one.
        pub codes: Vec<String>,
        /// The object it changes, where it is a form of the shop's own things.
        pub object: Option<String>,
        /// When it was kept.
        pub kept: When,
    }

    /// Several fields answered with one touch: everything that was looked at passes.
    pub struct AtOnce {
        /// What it says.
        pub label: String,
        /// The values it sets.
        pub values: BTreeMap<String, serde_json::Value>,
    }

    /// A sum that helps to fill in a form.
    pub struct Helper {
        /// Its name.
        pub key: String,
        /// What it is called.
        pub title: String,
        /// What it is given beside the form's own values.
        pub fields: Vec<Field>,
        /// What stands in them first.
        pub values: BTreeMap<String, serde_json::Value>,
    }

    /// What a helping sum comes to.
    pub struct Helped {
        /// Results, in the reader's units.
        pub facts: Vec<Fact>,
        /// How it is done without harm.
        pub cautions: Vec<String>,
        /// What it rests on.
        pub basis: String,
        /// Why there is no result.
        pub problem: Option<String>,
        /// Values of the form it would fill in.
        pub fills: BTreeMap<String, serde_json::Value>,
    }
}
