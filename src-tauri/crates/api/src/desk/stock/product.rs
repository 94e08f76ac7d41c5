//! A product: its limits with their sources, its hazards, its lots.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde_json::Value;
use trowelogue_core::body::Kind;
use trowelogue_core::body::setup::Product;
use trowelogue_core::body::shape::{Shape, own_fields};
use trowelogue_core::id::ObjectId;
use trowelogue_core::rules::limits::Source;
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, dimension_of_field};
use trowelogue_core::{hazard, materials};

use crate::dto::{Hazard, LimitRow, LotRow};
use crate::format::{Voice, label_of};
use crate::reading::{first_upper, title};
use crate::say::fill;
use crate::session::Session;

const OF_SHEET: Text = text(
    "As on the product's own sheets. The safety data sheet governs.",
    "Según las fichas del propio producto. Manda la ficha de datos de seguridad.",
);
const OF_CLASS: Text = text(
    "Usual for its class; look at the safety data sheet of the product in hand, which governs.",
    "Habitual en su clase; mire la ficha de datos de seguridad del producto, que es la que manda.",
);
const UNTIL: Text = text("best before {day}", "consumir antes del {day}");
const PAST: Text = text("past its date: {day}", "caducado: {day}");
const NO_DATE: Text = text("no date recorded", "sin fecha anotada");

/// The fields of a product that limit its use: numbers and yes or no.
fn limit_fields() -> impl Iterator<Item = &'static str> {
    let fits = |shape: &Shape| matches!(shape, Shape::Number | Shape::YesNo);
    own_fields(Kind::Product).iter().filter(move |it| fits(&it.shape)).map(|it| it.name.as_str())
}

/// Whether a fact of this name stands among the limits.
pub(super) fn is_limit(voice: &Voice, label: &str) -> bool {
    limit_fields().chain(["hazards"]).any(|name| label_of(voice, Kind::Product, name) == label)
}

/// Every limit in force: the data sheet's where the shop entered one, else the class default.
pub(super) fn limits(voice: &Voice, product: &Product) -> Vec<LimitRow> {
    let own = serde_json::to_value(product).unwrap_or_default();
    let row = |name: &str| {
        let given = own.get(name).filter(|it| !it.is_null());
        let value = given.or_else(|| materials::default_of(product.class, name))?;
        let source = if given.is_some() { Source::DataSheet } else { Source::ClassDefault };
        Some(LimitRow {
            label: first_upper(&label_of(voice, Kind::Product, name)),
            value: shown(voice, name, value)?,
            source: voice.say(source.label()),
            own: given.is_some(),
        })
    };
    limit_fields().filter_map(row).collect()
}

fn shown(voice: &Voice, name: &str, value: &Value) -> Option<String> {
    if let Some(yes) = value.as_bool() {
        return Some(voice.yes_no(yes));
    }
    let number = value.as_f64()?;
    Some(match dimension_of_field(name) {
        Some(dimension) => units::show(number, dimension, voice.system, voice.lang),
        None => voice.plain(number),
    })
}

/// Pictograms of the product's own sheets, else of its class; and which of the two they are.
pub(super) fn hazards(voice: &Voice, product: &Product) -> (Vec<Hazard>, Option<String>) {
    let (codes, words) = match &product.hazards {
        Some(own) => (own, OF_SHEET),
        None => (&materials::of(product.class).hazards.pictograms, OF_CLASS),
    };
    let told = codes.iter().filter_map(|code| {
        hazard::name(code).map(|name| Hazard { code: code.clone(), name: first_upper(name.get(voice.lang)) })
    });
    let told: Vec<Hazard> = told.collect();
    let say = (!told.is_empty()).then(|| voice.say(words));
    (told, say)
}

/// Lots of a product by their newest use: the date on the can, and where they went.
pub(super) fn lots(session: &Session, shop: &Shop, id: ObjectId) -> Vec<LotRow> {
    let voice = &session.voice;
    let today = voice.local(&session.now()).date_naive();
    let wanted = Value::from(id.to_string());
    let mut found: BTreeMap<String, LotRow> = BTreeMap::new();
    for step in shop.steps.iter().filter(|step| step.in_force) {
        let Some(body) = step.body().map(trowelogue_core::body::Body::to_map) else { continue };
        let Some(lot) =
            body.get("lot").and_then(Value::as_str).filter(|_| body.get("product") == Some(&wanted))
        else {
            continue;
        };
        let day = |name: &str| body.get(name)?.as_str()?.parse::<NaiveDate>().ok();
        let date = day("extended_until").or_else(|| day("expires"));
        let pieces = step.pieces.iter().map(|it| crate::format::piece_code(shop, *it));
        let pieces = crate::say::list(pieces, 6);
        let used = [first_upper(&title(voice, step)), pieces, voice.moment(&step.done.start)];
        let used: Vec<String> = used.into_iter().filter(|it| !it.is_empty()).collect();
        let past = date.is_some_and(|date| date < today);
        let words = if past { PAST } else { UNTIL };
        let date =
            date.map_or_else(|| voice.say(NO_DATE), |it| fill(words, voice.lang, &[("day", &voice.day(it))]));
        found.insert(lot.to_owned(), LotRow { lot: lot.to_owned(), date, past, used: used.join(" · ") });
    }
    found.into_values().collect()
}
