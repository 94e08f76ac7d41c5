//! How a field is entered, from the sort of its value.

use super::Ask;
use super::candidates;
use super::number::{Measure, measure};
use super::objects::{self, sort_named};
use crate::body::labels;
use crate::body::shape::{Declared, Shape};
use crate::body::{Kind, common::Answer};
use crate::hazard;
use crate::routes::Words;
use crate::text::{Text, text};

/// One value a person may choose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// The value as it is stored.
    pub value: String,
    /// What a person reads.
    pub label: Words,
    /// A few more words.
    pub hint: Option<Words>,
}

impl Offer {
    /// A value with its words.
    pub(super) fn new(value: impl Into<String>, label: impl Into<Words>) -> Self {
        Self { value: value.into(), label: label.into(), hint: None }
    }

    /// A value that is called by one name in every language.
    pub(super) fn named(value: impl Into<String>, name: &str, about: Option<&str>) -> Self {
        Self { value: value.into(), label: same(name), hint: about.map(same) }
    }
}

/// The same words in every language: names, codes, what somebody wrote.
pub(super) fn same(words: &str) -> Words {
    Words { en: words.to_owned(), es: words.to_owned() }
}

/// How the lines of a list are written.
#[derive(Debug, Clone, PartialEq)]
pub enum Lines {
    /// Words.
    Words,
    /// Numbers.
    Numbers(Measure),
    /// Small records: their fields in order, a semicolon between them.
    Records(Vec<(String, Shape)>),
    /// `name: value`; the measure of the values where they are numbers.
    Named(Option<Measure>),
}

/// How a value is entered.
#[derive(Debug, Clone, PartialEq)]
pub enum Control {
    /// One or several of a list.
    Choice {
        /// The list.
        options: Vec<Offer>,
        /// Several may be chosen.
        many: bool,
        /// A text, or a number, of one's own may be given.
        free: bool,
    },
    /// A number.
    Number(Measure),
    /// Words.
    Text {
        /// Lines to show.
        lines: u32,
    },
    /// A moment.
    Moment,
    /// A civil day.
    Day,
    /// Yes or no.
    YesNo,
    /// Parts to parts.
    Ratio {
        /// Ratios to touch.
        quick: Vec<&'static str>,
    },
    /// A list, an item a line.
    List(Lines),
    /// Photos.
    Photo,
    /// Places on the plan of the piece: the fields of each, as lines.
    Places(Vec<(String, Shape)>),
}

const NOT_KNOWN: Text = text("not known", "no se sabe");

/// The control of a declared field.
pub(super) fn control(ask: &Ask<'_>, field: &Declared) -> Control {
    let kind = ask.kind;
    if let Some(sort) = sort_named(kind, &field.name) {
        return one_of(objects(ask, sort), false);
    }
    if let Some(options) = candidates::closed(ask, &field.name) {
        return one_of(options, false);
    }
    match &field.shape {
        Shape::Number if field.may_be_unknown => one_of(strengths(), true),
        Shape::Number => Control::Number(measure(&field.name, field.whole, ask.reader.system)),
        Shape::YesNo if field.may_be_unknown => one_of(yes_no_unknown(), false),
        Shape::YesNo => Control::YesNo,
        Shape::Choice(name) => one_of(choices(name), false),
        Shape::Day => Control::Day,
        Shape::Moment => Control::Moment,
        Shape::List(_) if field.name == "hazards" => {
            let options = hazard::PICTOGRAMS.iter().map(|(code, name)| Offer::new(*code, *name)).collect();
            Control::Choice { options, many: true, free: false }
        }
        Shape::List(item) if field.name == "photos" && **item != Shape::Text => Control::Photo,
        Shape::List(item) => list(ask, field, item),
        Shape::Map(item) => Control::List(Lines::Named(match **item {
            Shape::Number => Some(measure(&field.name, false, ask.reader.system)),
            _ => None,
        })),
        Shape::Any => Control::Text { lines: 12 },
        Shape::Text | Shape::Id | Shape::Hash | Shape::Record(_) => words(ask, &field.name),
    }
}

fn one_of(options: Vec<Offer>, free: bool) -> Control {
    Control::Choice { options, many: false, free }
}

/// The objects a field may name.
pub(super) fn objects(ask: &Ask<'_>, sort: objects::Sort) -> Vec<Offer> {
    let all = objects::all(ask, sort).into_iter();
    all.map(|(id, name, about)| Offer::named(id.to_string(), &name, about.as_deref())).collect()
}

fn choices(name: &str) -> Vec<Offer> {
    let all = labels::choices(name).unwrap_or_default();
    all.into_iter().map(|(wire, words)| Offer::new(wire, words)).collect()
}

fn list(ask: &Ask<'_>, field: &Declared, item: &Shape) -> Control {
    match item {
        Shape::Choice(name) => Control::Choice { options: choices(name), many: true, free: false },
        Shape::Number => Control::List(Lines::Numbers(measure(&field.name, false, ask.reader.system))),
        Shape::Record(fields) if is_spot(fields) => Control::Places(fields.clone()),
        Shape::Record(fields) => Control::List(Lines::Records(fields.clone())),
        _ => Control::List(Lines::Words),
    }
}

/// A place on the plan is told by its two distances.
fn is_spot(fields: &[(String, Shape)]) -> bool {
    ["x_mm", "y_mm"].iter().all(|name| fields.iter().any(|(field, _)| field == name))
        && fields.iter().any(|(field, _)| field == "size_mm")
}

/// Words: what was written before is offered, and a text of one's own may be given.
fn words(ask: &Ask<'_>, name: &str) -> Control {
    const LONG: [&str; 7] = ["notes", "text", "what", "change", "why", "follow_up", "inherent"];
    if LONG.contains(&name) {
        return Control::Text { lines: 3 };
    }
    let known = candidates::written_before(ask, name);
    if known.is_empty() { Control::Text { lines: 1 } } else { one_of(known, true) }
}

/// Strengths found on labels of acid; the person may give another, or say that it is not known.
fn strengths() -> Vec<Offer> {
    let known = ["10", "14.5", "20", "31"].map(|it| Offer::named(it, &format!("{it} %"), None));
    known.into_iter().chain([Offer::new("unknown", NOT_KNOWN)]).collect()
}

fn yes_no_unknown() -> Vec<Offer> {
    let plain = [Answer::Yes, Answer::No].map(|it| Offer::new(it.wire(), it.label()));
    plain.into_iter().chain([Offer::new("unknown", NOT_KNOWN)]).collect()
}

/// The ratio of a kind that dilutes: the fields of its body for the water and for what is diluted, and usual ones.
pub(super) fn ratio_of(kind: Kind) -> Option<(&'static str, Option<&'static str>, Vec<&'static str>)> {
    Some(match kind {
        Kind::AcidWash => ("water_parts", Some("acid_parts"), vec!["20:1", "15:1", "10:1"]),
        Kind::Neutralise => ("water_parts", Some("agent_parts"), vec!["10:1", "5:1"]),
        Kind::Colour => ("water_parts", None, vec!["10:1", "5:1", "1:1", "0:1"]),
        _ => return None,
    })
}
