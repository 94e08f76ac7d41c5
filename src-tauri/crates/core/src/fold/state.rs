//! Building the shop from judged entries.

use std::collections::BTreeMap;

use super::order::Log;
use super::status::Statuses;
use super::trust::Trust;
use crate::body::authority::{Correction, Role};
use crate::body::{Body, Details, Kind};
use crate::entry::{Content, Merged, Record};
use crate::id::{DeviceId, Hash, ObjectId};
use crate::moment::{Span, hours_between};
use crate::shop::{Device, DeviceStatus, Fork, PourFacts, Reading, Shop, Status, Step, Table, Versions};

/// Hours after which an entry counts as written late, unless the shop says otherwise. Common practice, no source.
const LATE_AFTER_H: f64 = 24.0;

pub(crate) fn build(merged: &Merged, log: &Log, trust: &Trust, statuses: &Statuses) -> Shop {
    let mut shop = Shop {
        id: merged.shop,
        name: merged.name.clone(),
        settings: no_settings(),
        devices: BTreeMap::new(),
        people: Table::new(),
        clients: Table::new(),
        jobs: Table::new(),
        pieces: Table::new(),
        mixes: Table::new(),
        products: Table::new(),
        tools: Table::new(),
        routes: Table::new(),
        pours: BTreeMap::new(),
        steps: (0..log.records.len()).map(|at| step(log, trust, statuses, at)).collect(),
        forks: forks(log, trust),
        erased: trust.erased.iter().map(|at| log.records[*at].hash).collect(),
        passphrase: trust.passphrase.map(|at| log.records[at].hash),
        photos_here: None,
        lent: BTreeMap::new(),
        by_hash: log.records.iter().enumerate().map(|(at, it)| (it.hash, at)).collect(),
        by_piece: BTreeMap::new(),
        by_kind: BTreeMap::new(),
    };
    shop.devices = devices(merged, log, trust);
    objects(&mut shop);
    mark_late(&mut shop);
    index_pieces(&mut shop);
    index_kinds(&mut shop);
    shop
}

fn no_settings() -> crate::body::setup::Settings {
    // Every field is optional, so the empty object is always a reading of it.
    serde_json::from_value(serde_json::json!({})).unwrap_or_else(|_| unreachable!("all fields are optional"))
}

fn step(log: &Log, trust: &Trust, statuses: &Statuses, at: usize) -> Step {
    let record = log.records[at];
    let first = statuses.first.get(&at).map(|root| First::of(log.records[*root]));
    let standing = Standing {
        status: statuses.of[at],
        open: statuses.open[at],
        in_force: statuses.in_force[at],
        struck_by: statuses.struck_by.get(&at).map(|strike| log.records[*strike].hash),
        erased: trust.erased.contains(&at),
    };
    let kind = first.as_ref().map_or(log.kinds[at], |first| first.kind);
    step_of(record, kind, first.as_ref(), standing)
}

/// What an entry is worth, as it was judged.
#[derive(Clone, Copy)]
pub(crate) struct Standing {
    pub status: Status,
    pub open: bool,
    pub in_force: bool,
    pub struck_by: Option<Hash>,
    pub erased: bool,
}

/// The first version behind a correction.
pub(crate) struct First<'a> {
    pub hash: Hash,
    pub wire: &'a str,
    pub kind: Option<Kind>,
    pub done: Span,
    pub object: Option<ObjectId>,
    pub pieces: &'a [ObjectId],
    pub peer: Option<DeviceId>,
}

impl<'a> First<'a> {
    fn of(record: &'a Record) -> Self {
        let entry = &record.entry;
        Self {
            hash: record.hash,
            wire: &entry.kind,
            kind: Kind::parse(&entry.kind),
            done: entry.done,
            object: entry.object,
            pieces: &entry.pieces,
            peer: entry.peer,
        }
    }
}

/// An entry as the fold sees it; with `first`, it is a correction. `kind` is that of the first version then.
pub(crate) fn step_of(
    record: &Record,
    kind: Option<Kind>,
    first: Option<&First<'_>>,
    standing: Standing,
) -> Step {
    let entry = &record.entry;
    let Standing { status, open, in_force, struck_by, erased } = standing;
    let own = First::of(record);
    let target = first.unwrap_or(&own);
    let correction = first.and_then(|_| correction_of(record)).filter(|_| !erased);
    let pieces = if entry.pieces.is_empty() { target.pieces } else { &entry.pieces };
    Step {
        hash: record.hash,
        order: record.order(),
        wire: if kind.is_some() { target.wire.to_owned() } else { entry.kind.clone() },
        kind,
        done: corrected_span(target.done, correction.as_ref()),
        wrote: entry.wrote,
        person: entry.person,
        device: entry.device,
        status,
        late: false,
        open,
        in_force,
        corrects: first.map(|first| first.hash),
        struck_by,
        object: entry.object.or(target.object),
        pieces: pieces.to_vec(),
        peer: entry.peer.or(target.peer),
        refs: entry.refs.clone(),
        reading: match (&correction, first) {
            _ if erased => Reading::Withheld,
            (Some(correction), _) => read(kind, &serde_json::Value::Object(correction.body.clone())),
            (None, Some(_)) => unread(record),
            (None, None) => reading(kind, record),
        },
        why_corrected: correction.map(|it| it.why),
    }
}

fn correction_of(record: &Record) -> Option<Correction> {
    let Content::Open(value) = &record.body else { return None };
    match Details::from_stored(Kind::Correction, value).ok()?.body {
        Body::Correction(correction) => Some(*correction),
        _ => None,
    }
}

fn corrected_span(done: Span, correction: Option<&Correction>) -> Span {
    let Span { start, end } = done;
    Span {
        start: correction.and_then(|it| it.done).unwrap_or(start),
        end: correction.and_then(|it| it.until).or(end),
    }
}

fn reading(kind: Option<Kind>, record: &Record) -> Reading {
    match &record.body {
        Content::Open(value) => read(kind, value),
        _ => unread(record),
    }
}

fn read(kind: Option<Kind>, value: &serde_json::Value) -> Reading {
    let details = kind.and_then(|kind| Details::from_stored(kind, value).ok());
    details.map_or_else(|| Reading::Newer(value.clone()), Reading::Read)
}

fn unread(record: &Record) -> Reading {
    match &record.body {
        Content::Open(value) => Reading::Newer(value.clone()),
        Content::Withheld => Reading::Withheld,
        Content::Locked => Reading::Locked,
    }
}

fn forks(log: &Log, trust: &Trust) -> Vec<Fork> {
    let forks = log.forks().map(|(&(device, seq), at)| {
        let mut hashes: Vec<_> = at.iter().map(|at| log.records[*at].hash).collect();
        hashes.sort_unstable();
        Fork { device, seq, hashes, settled: trust.settled.contains(&(device, seq)) }
    });
    forks.collect()
}

fn devices(merged: &Merged, log: &Log, trust: &Trust) -> BTreeMap<DeviceId, Device> {
    let mut devices = BTreeMap::new();
    let new = |id, replaces| Device {
        id,
        name: None,
        status: match (trust.roles.contains_key(&id), trust.cuts.contains_key(&id)) {
            (_, true) => DeviceStatus::Retired,
            (true, false) => DeviceStatus::Accepted,
            (false, false) => DeviceStatus::Apart,
        },
        role: trust.roles.get(&id).copied().unwrap_or(Role::Crew),
        replaces,
        last_seq: 0,
        last_wrote: None,
        person: None,
    };
    devices.insert(merged.founder, new(merged.founder, None));
    let mut headers = merged.devices.clone();
    headers.sort_unstable();
    for (id, replaces) in headers {
        let device = devices.entry(id).or_insert_with(|| new(id, None));
        device.replaces = device.replaces.or(replaces);
    }
    for (at, record) in log.records.iter().enumerate() {
        let entry = &record.entry;
        let device = devices.entry(entry.device).or_insert_with(|| new(entry.device, None));
        if entry.seq >= device.last_seq {
            device.last_seq = entry.seq;
            device.last_wrote = Some(entry.wrote);
            device.person = Some(entry.person);
        }
        if let (Some(Kind::Device), Content::Open(value)) = (log.kinds[at], &record.body)
            && let Some(name) = device_name(value)
        {
            device.name = Some(name);
        }
    }
    devices
}

/// The name a device gives itself.
pub(crate) fn device_name(body: &serde_json::Value) -> Option<String> {
    match Details::from_stored(Kind::Device, body).ok()?.body {
        Body::Device(said) => Some(said.name),
        _ => None,
    }
}

/// Gathers people, jobs, pieces and the rest from the entries in force, in the common order.
fn objects(shop: &mut Shop) {
    let steps = std::mem::take(&mut shop.steps);
    for step in steps.iter().filter(|step| step.in_force) {
        object(shop, step);
    }
    shop.steps = steps;
}

/// Lays what an entry says of settings and objects over what is there.
pub(crate) fn object(shop: &mut Shop, step: &Step) {
    let Some(body) = step.body() else { return };
    if let Body::Settings(given) = body {
        merge_settings(&mut shop.settings, given);
    }
    let Some(id) = step.object else { return };
    let done = step.done.start;
    match body {
        Body::Person(it) => put(&mut shop.people, id, done, it),
        Body::Client(it) => put(&mut shop.clients, id, done, it),
        Body::Job(it) => put(&mut shop.jobs, id, done, it),
        Body::Piece(it) => put(&mut shop.pieces, id, done, it),
        Body::Mix(it) => put(&mut shop.mixes, id, done, it),
        Body::Product(it) => put(&mut shop.products, id, done, it),
        Body::Tool(it) => put(&mut shop.tools, id, done, it),
        Body::Route(it) => put(&mut shop.routes, id, done, it),
        Body::Pour(it) => {
            let facts = PourFacts {
                code: it.code.clone(),
                mix: it.mix,
                done: step.done,
                pieces: step.pieces.clone(),
                hash: step.hash,
            };
            shop.pours.insert(id, facts);
        }
        _ => {}
    }
}

fn put<T: Clone>(table: &mut Table<T>, id: ObjectId, done: crate::moment::Moment, value: &T) {
    match table.get_mut(&id) {
        Some(versions) => versions.push(done, value.clone()),
        None => {
            table.insert(id, Versions::first(done, value.clone()));
        }
    }
}

/// Lays newly given settings over the old: a field left out keeps its value.
fn merge_settings(settings: &mut crate::body::setup::Settings, given: &crate::body::setup::Settings) {
    let merged = serde_json::to_value(&*settings).ok().zip(serde_json::to_value(given).ok());
    let Some((serde_json::Value::Object(mut old), serde_json::Value::Object(new))) = merged else { return };
    old.extend(new);
    if let Ok(laid) = serde_json::from_value(serde_json::Value::Object(old)) {
        *settings = laid;
    }
}

fn mark_late(shop: &mut Shop) {
    let limit = late_after_h(shop);
    for step in &mut shop.steps {
        step.late = is_late(step, limit);
    }
}

/// Hours after which an entry counts as written late in this shop.
pub(crate) fn late_after_h(shop: &Shop) -> f64 {
    shop.settings.late_after_h.unwrap_or(LATE_AFTER_H)
}

/// Whether an entry was written down later than the limit after its work.
pub(crate) fn is_late(step: &Step, limit_h: f64) -> bool {
    hours_between(step.done.finish(), step.wrote) > limit_h
}

/// Lists, for each piece, the entries about it or about the pour it came from, in order of work.
fn index_pieces(shop: &mut Shop) {
    let mut by_piece: BTreeMap<ObjectId, Vec<usize>> = BTreeMap::new();
    for (at, step) in shop.steps.iter().enumerate() {
        for piece in about(shop, step) {
            by_piece.entry(piece).or_default().push(at);
        }
    }
    for steps in by_piece.values_mut() {
        steps.sort_by_key(|at| (shop.steps[*at].done.start, shop.steps[*at].order));
    }
    shop.by_piece = by_piece;
}

/// The pieces an entry is about: named, made by it, or cast in the pour it is about.
pub(crate) fn about(shop: &Shop, step: &Step) -> Vec<ObjectId> {
    let own = step.kind == Some(Kind::Piece);
    let mut about = step.pieces.clone();
    match step.object {
        Some(object) if own => about.push(object),
        Some(object) => about.extend(shop.pours.get(&object).into_iter().flat_map(|it| &it.pieces)),
        None => {}
    }
    about.sort_unstable();
    about.dedup();
    about
}

/// Lists the entries in force of each kind, in order of work.
fn index_kinds(shop: &mut Shop) {
    let mut by_kind: BTreeMap<Kind, Vec<usize>> = BTreeMap::new();
    for (at, step) in shop.steps.iter().enumerate().filter(|(_, step)| step.in_force) {
        if let Some(kind) = step.kind {
            by_kind.entry(kind).or_default().push(at);
        }
    }
    for steps in by_kind.values_mut() {
        steps.sort_by_key(|at| (shop.steps[*at].done.start, shop.steps[*at].order));
    }
    shop.by_kind = by_kind;
}

impl Shop {
    /// Entries of a status, in the common order.
    pub fn with_status(&self, status: Status) -> impl Iterator<Item = &Step> {
        self.steps.iter().filter(move |step| step.status == status)
    }
}
