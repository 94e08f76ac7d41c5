//! The form in which a rule is declared.

use std::collections::BTreeMap;

use super::case::{Case, Past, Subject};
use super::hit::{Gate, Hit, Planned};
use super::near::Reach;
use crate::body::Kind;
use crate::id::Hash;
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
    Published(Text),
    /// A published source quoted from memory or through others: to be confirmed locally.
    Unconfirmed(Text),
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
            Self::CommonPractice => {
                (text("Common practice, no source.", "Práctica común, sin fuente."), text("", ""))
            }
            Self::Sheet => (
                text(
                    "The product's data sheet or safety data sheet.",
                    "La ficha técnica o de datos de seguridad del producto.",
                ),
                text("", ""),
            ),
            Self::Record => {
                (text("How this record is kept.", "La manera en que se lleva este registro."), text("", ""))
            }
        };
        format!("{}{}", lead.get(lang), source.get(lang))
    }
}

/// Where a rule looks.
#[derive(Debug, Clone, Copy)]
pub enum Look {
    /// At each step of these kinds against what came before it: at steps done, and at planned ones before them.
    Step(&'static [Kind], fn(&Past<'_, '_>, &Subject<'_>) -> Vec<Hit>),
    /// At planned steps of these kinds only.
    Plan(&'static [Kind], fn(&Past<'_, '_>, &Subject<'_>) -> Vec<Hit>),
    /// At a whole history.
    Piece(fn(&Case<'_>) -> Vec<Hit>),
    /// At what no single piece shows: a person's day, a product over a job.
    Shop(fn(&Shop, &Reach<'_>) -> Looked),
}

/// What a look at a shop came to.
#[derive(Debug, Default)]
pub struct Looked {
    /// What it found.
    pub hits: Vec<Hit>,
    /// The work of every group it judged, where it looked at some only.
    pub work: Vec<Hash>,
}

impl Looked {
    /// Judges groups of work. `judge` says what stands of a group, `steps` what is in it.
    pub(crate) fn at<'s, K, G>(
        groups: &BTreeMap<K, G>,
        reach: &Reach<'_>,
        steps: impl Fn(&G) -> &[&'s Step],
        judge: impl Fn(&K, &G) -> Option<Hit>,
    ) -> Self {
        let hits = groups.iter().filter_map(|(key, group)| judge(key, group)).collect();
        let work = match reach {
            Reach::All => Vec::new(),
            Reach::Near(_) => {
                groups.values().flat_map(|group| steps(group).iter().map(|step| step.hash)).collect()
            }
        };
        Self { hits, work }
    }
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
    /// Where it looks.
    pub looks: &'static [Look],
}

impl PartialEq for Rule {
    fn eq(&self, other: &Self) -> bool {
        self.code == other.code
    }
}

impl Rule {
    /// Judges what was done to a piece, by its history alone.
    pub fn check(&self, case: &Case<'_>) -> Vec<Hit> {
        let mut hits = Vec::new();
        for look in self.looks {
            match look {
                Look::Step(kinds, judge) => check_steps(case, kinds, *judge, &mut hits),
                Look::Piece(check) => hits.extend(check(case)),
                Look::Plan(..) | Look::Shop(_) => {}
            }
        }
        hits
    }

    /// Judges what no single piece shows.
    pub fn check_shop(&self, shop: &Shop, reach: &Reach<'_>) -> Looked {
        let mut all = Looked::default();
        for look in self.looks {
            if let Look::Shop(check) = look {
                let Looked { hits, work } = check(shop, reach);
                all.hits.extend(hits);
                all.work.extend(work);
            }
        }
        all
    }

    /// Judges a planned step at a moment. Where several things stand in the way, the one that holds longest.
    pub fn gate(&'static self, case: &Case<'_>, planned: &Planned<'_>, at: Moment) -> Option<Gate> {
        let subject = Subject::planned(planned, at);
        let judged = self.looks.iter().filter_map(|look| match look {
            Look::Step(kinds, judge) | Look::Plan(kinds, judge) if kinds.contains(&planned.kind) => {
                Some(judge(&case.whole(), &subject))
            }
            _ => None,
        });
        judged.flatten().map(|hit| Gate::new(self, hit)).max_by_key(Gate::rank)
    }
}

fn check_steps(
    case: &Case<'_>,
    kinds: &[Kind],
    judge: fn(&Past<'_, '_>, &Subject<'_>) -> Vec<Hit>,
    hits: &mut Vec<Hit>,
) {
    for (at, step) in case.history.iter().enumerate() {
        if !step.kind.is_some_and(|kind| kinds.contains(&kind)) {
            continue;
        }
        let Some(subject) = Subject::done(step) else { continue };
        let past = Past { case, steps: &case.history[..at] };
        hits.extend(judge(&past, &subject).into_iter().map(|mut hit| {
            hit.entries.push(step.hash);
            hit
        }));
    }
}
