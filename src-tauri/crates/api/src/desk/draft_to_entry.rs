//! From a filled-in form to entries: the way back from what a person sees to what is written.
//!
//! One way for trying, logging and correcting. The form says what each value may be; the body is then read as the
//! command line reads it.

use std::collections::BTreeMap;

use chrono::NaiveDateTime;
use serde_json::{Map, Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::body::after::SafetyTopic;
use trowelogue_core::form::{self, Control, Filled, Form, Reader as Reads, Slot};
use trowelogue_core::id::Hash;
use trowelogue_core::moment::{self, Moment};
use trowelogue_core::shop::{Reading, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::Draft;

use super::form::{asked, reads, to_confirm};
use super::stock::OBJECT;
use crate::add::Reader;
use crate::dto::{Confirm, Problem, StepDraft};
use crate::format::Voice;
use crate::say::fill;
use crate::session::Session;
use crate::{ApiError, ErrorCode, Result};

const NOT_CIVIL: Text = text(
    "This is not a date and time; it is written like 2025-03-04T10:20.",
    "Esto no es una fecha y hora; se escribe como 2025-03-04T10:20.",
);
const LEAPT: Text = text("The clocks leap over this time.", "Los relojes saltan por encima de esta hora.");
const NO_ENTRY: Text = text("There is no entry {hash} here.", "No hay ninguna entrada {hash} aquí.");
const UNREADABLE: Text = text(
    "The entry was written by a newer version or cannot be read here.",
    "La entrada la escribió una versión más nueva o no se puede leer aquí.",
);
const NO_TOPIC: Text =
    text("There is no caution {name} to confirm.", "No hay ninguna precaución {name} que confirmar.");

/// The entries a filled-in form stands for, ready to append: the cautions that were confirmed with it, then the
/// step itself.
///
/// # Errors
/// The first value that cannot be taken, with the name of its field in the form.
pub(crate) fn entries_of(session: &Session, step: &StepDraft) -> Result<Vec<Draft>> {
    let read = read(session, step)?;
    read.drafts.map_err(|problems| first(problems, step))
}

/// The correction of the entry `hash` that a filled-in form stands for.
///
/// # Errors
/// The first value that cannot be taken, with the name of its field in the form; the entry cannot be corrected.
pub(crate) fn correction_of(session: &Session, hash: &str, step: &StepDraft, why: &str) -> Result<Draft> {
    let mut reader = Reader::new(session);
    let (form, was) = form_of_entry(session, &reader, hash)?;
    let (filled, problems) = filled(session, &form, &step.values);
    if !problems.is_empty() {
        return Err(first(problems, step));
    }
    let mut body = Map::from_iter([("why".to_owned(), json!(why))]);
    body.insert("body".to_owned(), Value::Object(corrected(&form, &was, &filled, step.note.as_deref())));
    if let Some(done) = &step.done {
        body.insert("done".to_owned(), json!(civil(session, "done", done)?));
    }
    if let Some(until) = filled.head.get("until").filter(|_| !filled.untouched.iter().any(|it| it == "until"))
    {
        body.insert("until".to_owned(), until.clone());
    }
    let map =
        [("kind", json!(Kind::Correction.wire())), ("refs", json!([hash])), ("body", Value::Object(body))];
    let map = map.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    reader.draft(map).map_err(at_form)
}

/// The form of an entry, and the entry.
pub(super) fn form_of_entry(session: &Session, reader: &Reader, hash: &str) -> Result<(Form, Step)> {
    let lang = session.voice.lang;
    let step = hash.parse::<Hash>().ok().and_then(|hash| reader.shop().step(&hash)).ok_or_else(|| {
        ApiError::new(ErrorCode::Unknown, fill(NO_ENTRY, lang, &[("hash", &hash)])).field("hash")
    })?;
    let unreadable = || ApiError::bad_input("hash", UNREADABLE.get(lang));
    let kind = step.kind.ok_or_else(unreadable)?;
    let ask = form::Ask {
        shop: reader.shop(),
        kind,
        pieces: &step.pieces,
        person: Some(step.person),
        at: step.done.start,
        reader: reads(&session.voice),
    };
    let form = form::form_of(&ask, step).ok_or_else(unreadable)?;
    Ok((form, step.clone()))
}

/// A form read back, whole or not.
pub(super) struct Read {
    /// Its values, as far as they can be taken.
    pub filled: Filled,
    /// The cautions a step with these values asks for, still to be confirmed.
    pub confirm: Vec<Confirm>,
    /// The entries, or what keeps them from being written.
    pub drafts: std::result::Result<Vec<Draft>, Vec<Problem>>,
}

/// Reads a filled-in form.
///
/// # Errors
/// There is no such kind or piece: there is no form to read then.
pub(super) fn read(session: &Session, step: &StepDraft) -> Result<Read> {
    let mut reader = Reader::new(session);
    let asked = asked(session, &reader, &step.kind, &step.pieces)?;
    let form = form_read(&asked.ask(), step);
    let (filled, mut problems) = filled(session, &form, &step.values);
    let confirm = to_confirm(session, reader.shop(), &asked, &filled.body);
    let mut map = filled.head.clone();
    map.insert("kind".to_owned(), json!(step.kind));
    map.insert("pieces".to_owned(), json!(step.pieces));
    map.extend(step.person.as_ref().map(|person| ("person".to_owned(), json!(person))));
    match step.done.as_ref().map(|done| civil(session, "done", done)).transpose() {
        Ok(done) => map.extend(done.map(|done| ("done".to_owned(), json!(done)))),
        Err(error) => problems.push(problem(error)),
    }
    let mut body = filled.body.clone();
    note(&mut body, step.note.as_deref());
    map.insert("body".to_owned(), Value::Object(body));
    let drafts = if problems.is_empty() { entries(&mut reader, session, step, map) } else { Err(problems) };
    Ok(Read { filled, confirm, drafts })
}

/// The form as it was given: of an object that is there with what is recorded of it, so that a value left as it
/// was shown stays to the last digit.
fn form_read(ask: &form::Ask<'_>, step: &StepDraft) -> Form {
    let object = step.values.get(OBJECT).and_then(Value::as_str).and_then(|id| id.parse().ok());
    let of_object = object.and_then(|id| form::form_of_object(ask, id));
    of_object.unwrap_or_else(|| form::form_alone(ask))
}

fn entries(
    reader: &mut Reader,
    session: &Session,
    step: &StepDraft,
    map: Map<String, Value>,
) -> std::result::Result<Vec<Draft>, Vec<Problem>> {
    let confirmed = confirmation(reader, session, step, &map).map_err(|error| vec![problem(error)])?;
    let own = reader.draft(map).map_err(|error| vec![problem(at_form(error))])?;
    Ok(confirmed.into_iter().chain([own]).collect())
}

/// The entry that says which cautions the person confirmed, at the moment of the work.
fn confirmation(
    reader: &mut Reader,
    session: &Session,
    step: &StepDraft,
    map: &Map<String, Value>,
) -> Result<Option<Draft>> {
    if step.confirmed.is_empty() {
        return Ok(None);
    }
    if let Some(name) =
        step.confirmed.iter().find(|key| !SafetyTopic::ALL.iter().any(|it| it.wire() == **key))
    {
        return Err(ApiError::bad_input("confirmed", fill(NO_TOPIC, session.voice.lang, &[("name", &name)])));
    }
    let mut own = Map::new();
    for name in ["person", "done"] {
        own.extend(map.get(name).map(|value| (name.to_owned(), value.clone())));
    }
    own.insert("kind".to_owned(), json!(Kind::SafetyConfirmed.wire()));
    own.insert("body".to_owned(), json!({ "topics": step.confirmed }));
    reader.draft(own).map(Some)
}

/// Reads the values of a form; civil times become moments first.
fn filled(session: &Session, form: &Form, values: &BTreeMap<String, Value>) -> (Filled, Vec<Problem>) {
    let mut problems = Vec::new();
    let mut values = values.clone();
    for field in form.fields.iter().filter(|field| field.control == Control::Moment) {
        let Some(Value::String(said)) = values.get(&field.name) else { continue };
        let stored = field.value.as_ref().and_then(|it| it.stored.as_str()).map(str::to_owned);
        let untouched =
            stored.filter(|it| moment::parse(it).is_ok_and(|at| civil_text(&session.voice, &at) == *said));
        match untouched.map_or_else(|| civil(session, &field.name, said), Ok) {
            Ok(moment) => drop(values.insert(field.name.clone(), json!(moment))),
            Err(error) => {
                problems.push(problem(error));
                values.remove(&field.name);
            }
        }
    }
    let reads: Reads = reads(&session.voice);
    let filled = form::fill(form, &values, reads);
    let refused = filled
        .refused
        .iter()
        .filter(|it| !problems.iter().any(|known| known.field.as_ref() == Some(&it.field)));
    let refused: Vec<Problem> =
        refused.map(|it| Problem { field: Some(it.field.clone()), message: it.why.clone() }).collect();
    problems.extend(refused);
    (filled, problems)
}

/// The whole body as it should have been: what the form covers as it says now, everything else as it was.
fn corrected(form: &Form, was: &Step, filled: &Filled, said: Option<&str>) -> Map<String, Value> {
    let Reading::Read(details) = &was.reading else { return filled.body.clone() };
    let mut body = details.to_stored();
    body.retain(|name, _| !form.fields.iter().any(|field| covers(&field.slot, &field.name, name)));
    if let Some(Value::Object(entered)) = body.get_mut("entered") {
        // The words a value was entered in stay with it for as long as the value does.
        entered.retain(|path, _| {
            let name = path.split(['.', '[']).next().unwrap_or(path);
            form.field(name).is_none() || filled.untouched.iter().any(|it| it == name)
        });
    }
    if form.kind == Kind::RouteChosen && !filled.untouched.iter().any(|it| it == "code") {
        // Another route is frozen as it stands now.
        body.remove("version");
        body.remove("route");
    }
    body.extend(filled.body.clone());
    note(&mut body, said);
    body
}

fn covers(slot: &Slot, field: &str, name: &str) -> bool {
    match slot {
        Slot::Body => field == name,
        Slot::Parts(water, other) => *water == name || *other == Some(name),
        Slot::Check(_) => name == "checklist",
        Slot::Head => false,
    }
}

/// The note of a form that has it beside its values.
fn note(body: &mut Map<String, Value>, said: Option<&str>) {
    if let Some(said) = said.map(str::trim).filter(|said| !said.is_empty()) {
        body.entry("notes").or_insert_with(|| json!(said));
    }
}

/// A civil local time in the shop's zone, as a moment with its offset.
fn civil(session: &Session, field: &str, said: &str) -> Result<String> {
    let bad = |words: Text| ApiError::bad_input(field, words.get(session.voice.lang));
    let local = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"]
        .iter()
        .find_map(|form| NaiveDateTime::parse_from_str(said, form).ok())
        .ok_or_else(|| bad(NOT_CIVIL))?;
    let found = session.voice.civil(local, &session.now()).ok_or_else(|| bad(LEAPT))?;
    let written = moment::write(&found);
    moment::parse(&written).map_err(|error| ApiError::bad_input(field, error.say(session.voice.lang)))?;
    Ok(written)
}

/// A moment as the form shows it: civil local time to the minute.
pub(super) fn civil_text(voice: &Voice, moment: &Moment) -> String {
    voice.local(moment).format("%Y-%m-%dT%H:%M").to_string()
}

/// The same error at the field of the form: a form has no `body` around its values.
fn at_form(error: ApiError) -> ApiError {
    let field = error.field.clone().map(|field| {
        let inner = field.strip_prefix("body.").unwrap_or(&field);
        let inner = inner.strip_prefix("body.").unwrap_or(inner);
        if ["water_parts", "acid_parts", "agent_parts"].contains(&inner) {
            "ratio".into()
        } else {
            // A part of a list stands in the row of its field.
            inner.split(['[', '.']).next().unwrap_or(inner).to_owned()
        }
    });
    ApiError { field, ..error }
}

fn problem(error: ApiError) -> Problem {
    let message = match error.remedy {
        Some(remedy) => format!("{} {remedy}", error.message),
        None => error.message,
    };
    Problem { field: error.field, message }
}

/// The first problem as an error: what was not asked to be tried is refused whole.
fn first(problems: Vec<Problem>, step: &StepDraft) -> ApiError {
    let Problem { field, message } = problems
        .into_iter()
        .next()
        .unwrap_or(Problem { field: Some("kind".into()), message: step.kind.clone() });
    ApiError { field, ..ApiError::new(ErrorCode::BadInput, message) }
}
