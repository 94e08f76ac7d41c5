//! Reading the batch: UTF-8, JSON, one object an entry, no name given twice.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};
use trowelogue_core::text::{Lang, Text, text};

use crate::say::fill;
use crate::{ApiError, ErrorCode, Result};

/// The most bytes one entry may have: those of a line in the folder.
pub(crate) const ENTRY_MAX: usize = 64 * 1024;

const NOT_UTF8: Text = text("The input is not UTF-8 text.", "La entrada no es texto UTF-8.");
const NOTHING_GIVEN: Text = text("There is no entry in the input.", "No hay ninguna entrada.");
const NOT_JSON: Text = text("This is not JSON: {why}.", "Esto no es JSON: {why}.");
const NOT_OBJECT: Text = text(
    "An entry is a JSON object, with \"kind\", \"done\", \"pieces\", \"body\".",
    "Una entrada es un objeto JSON, con \"kind\", \"done\", \"pieces\", \"body\".",
);
const TOO_LONG: Text = text(
    "The entry has {bytes} bytes; at most {most} fit on a line.",
    "La entrada tiene {bytes} bytes; en una línea caben {most} como máximo.",
);
const SHORTEN: Text = text("Shorten its texts.", "Acorte los textos.");

/// One entry as it was given.
pub(crate) struct Given {
    /// The line it begins on, from 1.
    pub line: u64,
    /// Its fields.
    pub map: Map<String, Value>,
}

/// Splits the input into entries.
pub(crate) fn parse(bytes: &[u8], lang: Lang) -> Result<Vec<Given>> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let before = &bytes[..error.valid_up_to()];
        ApiError::new(ErrorCode::BadInput, NOT_UTF8.get(lang)).line(line_at(before, before.len()))
    })?;
    let mut given = Vec::new();
    let mut stream = serde_json::Deserializer::from_str(text).into_iter::<Strict>();
    loop {
        let start = next_start(bytes, stream.byte_offset());
        let line = line_at(bytes, start);
        match stream.next() {
            None => break,
            Some(Err(error)) => return Err(not_json(&error, lang)),
            Some(Ok(Strict(value))) => {
                let length = stream.byte_offset() - start;
                take(value, line, length, lang, &mut given)?;
            }
        }
    }
    if given.is_empty() {
        return Err(ApiError::new(ErrorCode::BadInput, NOTHING_GIVEN.get(lang)));
    }
    Ok(given)
}

/// A top-level value: an entry, or an array of entries. Inside an array the line is that of the array; entries
/// are told apart by their place.
fn take(value: Value, line: u64, length: usize, lang: Lang, given: &mut Vec<Given>) -> Result<()> {
    match value {
        Value::Object(map) => {
            bounded(length, lang).map_err(|error| error.line(line))?;
            given.push(Given { line, map });
        }
        Value::Array(items) => {
            for item in items {
                let length = item.to_string().len();
                bounded(length, lang).map_err(|error| error.line(line))?;
                let Value::Object(map) = item else { return Err(not_an_object(line, lang)) };
                given.push(Given { line, map });
            }
        }
        _ => return Err(not_an_object(line, lang)),
    }
    Ok(())
}

fn bounded(length: usize, lang: Lang) -> Result<()> {
    if length <= ENTRY_MAX {
        return Ok(());
    }
    let words = fill(TOO_LONG, lang, &[("bytes", &length), ("most", &ENTRY_MAX)]);
    Err(ApiError::new(ErrorCode::TooLong, words).remedy(SHORTEN.get(lang)))
}

fn not_an_object(line: u64, lang: Lang) -> ApiError {
    ApiError::new(ErrorCode::BadInput, NOT_OBJECT.get(lang)).line(line)
}

fn not_json(error: &serde_json::Error, lang: Lang) -> ApiError {
    let words = error.to_string();
    let why = words.split(" at line ").next().unwrap_or(&words).to_owned();
    ApiError::new(ErrorCode::BadInput, fill(NOT_JSON, lang, &[("why", &why)])).line(error.line() as u64)
}

fn next_start(bytes: &[u8], from: usize) -> usize {
    let rest = bytes.get(from..).unwrap_or_default();
    from + rest.iter().take_while(|byte| byte.is_ascii_whitespace()).count()
}

fn line_at(bytes: &[u8], at: usize) -> u64 {
    let before = bytes.get(..at).unwrap_or(bytes);
    before.iter().filter(|byte| **byte == b'\n').count() as u64 + 1
}

/// Any JSON value in which no object names a field twice: which of the two was meant would be a guess.
struct Strict(Value);

impl<'de> serde::Deserialize<'de> for Strict {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> std::result::Result<Self, D::Error> {
        Any.deserialize(deserializer).map(Self)
    }
}

#[derive(Clone, Copy)]
struct Any;

impl<'de> DeserializeSeed<'de> for Any {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> std::result::Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Any {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }
    fn visit_unit<E>(self) -> std::result::Result<Value, E> {
        Ok(Value::Null)
    }
    fn visit_bool<E>(self, it: bool) -> std::result::Result<Value, E> {
        Ok(Value::Bool(it))
    }
    fn visit_i64<E>(self, it: i64) -> std::result::Result<Value, E> {
        Ok(it.into())
    }
    fn visit_u64<E>(self, it: u64) -> std::result::Result<Value, E> {
        Ok(it.into())
    }
    fn visit_f64<E>(self, it: f64) -> std::result::Result<Value, E> {
        Ok(it.into())
    }
    fn visit_str<E>(self, it: &str) -> std::result::Result<Value, E> {
        Ok(it.into())
    }
    fn visit_string<E>(self, it: String) -> std::result::Result<Value, E> {
        Ok(it.into())
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> std::result::Result<Value, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element_seed(self)? {
            items.push(item);
        }
        Ok(Value::Array(items))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> std::result::Result<Value, A::Error> {
        let mut map = Map::new();
        while let Some(name) = access.next_key::<String>()? {
            if map.contains_key(&name) {
                return Err(serde::de::Error::custom(format!("{name:?} stands twice in one object")));
            }
            let value = access.next_value_seed(self)?;
            map.insert(name, value);
        }
        Ok(Value::Object(map))
    }
}
