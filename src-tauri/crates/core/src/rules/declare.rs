//! The form in which a rule is declared.

use super::finding::Fact;
use crate::body::{Body, Kind, Region};
use crate::id::{Hash, ObjectId};
use crate::moment::Moment;
use crate::shop::{Shop, Step};
use crate::text::{Text, text};

/// How much a finding weighs. Stops come first in any list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Forbids the planned step until cleared or accepted by name; on a done step it stands as a finding.
    Stop,
    /// Look before going on.
    Caution,
    /// Good to know.
    Note,
}

impl Severity {
    /// The word in machine output.
    pub const fn wire(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }

    /// The word a person reads.
    pub const fn label(self) -> Text {
        match self {
            Self::Stop => text("stop", "alto"),
            Self::Caution => text("caution", "precaución"),
            Self::Note => text("note", "nota"),
        }
    }
}

/// What a rule or a number rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// A published source, named.
    Published(&'static str),
    /// A published source quoted from memory or through others: to be confirmed locally.
    Unconfirmed(&'static str),
    /// Common practice of the trade, no source.
    CommonPractice,
    /// The data sheet or safety data sheet of the product at hand.
    Sheet,
    /// How this record is kept.
    Record,
}

impl Basis {
    /// The basis as a sentence for screen and paper.
    pub fn words(self, lang: crate::text::Lang) -> String {
        let (lead, source) = match self {
            Self::Published(source) => (text("Published: ", "Publicado: "), source),
            Self::Unconfirmed(source) => {
                (text("From memory, confirm locally: ", "De memoria, confírmese localmente: "), source)
            }
            Self::CommonPractice => (text("Common practice, no source.", "Práctica común, sin fuente."), ""),
            Self::Sheet => (
                text(
                    "The product's data sheet or safety data sheet.",
                    "La ficha técnica o de datos de seguridad del producto.",
                ),
                "",
            ),
            Self::Record => {
                (text("How this record is kept.", "La manera en que se lleva este registro."), "")
            }
        };
        format!("{}{source}", lead.get(lang))
    }
}

/// A piece before the rules.
pub struct Case<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The piece.
    pub piece: ObjectId,
    /// Its entries in force, in order of work.
    pub history: Vec<&'a Step>,
}

impl<'a> Case<'a> {
    /// The case of one piece.
    pub fn new(shop: &'a Shop, piece: ObjectId) -> Self {
        Self { shop, piece, history: shop.history(piece) }
    }

    /// The facts of the piece, if it is recorded.
    pub fn facts(&self) -> Option<&'a crate::body::setup::Piece> {
        self.shop.pieces.get(&self.piece).map(crate::shop::Versions::now)
    }

    /// Entries of one kind, in order of work.
    pub fn of(&self, kind: Kind) -> impl DoubleEndedIterator<Item = &'a Step> + '_ {
        self.history.iter().copied().filter(move |step| step.kind == Some(kind))
    }
}

/// Whether a rule saw a breach or could not see.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The record shows it.
    Violated,
    /// The record does not say. Never a silent pass.
    CannotTell,
}

impl Verdict {
    /// The word in machine output.
    pub const fn wire(self) -> &'static str {
        match self {
            Self::Violated => "violated",
            Self::CannotTell => "cannot_tell",
        }
    }
}

/// What a check found.
#[derive(Debug, Clone, PartialEq)]
pub struct Hit {
    /// Violated, or cannot tell.
    pub verdict: Verdict,
    /// The entries that caused it, in order of work; the step that broke the rule last.
    pub entries: Vec<Hash>,
    /// What was measured and what it was held against.
    pub facts: Vec<Fact>,
    /// A weight other than the rule's own, where the rule says so.
    pub severity: Option<Severity>,
}

impl Hit {
    /// A breach by these entries.
    pub fn violated<'a>(steps: impl IntoIterator<Item = &'a Step>, facts: Vec<Fact>) -> Self {
        let entries = steps.into_iter().map(|step| step.hash).collect();
        Self { verdict: Verdict::Violated, entries, facts, severity: None }
    }

    /// Missing evidence at these entries. It weighs no more than a caution.
    pub fn cannot_tell<'a>(steps: impl IntoIterator<Item = &'a Step>, facts: Vec<Fact>) -> Self {
        let entries = steps.into_iter().map(|step| step.hash).collect();
        Self { verdict: Verdict::CannotTell, entries, facts, severity: Some(Severity::Caution) }
    }

    /// The same hit with another weight.
    pub fn weighing(self, severity: Severity) -> Self {
        Self { severity: Some(severity), ..self }
    }
}

/// A step somebody means to do.
#[derive(Debug, Clone, Copy)]
pub struct Planned<'a> {
    /// Its kind.
    pub kind: Kind,
    /// Its region, where the kind has one.
    pub region: Option<Region>,
    /// Its values as proposed by route and last like step, where known.
    pub body: Option<&'a Body>,
}

/// Whether a gate lets the planned step pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GateState {
    /// Nothing in the way; shown because the rule has something to say (a caution).
    Open,
    /// It opens by itself at a moment.
    Until(Moment),
    /// Something has to be done or recorded first.
    Blocked,
    /// A named person accepted it.
    Accepted(Hash),
}

/// What a rule says about a planned step.
#[derive(Debug, Clone, PartialEq)]
pub struct Gate {
    /// The rule.
    pub rule: &'static Rule,
    /// Its weight here.
    pub severity: Severity,
    /// Violated, or cannot tell.
    pub verdict: Verdict,
    /// Whether the step may go ahead.
    pub state: GateState,
    /// The entries it rests on.
    pub entries: Vec<Hash>,
    /// What was measured and what it is held against.
    pub facts: Vec<Fact>,
}

/// A rule, declared once. Reference page, screen and paper texts and the names of its tests come from this.
#[derive(Debug)]
pub struct Rule {
    /// Stable code: what goes wrong, in a few words with hyphens.
    pub code: &'static str,
    /// Title: the rule as one sentence.
    pub title: Text,
    /// Its weight.
    pub severity: Severity,
    /// About people's safety, not the finish.
    pub safety: bool,
    /// What it rests on.
    pub basis: Basis,
    /// Cause, and what goes wrong later.
    pub why: Text,
    /// What to do now.
    pub remedy: Text,
    /// Judges what was done to a piece.
    pub check: fn(&Case<'_>) -> Vec<Hit>,
    /// Judges what no single piece shows: a person's day, a lot, the record.
    pub check_shop: Option<fn(&Shop) -> Vec<Hit>>,
    /// Judges a planned step at a moment.
    pub gate: Option<fn(&Case<'_>, &Planned<'_>, Moment) -> Option<Gate>>,
}

impl PartialEq for Rule {
    fn eq(&self, other: &Self) -> bool {
        self.code == other.code
    }
}

/// A check for rules that only judge plans or shops.
pub(crate) fn nothing(_: &Case<'_>) -> Vec<Hit> {
    Vec::new()
}
