//! The recorded values of an entry, each with its label.

use serde::Deserialize as _;
use serde_json::{Map, Value};
use trowelogue_core::body::{Body, Kind, labels};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment;
use trowelogue_core::routes::Route;
use trowelogue_core::shop::{Reading, Shop, Step};
use trowelogue_core::sums::air;
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension};

use super::{Shape, Voice, fields_of, name_of};
use crate::dto::Fact;
use crate::say::fill;

const RATIO: Text = text("ratio", "proporción");
const UNKNOWN: Text = text("stated as unknown", "indicado como desconocido");
const PHOTOS: Text = text("photos", "fotos");
const ENTERED: Text = text("{value} (entered as {entered})", "{value} (anotado como {entered})");
pub(crate) const DEW_POINT: Text = text("dew point", "punto de rocío");
pub(crate) const MARGIN: Text = text("margin over dew point", "margen sobre el punto de rocío");
const UNREADABLE: Text = text("contents", "contenido");
const NEWER: Text = text("written by a newer version", "escrito por una versión más nueva");
const WITHHELD: Text = text("withheld", "retenido");
const LOCKED: Text =
    text("encrypted; this device has no passphrase", "cifrado; este dispositivo no tiene la clave");

/// Fields that stand elsewhere: the note beside the values, values as entered behind each value.
const ELSEWHERE: [&str; 4] = ["notes", "entered", "salt", "photos"];

/// Every recorded value of an entry, in the order of its kind; what is computed from them comes last.
pub(crate) fn facts_of(voice: &Voice, shop: &Shop, step: &Step) -> Vec<Fact> {
    let label = || voice.say(UNREADABLE);
    match (&step.reading, step.kind) {
        (Reading::Read(details), Some(kind)) => {
            let stored = details.to_stored();
            let mut facts = stored_facts(voice, shop, kind, &stored);
            facts.extend(computed(voice, &details.body));
            facts
        }
        (Reading::Withheld, _) => vec![Fact { label: label(), value: voice.say(WITHHELD) }],
        (Reading::Locked, _) => vec![Fact { label: label(), value: voice.say(LOCKED) }],
        _ => vec![Fact { label: label(), value: voice.say(NEWER) }],
    }
}

/// Values that need not make a whole entry, such as those a route proposes.
pub(crate) fn facts_of_values(
    voice: &Voice,
    shop: &Shop,
    kind: Kind,
    stored: &Map<String, Value>,
) -> Vec<Fact> {
    stored_facts(voice, shop, kind, stored)
}

/// The note of an entry, as written.
pub(crate) fn note_of(step: &Step) -> Option<String> {
    step.common().and_then(|common| common.notes.clone())
}

/// The values of a stored body.
fn stored_facts(voice: &Voice, shop: &Shop, kind: Kind, stored: &Map<String, Value>) -> Vec<Fact> {
    let mut facts = Vec::new();
    for (name, value) in stored {
        if ELSEWHERE.contains(&name.as_str()) || ratio_part(stored, name) {
            continue;
        }
        let shape = fields_of(kind).get(name).unwrap_or(&Shape::Any);
        let shown = Values { voice, shop, kind }.show(name, shape, value);
        facts
            .push(Fact { label: label_of(voice, kind, name), value: as_entered(voice, stored, name, shown) });
    }
    if let Some(ratio) = ratio(voice, stored) {
        let place = facts.len().min(2);
        facts.insert(place, Fact { label: voice.say(RATIO), value: ratio });
    }
    if let Some(photos) = stored.get("photos").and_then(Value::as_array).filter(|all| !all.is_empty()) {
        facts.push(Fact { label: voice.say(PHOTOS), value: photo_words(photos) });
    }
    facts
}

/// The label of a field: declared with its kind; a name of a newer version is shown as it is written.
pub(crate) fn label_of(voice: &Voice, kind: Kind, name: &str) -> String {
    labels::field(kind, name).map_or_else(|| name.replace('_', " "), |words| voice.say(words))
}

fn as_entered(voice: &Voice, stored: &Map<String, Value>, name: &str, shown: String) -> String {
    match stored.get("entered").and_then(|it| it.get(name)).and_then(Value::as_str) {
        Some(entered) => fill(ENTERED, voice.lang, &[("value", &shown), ("entered", &entered)]),
        None => shown,
    }
}

/// The other half of a ratio of two volumes, where there is one.
fn other_parts(stored: &Map<String, Value>) -> Option<(&'static str, f64)> {
    let find = |name: &'static str| stored.get(name).and_then(Value::as_f64).map(|parts| (name, parts));
    find("acid_parts").or_else(|| find("agent_parts"))
}

fn ratio_part(stored: &Map<String, Value>, name: &str) -> bool {
    let whole = other_parts(stored).is_some() && stored.contains_key("water_parts");
    whole && ["water_parts", "acid_parts", "agent_parts"].contains(&name)
}

fn ratio(voice: &Voice, stored: &Map<String, Value>) -> Option<String> {
    let water = stored.get("water_parts")?.as_f64()?;
    let (_, other) = other_parts(stored)?;
    Some(format!("{}:{}", voice.plain(water), voice.plain(other)))
}

fn photo_words(photos: &[Value]) -> String {
    let words = photos.iter().map(|photo| {
        let hash = photo["hash"].as_str().unwrap_or_default();
        let short = hash.get(..8).unwrap_or(hash);
        match photo["caption"].as_str() {
            Some(caption) => format!("{caption} ({short})"),
            None => short.to_owned(),
        }
    });
    words.collect::<Vec<_>>().join("; ")
}

/// What is computed from readings and never typed.
fn computed(voice: &Voice, body: &Body) -> Vec<Fact> {
    let (air_c, rh_pct, surface_c) = match body {
        Body::Climate(it) => (it.air_c, it.rh_pct, it.surface_c),
        Body::SealCoat(it) => (it.air_c, it.rh_pct, it.surface_c),
        _ => return Vec::new(),
    };
    let Ok(margin) = air::margin(air_c, rh_pct, surface_c) else { return Vec::new() };
    let show = |value, dimension| units::show(value, dimension, voice.system, voice.lang);
    vec![
        Fact { label: voice.say(DEW_POINT), value: show(surface_c - margin.margin_k, Dimension::Celsius) },
        Fact { label: voice.say(MARGIN), value: show(margin.margin_k, Dimension::Kelvin) },
    ]
}

/// Shows values of one body.
struct Values<'a> {
    voice: &'a Voice,
    shop: &'a Shop,
    kind: Kind,
}

impl Values<'_> {
    fn show(&self, name: &str, shape: &Shape, value: &Value) -> String {
        match (shape, value) {
            (_, Value::Null) => "—".to_owned(),
            (_, Value::String(word)) if word == "unknown" => self.voice.say(UNKNOWN),
            (Shape::Choice(kind), Value::String(word)) => self.choice(kind, word),
            (Shape::Id, Value::String(id)) => {
                id.parse().map_or_else(|_| id.clone(), |id: ObjectId| name_of(self.shop, id))
            }
            (Shape::Hash, Value::String(hash)) => hash.get(..12).unwrap_or(hash).to_owned(),
            (Shape::Day, Value::String(day)) => {
                day.parse().map_or_else(|_| day.clone(), |it| self.voice.day(it))
            }
            (Shape::Moment, Value::String(text)) => {
                moment::parse(text).map_or_else(|_| text.clone(), |it| self.voice.moment(&it))
            }
            (_, Value::String(text)) => text.clone(),
            (_, Value::Bool(yes)) => self.voice.yes_no(*yes),
            (_, Value::Number(number)) => self.number(name, number.as_f64().unwrap_or(f64::NAN)),
            (Shape::List(item), Value::Array(all)) => {
                all.iter().map(|it| self.show(name, item, it)).collect::<Vec<_>>().join("; ")
            }
            (_, Value::Object(_)) if name == "route" => self.route(value),
            (Shape::Record(fields), Value::Object(map)) => self.record(fields, map),
            (Shape::Map(item), Value::Object(map)) => {
                let named = map.iter().map(|(key, it)| format!("{key} {}", self.show(name, item, it)));
                named.collect::<Vec<_>>().join(", ")
            }
            _ => value.to_string(),
        }
    }

    /// A route as it stood when it was chosen or edited: its name and its stages.
    fn route(&self, value: &Value) -> String {
        let Ok(route) = Route::deserialize(value) else { return value.to_string() };
        let lang = self.voice.lang;
        let stages: Vec<String> =
            route.stages.iter().map(|stage| stage.title().get(lang).to_owned()).collect();
        format!("{}: {}", route.name.get(lang), stages.join("; "))
    }

    fn number(&self, name: &str, number: f64) -> String {
        match units::dimension_of_field(name) {
            Some(dimension) => units::show(number, dimension, self.voice.system, self.voice.lang),
            None => self.voice.plain(number),
        }
    }

    fn choice(&self, kind: &str, word: &str) -> String {
        labels::choice(kind, word).map_or_else(|| word.replace('_', " "), |words| self.voice.say(words))
    }

    fn record(&self, fields: &[(String, Shape)], map: &Map<String, Value>) -> String {
        let shown = map.iter().map(|(name, value)| {
            let shape = fields.iter().find(|(it, _)| it == name).map_or(&Shape::Any, |(_, shape)| shape);
            format!("{} {}", label_of(self.voice, self.kind, name), self.show(name, shape, value))
        });
        shown.collect::<Vec<_>>().join(", ")
    }
}
