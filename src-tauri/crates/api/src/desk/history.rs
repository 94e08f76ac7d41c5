//! The history of a piece: every entry with what it is worth.

use trowelogue_core::body::Kind;
use trowelogue_core::id::ObjectId;
use trowelogue_core::shop::{DeviceStatus, Reading, Shop, Status, Step};

use super::piece::can_log;
use super::words;
use crate::add::untouchable;
use crate::dto::{EntryStatus, Fact, HistoryItem, PhotoRef, ValueChange};
use crate::format::{facts_of, note_of, piece_code};
use crate::reading::{status_words, title};
use crate::say::fill;
use crate::session::Session;

/// Every entry about a piece, the newest first.
pub(crate) fn of_piece(session: &Session, piece: ObjectId) -> Vec<HistoryItem> {
    let mut steps: Vec<&Step> = session.shop().steps_of(piece).collect();
    steps.reverse();
    steps.into_iter().map(|step| item(session, piece, step)).collect()
}

/// Every entry that made or changed an object, the newest first.
pub(crate) fn of_object(session: &Session, shop: &Shop, kind: Kind, object: ObjectId) -> Vec<HistoryItem> {
    let about = |step: &&Step| step.object == Some(object) && step.kind == Some(kind);
    let told = shop.steps.iter().rev().filter(about).map(|step| {
        let item = item(session, object, step);
        // A route is put right by writing its next version.
        let readable = step.body().is_some() && kind != Kind::Route;
        HistoryItem { may_correct: item.may_strike && readable, ..item }
    });
    told.collect()
}

fn item(session: &Session, piece: ObjectId, step: &Step) -> HistoryItem {
    let (shop, voice) = (session.shop(), &session.voice);
    let status = status(shop, step);
    let counts = status == EntryStatus::Counts && session.link.is_some();
    let others = step.pieces.iter().filter(|it| **it != piece);
    HistoryItem {
        hash: step.hash.to_string(),
        kind: step.wire.clone(),
        title: crate::reading::first_upper(&title(voice, step)),
        done: voice.when(&step.done.start, &session.now()),
        late: step.late.then(|| voice.late(&step.done, step.wrote)),
        person: shop.person_name(step.person),
        device: device_name(shop, step),
        status,
        status_text: status_text(session, step, status),
        facts: facts_of(voice, shop, step),
        note: note_of(step),
        photos: photos(step),
        also: others.map(|it| piece_code(shop, *it)).collect(),
        refers: step.refs.iter().map(ToString::to_string).collect(),
        changes: changes(session, step),
        in_folder: session.is_in_folder(step),
        may_strike: counts && step.kind.is_some_and(|kind| !untouchable(kind)),
        may_correct: counts && step.kind.is_some_and(can_log) && step.body().is_some(),
    }
}

fn photos(step: &Step) -> Vec<PhotoRef> {
    let all = step.common().into_iter().flat_map(|common| &common.photos);
    all.map(|it| PhotoRef { id: it.hash.to_string(), caption: it.caption.clone() }).collect()
}

/// What a correction changed: each value that is another than in the version it replaced.
fn changes(session: &Session, step: &Step) -> Vec<ValueChange> {
    let (shop, voice) = (session.shop(), &session.voice);
    let Some(former) = step.corrects.and_then(|first| {
        let replaced = step.refs.iter().filter_map(|hash| shop.step(hash));
        replaced.max_by_key(|it| it.order).or_else(|| shop.step(&first))
    }) else {
        return Vec::new();
    };
    let all = |step: &Step| {
        let mut facts = vec![Fact { label: voice.say(words::DONE), value: voice.span(&step.done) }];
        facts.extend(facts_of(voice, shop, step));
        facts.extend(note_of(step).map(|value| Fact { label: voice.say(words::NOTE), value }));
        facts
    };
    let (was, is) = (all(former), all(step));
    let value =
        |facts: &[Fact], label: &str| facts.iter().find(|it| it.label == label).map(|it| it.value.clone());
    let mut labels: Vec<&str> = is.iter().chain(&was).map(|it| it.label.as_str()).collect();
    let mut seen = std::collections::BTreeSet::new();
    labels.retain(|label| seen.insert(*label));
    let change = |label: &str| {
        let (was, is) = (value(&was, label), value(&is, label));
        (was != is).then(|| ValueChange { label: label.to_owned(), was, is })
    };
    labels.into_iter().filter_map(change).collect()
}

pub(crate) fn device_name(shop: &Shop, step: &Step) -> String {
    let device = shop.devices.get(&step.device).and_then(|it| it.name.clone());
    device.unwrap_or_else(|| step.device.to_string())
}

fn status(shop: &Shop, step: &Step) -> EntryStatus {
    let retired = || shop.devices.get(&step.device).is_some_and(|it| it.status == DeviceStatus::Retired);
    match step.status {
        Status::Counts if matches!(step.reading, Reading::Newer(_)) => EntryStatus::Newer,
        Status::Counts => EntryStatus::Counts,
        Status::Struck => EntryStatus::Struck,
        Status::Replaced => EntryStatus::Replaced,
        Status::Apart if retired() => EntryStatus::Retired,
        Status::Apart => EntryStatus::Apart,
        Status::Waiting => EntryStatus::Waiting,
    }
}

/// The words for what an entry is worth: of a struck one who struck it and why, of a correction why it was made.
fn status_text(session: &Session, step: &Step, status: EntryStatus) -> String {
    let (shop, voice) = (session.shop(), &session.voice);
    let plain = || status_words(voice, step).unwrap_or_default();
    match status {
        EntryStatus::Newer => voice.say(words::NEWER),
        EntryStatus::Retired => voice.say(words::RETIRED),
        EntryStatus::Struck => {
            step.struck_by.and_then(|hash| shop.step(&hash)).map_or_else(plain, |strike| {
                let why = crate::reading::body_value(strike);
                let why = why["why"].as_str().unwrap_or_default().to_owned();
                let who = shop.person_name(strike.person);
                fill(words::STRUCK, voice.lang, &[("who", &who), ("why", &why)])
            })
        }
        EntryStatus::Counts => match &step.why_corrected {
            Some(why) if !step.open => fill(words::CORRECTED, voice.lang, &[("why", why)]),
            _ => plain(),
        },
        _ => plain(),
    }
}
