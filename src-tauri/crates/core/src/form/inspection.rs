//! The checklist of an inspection: a field a line, so that each is answered with a touch.

use serde_json::{Map, Value, json};

use super::control::{Offer, same};
use super::{Ask, Control, Field, Need, Proposal, Slot, Source};
use crate::body::after::CheckResult;
use crate::body::shape::Shape;
use crate::body::{Body, Kind};
use crate::text::{Text, text};

/// Names of these fields begin so; what is looked at follows.
pub(super) const PREFIX: &str = "checklist: ";

/// What is looked at where the shop has no list of its own. Common practice, no source.
const USUAL: [Text; 6] = [
    text("face: even, no swirl or scratches", "cara: uniforme, sin remolinos ni rayas"),
    text("edges and corners whole", "cantos y esquinas enteros"),
    text("fills flush and closed", "rellenos enrasados y cerrados"),
    text("tone as the agreed sample", "tono como la muestra acordada"),
    text("coat even, no misses or runs", "mano uniforme, sin faltas ni descuelgues"),
    text("size and cut-outs as drawn", "medidas y huecos según plano"),
];

/// A field for each line of the newest inspection of the shop, else of the usual list.
pub(super) fn fields(ask: &Ask<'_>) -> Vec<Field> {
    let newest = ask.shop.of_kind(Kind::Inspection).rev().find_map(|step| match step.body() {
        Some(Body::Inspection(it)) if !it.checklist.is_empty() => Some(it),
        _ => None,
    });
    let mut lines: Vec<String> =
        newest.map_or_else(Vec::new, |it| it.checklist.iter().map(|it| it.what.clone()).collect());
    for usual in USUAL {
        // A shop that reads two languages has its list once.
        if !lines.iter().any(|it| it == usual.en || it == usual.es) {
            lines.push(usual.get(ask.reader.lang).to_owned());
        }
    }
    lines.iter().map(|what| line(what)).collect()
}

fn line(what: &str) -> Field {
    let options = CheckResult::ALL.iter().map(|it| Offer::new(it.wire(), it.label())).collect();
    let unseen = json!(CheckResult::NotLooked.wire());
    Field {
        name: format!("{PREFIX}{what}"),
        slot: Slot::Check(what.to_owned()),
        shape: Shape::Choice("CheckResult".to_owned()),
        label: same(what),
        help: None,
        need: Need::Proposed,
        control: Control::Choice { options, many: false, free: false },
        value: Some(Proposal { stored: unseen, from: Source::Usual }),
    }
}

/// The field of a line somebody else's form had.
pub(super) fn field_named(name: &str) -> Option<Field> {
    name.strip_prefix(PREFIX).filter(|what| !what.trim().is_empty()).map(line)
}

/// Adds a field for each line an entry has and the form has not.
pub(super) fn add_lines(stored: &Map<String, Value>, fields: &mut Vec<Field>) {
    for what in lines_of(stored).filter_map(|it| it["what"].as_str()) {
        if !fields.iter().any(|field| field.slot == Slot::Check(what.to_owned())) {
            fields.push(line(what));
        }
    }
}

/// What an entry says of a line.
pub(super) fn result_of(stored: &Map<String, Value>, what: &str) -> Option<Value> {
    lines_of(stored).find(|it| it["what"] == what).map(|it| it["result"].clone())
}

fn lines_of(stored: &Map<String, Value>) -> impl Iterator<Item = &Value> {
    stored.get("checklist").and_then(Value::as_array).into_iter().flatten()
}
