//! Sums on request: `core` does them, here they get their names and their words.

mod ask;
mod words;

pub use ask::{Strength, Sum};

use serde_json::{Map, Value};
use trowelogue_core::sums::SumError;
use trowelogue_core::sums::logger::LoggerError;
use trowelogue_core::text::{Text, text};

use crate::dto::{Fact, Lang, UnitsChoice};
use crate::format::Voice;
use crate::{ApiError, ErrorCode, Result};

/// A sum that was done.
#[derive(Debug, Clone, PartialEq)]
pub struct Calculated {
    /// The stable machine form: results at top level, `inputs`, `basis`, `validity`, `notes` beside them.
    pub json: Value,
    /// Each result with its label, in the reader's units.
    pub results: Vec<Fact>,
    /// What it was given, likewise.
    pub inputs: Vec<Fact>,
    /// What it rests on.
    pub basis: String,
    /// Where it holds.
    pub validity: String,
    /// What else to know.
    pub notes: Vec<String>,
}

/// Keys that stand beside the results.
const BESIDE: [&str; 4] = ["inputs", "basis", "validity", "notes"];

/// Does a sum.
///
/// # Errors
/// A value outside what the sum holds for; a file that cannot be read as asked.
pub fn calc(sum: &Sum, lang: Lang, units: UnitsChoice) -> Result<Calculated> {
    let json = ask::perform(sum, lang.into())?;
    let voice = Voice { lang: lang.into(), system: units.into(), zone: None };
    let map = json.as_object().cloned().unwrap_or_default();
    let words = |name: &str| map.get(name).and_then(Value::as_str).unwrap_or_default().to_owned();
    let notes = map.get("notes").and_then(Value::as_array).into_iter().flatten();
    let results: Map<String, Value> = map
        .iter()
        .filter(|(name, _)| !BESIDE.contains(&name.as_str()))
        .map(|(n, v)| (n.clone(), v.clone()))
        .collect();
    let inputs = map.get("inputs").and_then(Value::as_object).cloned().unwrap_or_default();
    Ok(Calculated {
        results: words::facts(&voice, &results),
        inputs: words::facts(&voice, &inputs),
        basis: words("basis"),
        validity: words("validity"),
        notes: notes.filter_map(Value::as_str).map(str::to_owned).collect(),
        json,
    })
}

const OUTSIDE: Text = text(
    "Give a value the sum holds for; it does not extrapolate.",
    "Dé un valor para el que el cálculo valga; no extrapola.",
);

/// A sum that was refused.
pub(crate) fn refused(error: &SumError, lang: trowelogue_core::text::Lang) -> ApiError {
    let refused = ApiError::bad_input(error.field(), error.say(lang));
    match error {
        SumError::OutOfRange { .. } | SumError::NotFinite { .. } => refused.remedy(OUTSIDE.get(lang)),
        _ => refused,
    }
}

/// A logger's file that cannot be taken as it is.
pub(crate) fn unreadable(error: &LoggerError, file: &str, lang: trowelogue_core::text::Lang) -> ApiError {
    let refused = ApiError::new(ErrorCode::BadInput, error.say(lang)).file(file);
    match error {
        LoggerError::Line { line, .. } => refused.line(*line as u64),
        LoggerError::Ambiguous { what, .. } => refused.field(what.option()),
        LoggerError::Empty => refused,
    }
}
