//! Growing a folded shop by newer entries, without folding the rest again.
//!
//! What a person logs is nearly always a plain entry at the end of the order, a strike or a correction of one that
//! nobody else has touched. Such an entry changes a handful of rows. Whatever could reach further (decisions about
//! devices, settings, forks, late arrivals, references that wait) is declined, and the caller folds the whole.
//!
//! Invariant: a shop that was grown equals the fold of all entries; taken back, it equals what it was.

use std::collections::BTreeSet;

use super::order::known_kind;
use super::state::{First, Standing, about, is_late, late_after_h, object, step_of};
use super::trust::needs_owner;
use crate::body::Kind;
use crate::entry::{Content, Record};
use crate::id::{Hash, ObjectId};
use crate::shop::{Device, DeviceStatus, Shop, Status, Step};

/// What was added, so that it can be taken back.
#[derive(Debug, Default)]
#[must_use = "a trial is taken back with it"]
pub struct Growth {
    /// Number of entries before.
    before: usize,
    /// Devices as they were, newest change last.
    devices: Vec<Device>,
    /// Entries that were struck or replaced, by their place.
    put_out: Vec<usize>,
}

/// Adds entries to a folded shop: true to the fold of all of them, or nothing at all. `None`: they reach further
/// than this can tell, and the shop is as it was.
pub fn grow(shop: &mut Shop, records: &[Record]) -> Option<Growth> {
    let mut records: Vec<&Record> = records.iter().collect();
    records.sort_by_key(|record| record.order());
    if !nobody_waits_for(shop, &records) {
        return None;
    }
    let mut growth = Growth { before: shop.steps.len(), ..Growth::default() };
    for record in records {
        if add(shop, record, &mut growth).is_none() {
            growth.take_back(shop);
            return None;
        }
    }
    Some(growth)
}

/// Whether no entry here refers to one of these: it would be judged anew.
fn nobody_waits_for(shop: &Shop, records: &[&Record]) -> bool {
    let new: BTreeSet<&Hash> = records.iter().map(|record| &record.hash).collect();
    !shop.steps.iter().any(|step| step.refs.iter().any(|hash| new.contains(hash)))
}

fn add(shop: &mut Shop, record: &Record, growth: &mut Growth) -> Option<()> {
    let kind = known_kind(record);
    if !is_next(shop, record) || kind.is_some_and(needs_owner) {
        return None;
    }
    if !record.entry.refs.iter().all(|hash| shop.by_hash.contains_key(hash)) {
        return None;
    }
    let step = match kind {
        Some(Kind::Strike) => strike(shop, record, growth)?,
        Some(Kind::Correction) => correction(shop, record, growth)?,
        _ => step_of(record, kind, None, counts(true)),
    };
    if moves_a_pour(shop, &step) {
        return None;
    }
    note_device(shop, record, kind, growth);
    push(shop, step);
    Some(())
}

/// Whether an entry is the next of an accepted device that never forked, and the newest of all.
fn is_next(shop: &Shop, record: &Record) -> bool {
    let entry = &record.entry;
    let newest = shop.steps.last().is_none_or(|last| last.order < record.order());
    let forked = shop.forks.iter().any(|fork| fork.device == entry.device);
    let device = shop.devices.get(&entry.device);
    newest
        && !forked
        && device.is_some_and(|it| it.status == DeviceStatus::Accepted && it.last_seq < entry.seq)
}

fn counts(in_force: bool) -> Standing {
    Standing { status: Status::Counts, open: false, in_force, struck_by: None, erased: false }
}

/// A pour that is recorded again, or after entries about it, changes whose history those belong to.
fn moves_a_pour(shop: &Shop, step: &Step) -> bool {
    let made = step.object.filter(|_| step.kind == Some(Kind::Pour));
    made.is_some_and(|pour| shop.steps.iter().any(|other| other.object == Some(pour)))
}

fn strike(shop: &mut Shop, record: &Record, growth: &mut Growth) -> Option<Step> {
    let targets: BTreeSet<usize> = record.entry.refs.iter().map(|hash| shop.by_hash[hash]).collect();
    if !targets.iter().all(|at| is_plain(&shop.steps[*at])) {
        return None;
    }
    for at in targets {
        put_out(shop, at, Status::Struck, Some(record.hash), growth);
    }
    Some(step_of(record, Some(Kind::Strike), None, counts(false)))
}

fn correction(shop: &mut Shop, record: &Record, growth: &mut Growth) -> Option<Step> {
    let [target] = record.entry.refs[..] else { return None };
    let at = shop.by_hash[&target];
    let first = &shop.steps[at];
    if !is_plain(first) {
        return None;
    }
    let (kind, was) = (first.kind, first);
    let first = First {
        hash: was.hash,
        wire: &was.wire,
        kind,
        done: was.done,
        object: was.object,
        pieces: &was.pieces,
        peer: was.peer,
    };
    let step = step_of(record, kind, Some(&first), counts(true));
    put_out(shop, at, Status::Replaced, None, growth);
    Some(step)
}

/// Whether an entry can be struck or corrected without a look at any other: it counts, has one version and made
/// nothing others stand on.
fn is_plain(step: &Step) -> bool {
    let sole = step.status == Status::Counts && step.in_force && !step.open && step.corrects.is_none();
    let Some(kind) = step.kind else { return false };
    sole && !needs_owner(kind) && !makes(kind) && !matches!(kind, Kind::Strike | Kind::Correction)
}

/// Kinds that lay the facts of an object over the old.
fn makes(kind: Kind) -> bool {
    use Kind::{Client, Job, Mix, Person, Piece, Pour, Product, Route, Settings, Tool};
    matches!(kind, Person | Client | Job | Piece | Mix | Product | Tool | Route | Pour | Settings)
}

fn put_out(shop: &mut Shop, at: usize, status: Status, by: Option<Hash>, growth: &mut Growth) {
    growth.put_out.push(at);
    let step = &mut shop.steps[at];
    (step.status, step.in_force, step.struck_by) = (status, false, by);
    if let Some(list) = step.kind.and_then(|kind| shop.by_kind.get_mut(&kind)) {
        list.retain(|other| *other != at);
    }
    drop_empty(shop, at);
}

/// A kind nothing is left of has no list, as in a fold.
fn drop_empty(shop: &mut Shop, at: usize) {
    if let Some(kind) = shop.steps[at].kind
        && shop.by_kind.get(&kind).is_some_and(Vec::is_empty)
    {
        shop.by_kind.remove(&kind);
    }
}

fn note_device(shop: &mut Shop, record: &Record, kind: Option<Kind>, growth: &mut Growth) {
    let entry = &record.entry;
    let Some(device) = shop.devices.get_mut(&entry.device) else { return };
    growth.devices.push(device.clone());
    device.last_seq = entry.seq;
    device.last_wrote = Some(entry.wrote);
    device.person = Some(entry.person);
    if let (Some(Kind::Device), Content::Open(value)) = (kind, &record.body)
        && let Some(name) = super::state::device_name(value)
    {
        device.name = Some(name);
    }
}

fn push(shop: &mut Shop, mut step: Step) {
    let at = shop.steps.len();
    step.late = is_late(&step, late_after_h(shop));
    if step.in_force {
        object(shop, &step);
    }
    let pieces = about(shop, &step);
    let kind = step.kind.filter(|_| step.in_force);
    shop.by_hash.insert(step.hash, at);
    shop.steps.push(step);
    let lists = (&shop.steps, &mut shop.by_piece, &mut shop.by_kind);
    for piece in pieces {
        insert(lists.0, lists.1.entry(piece).or_default(), at);
    }
    if let Some(kind) = kind {
        insert(lists.0, lists.2.entry(kind).or_default(), at);
    }
}

/// Puts a place where it belongs in order of work.
fn insert(steps: &[Step], list: &mut Vec<usize>, at: usize) {
    let key = |at: usize| (steps[at].done.start, steps[at].order);
    let place = list.partition_point(|other| key(*other) < key(at));
    list.insert(place, at);
}

impl Growth {
    /// Makes the shop what it was before it grew. To be called on that shop, newest growth first.
    pub fn take_back(self, shop: &mut Shop) {
        while shop.steps.len() > self.before {
            let at = shop.steps.len() - 1;
            take_last(shop, at);
        }
        for device in self.devices.into_iter().rev() {
            shop.devices.insert(device.id, device);
        }
        for at in self.put_out.into_iter().rev().filter(|at| *at < self.before) {
            let step = &mut shop.steps[at];
            (step.status, step.in_force, step.struck_by) = (Status::Counts, true, None);
            if let Some(kind) = step.kind {
                insert(&shop.steps, shop.by_kind.entry(kind).or_default(), at);
            }
        }
    }
}

fn take_last(shop: &mut Shop, at: usize) {
    let pieces = about(shop, &shop.steps[at]);
    for piece in pieces {
        if let Some(list) = shop.by_piece.get_mut(&piece) {
            list.retain(|other| *other != at);
            if list.is_empty() {
                shop.by_piece.remove(&piece);
            }
        }
    }
    if let Some(list) = shop.steps[at].kind.and_then(|kind| shop.by_kind.get_mut(&kind)) {
        list.retain(|other| *other != at);
    }
    drop_empty(shop, at);
    let Some(step) = shop.steps.pop() else { return };
    shop.by_hash.remove(&step.hash);
    if step.in_force && step.body().is_some() {
        unmake(shop, &step);
    }
}

/// Takes back what an entry laid over the facts of an object.
fn unmake(shop: &mut Shop, step: &Step) {
    let (Some(kind), Some(id)) = (step.kind, step.object) else { return };
    match kind {
        Kind::Person => pop(&mut shop.people, id),
        Kind::Client => pop(&mut shop.clients, id),
        Kind::Job => pop(&mut shop.jobs, id),
        Kind::Piece => pop(&mut shop.pieces, id),
        Kind::Mix => pop(&mut shop.mixes, id),
        Kind::Product => pop(&mut shop.products, id),
        Kind::Tool => pop(&mut shop.tools, id),
        Kind::Route => pop(&mut shop.routes, id),
        Kind::Pour => drop(shop.pours.remove(&id)),
        _ => {}
    }
}

fn pop<T>(table: &mut crate::shop::Table<T>, id: ObjectId) {
    if table.get_mut(&id).is_some_and(|versions| !versions.pop()) {
        table.remove(&id);
    }
}
