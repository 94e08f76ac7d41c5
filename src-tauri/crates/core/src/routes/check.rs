//! Holding an edited route to what the planner relies on.

use std::collections::BTreeSet;

use super::{Route, Stage, Wait, When};
use crate::body::Kind;
use crate::body::common::COMMON_FIELDS;

/// More stages than any route of the trade has.
const STAGES_MAX: usize = 200;
/// The longest wait a route may ask for, in hours: a year.
const WAIT_MAX_H: f64 = 8_784.0;

/// What is wrong with a route, and where.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("route, {field}: {message}")]
pub struct BadRoute {
    /// Path of the field, such as `stages[3].waits[0].after`.
    pub field: String,
    /// What is wrong with it, in words.
    pub message: String,
}

impl BadRoute {
    fn new(field: impl Into<String>, message: impl Into<String>) -> Self {
        Self { field: field.into(), message: message.into() }
    }

    pub(super) fn unreadable(error: &serde_json::Error) -> Self {
        Self::new("route", error.to_string())
    }
}

/// Everything that is wrong with a route; empty for a good one.
pub fn check(route: &Route) -> Vec<BadRoute> {
    let mut bad = Vec::new();
    if !is_name(&route.code, b'_') {
        bad.push(BadRoute::new("code", "needs lower-case letters, digits and underscores"));
    }
    if route.name.en.is_empty() && route.name.es.is_empty() {
        bad.push(BadRoute::new("name", "must be given in at least one language"));
    }
    if route.stages.is_empty() || route.stages.len() > STAGES_MAX {
        bad.push(BadRoute::new("stages", format!("a route has 1 to {STAGES_MAX} stages")));
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
        bad.push(BadRoute::new(format!("{path}.id"), "needs lower-case letters, digits and hyphens"));
    }
    if before.contains(stage.id.as_str()) {
        bad.push(BadRoute::new(format!("{path}.id"), format!("{:?} names an earlier stage too", stage.id)));
    }
    if let When::With(id) | When::Without(id) = &stage.when
        && !before.contains(id.as_str())
    {
        bad.push(BadRoute::new(format!("{path}.when"), format!("no earlier stage is called {id:?}")));
    }
    if stage.coats.is_some_and(|coats| !(1..=50).contains(&coats)) {
        bad.push(BadRoute::new(format!("{path}.coats"), "lies outside 1 to 50"));
    }
    for (at, wait) in stage.waits.iter().enumerate() {
        check_wait(&format!("{path}.waits[{at}]"), wait, before, bad);
    }
    for name in stage.set.keys().filter(|name| !is_field(stage.kind, name)) {
        let message = format!("a {} has no field of this name", stage.kind.wire());
        bad.push(BadRoute::new(format!("{path}.set.{name}"), message));
    }
}

fn check_wait(path: &str, wait: &Wait, before: &BTreeSet<&str>, bad: &mut Vec<BadRoute>) {
    if let Some(id) = &wait.after
        && !before.contains(id.as_str())
    {
        bad.push(BadRoute::new(format!("{path}.after"), format!("no earlier stage is called {id:?}")));
    }
    if wait.hours.is_some_and(|hours| !(0.0..=WAIT_MAX_H).contains(&hours)) {
        bad.push(BadRoute::new(format!("{path}.hours"), format!("lies outside 0 to {WAIT_MAX_H}")));
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
