//! What the papers are made from: plain data, already in words.
//!
//! Values arrive as the caller shows them everywhere else, with unit and in the reader's language, so that a
//! paper never says a number differently from the screen. Only headings, fixed sentences and the layout are
//! made here.

mod care;
mod labels;
mod record;

use chrono::{DateTime, FixedOffset};
use trowelogue_core::drawing::Drawing;
use trowelogue_core::text::Lang;

pub use care::{CareDates, CareGroup, CareSheet, Dated, Place, SealerKind};
pub use labels::{Label, Labels, Lift};
pub use record::{
    Correction, Device, Exception, Finding, Photo, ProcessRecord, Product, Severity, Standing, Step,
    StepMark, StepStatus, Term,
};

/// How a paper is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Language of every word the paper adds.
    pub lang: Lang,
    /// Size of the sheet.
    pub paper: Paper,
}

/// Size of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 × 11 in (ANSI A).
    Letter,
}

/// Who made the paper, when and with what.
#[derive(Debug, Clone, PartialEq)]
pub struct Imprint {
    /// Name of the shop.
    pub shop: String,
    /// How to reach it, a line each: address, telephone, e-mail. May be empty.
    pub contact: Vec<String>,
    /// Moment of issue; the only date in the file. Same input and moment: same bytes.
    pub issued: DateTime<FixedOffset>,
    /// The moment of issue as people read it.
    pub issued_text: String,
    /// Names this paper for ever; the file's identifiers are derived from it.
    pub paper_id: String,
    /// Tool and version, for example `Trowelogue 0.1.0`.
    pub tool: String,
    /// Version of the rule and word catalogue used.
    pub catalogue: String,
}

/// A label and its value, both as shown.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// The value with its unit.
    pub value: String,
}

impl Fact {
    /// Puts a label and a value together.
    pub fn new(label: impl Into<String>, value: impl Into<String>) -> Self {
        Self { label: label.into(), value: value.into() }
    }
}

/// The piece a paper is about.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PieceCard {
    /// Its id; stands in the QR code.
    pub id: String,
    /// The code people use.
    pub code: String,
    /// What it is, for example `Kitchen counter, left`.
    pub name: Option<String>,
    /// The job.
    pub job: String,
    /// The client.
    pub client: String,
    /// Where it is installed.
    pub site: Option<String>,
    /// Dimensions, finish, mix, colour and whatever else describes it.
    pub facts: Vec<Fact>,
    /// Its plan outline, small.
    pub outline: Option<Figure>,
    /// Its plan with measures and marks, large.
    pub plan: Option<Figure>,
}

/// A drawing on paper: with a text equivalent and, if wanted, a caption.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figure {
    /// The shapes. Wider than the column: scaled down to fit.
    pub drawing: Drawing,
    /// The whole of what it shows, in words.
    pub alt: String,
    /// Printed below it.
    pub caption: Option<String>,
    /// What it shows, line by line, printed beside a chart.
    pub legend: Vec<String>,
}

/// A file carried inside the paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attachment {
    /// File name, for example `entries.jsonl`.
    pub name: String,
    /// Media type, for example `application/jsonl`.
    pub mime: String,
    /// What it is, in words.
    pub description: String,
    /// What it is to the paper (ISO 19005-3, 6.8).
    pub relation: Relation,
    /// The bytes, kept exactly.
    pub bytes: Vec<u8>,
}

/// Relation of an attachment to the paper (`AFRelationship`).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relation {
    /// What the paper was made from.
    Source,
    /// Data the paper shows.
    Data,
    /// Something added to it.
    Supplement,
}
