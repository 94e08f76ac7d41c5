//! What a check found, and what it means for a planned step.

use super::declare::{Rule, Severity};
use super::facts::answer;
use super::finding::Fact;
use crate::body::common::Answer;
use crate::body::{Body, Kind, Region};
use crate::id::{Hash, ObjectId};
use crate::moment::Moment;
use crate::shop::Step;
use crate::text::Text;

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
    /// Of a planned step: when it clears by itself.
    pub clears_at: Option<Moment>,
    /// Of a planned step: something has to be done or recorded first, whatever the weight.
    pub holds: bool,
    /// Of a planned step: a person confirms cautions on the spot, and it may go on.
    pub confirms: bool,
}

impl Hit {
    fn new<'a>(verdict: Verdict, steps: impl IntoIterator<Item = &'a Step>, facts: Vec<Fact>) -> Self {
        let entries = steps.into_iter().map(|step| step.hash).collect();
        Self { verdict, entries, facts, severity: None, clears_at: None, holds: false, confirms: false }
    }

    /// A breach by these entries.
    pub fn violated<'a>(steps: impl IntoIterator<Item = &'a Step>, facts: Vec<Fact>) -> Self {
        Self::new(Verdict::Violated, steps, facts)
    }

    /// Missing evidence at these entries. It weighs no more than a caution.
    pub fn cannot_tell<'a>(steps: impl IntoIterator<Item = &'a Step>, facts: Vec<Fact>) -> Self {
        Self::new(Verdict::CannotTell, steps, facts)
    }

    /// What a checklist amounts to: a breach where an answer is no, missing evidence where one is not there or
    /// nobody looked, nothing where all are yes.
    pub(crate) fn of_answers<'a>(
        steps: impl IntoIterator<Item = &'a Step>,
        asked: &[(Text, Option<Answer>)],
    ) -> Option<Self> {
        let lacking: Vec<_> = asked.iter().filter(|(_, given)| *given != Some(Answer::Yes)).collect();
        let breach = lacking.iter().any(|(_, given)| *given == Some(Answer::No));
        let facts = lacking.iter().map(|(name, given)| answer(*name, *given)).collect();
        let verdict = if breach { Verdict::Violated } else { Verdict::CannotTell };
        (!lacking.is_empty()).then(|| Self::new(verdict, steps, facts))
    }

    /// The same hit with another weight.
    pub fn weighing(self, severity: Severity) -> Self {
        Self { severity: Some(severity), ..self }
    }

    /// The same hit; a planned step is clear of it from a moment on.
    pub fn until(self, moment: Option<Moment>) -> Self {
        Self { clears_at: moment, ..self }
    }

    /// The same hit; a planned step waits for something to be done or recorded, whatever the weight.
    pub fn holding(self) -> Self {
        Self { holds: true, ..self }
    }

    /// The same hit; a planned step goes on once a person confirms cautions, on the spot.
    pub fn confirming(self) -> Self {
        Self { confirms: true, ..self }
    }

    /// What it weighs under a rule: missing evidence is never more than a caution.
    pub(crate) fn weight(&self, rule: &Rule) -> Severity {
        self.severity.unwrap_or(match self.verdict {
            Verdict::Violated => rule.severity,
            Verdict::CannotTell => rule.severity.max(Severity::Caution),
        })
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
    /// The product it is done with, where that is known before the rest.
    pub product: Option<ObjectId>,
}

/// Whether a gate lets the planned step pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GateState {
    /// Nothing in the way; shown because the rule has something to say (a caution).
    Open,
    /// It opens by itself at a moment.
    Until(Moment),
    /// A person confirms cautions first, on the spot: it costs no wait and moves no date.
    Confirm,
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

impl Gate {
    /// The gate a hit makes: it asks to be confirmed, waits for its moment, is blocked by a stop, or is open
    /// with a word of caution.
    pub(crate) fn new(rule: &'static Rule, hit: Hit) -> Self {
        let severity = hit.weight(rule);
        let state = match hit.clears_at {
            _ if hit.holds => GateState::Blocked,
            _ if hit.confirms => GateState::Confirm,
            Some(moment) => GateState::Until(moment),
            None if severity == Severity::Stop => GateState::Blocked,
            None => GateState::Open,
        };
        Self { rule, severity, verdict: hit.verdict, state, entries: hit.entries, facts: hit.facts }
    }

    /// Orders the gates of one rule by what holds longest.
    pub(crate) fn rank(&self) -> (u8, Option<Moment>, std::cmp::Reverse<Severity>) {
        let (rank, moment) = match self.state {
            GateState::Open | GateState::Accepted(_) => (0, None),
            GateState::Confirm => (1, None),
            GateState::Until(moment) => (2, Some(moment)),
            GateState::Blocked => (3, None),
        };
        (rank, moment, std::cmp::Reverse(self.severity))
    }
}
