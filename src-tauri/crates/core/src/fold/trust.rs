//! Which devices count, from where, and what they may do.
//!
//! Authority entries are judged in the common order: one counts if its author was an owner at that point.
//! A retirement beats the order for what it cuts off (a retired device could back-date), so judging starts
//! again with each retirement found; cuts only ever grow, hence it ends, and the result depends on the set of
//! entries alone.

use std::collections::{BTreeMap, BTreeSet};

use super::order::Log;
use crate::body::authority::Role;
use crate::body::{Body, Details, Kind};
use crate::entry::{Content, Merged};
use crate::id::DeviceId;
use crate::recovery;

/// The verdict over devices and authority entries.
#[derive(Debug, Default)]
pub(crate) struct Trust {
    /// Roles of accepted devices.
    pub roles: BTreeMap<DeviceId, Role>,
    /// Last sequence number that counts, of retired devices.
    pub cuts: BTreeMap<DeviceId, u64>,
    /// Authority entries that count.
    pub in_force: BTreeSet<usize>,
    /// Entries on a branch an owner has decided against.
    pub cut_branches: BTreeSet<usize>,
    /// Entries whose bodies an owner has erased.
    pub erased: BTreeSet<usize>,
    /// The newest entry in force that sets a passphrase.
    pub passphrase: Option<usize>,
    /// Forks an owner has settled.
    pub settled: BTreeSet<(DeviceId, u64)>,
}

impl Trust {
    /// Whether an entry's device is accepted and the entry lies before any cut.
    pub(crate) fn covers(&self, log: &Log, at: usize) -> bool {
        let entry = &log.records[at].entry;
        self.roles.contains_key(&entry.device)
            && self.cuts.get(&entry.device).is_none_or(|last| entry.seq <= *last)
            && !self.cut_branches.contains(&at)
    }
}

/// Whether an entry of this kind counts only from an owner, or by the recovery key.
pub(crate) fn needs_owner(kind: Kind) -> bool {
    use Kind::{Accept, Erase, Passphrase, Recover, Retire, Role, Settings, SettleFork};
    matches!(kind, Accept | Retire | Recover | Role | SettleFork | Settings | Passphrase | Erase)
}

/// Judges devices and authority entries.
pub(crate) fn judge(merged: &Merged, log: &Log) -> Trust {
    let authority: Vec<usize> =
        (0..log.records.len()).filter(|at| log.kinds[*at].is_some_and(needs_owner)).collect();
    let mut cuts = BTreeMap::new();
    loop {
        let (trust, new_cut) = walk(merged, log, &authority, &cuts);
        match new_cut {
            Some((device, last)) => cuts.insert(device, last),
            None => return trust,
        };
    }
}

/// One pass in order under the cuts known so far; stops at the first cut that is new.
fn walk(
    merged: &Merged,
    log: &Log,
    authority: &[usize],
    cuts: &BTreeMap<DeviceId, u64>,
) -> (Trust, Option<(DeviceId, u64)>) {
    let mut trust = Trust { cuts: cuts.clone(), ..Trust::default() };
    trust.roles.insert(merged.founder, Role::Owner);
    for &at in authority {
        if !may_decide(merged, log, &trust, at) || !refs_here(log, at) {
            continue;
        }
        trust.in_force.insert(at);
        if let Some(cut) = apply(log, at, &mut trust)
            && cuts.get(&cut.0).is_none_or(|known| cut.1 < *known)
        {
            return (trust, Some(cut));
        }
    }
    (trust, None)
}

/// Whether an authority entry has the right to count: an owner's at that point, or by the recovery key.
fn may_decide(merged: &Merged, log: &Log, trust: &Trust, at: usize) -> bool {
    let entry = &log.records[at].entry;
    if log.kinds[at] == Some(Kind::Recover) {
        let before_any_cut = trust.cuts.get(&entry.device).is_none_or(|last| entry.seq <= *last);
        return before_any_cut && !trust.cut_branches.contains(&at) && is_proved(merged, log, at);
    }
    trust.roles.get(&entry.device) == Some(&Role::Owner) && trust.covers(log, at)
}

/// Whether the recovery key signed that this entry's device goes on for the founding device.
fn is_proved(merged: &Merged, log: &Log, at: usize) -> bool {
    let (entry, body) = (&log.records[at].entry, &log.records[at].body);
    let (Some(key), Content::Open(value)) = (&merged.recovery, body) else { return false };
    let Some(proof) = value["proof"].as_str() else { return false };
    let founder = merged.founder;
    if entry.peer != Some(founder) || entry.device == founder || entry.refs.len() > 1 {
        return false;
    }
    let head = entry.refs.first().copied();
    recovery::is_good(key, &recovery::message(merged.shop, entry.device, founder, head), proof)
}

/// Whether every entry referred to has arrived.
pub(crate) fn refs_here(log: &Log, at: usize) -> bool {
    log.records[at].entry.refs.iter().all(|hash| log.at(hash).is_some())
}

/// Applies one authority entry; returns the cut a retirement makes.
fn apply(log: &Log, at: usize, trust: &mut Trust) -> Option<(DeviceId, u64)> {
    let entry = &log.records[at].entry;
    match log.kinds[at]? {
        Kind::Accept => {
            let role = role_in(log, at).unwrap_or(Role::Crew);
            trust.roles.entry(entry.peer?).or_insert(role);
        }
        Kind::Role => {
            let role = role_in(log, at)?;
            if let Some(held) = trust.roles.get_mut(&entry.peer?) {
                *held = role;
            }
        }
        Kind::Recover => {
            trust.roles.insert(entry.device, Role::Owner);
            return retirement(log, at);
        }
        Kind::Retire => return retirement(log, at),
        Kind::SettleFork => settle(log, at, trust),
        Kind::Passphrase => trust.passphrase = Some(at),
        Kind::Erase => erase(log, at, trust),
        _ => {}
    }
    None
}

/// Marks what is erased. Entries about devices stay: without them nobody could tell what counts.
fn erase(log: &Log, at: usize, trust: &mut Trust) {
    let named = log.records[at].entry.refs.iter().filter_map(|hash| log.at(hash));
    let personal =
        |at: &usize| !log.kinds[*at].is_some_and(|kind| needs_owner(kind) && kind != Kind::Settings);
    trust.erased.extend(named.filter(personal));
}

fn retirement(log: &Log, at: usize) -> Option<(DeviceId, u64)> {
    let entry = &log.records[at].entry;
    let device = entry.peer?;
    let heads = entry.refs.iter().filter_map(|hash| log.at(hash)).map(|at| &log.records[at].entry);
    let last = heads.filter(|head| head.device == device).map(|head| head.seq).max();
    // A retirement that names no head of the device cuts it off whole.
    Some((device, last.unwrap_or(0)))
}

fn role_in(log: &Log, at: usize) -> Option<Role> {
    let Content::Open(value) = &log.records[at].body else { return None };
    match Details::from_stored(log.kinds[at]?, value).ok()?.body {
        Body::Accept(accept) => accept.role,
        Body::Role(given) => Some(given.role),
        _ => None,
    }
}

/// Cuts the branches of a fork that the owner did not name, and what was chained on them.
fn settle(log: &Log, at: usize, trust: &mut Trust) {
    let kept: BTreeSet<usize> = log.records[at].entry.refs.iter().filter_map(|it| log.at(it)).collect();
    for &named in &kept {
        let entry = &log.records[named].entry;
        let siblings = log.by_number(entry.device, entry.seq);
        if siblings.len() < 2 {
            continue;
        }
        trust.settled.insert((entry.device, entry.seq));
        for &sibling in siblings.iter().filter(|it| !kept.contains(it)) {
            cut_branch(log, sibling, trust);
        }
    }
}

fn cut_branch(log: &Log, root: usize, trust: &mut Trust) {
    let device = log.records[root].entry.device;
    let mut tips = vec![root];
    trust.cut_branches.insert(root);
    while let Some(tip) = tips.pop() {
        let head = &log.records[tip];
        for &next in log.by_number(device, head.entry.seq + 1) {
            if log.records[next].after == Some(head.hash) && trust.cut_branches.insert(next) {
                tips.push(next);
            }
        }
    }
}
