//! From a filled-in form to entries: the way back from what a person sees to what is written.
//!
//! One way for trying, logging and correcting. Reading of the body itself is that of the command line.

use chrono::NaiveDateTime;
use serde_json::{Map, Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::moment;
use trowelogue_core::text::{Text, text};
use trowelogue_journal::Draft;

use crate::add::Reader;
use crate::dto::StepDraft;
use crate::format::fields_of;
use crate::session::Session;
use crate::{ApiError, Result};

const NOT_CIVIL: Text = text(
    "This is not a date and time; it is written like 2025-03-04T10:20.",
    "Esto no es una fecha y hora; se escribe como 2025-03-04T10:20.",
);
const LEAPT: Text = text("The clocks leap over this time.", "Los relojes saltan por encima de esta hora.");

/// The entries a filled-in form stands for, ready to append: the cautions that were confirmed with it, then the
/// step itself.
///
/// # Errors
/// The first value that cannot be taken, with the name of its field in the form.
pub(crate) fn entries_of(session: &Session, step: &StepDraft) -> Result<Vec<Draft>> {
    let map = given(session, step)?;
    Ok(vec![Reader::new(session).draft(map).map_err(at_form)?])
}

/// The correction of the entry `hash` that a filled-in form stands for.
///
/// # Errors
/// The first value that cannot be taken, with the name of its field in the form; the entry cannot be corrected.
pub(crate) fn correction_of(session: &Session, hash: &str, step: &StepDraft, why: &str) -> Result<Draft> {
    let mut own = given(session, step)?;
    let mut body = Map::from_iter([("why".to_owned(), json!(why))]);
    for name in ["body", "done", "until"] {
        body.extend(own.remove(name).map(|value| (name.to_owned(), value)));
    }
    let map =
        [("kind", json!(Kind::Correction.wire())), ("refs", json!([hash])), ("body", Value::Object(body))];
    let map = map.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    Reader::new(session).draft(map).map_err(at_form)
}

/// The entry in the form the reader of entries takes.
fn given(session: &Session, step: &StepDraft) -> Result<Map<String, Value>> {
    let mut map = Map::new();
    let mut put = |name: &str, value: Value| map.insert(name.to_owned(), value);
    put("kind", json!(step.kind));
    put("pieces", json!(step.pieces));
    if let Some(person) = &step.person {
        put("person", json!(person));
    }
    if let Some(done) = &step.done {
        put("done", json!(civil(session, "done", done)?));
    }
    let mut body: Map<String, Value> = step
        .values
        .iter()
        .filter(|(_, value)| !value.is_null())
        .map(|(name, it)| (name.clone(), it.clone()))
        .collect();
    if let Some(note) = &step.note {
        body.entry("notes").or_insert_with(|| json!(note));
    }
    let own = Kind::parse(&step.kind).map(fields_of);
    if own.is_some_and(|own| !own.contains_key("until"))
        && let Some(Value::String(until)) = body.remove("until")
    {
        put("until", json!(civil(session, "until", &until)?));
    }
    put("body", Value::Object(body));
    Ok(map)
}

/// A civil local time in the shop's zone, as a moment with its offset.
fn civil(session: &Session, field: &str, said: &str) -> Result<String> {
    let bad = |words: Text| ApiError::bad_input(field, words.get(session.voice.lang));
    let local = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"]
        .iter()
        .find_map(|form| NaiveDateTime::parse_from_str(said, form).ok())
        .ok_or_else(|| bad(NOT_CIVIL))?;
    let found = session.voice.civil(local, &session.now()).ok_or_else(|| bad(LEAPT))?;
    Ok(moment::write(&found))
}

/// The same error at the field of the form: a form has no `body` around its values.
fn at_form(error: ApiError) -> ApiError {
    let field = error.field.clone().map(|field| {
        let inner = field.strip_prefix("body.").unwrap_or(&field);
        inner.strip_prefix("body.").unwrap_or(inner).to_owned()
    });
    ApiError { field, ..error }
}
