//! Holding an edited route to what the planner relies on.

use std::collections::BTreeSet;

use super::{Route, Stage, Wait, When};
use crate::body::Kind;
use crate::body::common::COMMON_FIELDS;
use crate::body::input::Refusal;

use crate::text::Lang;

/// More stages than any route of the trade has.
const STAGES_MAX: usize = 200;
/// The longest wait a route may ask for, in hours: a year.
const WAIT_MAX_H: f64 = 8_784.0;

/// What is wrong with a route, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("route, {field}: {}", why.say(Lang::En))]
pub struct BadRoute {
    /// Path of the field, such as `stages[3].waits[0].after`.
    pub field: String,
    /// What is wrong with it.
    pub why: RouteFault,
}

/// What is wrong with a field of a route.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RouteFault {
    /// The code is not in its written form.
    Code,
    /// It has a name in no language.
    NoName,
    /// None, or more stages than a route has.
    Stages,
    /// The name of a stage is not in its written form.
    StageName,
    /// Two stages share this name.
    Twice(String),
    /// It counts from a stage that does not stand before it.
    NotBefore(String),
    /// The number of coats is none a stage can have.
    Coats,
    /// The wait is longer than any, or shorter than none.
    Hours,
    /// Steps of this kind have no such field.
    NoField(Kind),
    /// Not a kind of work on a piece.
    NotWork(String),
    /// The document cannot be read.
    Unreadable(Refusal),
}

/// How the reader says that a kind is none a stage may have; the name stands before it.
pub(super) const NOT_WORK: &str = " is not a kind of work on a piece";

impl RouteFault {
    /// The fault as one sentence.
    pub fn say(&self, lang: Lang) -> String {
        let words = |en: String, es: String| match lang {
            Lang::En => en,
            Lang::Es => es,
        };
        match self {
            Self::Code => words(
                "It needs lower-case letters, digits and underscores.".into(),
                "Lleva letras minúsculas, cifras y guiones bajos.".into(),
            ),
            Self::NoName => words(
                "It must be given in at least one language.".into(),
                "Debe indicarse en al menos un idioma.".into(),
            ),
            Self::Stages => words(
                format!("A route has 1 to {STAGES_MAX} stages."),
                format!("Una ruta tiene de 1 a {STAGES_MAX} etapas."),
            ),
            Self::StageName => words(
                "It needs lower-case letters, digits and hyphens.".into(),
                "Lleva letras minúsculas, cifras y guiones.".into(),
            ),
            Self::Twice(id) => words(
                format!("{id:?} names an earlier stage too."),
                format!("{id:?} nombra también otra etapa."),
            ),
            Self::NotBefore(id) => words(
                format!("No earlier stage is called {id:?}."),
                format!("Ninguna etapa anterior se llama {id:?}."),
            ),
            Self::Coats => words("It lies outside 1 to 50.".into(), "Queda fuera de 1 a 50.".into()),
            Self::Hours => words(
                format!("It lies outside 0 to {WAIT_MAX_H} hours."),
                format!("Queda fuera de 0 a {WAIT_MAX_H} horas."),
            ),
            Self::NoField(kind) => words(
                format!("A step {:?} has no field of this name.", kind.label().en),
                format!("Un paso {:?} no tiene un campo con ese nombre.", kind.label().es),
            ),
            Self::NotWork(name) => words(
                format!("{name:?} is not a kind of work on a piece."),
                format!("{name:?} no es un tipo de trabajo en una pieza."),
            ),
            Self::Unreadable(refusal) => refusal.say(lang),
        }
    }
}

impl BadRoute {
    fn new(field: impl Into<String>, why: RouteFault) -> Self {
        Self { field: field.into(), why }
    }

    pub(super) fn unreadable(error: &serde_json::Error) -> Self {
        let said = error.to_string();
        let why = match said.split_once(NOT_WORK) {
            Some((name, _)) => RouteFault::NotWork(name.trim_matches('"').to_owned()),
            None => RouteFault::Unreadable(Refusal::of_reader(&said)),
        };
        Self::new("route", why)
    }
}

/// Everything that is wrong with a route; empty for a good one.
pub fn check(route: &Route) -> Vec<BadRoute> {
    let mut bad = Vec::new();
    if !is_name(&route.code, b'_') {
        bad.push(BadRoute::new("code", RouteFault::Code));
    }
    if route.name.en.is_empty() && route.name.es.is_empty() {
        bad.push(BadRoute::new("name", RouteFault::NoName));
    }
    if route.stages.is_empty() || route.stages.len() > STAGES_MAX {
        bad.push(BadRoute::new("stages", RouteFault::Stages));
    }
    let mut before = BTreeSet::new();
    for (at, stage) in route.stages.iter().enumerate() {
        check_stage(&format!("stages[{at}]"), stage, &before, &mut bad);
        before.insert(stage.id.as_str());
    }
    bad
}

fn check_stage(path: &str, stage: &Stage, before: &BTreeSet<&str>, bad: &mut Vec<BadRoute>) {
    if !is_name(&stage.id, b'-') {
        bad.push(BadRoute::new(format!("{path}.id"), RouteFault::StageName));
    }
    if before.contains(stage.id.as_str()) {
        bad.push(BadRoute::new(format!("{path}.id"), RouteFault::Twice(stage.id.clone())));
    }
    if let When::With(id) | When::Without(id) = &stage.when
        && !before.contains(id.as_str())
    {
        bad.push(BadRoute::new(format!("{path}.when"), RouteFault::NotBefore(id.clone())));
    }
    if stage.coats.is_some_and(|coats| !(1..=50).contains(&coats)) {
        bad.push(BadRoute::new(format!("{path}.coats"), RouteFault::Coats));
    }
    for (at, wait) in stage.waits.iter().enumerate() {
        check_wait(&format!("{path}.waits[{at}]"), wait, before, bad);
    }
    for name in stage.set.keys().filter(|name| !is_field(stage.kind, name)) {
        bad.push(BadRoute::new(format!("{path}.set.{name}"), RouteFault::NoField(stage.kind)));
    }
}

fn check_wait(path: &str, wait: &Wait, before: &BTreeSet<&str>, bad: &mut Vec<BadRoute>) {
    if let Some(id) = &wait.after
        && !before.contains(id.as_str())
    {
        bad.push(BadRoute::new(format!("{path}.after"), RouteFault::NotBefore(id.clone())));
    }
    if wait.hours.is_some_and(|hours| !(0.0..=WAIT_MAX_H).contains(&hours)) {
        bad.push(BadRoute::new(format!("{path}.hours"), RouteFault::Hours));
    }
}

fn is_field(kind: Kind, name: &str) -> bool {
    let schema = kind.schema();
    let fields = schema.get("properties").and_then(serde_json::Value::as_object);
    !COMMON_FIELDS.contains(&name) && fields.is_some_and(|fields| fields.contains_key(name))
}

fn is_name(text: &str, joint: u8) -> bool {
    let good = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == joint;
    !text.is_empty() && text.len() <= 60 && text.bytes().all(good)
}
