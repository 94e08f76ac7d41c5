//! What every entry is worth: counts, struck, replaced, apart, waiting.

use std::collections::BTreeMap;

use super::order::Log;
use super::trust::{self, Trust};
use crate::body::Kind;
use crate::shop::Status;

/// The verdict over all entries, by their place in the log.
pub(crate) struct Statuses {
    /// Status of each entry.
    pub of: Vec<Status>,
    /// The strike that took an entry out.
    pub struck_by: BTreeMap<usize, usize>,
    /// First version of each correction (a correction of a correction has the same first version).
    pub first: BTreeMap<usize, usize>,
    /// Entries that are one of several current versions.
    pub open: Vec<bool>,
    /// Entries the rules see.
    pub in_force: Vec<bool>,
}

/// Judges every entry.
pub(crate) fn judge(log: &Log, trust: &Trust) -> Statuses {
    let mut of: Vec<Status> = (0..log.records.len()).map(|at| standing(log, trust, at)).collect();
    let struck_by = strikes(log, &mut of);
    let first = first_versions(log);
    replace(log, &mut of, &first);
    let (open, in_force) = versions_in_force(log, &of, &first);
    Statuses { of, struck_by, first, open, in_force }
}

fn standing(log: &Log, trust: &Trust, at: usize) -> Status {
    if !trust.covers(log, at) {
        return Status::Apart;
    }
    if !trust::refs_here(log, at) {
        return Status::Waiting;
    }
    let unfounded = log.kinds[at].is_some_and(trust::needs_owner) && !trust.in_force.contains(&at);
    if unfounded { Status::Apart } else { Status::Counts }
}

/// Entries nobody may strike or correct: they decide over devices, and are undone by their like.
fn untouchable(kind: Option<Kind>) -> bool {
    kind.is_some_and(|kind| trust::needs_owner(kind) && kind != Kind::Settings)
}

/// Marks what is struck. A strike may itself be struck; hashes cannot refer in a circle, so the entries that
/// nobody refers to are settled first, and so on down.
fn strikes(log: &Log, of: &mut [Status]) -> BTreeMap<usize, usize> {
    let acting = |at: usize| log.kinds[at] == Some(Kind::Strike);
    let targets = |at: usize| log.records[at].entry.refs.iter().filter_map(|hash| log.at(hash));
    let mut pending: BTreeMap<usize, usize> = BTreeMap::new();
    for strike in (0..of.len()).filter(|at| acting(*at)) {
        for target in targets(strike) {
            *pending.entry(target).or_default() += 1;
        }
    }
    let mut ready: Vec<usize> =
        (0..of.len()).filter(|at| acting(*at) && !pending.contains_key(at)).rev().collect();
    let mut struck_by = BTreeMap::new();
    while let Some(strike) = ready.pop() {
        for target in targets(strike) {
            let stands = of[strike] == Status::Counts && of[target] == Status::Counts;
            if stands && !untouchable(log.kinds[target]) {
                of[target] = Status::Struck;
                struck_by.insert(target, strike);
            }
            if let Some(left) = pending.get_mut(&target) {
                *left -= 1;
                if *left == 0 && acting(target) {
                    ready.push(target);
                }
            }
        }
    }
    struck_by
}

/// The first version behind each correction.
fn first_versions(log: &Log) -> BTreeMap<usize, usize> {
    let mut first: BTreeMap<usize, usize> = BTreeMap::new();
    let corrections = (0..log.records.len()).filter(|at| log.kinds[*at] == Some(Kind::Correction));
    for start in corrections {
        let mut chain = Vec::new();
        let mut at = start;
        // Down to an entry that is no correction, or to one already known.
        let root = loop {
            if let Some(root) = first.get(&at) {
                break *root;
            }
            let next = log.records[at].entry.refs.iter().filter_map(|hash| log.at(hash)).min();
            chain.push(at);
            match next {
                Some(next) if log.kinds[next] == Some(Kind::Correction) => at = next,
                Some(next) => break next,
                None => break at,
            }
        };
        first.extend(chain.into_iter().map(|it| (it, root)));
    }
    first
}

/// Marks what a standing correction replaces.
fn replace(log: &Log, of: &mut [Status], first: &BTreeMap<usize, usize>) {
    let standing: Vec<usize> = first.keys().copied().filter(|at| of[*at] == Status::Counts).collect();
    for correction in standing {
        for target in log.records[correction].entry.refs.iter().filter_map(|hash| log.at(hash)) {
            let same_first = first.get(&target).copied().unwrap_or(target) == first[&correction];
            if same_first && of[target] == Status::Counts && !untouchable(log.kinds[target]) {
                of[target] = Status::Replaced;
            }
        }
    }
}

/// Of several current versions the newest in the common order is in force, and all are shown as open.
fn versions_in_force(log: &Log, of: &[Status], first: &BTreeMap<usize, usize>) -> (Vec<bool>, Vec<bool>) {
    let mut current: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, status) in of.iter().enumerate() {
        if *status == Status::Counts && log.kinds[at] != Some(Kind::Strike) {
            current.entry(first.get(&at).copied().unwrap_or(at)).or_default().push(at);
        }
    }
    let (mut open, mut in_force) = (vec![false; of.len()], vec![false; of.len()]);
    for versions in current.values() {
        for &at in versions {
            open[at] = versions.len() > 1;
        }
        if let Some(&newest) = versions.last() {
            in_force[newest] = true;
        }
    }
    (open, in_force)
}
