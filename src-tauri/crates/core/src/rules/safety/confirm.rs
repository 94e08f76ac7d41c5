//! Cautions that a person confirms once per shift before the first step that needs them.
//!
//! They are recorded as an entry of kind `safety_confirmed` whose work is done no later than the step's; the
//! rules beside this file ask for it, and a form asks [`confirmations`] what to show before it records a step.

use serde_json::{Map, Value};

use crate::body::handling::Position;
use crate::body::setup::{MaterialClass, Product};
use crate::body::surface::{CleanAgent, Neutraliser};
use crate::body::{Body, Kind, after::SafetyTopic, casting::HeatSource};
use crate::id::ObjectId;
use crate::materials;
use crate::moment::Moment;
use crate::rules::prelude::*;
use crate::shop::{Shop, Versions};

/// Cautions still to be confirmed by a person.
#[derive(Debug, Clone, PartialEq)]
pub struct Confirmation {
    /// The topic, as the entry `safety_confirmed` names it.
    pub topic: SafetyTopic,
    /// Code of the rule that asks for it.
    pub code: &'static str,
    /// What it is about, in a few words.
    pub text: Text,
    /// What is confirmed, line by line.
    pub details: Vec<Text>,
}

/// A step somebody is about to do or record, with the values known so far.
#[derive(Debug, Clone, Copy)]
pub struct Prospect<'a> {
    /// Its kind.
    pub kind: Kind,
    /// Its values in the form they are stored; it need not be whole.
    pub values: &'a Map<String, Value>,
}

/// What a person has to confirm before a step at a moment and has not confirmed in this shift.
pub fn confirmations(
    shop: &Shop,
    person: ObjectId,
    prospect: &Prospect<'_>,
    at: Moment,
) -> Vec<Confirmation> {
    let traits = Traits::of_values(prospect);
    let open = SafetyTopic::ALL.iter().copied().filter(|topic| {
        traits.asks(shop, *topic, at) == Asked::Yes && !is_confirmed(shop, Some(person), *topic, at)
    });
    open.map(confirmation).collect()
}

fn confirmation(topic: SafetyTopic) -> Confirmation {
    let (code, text, details) = match topic {
        SafetyTopic::Acid => (super::acid_unconfirmed::RULE.code, ACID, &ACID_LINES[..]),
        SafetyTopic::Solvent => (super::solvent_unconfirmed::RULE.code, SOLVENT, &SOLVENT_LINES[..]),
        SafetyTopic::Isocyanate => {
            (super::isocyanate_unconfirmed::RULE.code, ISOCYANATE, &ISOCYANATE_LINES[..])
        }
        SafetyTopic::OnEdge => (super::on_edge_unconfirmed::RULE.code, ON_EDGE, &ON_EDGE_LINES[..]),
        SafetyTopic::Burner => (super::burner_unconfirmed::RULE.code, BURNER, &BURNER_LINES[..]),
        SafetyTopic::Suction => (super::suction_untested::RULE.code, SUCTION, &SUCTION_LINES[..]),
    };
    Confirmation { topic, code, text, details: details.to_vec() }
}

const ACID: Text = text("acid and ammonia", "ácido y amoníaco");
const ACID_LINES: [Text; 5] = [
    text("Concentrate into water, never the other way round.", "El concentrado al agua, nunca al revés."),
    text(
        "Eyes, face and hands covered as the safety data sheet asks.",
        "Ojos, cara y manos protegidos como pide la ficha de seguridad.",
    ),
    text("Ventilation on, doors open.", "Ventilación en marcha, puertas abiertas."),
    text("Eyewash and running water at hand.", "Lavaojos y agua corriente a mano."),
    text(
        "No acid straight into ammonia, nor ammonia into acid: heat and fume.",
        "Nunca ácido directamente sobre amoníaco ni al revés: calor y humos.",
    ),
];

const SOLVENT: Text = text("solvent and flammable product", "disolvente y producto inflamable");
const SOLVENT_LINES: [Text; 4] = [
    text(
        "No flame, spark, heater or pilot light near.",
        "Sin llama, chispa, estufa ni piloto encendido cerca.",
    ),
    text("Ventilation on.", "Ventilación en marcha."),
    text(
        "Gloves and respirator as the safety data sheet asks.",
        "Guantes y protección respiratoria como pide la ficha de seguridad.",
    ),
    text(
        "Rags with drying oils: wet, in a closed metal bin.",
        "Trapos con aceites secantes: mojados, en recipiente metálico cerrado.",
    ),
];

const ISOCYANATE: Text = text("isocyanate hardener", "endurecedor con isocianato");
const ISOCYANATE_LINES: [Text; 3] = [
    text(
        "The respirator its safety data sheet asks for is worn.",
        "Se lleva la protección respiratoria que pide su ficha de seguridad.",
    ),
    text("Gloves, sleeves and eyes covered.", "Guantes, mangas y ojos protegidos."),
    text("When spraying: everyone else out.", "Al pulverizar: los demás fuera."),
];

const ON_EDGE: Text = text("pieces on edge", "piezas de canto");
const ON_EDGE_LINES: [Text; 3] = [
    text(
        "Each piece is tied back by itself before the next is moved.",
        "Cada pieza se ata por sí sola antes de mover la siguiente.",
    ),
    text("Nobody on the fall side.", "Nadie en el lado de caída."),
    text("Rack or frame rated for the load.", "Caballete o bastidor apto para la carga."),
];

const BURNER: Text = text("unvented burner", "quemador sin salida de humos");
const BURNER_LINES: [Text; 3] = [
    text("Fresh air comes in from outside all the time.", "Entra aire fresco de fuera todo el tiempo."),
    text(
        "A carbon monoxide alarm is on and tested.",
        "Una alarma de monóxido de carbono está activa y probada.",
    ),
    text("The fumes are kept off the fresh face.", "Los gases no llegan a la cara fresca."),
];

const SUCTION: Text = text("suction lifter", "ventosa de elevación");
const SUCTION_LINES: [Text; 2] = [
    text("Tried on this surface: it holds.", "Probada en esta superficie: aguanta."),
    text("A safety sling is on.", "La eslinga de seguridad está puesta."),
];

/// Whether a step asks for a topic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Asked {
    Yes,
    No,
    /// The record does not say what is used.
    Unknown,
}

/// What of a step decides which cautions it asks for.
#[derive(Debug, Default)]
struct Traits {
    kind: Option<Kind>,
    /// An acid wash, or neutralizing with ammonia; of a planned one, unless it is said to be bicarbonate.
    acid_or_ammonia: bool,
    cleaned_with: Option<CleanAgent>,
    product: Option<ObjectId>,
    on_edge: bool,
    heated: bool,
    heat: Option<HeatSource>,
    suction: bool,
}

impl Traits {
    fn of_body(body: &Body) -> Self {
        let mut traits = Self { kind: Some(body.kind()), product: product_of(body), ..Self::default() };
        match body {
            Body::AcidWash(_) => traits.acid_or_ammonia = true,
            Body::Neutralise(it) => traits.acid_or_ammonia = it.agent == Neutraliser::Ammonia,
            Body::Clean(it) => traits.cleaned_with = Some(it.agent),
            Body::Storage(it) => traits.on_edge = it.position == Position::OnEdge,
            Body::Loading(it) => {
                traits.on_edge = it.position == Position::OnEdge;
                traits.suction = it.suction == Some(Answer::Yes);
            }
            Body::Delivery(it) => traits.suction = it.suction == Some(Answer::Yes),
            Body::Install(it) => traits.suction = it.suction == Some(Answer::Yes),
            Body::InitialCure(it) => {
                traits.heated = it.method == crate::body::casting::CureMethod::Heat;
                traits.heat = it.heat_source;
            }
            _ => {}
        }
        traits
    }

    fn of_values(prospect: &Prospect<'_>) -> Self {
        let word = |field: &str| prospect.values.get(field).and_then(Value::as_str);
        let neutral =
            prospect.kind == Kind::Neutralise && word("agent") != Some(Neutraliser::Bicarbonate.wire());
        let agent = prospect.values.get("agent").filter(|_| prospect.kind == Kind::Clean);
        Self {
            kind: Some(prospect.kind),
            acid_or_ammonia: prospect.kind == Kind::AcidWash || neutral,
            cleaned_with: agent.and_then(read),
            product: prospect.values.get("product").and_then(read),
            on_edge: word("position") == Some(Position::OnEdge.wire()),
            heated: false,
            heat: prospect.values.get("heat_source").and_then(read),
            suction: word("suction") == Some(Answer::Yes.wire()),
        }
    }

    fn of_planned(kind: Kind) -> Self {
        Self::of_values(&Prospect { kind, values: &Map::new() })
    }

    fn asks(&self, shop: &Shop, topic: SafetyTopic, at: Moment) -> Asked {
        let known = self.product.map(|id| shop.products.get(&id).map(|it: &Versions<Product>| it.at(at)));
        let by_product = |is: fn(&Product) -> bool| match known {
            Some(Some(product)) if is(product) => Asked::Yes,
            Some(None) => Asked::Unknown,
            _ => Asked::No,
        };
        let yes = |it: bool| if it { Asked::Yes } else { Asked::No };
        match topic {
            SafetyTopic::Acid if self.acid_or_ammonia => Asked::Yes,
            SafetyTopic::Acid if self.kind != Some(Kind::Clean) => Asked::No,
            SafetyTopic::Acid => match self.cleaned_with {
                Some(CleanAgent::AcidCleaner | CleanAgent::Fluoride) => Asked::Yes,
                _ => by_product(is_acid_or_ammonia),
            },
            SafetyTopic::Solvent if self.cleaned_with == Some(CleanAgent::Solvent) => Asked::Yes,
            SafetyTopic::Solvent => by_product(is_flammable),
            SafetyTopic::Isocyanate => by_product(has_isocyanate),
            SafetyTopic::OnEdge => yes(self.on_edge),
            SafetyTopic::Suction => yes(self.suction),
            SafetyTopic::Burner => match self.heat {
                Some(HeatSource::UnventedBurner) => Asked::Yes,
                None if self.heated => Asked::Unknown,
                _ => Asked::No,
            },
        }
    }
}

fn read<T: serde::de::DeserializeOwned>(value: &Value) -> Option<T> {
    serde_json::from_value(value.clone()).ok()
}

/// The product a step uses.
fn product_of(body: &Body) -> Option<ObjectId> {
    match body {
        Body::SealCoat(it) => Some(it.product),
        Body::Densify(it) => Some(it.product),
        Body::Colour(it) => Some(it.product),
        Body::Clean(it) => it.product,
        Body::Fill(it) => it.product,
        _ => None,
    }
}

/// Acid or ammonia by its class.
pub(crate) fn is_acid_or_ammonia(product: &Product) -> bool {
    matches!(
        product.class,
        MaterialClass::HydrochloricAcid
            | MaterialClass::SulfamicAcid
            | MaterialClass::PhosphoricAcid
            | MaterialClass::CitricAcid
            | MaterialClass::FluorideCleaner
            | MaterialClass::Ammonia
    )
}

/// Flammable: the flame on its own label, as the shop entered it, else on the usual label of its class.
fn is_flammable(product: &Product) -> bool {
    let usual = || &materials::of(product.class).hazards.pictograms;
    product.hazards.as_ref().unwrap_or_else(usual).iter().any(|code| code == "GHS02")
}

/// A hardener with isocyanates, by the statement EUH204 of its class.
fn has_isocyanate(product: &Product) -> bool {
    materials::of(product.class).hazards.statements.iter().any(|code| code == "EUH204")
}

/// Whether a person, or of a planned step anybody, confirmed a topic in the shift that holds a moment.
pub(super) fn is_confirmed(shop: &Shop, person: Option<ObjectId>, topic: SafetyTopic, at: Moment) -> bool {
    let shift = shift(shop);
    let Some(from) = add_hours(at, -shift.value) else { return false };
    shop.of_kind_between(Kind::SafetyConfirmed, from, at).any(|step| {
        let given = matches!(step.body(), Some(Body::SafetyConfirmed(it)) if it.topics.contains(&topic));
        given && person.is_none_or(|person| person == step.person)
    })
}

fn shift(shop: &Shop) -> Applied {
    Applied::setting(shop.settings.shift_h, &limits::SHIFT)
}

/// Judges a step whose cautions have to be confirmed first.
pub(super) fn unconfirmed(topic: SafetyTopic, past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let shop = past.case.shop;
    let traits = subject.body.map_or_else(|| Traits::of_planned(subject.kind), Traits::of_body);
    let asked = traits.asks(shop, topic, subject.at);
    let person = subject.step.map(|step| step.person);
    if asked == Asked::No || is_confirmed(shop, person, topic, subject.at) {
        return Vec::new();
    }
    let mut facts = Vec::new();
    facts.extend(person.map(|it| said(text("person", "persona"), &shop.person_name(it))));
    facts.push(missing(text("confirmed in this shift", "confirmado en este turno")));
    facts.extend(
        shift(shop).facts(text("a confirmation holds for", "una confirmación vale"), Dimension::Hour),
    );
    if asked == Asked::Unknown {
        return vec![Hit::cannot_tell([], facts)];
    }
    vec![Hit::violated([], facts).confirming()]
}

#[cfg(test)]
mod tests;
