//! What is proposed for each field, and from where.
//!
//! What was seen is never proposed: how a pass ended, whether the water came off. A value nobody touched would be an
//! observation nobody made.

mod kinds;
mod like;

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use super::{Ask, Control, Expected, Field, Form, Slot, show};
use crate::body::{Group, Kind, Needs, Region};
use crate::moment::Moment;
use crate::plan::{self, PiecePlan, PlannedStep};
use crate::routes::Words;
use crate::text::{Text, text};

/// Where a proposed value comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The route's stage.
    Planned,
    /// The last like step.
    LastTime,
    /// A reading taken at this moment.
    Read(Moment),
    /// Usual practice.
    Usual,
    /// The only one that fits.
    OnlyOne,
    /// What is recorded of the piece.
    Piece,
    /// What is recorded of the pour.
    Pour,
    /// What is recorded of the product or tool.
    Product,
    /// What the entry, or the shop's settings, hold now.
    Recorded,
}

impl Source {
    /// The words for it; a reading's moment is for whoever knows the reader's zone.
    pub const fn label(self) -> Text {
        match self {
            Self::Planned => text("as planned", "según la ruta"),
            Self::LastTime => text("as last time", "como la última vez"),
            Self::Read(_) => text("as read at", "según lectura de las"),
            Self::Usual => text("unless changed", "si no se cambia"),
            Self::OnlyOne => text("the only one", "el único"),
            Self::Piece => text("from the piece", "de la pieza"),
            Self::Pour => text("from the pour", "del vertido"),
            Self::Product => text("from its sheet", "de su ficha"),
            Self::Recorded => text("as recorded", "como consta"),
        }
    }
}

/// A value proposed for a field, in the form it is stored.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// The value.
    pub stored: Value,
    /// Where it comes from.
    pub from: Source,
}

/// The step as the route has it.
pub(super) struct Planned {
    /// What it is called.
    pub title: Words,
    /// The part of the piece that is worked.
    pub region: Option<Region>,
    /// The values of the route, and the number of the coat.
    pub set: Map<String, Value>,
    /// The values of the route's stage alone.
    pub route_set: Map<String, Value>,
    /// The step is due, or may be done before the one that is; otherwise it stands further ahead.
    pub due: bool,
}

/// The plans of the pieces, where the kind is work on a piece.
pub(super) fn plans(ask: &Ask<'_>) -> Vec<PiecePlan> {
    if !matches!(ask.kind.group(), Group::Before | Group::Work | Group::After) {
        return Vec::new();
    }
    ask.pieces.iter().map(|piece| plan::next_with(ask.shop, *piece, ask.at, &[])).collect()
}

/// What the route says of the first piece that has one.
pub(super) fn expected(kind: Kind, plans: &[PiecePlan]) -> Option<Expected> {
    let plan = plans.iter().find(|plan| plan.step.is_some())?;
    let due = plan.step.as_ref()?;
    let option = plan.options.iter().find(|it| it.kind == kind && due.kind != kind);
    let step = option.unwrap_or(due);
    Some(Expected {
        title: step.title.clone(),
        region: step.region,
        fits: step.kind == kind,
        earliest: step.earliest,
    })
}

/// The step of this kind on the routes of the pieces. Of several pieces only the values they agree in are planned.
pub(super) fn planned(kind: Kind, plans: &[PiecePlan]) -> Option<Planned> {
    let mut all = plans.iter().filter_map(|plan| planned_on(kind, plan));
    let first = all.next()?;
    Some(all.fold(first, |mut agreed, other| {
        agreed.set.retain(|name, value| other.set.get(name) == Some(value));
        agreed.route_set.retain(|name, value| other.route_set.get(name) == Some(value));
        agreed.region = agreed.region.filter(|region| other.region == Some(*region));
        agreed.due &= other.due;
        agreed
    }))
}

fn planned_on(kind: Kind, plan: &PiecePlan) -> Option<Planned> {
    let soon = plan.step.iter().chain(&plan.options).find(|step| step.kind == kind);
    if let Some(step) = soon {
        return Some(due(plan, step));
    }
    let ahead =
        plan.chain.iter().filter_map(|link| plan.stage(link.stage)).find(|stage| stage.kind == kind)?;
    let set = ahead.set.clone();
    Some(Planned { title: ahead.title(), region: ahead.region, route_set: set.clone(), set, due: false })
}

fn due(plan: &PiecePlan, step: &PlannedStep) -> Planned {
    let route_set = plan.stage(step.stage).map(|stage| stage.set.clone()).unwrap_or_default();
    let mut set = route_set.clone();
    set.extend(step.values.get("coat").map(|coat| ("coat".to_owned(), coat.clone())));
    Planned { title: step.title.clone(), region: step.region, set, route_set, due: true }
}

/// Values found so far, by name of the body's field. The first that is found stays.
pub(super) struct Found<'p, 'a> {
    pub ask: &'p Ask<'a>,
    pub planned: Option<&'p Planned>,
    pub values: BTreeMap<String, Proposal>,
}

impl Found<'_, '_> {
    fn put(&mut self, name: &str, stored: Value, from: Source) {
        if !stored.is_null() {
            self.values.entry(name.to_owned()).or_insert(Proposal { stored, from });
        }
    }

    fn text_of(&self, name: &str) -> Option<&str> {
        self.values.get(name)?.stored.as_str()
    }
}

/// Proposes values for the fields: of the route first, then of the last like step, then of the record.
pub(super) fn propose(ask: &Ask<'_>, planned: Option<&Planned>, fields: &mut [Field]) {
    let mut found = Found { ask, planned, values: BTreeMap::new() };
    for (name, value) in planned.iter().flat_map(|it| &it.set) {
        found.put(name, value.clone(), Source::Planned);
    }
    found.region();
    found.carry();
    kinds::propose(&mut found);
    found.lot_of_product();
    found.place();
    for field in fields {
        if let Some(proposal) = proposal(field, &found.values).filter(|it| fits(field, &it.stored)) {
            field.value = Some(proposal);
        }
    }
}

impl Found<'_, '_> {
    fn region(&mut self) {
        let planned = self.planned.and_then(|it| it.region);
        if let Some(region) = planned {
            self.put("region", Value::from(region.wire()), Source::Planned);
        }
    }

    fn usual_region(&mut self) {
        if self.ask.kind.needs() == Needs::Region {
            self.put("region", Value::from(Region::Face.wire()), Source::Usual);
        }
    }
}

fn proposal(field: &Field, values: &BTreeMap<String, Proposal>) -> Option<Proposal> {
    match &field.slot {
        Slot::Body => values.get(&field.name).cloned(),
        Slot::Parts(water, other) => {
            let water = values.get(*water)?;
            let other = other.map_or(Some(1.0), |name| values.get(name)?.stored.as_f64())?;
            Some(Proposal {
                stored: Value::from(show::ratio(water.stored.as_f64()?, other)),
                from: water.from,
            })
        }
        Slot::Check(_) | Slot::Head => None,
    }
}

/// The values a form proposes, as a body: it need not be whole.
pub fn proposed(form: &Form) -> Map<String, Value> {
    let mut body = Map::new();
    for field in &form.fields {
        let Some(value) = field.value.as_ref().map(|it| &it.stored) else { continue };
        match &field.slot {
            Slot::Body => drop(body.insert(field.name.clone(), value.clone())),
            Slot::Parts(water, other) => {
                let parts = super::back::parts(value.as_str().unwrap_or_default());
                body.extend(parts.map(|(parts, _)| ((*water).to_owned(), Value::from(parts))));
                body.extend(other.zip(parts).map(|(name, (_, parts))| (name.to_owned(), Value::from(parts))));
            }
            Slot::Check(_) | Slot::Head => {}
        }
    }
    body
}

/// Whether the control could give this value: a product that no longer fits, or a number out of all bounds, is
/// not proposed.
fn fits(field: &Field, stored: &Value) -> bool {
    match (&field.control, stored) {
        (Control::Choice { options, many: false, free: false }, Value::String(value)) => {
            options.iter().any(|it| it.value == *value)
        }
        (Control::Number(measure), Value::Number(number)) => {
            let shown = measure.round(measure.outside(number.as_f64().unwrap_or(f64::NAN)));
            (measure.min..=measure.max).contains(&shown)
        }
        _ => true,
    }
}
