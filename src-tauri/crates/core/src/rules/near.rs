//! What no single piece shows, looked at again only where entries have to do with it.
//!
//! A shop of many years has thousands of findings about people and days; one entry reaches a person's day or a product
//! over a job. Such a look sorts work into groups by a key, and only the groups the entries belong to are judged.

use std::collections::{BTreeMap, BTreeSet};

use super::{ALL, Finding, exceptions, sorted};
use crate::body::{Group, Kind};
use crate::id::Hash;
use crate::shop::{Shop, Step};

/// Which groups of work a look is at.
#[derive(Debug, Clone)]
pub enum Reach<'a> {
    /// All of them.
    All,
    /// Those these entries belong to.
    Near(Vec<&'a Step>),
}

impl Reach<'_> {
    /// Work sorted into groups by its key: all groups, or those within reach.
    pub(crate) fn groups<'s, K: Ord, G: Default>(
        &self,
        work: impl Iterator<Item = &'s Step>,
        key: impl Fn(&Step) -> Option<K>,
        take: impl Fn(&mut G, &'s Step),
    ) -> BTreeMap<K, G> {
        let near: Option<BTreeSet<K>> = match self {
            Self::All => None,
            Self::Near(steps) => Some(steps.iter().filter_map(|step| key(step)).collect()),
        };
        let mut groups = BTreeMap::new();
        for step in work {
            let Some(key) = key(step).filter(|key| near.as_ref().is_none_or(|near| near.contains(key)))
            else {
                continue;
            };
            take(groups.entry(key).or_insert_with(G::default), step);
        }
        groups
    }
}

/// What stands near some entries, and what it was worked out from.
#[derive(Debug, Clone, PartialEq)]
pub struct Near {
    /// The findings, as [`check_whole`](super::check_whole) has them.
    pub findings: Vec<Finding>,
    /// The work of the groups that were looked at, and the entries: a finding that was known before and rests on any
    /// of it is replaced by `findings`.
    pub work: BTreeSet<Hash>,
}

/// The findings about people, days and the record near some entries; `None` where an entry reaches further than the
/// work it names: all of them have to be worked out anew.
pub fn check_whole_near(shop: &Shop, entries: &[Hash]) -> Option<Near> {
    let steps = concerned(shop, entries)?;
    let mut work: BTreeSet<Hash> =
        steps.iter().map(|step| step.hash).chain(entries.iter().copied()).collect();
    let reach = Reach::Near(steps);
    let mut findings = Vec::new();
    for rule in ALL {
        let looked = rule.check_shop(shop, &reach);
        work.extend(looked.work);
        findings.extend(looked.hits.into_iter().map(|hit| Finding::new(rule, None, hit)));
    }
    exceptions::apply_to_shop(shop, &mut findings);
    Some(Near { findings: sorted(shop, findings), work })
}

/// The entries, whatever they refer to at any remove (a strike names an exception, which names work), and every version
/// of any of them.
fn concerned<'s>(shop: &'s Shop, entries: &[Hash]) -> Option<Vec<&'s Step>> {
    let mut roots = BTreeSet::new();
    let mut linked = false;
    let mut named: Vec<&Step> = entries.iter().map(|hash| shop.step(hash)).collect::<Option<_>>()?;
    while let Some(step) = named.pop() {
        if reaches_far(step.kind) {
            return None;
        }
        if roots.insert(step.corrects.unwrap_or(step.hash)) {
            let others = step.refs.iter().chain(&step.corrects).filter_map(|hash| shop.step(hash));
            let before = named.len();
            named.extend(others);
            linked |= step.corrects.is_some() || named.len() > before;
        }
    }
    if !linked {
        return Some(roots.iter().filter_map(|hash| shop.step(hash)).collect());
    }
    let of_root = |step: &&Step| roots.contains(&step.corrects.unwrap_or(step.hash));
    Some(shop.steps.iter().filter(of_root).collect())
}

/// Kinds whose facts other work is judged by.
fn reaches_far(kind: Option<Kind>) -> bool {
    let devices =
        [Kind::Accept, Kind::Retire, Kind::Recover, Kind::Role, Kind::SettleFork].map(Some).contains(&kind);
    devices || kind.is_some_and(|kind| kind.group() == Group::Setup && kind != Kind::RouteChosen)
}
