//! Records and named values as lines of text: one a line, its parts in order, a semicolon between them.

use serde_json::{Map, Value, json};

use super::number::{Measure, measure};
use super::{Lines, Reader};
use crate::body::labels;
use crate::body::shape::Shape;
use crate::text::{Lang, Text, text};
use crate::units;

const PARTS: Text =
    text("{n} parts at most, a semicolon between them", "{n} partes como mucho, con punto y coma");
const NUMBER: Text = text("{part} is no number", "{part} no es un número");
const NAMED: Text = text("{part} is not written as name: value", "{part} no está escrito como nombre: valor");
const CHOICE: Text = text("{part} is none of: {all}", "{part} no es ninguno de: {all}");

/// The lines of a stored list or map.
pub(super) fn write(lines: &Lines, stored: &Value, reader: Reader) -> Vec<String> {
    match (lines, stored) {
        (Lines::Named(number), Value::Object(map)) => {
            let value = |it: &Value| match number {
                Some(measure) => measured(measure, it),
                None => it.as_str().unwrap_or_default().to_owned(),
            };
            map.iter().map(|(name, it)| format!("{name}: {}", value(it))).collect()
        }
        (Lines::Numbers(measure), Value::Array(all)) => all.iter().map(|it| bare(measure, it)).collect(),
        (Lines::Records(fields), Value::Array(all)) => {
            all.iter().map(|it| record(fields, it, reader)).collect()
        }
        (_, Value::Array(all)) => all.iter().filter_map(Value::as_str).map(str::to_owned).collect(),
        _ => Vec::new(),
    }
}

fn measured(measure: &Measure, stored: &Value) -> String {
    match measure.unit {
        Some(unit) => format!("{} {unit}", bare(measure, stored)),
        None => bare(measure, stored),
    }
}

fn bare(measure: &Measure, stored: &Value) -> String {
    stored.as_f64().map_or_else(String::new, |it| plain(measure.round(measure.outside(it))))
}

/// A number as it is typed.
pub(super) fn plain(value: f64) -> String {
    format!("{value}")
}

fn record(fields: &[(String, Shape)], stored: &Value, reader: Reader) -> String {
    let part = |(name, shape): &(String, Shape)| match (shape, &stored[name.as_str()]) {
        (_, Value::Null) => String::new(),
        (Shape::Number, it) => bare(&measure(name, false, reader.system), it),
        (Shape::Choice(of), Value::String(it)) => {
            labels::choice(of, it).map_or_else(|| it.clone(), |words| words.get(reader.lang).to_owned())
        }
        (_, Value::String(it)) => it.clone(),
        (_, it) => it.to_string(),
    };
    let parts: Vec<String> = fields.iter().map(part).collect();
    parts.join("; ").trim_end_matches([';', ' ']).to_owned()
}

/// Reads lines back into the stored form; numbers in another unit than the stored one become texts with it.
pub(super) fn read(lines: &Lines, given: &[String], reader: Reader) -> Result<Value, String> {
    match lines {
        Lines::Words => Ok(json!(given)),
        Lines::Numbers(measure) => {
            let all: Result<Vec<Value>, String> =
                given.iter().map(|it| number(measure, it, reader.lang)).collect();
            Ok(Value::Array(all?))
        }
        Lines::Records(fields) => {
            let all: Result<Vec<Value>, String> =
                given.iter().map(|it| read_record(fields, it, reader)).collect();
            Ok(Value::Array(all?))
        }
        Lines::Named(measure) => {
            let pairs: Result<Map<String, Value>, String> =
                given.iter().map(|it| read_named(measure.as_ref(), it, reader)).collect();
            Ok(Value::Object(pairs?))
        }
    }
}

fn read_record(fields: &[(String, Shape)], line: &str, reader: Reader) -> Result<Value, String> {
    let parts: Vec<&str> = line.split(';').map(str::trim).collect();
    if parts.len() > fields.len() {
        return Err(blank(PARTS, reader.lang, &[("n", &fields.len().to_string())]));
    }
    let mut record = Map::new();
    for ((name, shape), part) in fields.iter().zip(parts).filter(|(_, part)| !part.is_empty()) {
        let value = match shape {
            Shape::Number => number(&measure(name, false, reader.system), part, reader.lang)?,
            Shape::Choice(of) => json!(choice(of, part, reader.lang)?),
            _ => json!(part),
        };
        record.insert(name.clone(), value);
    }
    Ok(Value::Object(record))
}

/// A choice by its word in either language, or as it is written in an entry.
pub(super) fn choice(of: &str, part: &str, lang: Lang) -> Result<&'static str, String> {
    let all = labels::choices(of).unwrap_or_default();
    let same = |words: &str| words.to_lowercase() == part.to_lowercase();
    let found = all.iter().find(|(wire, words)| *wire == part || same(words.en) || same(words.es));
    found.map(|(wire, _)| *wire).ok_or_else(|| {
        let words: Vec<&str> = all.iter().map(|(_, words)| words.get(lang)).collect();
        blank(CHOICE, lang, &[("part", &shown(part)), ("all", &words.join(", "))])
    })
}

fn read_named(measure: Option<&Measure>, line: &str, reader: Reader) -> Result<(String, Value), String> {
    let (name, said) = line
        .split_once(':')
        .map(|(name, said)| (name.trim(), said.trim()))
        .filter(|(name, said)| !name.is_empty() && !said.is_empty())
        .ok_or_else(|| blank(NAMED, reader.lang, &[("part", &shown(line))]))?;
    let Some(measure) = measure else { return Ok((name.to_owned(), json!(said))) };
    let value = number(measure, said, reader.lang)?;
    // The reader of bodies turns units only where the field's own name carries them.
    let si = match (&value, measure.dimension) {
        (Value::String(text), Some(dimension)) => {
            json!(units::parse(text, dimension).map_err(|bad| bad.say(reader.lang))?)
        }
        _ => value,
    };
    Ok((name.to_owned(), si))
}

/// A number as it was typed, in the unit of the field unless it names its own.
pub(super) fn number(measure: &Measure, said: &str, lang: Lang) -> Result<Value, String> {
    let typed = said.trim();
    match (figure(typed), measure.unit, measure.dimension) {
        (Some(value), _, _) if measure.is_stored_unit() => Ok(json!(value)),
        (Some(_), Some(unit), Some(_)) => Ok(json!(format!("{} {unit}", typed.replace(',', ".")))),
        (None, _, Some(dimension)) => {
            units::parse(typed, dimension).map_err(|bad| bad.say(lang))?;
            Ok(json!(typed))
        }
        _ => Err(blank(NUMBER, lang, &[("part", &shown(typed))])),
    }
}

/// A bare finite number; a comma is a decimal point on half of the world's keyboards.
pub(super) fn figure(typed: &str) -> Option<f64> {
    typed.replace(',', ".").parse::<f64>().ok().filter(|it| it.is_finite())
}

/// What was typed, cut to a length an error can carry, in quotation marks.
pub(super) fn shown(typed: &str) -> String {
    format!("{:?}", typed.chars().take(40).collect::<String>())
}

/// A sentence with its blanks filled in.
pub(super) fn blank(words: Text, lang: Lang, blanks: &[(&str, &str)]) -> String {
    blanks
        .iter()
        .fold(words.get(lang).to_owned(), |said, (name, value)| said.replace(&format!("{{{name}}}"), value))
}
