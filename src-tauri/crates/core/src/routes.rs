//! Finish routes: data, not code. A route is an ordered list of stages with what each proposes and waits for.
//!
//! Routes ship inside the binary, are copied and edited by the shop as `route` entries, carry a version, and
//! are frozen into a piece's record when chosen, so that a later edit changes nothing already begun.
//! Invariant: a frozen copy is read tolerantly (fields of a newer version are ignored), what a person edits is
//! held to [`check`].

mod check;
mod choose;
mod progress;
mod shipped;
mod written;

#[cfg(test)]
mod tests;

pub use check::{BadRoute, RouteFault, check};
pub use choose::{InUse, in_use};
pub use progress::{Progress, StageState, progress};
pub use shipped::{shipped, shipped_for, shipped_with};
pub use written::{Held, WrittenRoute};

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::body::common::Region;
use crate::body::setup::FinishKind;
use crate::body::{Group, Kind};
use crate::text::Lang;

/// Words that are data: a shop may write its own.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Words {
    /// English.
    pub en: String,
    /// Spanish.
    pub es: String,
}

impl Words {
    /// The words in `lang`; the other language where a shop wrote only one.
    pub fn get(&self, lang: Lang) -> &str {
        let (wanted, other) = match lang {
            Lang::En => (&self.en, &self.es),
            Lang::Es => (&self.es, &self.en),
        };
        if wanted.is_empty() { other } else { wanted }
    }
}

impl From<crate::text::Text> for Words {
    fn from(text: crate::text::Text) -> Self {
        Self { en: text.en.to_owned(), es: text.es.to_owned() }
    }
}

/// A finish route.
#[serde_with::skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Route {
    /// Stable code: lower-case letters, digits, underscores.
    pub code: String,
    /// Counts up with every edit.
    pub version: u32,
    /// What people call it.
    pub name: Words,
    /// For which face, and what to know before it is chosen.
    pub about: Words,
    /// The finishes it is the usual route for.
    #[serde(default)]
    pub finishes: Vec<FinishKind>,
    /// It counts only what is done after it was chosen (a repair on a finished piece).
    #[serde(default, skip_serializing_if = "is_false")]
    pub afresh: bool,
    /// The stages, in order.
    pub stages: Vec<Stage>,
}

/// One stage of a route.
#[serde_with::skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Stage {
    /// Names it within the route: lower-case letters, digits, hyphens.
    pub id: String,
    /// The kind of step that does it.
    #[serde(with = "kind_name")]
    #[schemars(schema_with = "kind_schema")]
    pub kind: Kind,
    /// What it is called here, where the kind's own name does not say enough.
    pub name: Option<Words>,
    /// Whether it is always done.
    #[serde(default, skip_serializing_if = "When::is_always")]
    pub when: When,
    /// The part of the piece that is worked.
    pub region: Option<Region>,
    /// Values proposed for the step: fields of its kind, in the form they are stored.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub set: Map<String, Value>,
    /// Number of coats, where the route and not the product says so.
    pub coats: Option<u32>,
    /// What has to pass before it may begin, beside the rules.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub waits: Vec<Wait>,
}

/// Whether a stage is done.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum When {
    /// On every piece.
    #[default]
    Always,
    /// If the person wants it.
    Optional,
    /// If a rule asks for it before the stage after it.
    Asked,
    /// Only after the stage with this id was done.
    With(String),
    /// Only where the stage with this id was not done.
    Without(String),
}

impl When {
    fn is_always(&self) -> bool {
        *self == Self::Always
    }
}

/// A wait before a stage.
#[serde_with::skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Wait {
    /// What happens meanwhile.
    #[serde(rename = "for")]
    pub reason: WaitFor,
    /// Hours at least. Left out where the product in hand says it.
    pub hours: Option<f64>,
    /// Id of the stage it counts from; left out: the last work on the piece (for an age, the pour).
    pub after: Option<String>,
}

choices! {
    /// What a wait is for.
    pub enum WaitFor {
        Dry = "dry": "drying", "secado";
        FillCure = "fill_cure": "cure of the fill", "curado del relleno";
        Recoat = "recoat": "time between coats", "tiempo entre manos";
        SealerCure = "sealer_cure": "cure of the sealer", "curado del sellador";
        Age = "age": "age of the concrete", "edad del hormigón";
        Rest = "rest": "rest before the next work", "reposo antes del siguiente trabajo";
    }
}

impl Route {
    /// Reads a route as it stands in an entry.
    ///
    /// # Errors
    /// It is not a route, or it names a kind this version does not know; the field is named.
    pub fn read(value: &Value) -> Result<Self, BadRoute> {
        Self::deserialize(value).map_err(|error| BadRoute::unreadable(&error))
    }

    /// The place of the stage with this id.
    pub fn place(&self, id: &str) -> Option<usize> {
        self.stages.iter().position(|stage| stage.id == id)
    }
}

impl Stage {
    /// What the stage is called: its own name, else what the kind and its values say.
    pub fn title(&self) -> Words {
        self.name.clone().unwrap_or_else(|| title_of(self.kind, &self.set))
    }
}

/// What a step of this kind with these values is called: "grit pass 200, resin".
pub fn title_of(kind: Kind, values: &Map<String, Value>) -> Words {
    let mut words = Words::from(kind.label());
    match kind {
        Kind::GritPass => grit_title(&mut words, values),
        Kind::SealCoat => {
            if let Some(coat) = values.get("coat").and_then(Value::as_u64) {
                words.en.push_str(&format!(" {coat}"));
                words.es.push_str(&format!(" {coat}"));
            }
        }
        Kind::AcidWash => {
            let parts = |name| values.get(name).and_then(Value::as_f64);
            if let (Some(water), Some(acid)) = (parts("water_parts"), parts("acid_parts")) {
                words.en.push_str(&format!(" {water}:{acid}"));
                words.es.push_str(&format!(" {water}:{acid}"));
            }
        }
        _ => {}
    }
    words
}

fn grit_title(words: &mut Words, values: &Map<String, Value>) {
    if let Some(grit) = values.get("grit").and_then(Value::as_f64) {
        words.en.push_str(&format!(" {grit}"));
        words.es.push_str(&format!(" {grit}"));
    }
    let bond = values.get("bond").and_then(|it| crate::body::surface::Bond::deserialize(it).ok());
    if let Some(bond) = bond {
        words.en.push_str(&format!(", {}", bond.label().en));
        words.es.push_str(&format!(", {}", bond.label().es));
    }
}

/// The JSON Schema of a route document.
pub fn schema() -> Schema {
    schemars::schema_for!(Route)
}

fn is_false(it: &bool) -> bool {
    !it
}

/// Kinds a stage may have: work on a piece, before, during and after.
pub fn stage_kinds() -> impl Iterator<Item = Kind> {
    let fits = |kind: &Kind| matches!(kind.group(), Group::Before | Group::Work | Group::After);
    Kind::ALL.iter().copied().filter(fits)
}

fn kind_schema(_: &mut SchemaGenerator) -> Schema {
    let names: Vec<_> = stage_kinds().map(Kind::wire).collect();
    schemars::json_schema!({ "type": "string", "enum": names })
}

mod kind_name {
    //! A kind by its wire name.
    use super::{Cow, Deserialize, Kind, stage_kinds};

    pub(super) fn serialize<S: serde::Serializer>(kind: &Kind, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(kind.wire())
    }

    pub(super) fn deserialize<'de, D: serde::Deserializer<'de>>(from: D) -> Result<Kind, D::Error> {
        let name = Cow::<str>::deserialize(from)?;
        let known = Kind::parse(&name).filter(|kind| stage_kinds().any(|it| it == *kind));
        known.ok_or_else(|| serde::de::Error::custom(format!("{name:?}{}", super::check::NOT_WORK)))
    }
}
