//! Material classes: what a product of a class usually asks for and how it behaves.
//!
//! The values are shipped as data and marked "class default" wherever they are shown: common practice, no
//! source, except the hazards, which follow the usual classification of the class. The data sheet and the
//! safety data sheet of the product in hand always win.

use std::sync::LazyLock;

use schemars::{JsonSchema, Schema};
use serde::Deserialize;

use crate::body::setup::MaterialClass;
use crate::routes::Words;
use crate::text::Text;

#[cfg(test)]
mod tests;

/// How much a lot past its date weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Expired {
    /// It is not used unless its maker extends it in writing.
    Stop,
    /// Look before using it.
    Caution,
    /// Good to know.
    Note,
}

/// The signal word of a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Signal {
    /// The stronger word.
    Danger,
    /// The weaker word.
    Warning,
}

impl Signal {
    /// The word on the label.
    pub const fn label(self) -> Text {
        match self {
            Self::Danger => crate::text::text("danger", "peligro"),
            Self::Warning => crate::text::text("warning", "atención"),
        }
    }
}

/// The usual classification of a class. The safety data sheet of the product in hand governs.
#[derive(Debug, Clone, PartialEq, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Hazards {
    /// Signal word, if any.
    pub signal: Option<Signal>,
    /// Pictogram codes of the UN system, such as `GHS05`.
    pub pictograms: Vec<String>,
    /// Hazard statements, such as `H314`.
    pub statements: Vec<String>,
}

/// What is known of a class. `None`: the class has no such limit, or only a data sheet can give it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClassFacts {
    /// The class.
    pub class: MaterialClass,
    /// It forms a film on the face.
    pub film: bool,
    /// It is mixed from two parts and hardens in the bucket.
    #[serde(default)]
    pub two_part: bool,
    /// It is meant to soak in.
    #[serde(default)]
    pub penetrating: bool,
    /// The next coat goes on while the last is wet.
    #[serde(default)]
    pub wet_on_wet: bool,
    /// Needs an opened face.
    pub needs_bite: Option<bool>,
    /// Finest last grit before it, as a pad number.
    pub finest_last_grit: Option<f64>,
    /// Shortest drying before it, in hours.
    pub dry_before_h: Option<f64>,
    /// Youngest concrete it may go on, in days.
    pub min_age_d: Option<f64>,
    /// Lowest air temperature, in °C.
    pub air_min_c: Option<f64>,
    /// Highest air temperature, in °C.
    pub air_max_c: Option<f64>,
    /// Lowest surface temperature, in °C.
    pub surface_min_c: Option<f64>,
    /// Highest surface temperature, in °C.
    pub surface_max_c: Option<f64>,
    /// Lowest relative humidity, in per cent.
    pub rh_min_pct: Option<f64>,
    /// Highest relative humidity, in per cent.
    pub rh_max_pct: Option<f64>,
    /// Number of coats.
    pub coats: Option<u32>,
    /// Spreading rate per coat, in m²/L.
    pub coverage_m2_per_l: Option<f64>,
    /// Earliest next coat, in hours.
    pub recoat_min_h: Option<f64>,
    /// Latest next coat without abrading, in hours.
    pub recoat_max_h: Option<f64>,
    /// Pot life, in minutes, at `pot_life_at_c`.
    pub pot_life_min: Option<f64>,
    /// Temperature the pot life is given for, in °C.
    pub pot_life_at_c: Option<f64>,
    /// Volume solids, in per cent.
    pub solids_pct: Option<f64>,
    /// Hours until it may be handled.
    pub handle_h: Option<f64>,
    /// Hours until it may be wrapped, breathable.
    pub wrap_h: Option<f64>,
    /// Hours until first water.
    pub water_h: Option<f64>,
    /// Hours until light use.
    pub light_use_h: Option<f64>,
    /// Hours until full use.
    pub full_use_h: Option<f64>,
    /// Highest temperature in use, in °C.
    pub heat_max_c: Option<f64>,
    /// Hours until a fill of it is hard enough for the next pass.
    pub fill_cure_h: Option<f64>,
    /// Months until renewal.
    pub renew_months: Option<u32>,
    /// How much a lot past its date weighs; `None` for what does not stay in the piece.
    pub expired: Option<Expired>,
    /// Usual classification.
    pub hazards: Hazards,
    /// What it resists and what not.
    pub resists: Words,
    /// Care of it, or care in its use.
    pub care: Words,
    /// When it is renewed.
    pub renewal: Option<Words>,
}

impl ClassFacts {
    /// A product of this class seals or protects a face.
    pub fn is_sealer(&self) -> bool {
        self.coats.is_some() && self.class != MaterialClass::SilicateDensifier
    }
}

/// The shipped document.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct Document {
    /// What the values rest on.
    basis: String,
    /// One entry per class.
    classes: Vec<ClassFacts>,
}

const SHIPPED: &str = include_str!("materials/classes.json");

static CLASSES: LazyLock<Document> = LazyLock::new(|| {
    // Invariant: the shipped document is part of the binary, and a test reads it whole.
    let document: Document = serde_json::from_str(SHIPPED).expect("the shipped classes are well formed");
    let place = |class| document.classes.iter().find(|it| it.class == class).expect("every class is shipped");
    let classes = MaterialClass::ALL.iter().map(|class| place(*class).clone()).collect();
    Document { basis: document.basis.clone(), classes }
});

/// The same document, for whoever asks by a field's name.
static DEFAULTS: LazyLock<serde_json::Value> = LazyLock::new(|| {
    // Invariant: as above.
    serde_json::from_str(SHIPPED).expect("the shipped classes are well formed")
});

/// What is known of a class.
pub fn of(class: MaterialClass) -> &'static ClassFacts {
    // The list is in the order of the classes, each once.
    &CLASSES.classes[class as usize]
}

/// The default of a class for a field of its products, by the field's name; `None` where it has none.
pub fn default_of(class: MaterialClass, field: &str) -> Option<&'static serde_json::Value> {
    let all = DEFAULTS["classes"].as_array()?;
    let found = all.iter().find(|it| it["class"] == class.wire())?;
    found.get(field).filter(|value| !value.is_null())
}

/// Every class, in order of declaration.
pub fn all() -> &'static [ClassFacts] {
    &CLASSES.classes
}

/// What the values of every class rest on, as it stands beside them.
pub fn basis() -> &'static str {
    &CLASSES.basis
}

/// The JSON Schema of the shipped document.
pub fn schema() -> Schema {
    schemars::schema_for!(Document)
}
