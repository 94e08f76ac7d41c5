//! Words for fields and choices.
//!
//! A field is named once, for every kind that has it; where one kind means something else by the name, the
//! kind's own words stand in `OWN`. The unit of a field is the ending of its name and is never part of the words.

mod a_to_l;
mod m_to_z;
#[cfg(test)]
mod tests;

use super::{Kind, after, authority, casting, common, handling, sealing, setup, surface};
use crate::text::{Text, text};

/// A closed choice that a form can offer.
pub trait Choice {
    /// Values as written, with their words, in the order a person is offered them.
    fn offered() -> Vec<(&'static str, Text)>;
}

/// Words of one kind's fields where they differ from the common ones.
const OWN: &[(Kind, &str, Text)] = &[
    (Kind::Densify, "dwell_min", text("dwell on the face", "tiempo sobre la cara")),
    (Kind::DrawingApproved, "file", text("drawing", "plano")),
    (Kind::Handover, "signed", text("signed by the client", "firmado por el cliente")),
    (Kind::InitialCure, "method", text("how it was kept", "cómo se mantuvo")),
    (Kind::Moisture, "value", text("reading", "lectura")),
    (Kind::Piece, "code", text("code on the label", "código de la etiqueta")),
    (Kind::Product, "name", text("the shop's name for it", "nombre en el taller")),
    (Kind::SealerCure, "until", text("left alone until", "sin tocar hasta")),
    (Kind::Settings, "contact", text("whom a client calls", "a quién llama el cliente")),
    (Kind::Strip, "method", text("how it was taken off", "cómo se quitó")),
    (Kind::Temperature, "file", text("logger file", "archivo del registrador")),
    (Kind::TrialSpot, "of", text("of which step", "de qué paso")),
];

/// The words for a field of a kind, or of a record inside it; `None` for a name no kind has.
pub fn field(kind: Kind, name: &str) -> Option<Text> {
    let own = OWN.iter().find(|(of, field, _)| *of == kind && *field == name);
    own.map(|(_, _, words)| *words).or_else(|| common_words(name))
}

fn common_words(name: &str) -> Option<Text> {
    let table = if name < "m" { a_to_l::A_TO_L } else { m_to_z::M_TO_Z };
    table.binary_search_by_key(&name, |(field, _)| field).ok().map(|at| table[at].1)
}

macro_rules! registry {
    ($($family:ident :: $choice:ident,)*) => {
        /// The choices of a type, by the name it has in the schemas; `None` where it is no closed choice.
        pub fn choices(type_name: &str) -> Option<Vec<(&'static str, Text)>> {
            match type_name {
                $(stringify!($choice) => Some(<$family::$choice as Choice>::offered()),)*
                "System" => Some(vec![("si", text("metric", "métrico")), ("us", text("US customary", "de EE. UU."))]),
                "Lang" => Some(vec![("en", text("English", "inglés")), ("es", text("Spanish", "español"))]),
                "Unknown" => Some(vec![("unknown", text("not known", "no se sabe"))]),
                _ => None,
            }
        }
    };
}

registry! {
    common::Region, common::Place, common::Answer,
    setup::Use, setup::Side, setup::FinishKind, setup::Aggregate, setup::MaterialClass, setup::Power, setup::SheetKind,
    casting::Consolidation, casting::CureMethod, casting::HeatSource, casting::DemouldMark, casting::StrengthMethod, casting::TrialResult,
    casting::Medium,
    surface::CleanAgent, surface::Acid, surface::CreamLost, surface::Neutraliser, surface::PhOf, surface::PhMethod,
    surface::GritScale, surface::Bond, surface::PassResult, surface::Exposure, surface::DustControl, surface::Cleanup,
    surface::Backer, surface::StoneState, surface::FillMethod,
    sealing::MoistureMethod, sealing::Verdict, sealing::DropResult, sealing::CoatMethod,
    handling::Position, handling::Wrap, handling::SealantClass,
    after::CheckResult, after::SafetyTopic,
    authority::Role, authority::RetireReason,
}

/// The words for a value of a choice type; `None` where the type has no such value.
pub fn choice(type_name: &str, value: &str) -> Option<Text> {
    choices(type_name)?.into_iter().find(|(wire, _)| *wire == value).map(|(_, words)| words)
}
