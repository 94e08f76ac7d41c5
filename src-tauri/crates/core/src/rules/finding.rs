//! A finding: what a rule saw, explained.

use super::declare::{Rule, Severity};
use super::hit::{Hit, Verdict};
use crate::id::{Hash, ObjectId};
use crate::moment::Moment;
use crate::text::Text;
use crate::units::Dimension;

/// What a finding stands for now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It stands.
    Stands,
    /// A named person accepted it in this entry.
    Accepted(Hash),
    /// It waits for a moment, or for something to be recorded; only with a moment given.
    Waiting,
}

impl State {
    /// The word in machine output.
    pub const fn wire(self) -> &'static str {
        match self {
            Self::Stands => "stands",
            Self::Accepted(_) => "accepted",
            Self::Waiting => "waiting",
        }
    }
}

/// A value of a fact. Numbers are SI in the unit of their dimension; units and language are chosen at the edge.
#[derive(Debug, Clone, PartialEq)]
pub enum FactValue {
    /// A quantity.
    Number(f64, Dimension),
    /// A bare number with so many decimals.
    Count(f64, usize),
    /// A word of the product.
    Word(Text),
    /// What somebody wrote.
    Said(String),
    /// A moment.
    When(Moment),
    /// A civil day.
    Day(chrono::NaiveDate),
    /// Not recorded.
    Missing,
}

/// One thing a finding rests on: "margin: 1.6 K".
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// What it is.
    pub name: Text,
    /// The value.
    pub value: FactValue,
}

impl Fact {
    /// A fact.
    pub const fn new(name: Text, value: FactValue) -> Self {
        Self { name, value }
    }
}

/// What a rule found on a piece or in the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The rule.
    pub rule: &'static Rule,
    /// Its weight here.
    pub severity: Severity,
    /// Stands, accepted or waiting.
    pub state: State,
    /// Violated, or cannot tell.
    pub verdict: Verdict,
    /// The piece; none where it is about a person, a day or the record.
    pub piece: Option<ObjectId>,
    /// The entries that caused it.
    pub entries: Vec<Hash>,
    /// What was measured and what it was held against.
    pub facts: Vec<Fact>,
    /// When it clears by itself, where that can be said.
    pub clears_at: Option<Moment>,
}

impl Finding {
    pub(crate) fn new(rule: &'static Rule, piece: Option<ObjectId>, hit: Hit) -> Self {
        Self {
            rule,
            severity: hit.weight(rule),
            state: State::Stands,
            verdict: hit.verdict,
            piece,
            entries: hit.entries,
            facts: hit.facts,
            clears_at: None,
        }
    }
}
