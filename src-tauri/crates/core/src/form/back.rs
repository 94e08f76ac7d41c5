//! From what a person sees back to what is stored: each value held to its control, refused in words by field.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use super::lines::{self, blank, shown as quoted};
use super::{Control, Field, Form, Lines, Measure, Need, Reader, Slot, inspection, records, show};
use crate::body::shape::Shape;
use crate::moment;
use crate::text::{Lang, Text, text};
use crate::units;

const MUST: Text = text("It must be given.", "Debe indicarse.");
const NO_FIELD: Text = text("This form has no such field.", "Este formulario no tiene ese campo.");
const NOT_NUMBER: Text = text("{it} is no number.", "{it} no es un número.");
const OUTSIDE: Text = text("{it} lies outside {low} to {high}.", "{it} queda fuera de {low} a {high}.");
const NOT_WHOLE: Text = text("{it} is no whole number.", "{it} no es un número entero.");
const NOT_OFFERED: Text =
    text("{it} is not among what can be chosen.", "{it} no está entre lo que se puede elegir.");
const NOT_RATIO: Text = text(
    "{it} is no ratio; write parts of water to parts of concentrate, like 20:1.",
    "{it} no es una proporción; escriba partes de agua por partes de concentrado, como 20:1.",
);
const NOT_DAY: Text =
    text("{it} is no day; write it like 2025-03-04.", "{it} no es un día; escríbalo como 2025-03-04.");
const NOT_TEXT: Text = text("It must be words.", "Deben ser palabras.");
const NOT_LIST: Text = text("It must be a list.", "Debe ser una lista.");
const NOT_YES_NO: Text = text("It must be yes or no.", "Debe ser sí o no.");
const NOT_JSON: Text = text("It is not JSON: {it}.", "No es JSON: {it}.");
const NOT_HASH: Text =
    text("{it} is no hash of a photo or file.", "{it} no es el hash de una foto o un archivo.");

/// A value that cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// The field of the form.
    pub field: String,
    /// Why, in words.
    pub why: String,
}

/// A form read back.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filled {
    /// The body; numbers in another unit than the stored one are texts with their unit.
    pub body: Map<String, Value>,
    /// Fields of the head.
    pub head: Map<String, Value>,
    /// Fields whose value was left as it had been shown.
    pub untouched: Vec<String>,
    /// What cannot be taken.
    pub refused: Vec<Refused>,
}

/// Reads the values of a form. A value left as it was shown is taken as it was stored, to the last digit. Moments
/// come with their offset: whoever knows the reader's zone made them of civil time.
pub fn fill(form: &Form, values: &BTreeMap<String, Value>, reader: Reader) -> Filled {
    let mut filled = Filled::default();
    let given = |name: &str| values.get(name).filter(|it| !is_empty(it));
    for field in &form.fields {
        match given(&field.name) {
            Some(value) => filled.take(field, value, reader),
            None if field.need == Need::Must => filled.refuse(&field.name, MUST.get(reader.lang)),
            None => {}
        }
    }
    for (name, value) in values.iter().filter(|(name, it)| !is_empty(it) && form.field(name).is_none()) {
        match inspection::field_named(name) {
            Some(field) => filled.take(&field, value, reader),
            None => filled.refuse(name, NO_FIELD.get(reader.lang)),
        }
    }
    let checks = form.fields.iter().any(|field| matches!(field.slot, Slot::Check(_)));
    if checks && !filled.body.contains_key("checklist") {
        filled.refuse("checklist", MUST.get(reader.lang));
    }
    filled
}

fn is_empty(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::String(text) => text.trim().is_empty(),
        Value::Array(all) => all.is_empty(),
        _ => false,
    }
}

impl Filled {
    fn refuse(&mut self, field: &str, why: impl Into<String>) {
        self.refused.push(Refused { field: field.to_owned(), why: why.into() });
    }

    fn take(&mut self, field: &Field, given: &Value, reader: Reader) {
        let kept = field.value.as_ref().filter(|it| same(&show::shown(field, &it.stored, reader), given));
        let stored = match kept {
            Some(proposal) => {
                self.untouched.push(field.name.clone());
                Ok(proposal.stored.clone())
            }
            None => read(field, given, reader),
        };
        match stored {
            Ok(stored) => self.put(field, stored, reader.lang),
            Err(why) => self.refuse(&field.name, why),
        }
    }

    fn put(&mut self, field: &Field, stored: Value, lang: Lang) {
        match &field.slot {
            Slot::Body if field.name == "checklist" => self.add_lines(stored),
            Slot::Body => drop(self.body.insert(field.name.clone(), stored)),
            Slot::Head => drop(self.head.insert(field.name.clone(), stored)),
            Slot::Check(what) => self.add_lines(json!([{ "what": what, "result": stored }])),
            Slot::Parts(water, other) => match parts(stored.as_str().unwrap_or_default()) {
                Some((of_water, of_other)) => {
                    // A kind with one number has the water to one part.
                    let water_parts = if other.is_some() { of_water } else { of_water / of_other };
                    self.body.insert((*water).to_owned(), json!(water_parts));
                    other.map(|other| self.body.insert(other.to_owned(), json!(of_other)));
                }
                None => self.refuse(&field.name, about(NOT_RATIO, &stored, lang)),
            },
        }
    }

    fn add_lines(&mut self, more: Value) {
        let list = self.body.entry("checklist").or_insert_with(|| json!([]));
        if let (Value::Array(list), Value::Array(more)) = (list, more) {
            list.extend(more);
        }
    }
}

fn same(shown: &Value, given: &Value) -> bool {
    match (shown.as_f64(), given.as_f64()) {
        (Some(one), Some(other)) => (one - other).abs() <= 1e-9 * one.abs().max(1.0),
        _ => shown == given,
    }
}

fn about(words: Text, value: &Value, lang: Lang) -> String {
    let it = match value {
        Value::String(text) => quoted(text),
        other => other.to_string().chars().take(40).collect(),
    };
    blank(words, lang, &[("it", &it)])
}

/// Reads one value, held to its control.
fn read(field: &Field, given: &Value, reader: Reader) -> Result<Value, String> {
    let lang = reader.lang;
    match &field.control {
        Control::Number(measure) => number(measure, given, lang),
        Control::Choice { options, many, free } => {
            let offered: Vec<&str> = options.iter().map(|it| it.value.as_str()).collect();
            match (many, given) {
                (true, Value::Array(all)) => {
                    let each: Result<Vec<Value>, String> =
                        all.iter().map(|it| chosen(&offered, false, it, lang)).collect();
                    each.map(Value::Array)
                }
                (true, one) => Ok(json!([chosen(&offered, false, one, lang)?])),
                (false, one) => as_shape(field, &chosen(&offered, *free, one, lang)?, lang),
            }
        }
        Control::YesNo => match given {
            Value::Bool(_) => Ok(given.clone()),
            _ => Err(NOT_YES_NO.get(lang).to_owned()),
        },
        Control::Ratio { .. } => match given {
            Value::String(text) if parts(text).is_some() => Ok(given.clone()),
            _ => Err(about(NOT_RATIO, given, lang)),
        },
        Control::Day => match given.as_str().and_then(|it| it.parse::<chrono::NaiveDate>().ok()) {
            Some(day) => Ok(json!(day)),
            None => Err(about(NOT_DAY, given, lang)),
        },
        Control::Moment => {
            let said = given.as_str().unwrap_or_default();
            moment::parse(said).map(|_| given.clone()).map_err(|error| error.say(lang))
        }
        Control::List(Lines::Records(fields)) => each_record(fields, given, reader),
        Control::List(form) => lines::read(form, &strings(given, lang)?, reader),
        Control::Places(fields) => {
            lines::read(&Lines::Records(fields.clone()), &strings(given, lang)?, reader)
        }
        Control::Photo => photos(&strings(given, lang)?, lang),
        Control::Text { .. } => match given {
            Value::String(text) if field.shape == Shape::Any => serde_json::from_str(text)
                .map_err(|error| blank(NOT_JSON, lang, &[("it", &error.to_string())])),
            Value::String(_) => Ok(given.clone()),
            _ => Err(NOT_TEXT.get(lang).to_owned()),
        },
    }
}

fn strings(given: &Value, lang: Lang) -> Result<Vec<String>, String> {
    let item = |it: &Value| it.as_str().map(str::trim).map(str::to_owned);
    let all: Option<Vec<String>> = match given {
        Value::Array(all) => all.iter().map(item).collect(),
        Value::String(text) => Some(text.lines().map(str::trim).map(str::to_owned).collect()),
        _ => None,
    };
    let all = all.ok_or_else(|| NOT_LIST.get(lang).to_owned())?;
    Ok(all.into_iter().filter(|it| !it.is_empty()).collect())
}

/// Records, each a row of fields or a line of text.
fn each_record(fields: &[(String, Shape)], given: &Value, reader: Reader) -> Result<Value, String> {
    let all = given.as_array().ok_or_else(|| NOT_LIST.get(reader.lang).to_owned())?;
    let form = Lines::Records(fields.to_vec());
    let one = |it: &Value| match it {
        Value::Object(record) => records::read(fields, record, reader),
        line => Ok(lines::read(&form, &strings(line, reader.lang)?, reader)?[0].take()),
    };
    let filled = all.iter().filter(|it| !is_blank(it));
    filled.map(one).collect()
}

/// A row nobody wrote in.
fn is_blank(record: &Value) -> bool {
    match record {
        Value::Object(parts) => parts.values().all(is_empty),
        other => is_empty(other),
    }
}

fn photos(hashes: &[String], lang: Lang) -> Result<Value, String> {
    let photo = |hash: &String| match hash.parse::<crate::id::Hash>() {
        Ok(hash) => Ok(json!({ "hash": hash })),
        Err(_) => Err(blank(NOT_HASH, lang, &[("it", &quoted(hash))])),
    };
    hashes.iter().map(photo).collect()
}

/// One of what is offered; where the person's own is allowed, any words or number.
fn chosen(offered: &[&str], free: bool, given: &Value, lang: Lang) -> Result<Value, String> {
    match given {
        Value::String(text) if free || offered.contains(&text.as_str()) => Ok(given.clone()),
        Value::Number(number) if free => Ok(json!(number.to_string())),
        _ => Err(about(NOT_OFFERED, given, lang)),
    }
}

/// A choice that stands for a number, or for yes and no, in its own form.
fn as_shape(field: &Field, chosen: &Value, lang: Lang) -> Result<Value, String> {
    match (&field.shape, chosen.as_str()) {
        (Shape::Number | Shape::YesNo, Some("unknown")) => Ok(chosen.clone()),
        (Shape::YesNo, Some(word)) => Ok(json!(word == "yes")),
        (Shape::Number, Some(word)) => {
            let figure = lines::figure(word.trim().trim_end_matches('%').trim());
            let value = figure.ok_or_else(|| about(NOT_NUMBER, chosen, lang))?;
            let (low, high) = crate::body::input::range_of(&field.name);
            within(value, low, high, lang).map(|value| json!(value))
        }
        _ => Ok(chosen.clone()),
    }
}

/// A number in the unit of the field; a text may name another unit of the same kind.
fn number(measure: &Measure, given: &Value, lang: Lang) -> Result<Value, String> {
    let typed = match given {
        Value::Number(number) => number.as_f64(),
        Value::String(text) => match (lines::figure(text.trim()), measure.dimension, measure.unit) {
            (Some(value), _, _) => Some(value),
            (None, Some(dimension), Some(unit)) => {
                let stored = units::parse(text, dimension).map_err(|bad| bad.say(lang))?;
                let unit = units::unit(unit, dimension.quantity());
                let inside = unit.and_then(|unit| units::to_unit(stored, dimension, unit)).unwrap_or(stored);
                within(inside, measure.min, measure.max, lang)?;
                return Ok(given.clone());
            }
            _ => None,
        },
        _ => None,
    };
    let value = typed.filter(|it| it.is_finite()).ok_or_else(|| about(NOT_NUMBER, given, lang))?;
    let value = within(value, measure.min, measure.max, lang)?;
    match (measure.whole, measure.unit) {
        (true, _) if value.fract() != 0.0 => Err(about(NOT_WHOLE, given, lang)),
        (true, _) => Ok(json!(value as i64)),
        (false, Some(unit)) if !measure.is_stored_unit() => {
            Ok(json!(format!("{} {unit}", lines::plain(value))))
        }
        (false, _) => Ok(json!(value)),
    }
}

fn within(value: f64, low: f64, high: f64, lang: Lang) -> Result<f64, String> {
    if value >= low && value <= high {
        return Ok(value);
    }
    let said = |it: f64| units::number(it, usize::from(it.fract() != 0.0) * 3, lang);
    Err(blank(OUTSIDE, lang, &[("it", &said(value)), ("low", &said(low)), ("high", &said(high))]))
}

/// The two parts of a ratio: `20:1`, `20 : 1`, `12,5:1`. Neither may be negative, and the second is not nothing.
pub(super) fn parts(text: &str) -> Option<(f64, f64)> {
    let (water, other) = text.split_once(':')?;
    let part = |it: &str| lines::figure(it.trim()).filter(|it| (0.0..=1000.0).contains(it));
    Some((part(water)?, part(other).filter(|it| *it > 0.0)?))
}
