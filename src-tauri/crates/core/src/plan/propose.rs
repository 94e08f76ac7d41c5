//! The planned step and the values proposed for it.

use serde_json::{Map, Value};

use crate::body::common::Region;
use crate::body::{Body, Kind, Needs};
use crate::moment::Moment;
use crate::routes::{Progress, Route, StageState, Words, title_of};
use crate::rules::{Case, Planned};

/// Values that are carried over from the last like step: what was used, never what was observed.
const CARRIED: &[&str] = &[
    "product",
    "lot",
    "expires",
    "acid",
    "concentrate_pct",
    "agent",
    "tool",
    "power",
    "rcd",
    "dust",
    "method",
    "material",
    "at",
    "condition",
    "position",
];

/// Whether a value of this name says what was used, so that the next like step may propose it.
pub(crate) fn is_carried(name: &str) -> bool {
    CARRIED.contains(&name)
}

/// A step the route expects.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedStep {
    /// Place of the stage in the route.
    pub stage: usize,
    /// Id of the stage.
    pub id: String,
    /// Its kind.
    pub kind: Kind,
    /// The part of the piece that is worked, where the kind has one.
    pub region: Option<Region>,
    /// What it is called.
    pub title: Words,
    /// The values proposed, in the form they are stored.
    pub values: Map<String, Value>,
    /// The same as a body to judge, where they make a whole one; what only the work can show is taken as hoped for.
    pub body: Option<Body>,
    /// When it may begin at the earliest; none where it is blocked.
    pub earliest: Option<Moment>,
}

impl PlannedStep {
    /// The step in the form the rules judge.
    pub fn planned(&self) -> Planned<'_> {
        let product = self.values.get("product").and_then(Value::as_str).and_then(|it| it.parse().ok());
        Planned { kind: self.kind, region: self.region, body: self.body.as_ref(), product }
    }
}

/// The step of a stage with its values: from the route, then from the last like step on the piece.
pub(super) fn step(case: &Case<'_>, route: &Route, seen: &Progress, at: usize) -> PlannedStep {
    let stage = &route.stages[at];
    let mut values = stage.set.clone();
    carry(case, stage.kind, &mut values);
    if stage.kind == Kind::SealCoat {
        values.insert("coat".to_owned(), Value::from(laid(&seen.stages[at]) + 1));
    }
    let title = stage.name.clone().unwrap_or_else(|| title_of(stage.kind, &values));
    let needed = stage.kind.needs() == Needs::Region;
    let region = stage.region.or(needed.then_some(Region::Face));
    let body = Body::from_value(stage.kind, Value::Object(as_hoped(stage.kind, &values))).ok();
    PlannedStep {
        stage: at,
        id: stage.id.clone(),
        kind: stage.kind,
        region,
        title,
        values,
        body,
        earliest: None,
    }
}

/// The values with an outcome, so that the rules can judge what is planned. Never proposed to a person: what a pass
/// or a wash left is seen, not expected.
fn as_hoped(kind: Kind, values: &Map<String, Value>) -> Map<String, Value> {
    let hoped: &[(&str, &str)] = match kind {
        Kind::GritPass => &[("result", "cut_out")],
        Kind::AcidWash => &[("cream_lost", "none"), ("concentrate_pct", "unknown")],
        _ => &[],
    };
    let mut whole = values.clone();
    for (field, outcome) in hoped {
        whole.entry(*field).or_insert_with(|| Value::from(*outcome));
    }
    whole
}

fn carry(case: &Case<'_>, kind: Kind, values: &mut Map<String, Value>) {
    let Some(last) = case.of(kind).rev().find_map(|step| step.body()) else { return };
    for (name, value) in last.to_map() {
        if is_carried(&name) {
            values.entry(name).or_insert(value);
        }
    }
}

fn laid(state: &StageState) -> usize {
    match state {
        StageState::Done(by) | StageState::Part(by) => by.len(),
        StageState::Passed | StageState::Owed | StageState::Open => 0,
    }
}
