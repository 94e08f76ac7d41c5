//! Small records inside a form, such as cut-outs: a row of fields each, as the form shows them and back.

use serde_json::{Map, Value, json};

use super::control::{Offer, same};
use super::lines::{self, blank, shown as quoted};
use super::number::measure;
use super::{Control, Field, Need, Reader, Slot};
use crate::body::shape::Shape;
use crate::body::{Kind, labels};
use crate::routes::Words;
use crate::text::{Text, text};

const NO_PART: Text = text("It has no part {it}.", "No tiene la parte {it}.");
const NOT_TEXT: Text = text("{it} must be words.", "{it} debe ser texto.");

/// The fields of a record, each with its control.
pub fn parts(kind: Kind, fields: &[(String, Shape)], reader: Reader) -> Vec<Field> {
    fields.iter().map(|(name, shape)| part(kind, name, shape, reader)).collect()
}

fn part(kind: Kind, name: &str, shape: &Shape, reader: Reader) -> Field {
    let control = match shape {
        Shape::Number => Control::Number(measure(name, false, reader.system)),
        Shape::Choice(of) => {
            let all = labels::choices(of).unwrap_or_default();
            let options = all.into_iter().map(|(wire, words)| Offer::new(wire, words)).collect();
            Control::Choice { options, many: false, free: false }
        }
        Shape::Day => Control::Day,
        _ => Control::Text { lines: 1 },
    };
    let label = labels::field(kind, name).map_or_else(|| same(name), Words::from);
    Field {
        name: name.to_owned(),
        slot: Slot::Body,
        shape: shape.clone(),
        label,
        help: None,
        need: Need::Optional,
        control,
        value: None,
    }
}

/// Stored records as the form shows them: numbers in the reader's units.
pub(super) fn shown(fields: &[(String, Shape)], stored: &Value, reader: Reader) -> Value {
    let one = |record: &Value| {
        let part = |(name, shape): &(String, Shape)| {
            let value = record.get(name).filter(|it| !it.is_null())?;
            let value = match (shape, value.as_f64()) {
                (Shape::Number, Some(number)) => {
                    let measure = measure(name, false, reader.system);
                    json!(measure.round(measure.outside(number)))
                }
                _ => value.clone(),
            };
            Some((name.clone(), value))
        };
        Value::Object(fields.iter().filter_map(part).collect())
    };
    stored.as_array().map_or(Value::Null, |all| all.iter().map(one).collect())
}

/// One record as it was filled in, in the form the reader of bodies takes: numbers in another unit than the stored
/// one become texts with it.
pub(super) fn read(
    fields: &[(String, Shape)],
    given: &Map<String, Value>,
    reader: Reader,
) -> Result<Value, String> {
    let mut record = Map::new();
    for (name, value) in given.iter().filter(|(_, value)| !is_empty(value)) {
        let found = fields.iter().find(|(known, _)| known == name);
        let (_, shape) = found.ok_or_else(|| blank(NO_PART, reader.lang, &[("it", &quoted(name))]))?;
        record.insert(name.clone(), value_of(name, shape, value, reader)?);
    }
    Ok(Value::Object(record))
}

fn is_empty(value: &Value) -> bool {
    value.is_null() || value.as_str().is_some_and(|it| it.trim().is_empty())
}

fn value_of(name: &str, shape: &Shape, given: &Value, reader: Reader) -> Result<Value, String> {
    match (shape, given) {
        (Shape::Number, Value::Number(number)) => {
            lines::number(&measure(name, false, reader.system), &number.to_string(), reader.lang)
        }
        (Shape::Number, Value::String(typed)) => {
            lines::number(&measure(name, false, reader.system), typed, reader.lang)
        }
        (Shape::Choice(of), Value::String(word)) => Ok(json!(lines::choice(of, word, reader.lang)?)),
        (_, Value::String(words)) => Ok(json!(words.trim())),
        (_, other) => Err(blank(NOT_TEXT, reader.lang, &[("it", &quoted(&other.to_string()))])),
    }
}
