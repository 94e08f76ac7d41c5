//! An entry in words.

use serde_json::Value;
use trowelogue_core::body::Body;
use trowelogue_core::routes::title_of;
use trowelogue_core::shop::{Reading, Shop, Status, Step};
use trowelogue_core::text::{Text, text};

use crate::dto::report::Shown;
use crate::format::{Voice, facts_of, note_of};

const OPEN: Text = text("one of several versions, not settled", "una de varias versiones, sin resolver");
const STRUCK: Text = text("struck", "anulada");
const REPLACED: Text = text("replaced by a correction", "reemplazada por una corrección");
const APART: Text = text("apart: its device is not accepted", "aparte: su dispositivo no está aceptado");
const WAITING: Text = text("waits for an entry it refers to", "espera una entrada a la que se refiere");
const CORRECTED: Text = text("corrected", "corregida");

/// What was done, with the values that name it: "grit pass 200, resin".
pub(crate) fn title(voice: &Voice, step: &Step) -> String {
    let Some(kind) = step.kind else { return step.wire.replace('_', " ") };
    let values = match &step.reading {
        Reading::Read(details) => details.body.to_map(),
        _ => serde_json::Map::new(),
    };
    let said = match step.body() {
        Some(Body::Piece(it)) => Some(it.code.clone()),
        Some(Body::Exception(it)) => Some(it.rule.clone()),
        Some(Body::RouteChosen(it)) => Some(it.code.clone()),
        Some(Body::Person(it)) => Some(it.name.clone()),
        _ => None,
    };
    let words = title_of(kind, &values);
    match said {
        Some(said) => format!("{} {said}", words.get(voice.lang)),
        None => words.get(voice.lang).to_owned(),
    }
}

/// The words for what an entry is worth; none where it simply counts.
pub(crate) fn status_words(voice: &Voice, step: &Step) -> Option<String> {
    let words = match step.status {
        Status::Counts if step.open => OPEN,
        Status::Counts if step.corrects.is_some() => CORRECTED,
        Status::Counts => return None,
        Status::Struck => STRUCK,
        Status::Replaced => REPLACED,
        Status::Apart => APART,
        Status::Waiting => WAITING,
    };
    Some(voice.say(words))
}

/// An entry as people read it.
pub(crate) fn shown(voice: &Voice, shop: &Shop, step: &Step) -> Shown {
    let device = shop.devices.get(&step.device).and_then(|it| it.name.clone());
    Shown {
        title: title(voice, step),
        done: voice.span(&step.done),
        device: device.unwrap_or_else(|| step.device.to_string()),
        late: step.late.then(|| voice.late(&step.done, step.wrote)),
        status: status_words(voice, step),
        facts: facts_of(voice, shop, step),
        note: note_of(step),
    }
}

/// The body as stored; null where it cannot be read here.
pub(crate) fn body_value(step: &Step) -> Value {
    match &step.reading {
        Reading::Read(details) => Value::Object(details.to_stored()),
        Reading::Newer(value) => value.clone(),
        Reading::Withheld | Reading::Locked => Value::Null,
    }
}
