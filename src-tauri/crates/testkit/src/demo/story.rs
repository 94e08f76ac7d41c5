//! Events and the vocabulary the demo is told in.

use chrono::{DateTime, FixedOffset, NaiveDateTime, TimeDelta, TimeZone};
use serde_json::{Value, json};
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::{Moment, Span};

use super::SEED;

/// One entry of the demo, before any device wrote it.
#[derive(Debug, Clone)]
pub struct Event {
    /// What the story calls it; references and `PLANTED.json` use this.
    pub label: String,
    /// When it was written down.
    pub wrote: Moment,
    /// When the work was done.
    pub done: Span,
    /// The device, by name.
    pub device: &'static str,
    /// The person, by name.
    pub person: &'static str,
    /// The kind.
    pub kind: &'static str,
    /// The object, by the name the story gives it.
    pub object: Option<String>,
    /// Pieces by code.
    pub pieces: Vec<String>,
    /// A device by name.
    pub peer: Option<&'static str>,
    /// Labels of entries referred to.
    pub refs: Vec<String>,
    /// The body as a person would enter it.
    pub body: Value,
}

/// A mistake that was planted, and what must be found.
#[derive(Debug, Clone)]
pub struct Planted {
    /// Code of the rule.
    pub rule: &'static str,
    /// Code of the piece.
    pub piece: String,
    /// `stop`, `caution` or `note`.
    pub severity: &'static str,
    /// Labels of the entries that cause it.
    pub entries: Vec<String>,
    /// A named person accepted it.
    pub accepted: bool,
    /// The mistake in words.
    pub what: &'static str,
}

/// The demo as a list of events.
#[derive(Debug, Clone, Default)]
pub struct Story {
    /// Every entry.
    pub events: Vec<Event>,
    /// Every mistake.
    pub planted: Vec<Planted>,
}

/// The wall clock of the demo's shop (a zone with summer time): `"2024-03-04 09:10"`.
pub(crate) fn moment(local: &str) -> Moment {
    let civil = NaiveDateTime::parse_from_str(local, "%Y-%m-%d %H:%M");
    let civil = civil.unwrap_or_else(|error| panic!("{local}: {error}"));
    let zoned = chrono_tz::America::Denver.from_local_datetime(&civil).single();
    let zoned = zoned.unwrap_or_else(|| panic!("{local} is no single moment in the demo's zone"));
    let zoned: DateTime<FixedOffset> = zoned.fixed_offset();
    zoned
}

/// The id of an object of the demo: a version 7 UUID of the founding day with bytes from its name.
pub(crate) fn object_id(name: &str) -> ObjectId {
    let hash = Hash::of(&[SEED.as_bytes(), name.as_bytes()]).0;
    let mut random = [0; 10];
    random.copy_from_slice(&hash[..10]);
    // 2022-08-29 in milliseconds since 1970; RFC 9562, section 5.7.
    ObjectId(uuid::Builder::from_unix_timestamp_millis(1_661_752_800_000, &random).into_uuid())
}

/// An object's id as it stands in a body.
pub(crate) fn id(name: &str) -> Value {
    json!(object_id(name).to_string())
}

/// Who is telling: person and device.
#[derive(Debug, Clone, Copy)]
pub(crate) struct By(pub &'static str, pub &'static str);

pub(crate) const INES: By = By("Ines Calder", "office");
pub(crate) const TOBIAS: By = By("Tobias Renn", "shop-phone");
pub(crate) const MARTA: By = By("Marta Quill", "site-phone");

impl Story {
    pub(crate) fn new() -> Self {
        Self::default()
    }

    /// Tells one event and returns it for more words. Written down a few minutes after it was done.
    pub(crate) fn tell(
        &mut self,
        by: By,
        at: &str,
        kind: &'static str,
        pieces: &[&str],
        body: Value,
    ) -> &mut Event {
        let start = moment(at);
        let named = pieces.first().map_or("shop", |it| it);
        let count = self.events.iter().filter(|it| it.kind == kind && it.named() == named).count() + 1;
        let minutes = 2 + (self.events.len() as i64 * 7) % 9;
        self.events.push(Event {
            label: format!("{named}/{kind}/{count}"),
            wrote: start + TimeDelta::minutes(minutes),
            done: Span::at(start),
            device: by.1,
            person: by.0,
            kind,
            object: None,
            pieces: pieces.iter().map(|it| (*it).to_owned()).collect(),
            peer: None,
            refs: Vec::new(),
            body,
        });
        let last = self.events.len() - 1;
        &mut self.events[last]
    }

    /// Plants a mistake: these entries must be found by this rule.
    pub(crate) fn plant(
        &mut self,
        rule: &'static str,
        severity: &'static str,
        piece: &str,
        entries: &[&str],
        what: &'static str,
    ) {
        // A label that already names its piece or pour is taken as it is.
        let full =
            |it: &&str| if it.matches('/').count() == 2 { (*it).to_owned() } else { format!("{piece}/{it}") };
        let entries = entries.iter().map(full).collect();
        self.planted.push(Planted { rule, piece: piece.into(), severity, entries, accepted: false, what });
    }

    /// The last planted mistake was accepted by name.
    pub(crate) fn accepted(&mut self) {
        if let Some(last) = self.planted.last_mut() {
            last.accepted = true;
        }
    }
}

impl Event {
    fn named(&self) -> &str {
        self.pieces.first().map_or("shop", String::as_str)
    }

    /// The work ended then; it was written down after that.
    pub(crate) fn until(&mut self, at: &str) -> &mut Self {
        let end = moment(at);
        self.wrote = self.wrote.max(end + TimeDelta::minutes(4));
        self.done.end = Some(end);
        self
    }

    /// It was written down only then.
    pub(crate) fn written(&mut self, at: &str) -> &mut Self {
        self.wrote = moment(at);
        self
    }

    /// About this object.
    pub(crate) fn about(&mut self, object: &str) -> &mut Self {
        self.object = Some(object.into());
        self
    }

    /// Called this.
    pub(crate) fn called(&mut self, label: &str) -> &mut Self {
        self.label = label.into();
        self
    }

    /// Refers to these.
    pub(crate) fn naming(&mut self, labels: &[&str]) -> &mut Self {
        self.refs = labels.iter().map(|it| (*it).to_owned()).collect();
        self
    }

    /// With one more field.
    pub(crate) fn with(&mut self, field: &str, value: Value) -> &mut Self {
        self.body[field] = value;
        self
    }
}
