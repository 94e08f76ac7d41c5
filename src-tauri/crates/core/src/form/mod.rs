//! The form of a step: its fields in the order a finisher needs them, how each is entered, and what is proposed.
//!
//! Made from the declarations of the bodies, so that every kind has one. Pure: the shop, the moment and the reader
//! are passed in. What is proposed is worked out here and nowhere else; it comes from the route, from the last
//! like step or from the record, and each proposal says from where.

mod back;
mod candidates;
mod control;
mod head;
mod inspection;
mod join;
mod lines;
mod number;
mod objects;
mod order;
mod propose;
mod records;
mod show;
#[cfg(test)]
mod tests;

pub use back::{Filled, Refused, fill};
pub use control::{Control, Lines, Offer};
pub use number::{Measure, place_unit};
pub use objects::{Sort, sort_named};
pub use propose::{Proposal, Source, proposed};
pub use records::parts;
pub use show::shown;

use serde_json::{Map, Value};

use crate::body::shape::Shape;
use crate::body::{Kind, Region};
use crate::id::ObjectId;
use crate::moment::Moment;
use crate::routes::Words;
use crate::shop::{Shop, Step};
use crate::text::Lang;
use crate::units::System;

/// How the person reads and writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reader {
    /// Units.
    pub system: System,
    /// Language.
    pub lang: Lang,
}

/// What a form is asked for.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The kind of step.
    pub kind: Kind,
    /// The pieces it is for.
    pub pieces: &'a [ObjectId],
    /// Who logs it, where that is known.
    pub person: Option<ObjectId>,
    /// The moment.
    pub at: Moment,
    /// How the person reads and writes.
    pub reader: Reader,
}

/// Whether a field has to be filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// It has to be.
    Must,
    /// It is proposed; touching on confirms it.
    Proposed,
    /// It may be left out.
    Optional,
}

/// Where the value of a field goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Slot {
    /// A field of the body, of the same name.
    Body,
    /// The parts of a ratio: the fields of the body for the water and for what is diluted.
    Parts(&'static str, Option<&'static str>),
    /// A line of a checklist: what is looked at.
    Check(String),
    /// The head of the entry, under the field's name.
    Head,
}

/// One field of a form.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Its name among the values.
    pub name: String,
    /// Where its value goes.
    pub slot: Slot,
    /// The sort of its value.
    pub shape: Shape,
    /// What it is called.
    pub label: Words,
    /// A few more words.
    pub help: Option<Words>,
    /// Whether it has to be filled.
    pub need: Need,
    /// How it is entered.
    pub control: Control,
    /// The value proposed, in the form it is stored, and where it comes from.
    pub value: Option<Proposal>,
}

/// What the route says of the step.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// What the step that is due is called.
    pub title: Words,
    /// The part of the piece it works on.
    pub region: Option<Region>,
    /// The form is for that step.
    pub fits: bool,
    /// When the step may begin at the earliest, where it may begin at all.
    pub earliest: Option<Moment>,
}

/// A form.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// The kind of step.
    pub kind: Kind,
    /// What it is called.
    pub title: Words,
    /// What the route says.
    pub expected: Option<Expected>,
    /// Other pieces that are ready for the same step.
    pub could_join: Vec<ObjectId>,
    /// The fields, in order.
    pub fields: Vec<Field>,
}

impl Form {
    /// The field with this name.
    pub fn field(&self, name: &str) -> Option<&Field> {
        self.fields.iter().find(|field| field.name == name)
    }
}

/// The form of a step on these pieces, with the other pieces that are ready for it.
pub fn form(ask: &Ask<'_>) -> Form {
    made(ask, true)
}

/// The same to read a filled-in form back: nobody is looked for who could join.
pub fn form_alone(ask: &Ask<'_>) -> Form {
    made(ask, false)
}

fn made(ask: &Ask<'_>, with_company: bool) -> Form {
    let plans = propose::plans(ask);
    let planned = propose::planned(ask.kind, &plans);
    let mut fields = order::fields(ask, planned.as_ref());
    propose::propose(ask, planned.as_ref(), &mut fields);
    order::arrange(ask.kind, &mut fields);
    let due = planned.as_ref().filter(|it| it.due);
    let company = due.filter(|_| with_company);
    Form {
        kind: ask.kind,
        title: due.map_or_else(|| ask.kind.label().into(), |it| it.title.clone()),
        expected: propose::expected(ask.kind, &plans),
        could_join: company.map_or_else(Vec::new, |it| join::could_join(ask, it)),
        fields,
    }
}

/// The form of an entry that was written, filled with its own values. `None` where it cannot be read here.
pub fn form_of(ask: &Ask<'_>, step: &Step) -> Option<Form> {
    let crate::shop::Reading::Read(details) = &step.reading else { return None };
    let stored = details.to_stored();
    let mut fields = order::fields(ask, None);
    inspection::add_lines(&stored, &mut fields);
    for field in &mut fields {
        field.value = written(field, step, &stored).map(|stored| Proposal { stored, from: Source::Recorded });
    }
    // Pieces and references of an entry stay as they are; a correction is about its values and times.
    fields.retain(|field| field.slot != Slot::Head || field.name == head::UNTIL);
    order::arrange(ask.kind, &mut fields);
    let title = crate::routes::title_of(ask.kind, &stored);
    Some(Form { kind: ask.kind, title, expected: None, could_join: Vec::new(), fields })
}

/// The form of an object of the shop, filled with its newest version, to write another. The field that names the
/// object holds it. `None` where there is no such object, or its entry cannot be read here.
pub fn form_of_object(ask: &Ask<'_>, object: ObjectId) -> Option<Form> {
    let newest = ask
        .shop
        .of_kind(ask.kind)
        .filter(|step| step.object == Some(object))
        .max_by_key(|step| step.order)?;
    let crate::shop::Reading::Read(details) = &newest.reading else { return None };
    let stored = details.to_stored();
    let mut fields = order::fields(ask, None);
    for field in &mut fields {
        let value = match field.name.as_str() {
            head::CHANGES_FIELD => Some(Value::from(object.to_string())),
            _ => written(field, newest, &stored),
        };
        field.value = value.map(|stored| Proposal { stored, from: Source::Recorded });
    }
    order::arrange(ask.kind, &mut fields);
    let title = ask.kind.label().into();
    Some(Form { kind: ask.kind, title, expected: None, could_join: Vec::new(), fields })
}

/// The fields of a step that a route's stage may propose values for, filled with those it proposes.
pub fn form_of_stage(ask: &Ask<'_>, set: &Map<String, Value>) -> Form {
    let mut fields = order::fields(ask, None);
    let own = |name: &str| crate::body::shape::own_fields(ask.kind).iter().any(|it| it.name == name);
    fields.retain(|field| match field.slot {
        Slot::Body => own(&field.name),
        Slot::Parts(..) => true,
        Slot::Check(_) | Slot::Head => false,
    });
    for field in &mut fields {
        field.need = Need::Optional;
        let value = body_value(&field.slot, &field.name, set);
        field.value = value.map(|stored| Proposal { stored, from: Source::Planned });
    }
    order::arrange(ask.kind, &mut fields);
    Form { kind: ask.kind, title: ask.kind.label().into(), expected: None, could_join: Vec::new(), fields }
}

/// What an entry holds for a field.
fn written(field: &Field, step: &Step, stored: &Map<String, Value>) -> Option<Value> {
    match &field.slot {
        slot @ (Slot::Body | Slot::Parts(..)) => body_value(slot, &field.name, stored),
        Slot::Check(what) => inspection::result_of(stored, what),
        Slot::Head => {
            let end = step.done.end.filter(|_| field.name == head::UNTIL)?;
            Some(Value::from(crate::moment::write(&end)))
        }
    }
}

/// What a body holds for a field of its own.
fn body_value(slot: &Slot, name: &str, stored: &Map<String, Value>) -> Option<Value> {
    let Slot::Parts(water, other) = slot else { return stored.get(name).cloned() };
    let parts = |name: &str| stored.get(name).and_then(Value::as_f64);
    let other = other.map_or(Some(1.0), parts)?;
    Some(Value::from(show::ratio(parts(water)?, other)))
}
