//! Sums that help to fill in a form, where the work needs them: what goes into the bucket, what an area takes.

use std::collections::BTreeMap;

use serde_json::{Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::form;
use trowelogue_core::sums::{coat, wash};
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension, System};

use super::form::reads;
use super::says::Says;
use super::{Desk, draft_to_entry};
use crate::Result;
use crate::dto::{Control, Fact, Field, Helped, Helper, Need, StepDraft};
use crate::session::Session;

const DILUTION: &str = "dilution";
const COAT: &str = "coat";

const BUCKET: Text = text("What goes into the bucket", "Qué va al cubo");
const AREA: Text = text("What the area takes", "Qué pide la superficie");
const WANTED: Text = text("wanted", "se quiere");
const WATER: Text = text("water, first", "agua, primero");
const CONCENTRATE: Text = text("concentrate, into the water", "concentrado, sobre el agua");
const INTO_WATER: Text = text(
    "Acid into water, never the reverse. Gloves and eye protection on; follow the safety data sheet.",
    "El ácido sobre el agua, nunca al revés. Guantes y protección ocular; siga la ficha de seguridad.",
);
const AMMONIA: Text = text(
    "Ammonia into water, outdoors or with a draught; never into acid, never near bleach. Follow the safety data sheet.",
    "El amoníaco sobre el agua, al aire libre o con corriente; nunca sobre ácido ni cerca de lejía. Siga la ficha de seguridad.",
);
const BY_SHEET: Text = text("Follow the product's sheet.", "Siga la ficha del producto.");
const NO_RATIO: Text = text("Give the ratio first.", "Indique primero la proporción.");
const NO_VOLUME: Text = text("Say how much is wanted.", "Indique cuánto se quiere.");
const NO_AREA: Text =
    text("Give the area and the product first.", "Indique primero la superficie y el producto.");
const NO_RATE: Text = text(
    "Neither the product nor its class says how far it spreads. Add it to the product.",
    "Ni el producto ni su clase dicen cuánto rinde. Añádalo al producto.",
);
const CALLED_FOR: Text = text("one coat of this area", "una mano de esta superficie");
const BASE: Text = text("of it base", "de ello base");
const HARDENER: Text = text("of it hardener", "de ello endurecedor");
const GEOMETRY: Text =
    text("volumes, as if none were lost in mixing", "volúmenes, como si nada se perdiera al mezclar");
const SPREAD: Text =
    text("spreading rate of the product or its class", "rendimiento del producto o de su clase");

impl Desk {
    /// Does a helping sum over a form as far as it is filled in. Writes nothing.
    ///
    /// # Errors
    /// There is no such kind or piece; no shop is open. A sum that cannot be done is a problem of the answer.
    pub fn help_step(&self, step: &StepDraft, key: &str, values: &BTreeMap<String, Value>) -> Result<Helped> {
        self.on_session(|session| {
            let read = draft_to_entry::read(session, step)?;
            let says = Says { session, body: &read.filled.body };
            let helping = Helping { session, says, step, values };
            Ok(match (Kind::parse(&step.kind), key) {
                (Some(kind), DILUTION) => helping.bucket(kind),
                (Some(kind), COAT) => helping.coat(kind),
                _ => problem(session, BY_SHEET),
            })
        })
    }
}

/// The sums a form of this kind has beside it.
pub(super) fn offered(session: &Session, kind: Kind) -> Vec<Helper> {
    let voice = &session.voice;
    match kind {
        Kind::AcidWash | Kind::Neutralise | Kind::Colour => {
            let volume = volume(session);
            let first = match &volume.control {
                Control::Number { quick, .. } => quick.get(1).copied().unwrap_or(1.0),
                _ => 1.0,
            };
            let values = BTreeMap::from([(volume.name.clone(), json!(first))]);
            vec![Helper { key: DILUTION.into(), title: voice.say(BUCKET), fields: vec![volume], values }]
        }
        Kind::SealCoat | Kind::Densify => vec![Helper {
            key: COAT.into(),
            title: voice.say(AREA),
            fields: Vec::new(),
            values: BTreeMap::new(),
        }],
        _ => Vec::new(),
    }
}

/// The volume wanted, in the unit a bucket is marked in.
fn volume(session: &Session) -> Field {
    let voice = &session.voice;
    let (unit, max, step, quick) = match voice.system {
        System::Metric => ("L", 200.0, 0.5, vec![2.0, 5.0, 10.0, 20.0]),
        System::Us => ("gal", 50.0, 0.25, vec![0.5, 1.0, 2.0, 5.0]),
    };
    Field {
        name: "volume".into(),
        label: crate::reading::first_upper(WANTED.get(voice.lang)),
        help: None,
        unit: Some(unit.into()),
        need: Need::Must,
        from: None,
        control: Control::Number { min: 0.0, max, step, decimals: 2, quick },
    }
}

struct Helping<'a> {
    session: &'a Session,
    says: Says<'a>,
    step: &'a StepDraft,
    values: &'a BTreeMap<String, Value>,
}

impl Helping<'_> {
    fn fact(&self, label: Text, value: f64, dimension: Dimension) -> Fact {
        self.says.fact(label, value, dimension)
    }

    /// Water and concentrate for the volume wanted at the ratio of the form.
    fn bucket(&self, kind: Kind) -> Helped {
        let (other, caution) = match kind {
            Kind::AcidWash => (self.says.number("acid_parts"), INTO_WATER),
            Kind::Neutralise if self.says.text("agent") == Some("ammonia") => {
                (self.says.number("agent_parts"), AMMONIA)
            }
            Kind::Neutralise => (self.says.number("agent_parts"), BY_SHEET),
            _ => (Some(1.0), BY_SHEET),
        };
        let Some(ratio) = self.says.number("water_parts").zip(other).map(|(water, other)| water / other)
        else {
            return problem(self.session, NO_RATIO);
        };
        let Some(litres) = self.litres().filter(|litres| *litres > 0.0) else {
            return problem(self.session, NO_VOLUME);
        };
        match wash::dilution(ratio, litres) {
            Ok(mixed) => Helped {
                facts: vec![
                    self.fact(WATER, mixed.water_l, Dimension::Litre),
                    self.fact(CONCENTRATE, mixed.concentrate_l, Dimension::Litre),
                ],
                cautions: vec![self.session.voice.say(caution)],
                basis: self.session.voice.say(GEOMETRY),
                problem: None,
                fills: BTreeMap::new(),
            },
            Err(error) => Helped { problem: Some(error.say(self.session.voice.lang)), ..Helped::nothing() },
        }
    }

    fn litres(&self) -> Option<f64> {
        let unit = volume(self.session).unit?;
        let typed = self.values.get("volume")?.as_f64()?;
        units::parse(&format!("{typed} {unit}"), Dimension::Litre).ok()
    }

    /// What one coat of the area takes, with its two parts where it has two.
    fn coat(&self, kind: Kind) -> Helped {
        let voice = &self.session.voice;
        let (Some(area), Some(_)) = (self.says.number("area_m2"), self.says.product()) else {
            return problem(self.session, NO_AREA);
        };
        let Some(rate) = self.says.spreading() else { return problem(self.session, NO_RATE) };
        let quantity = match coat::quantity_to_buy_l(area, 1.0, rate, 0.0) {
            Ok(quantity) => quantity,
            Err(error) => return Helped { problem: Some(error.say(voice.lang)), ..Helped::nothing() },
        };
        let mut facts = vec![self.fact(CALLED_FOR, quantity, Dimension::Litre)];
        let parts = self.says.number("hardener_parts").filter(|parts| *parts > 0.0);
        if let Some(Ok((base, hardener))) = parts.map(|parts| coat::two_part_split(quantity, 100.0, parts)) {
            facts.push(self.fact(BASE, base, Dimension::Litre));
            facts.push(self.fact(HARDENER, hardener, Dimension::Litre));
        }
        Helped {
            facts,
            cautions: vec![voice.say(BY_SHEET)],
            basis: voice.say(SPREAD),
            problem: None,
            fills: self.filled(kind, quantity),
        }
    }

    /// The quantity as the form shows it.
    fn filled(&self, kind: Kind, quantity_l: f64) -> BTreeMap<String, Value> {
        let reader = crate::add::Reader::new(self.session);
        let Ok(asked) = super::form::asked(self.session, &reader, kind.wire(), &self.step.pieces) else {
            return BTreeMap::new();
        };
        let made = form::form_alone(&asked.ask());
        let value = made
            .field("quantity_l")
            .map(|field| form::shown(field, &json!(quantity_l), reads(&self.session.voice)));
        value.map(|value| ("quantity_l".to_owned(), value)).into_iter().collect()
    }
}

impl Helped {
    fn nothing() -> Self {
        Self {
            facts: Vec::new(),
            cautions: Vec::new(),
            basis: String::new(),
            problem: None,
            fills: BTreeMap::new(),
        }
    }
}

fn problem(session: &Session, words: Text) -> Helped {
    Helped { problem: Some(session.voice.say(words)), ..Helped::nothing() }
}
