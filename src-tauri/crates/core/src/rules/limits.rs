//! Every number a rule holds something against, each once, with what it rests on.
//!
//! These are the shipped defaults. A limit on the product's data sheet beats its class default, a shop setting
//! beats the shipped one; [`Applied`] says which of them counted.

use super::declare::Basis;
use super::finding::{Fact, FactValue};
use crate::body::setup::Product;
use crate::materials::{self, ClassFacts};
use crate::text::{Text, text};
use crate::units::Dimension;

/// A shipped number.
#[derive(Debug, Clone, Copy)]
pub struct Limit {
    /// What it limits.
    pub name: Text,
    /// The value, in the unit of its dimension.
    pub value: f64,
    /// Its unit; none for a bare number.
    pub unit: Option<Dimension>,
    /// What it rests on.
    pub basis: Basis,
}

macro_rules! limits {
    ($( $(#[$doc:meta])* $name:ident = $value:expr, $unit:expr, $basis:expr, $en:literal, $es:literal; )+) => {
        $( #[doc = $en] $(#[$doc])* pub const $name: Limit = Limit { name: text($en, $es), value: $value, unit: $unit, basis: $basis }; )+
        /// Every shipped number, in the order of the reference page.
        pub const ALL: &[Limit] = &[ $( $name, )+ ];
    };
}

const PRACTICE: Basis = Basis::CommonPractice;
const MPA: Option<Dimension> = Some(Dimension::Megapascal);
const HOURS: Option<Dimension> = Some(Dimension::Hour);
const MINUTES: Option<Dimension> = Some(Dimension::Minute);
const KELVIN: Option<Dimension> = Some(Dimension::Kelvin);
const CELSIUS: Option<Dimension> = Some(Dimension::Celsius);
const PERCENT: Option<Dimension> = Some(Dimension::Percent);
const MICROMETRE: Option<Dimension> = Some(Dimension::Micrometre);
const MILLIMETRE: Option<Dimension> = Some(Dimension::Millimetre);
const MOLAR: Option<Dimension> = Some(Dimension::MolePerLitre);
const MS2: Option<Dimension> = Some(Dimension::MetrePerSecondSquared);

limits! {
    /// 4,000 psi.
    PLAIN_GATE = 27.579, MPA, PRACTICE, "strength before the first cut, plain mix", "resistencia antes del primer corte, mezcla corriente";
    /// 5,000 psi.
    GLASS_GATE = 34.473, MPA, PRACTICE, "strength before the first cut, glass aggregate", "resistencia antes del primer corte, árido de vidrio";
    /// 7,000 psi.
    FINE_GATE = 48.263, MPA, PRACTICE, "strength before grit 100 and finer on a deep face", "resistencia antes del grano 100 y más fino en una cara profunda";
    /// 2,000 psi.
    TEARS_BELOW = 13.789, MPA, PRACTICE, "strength below which a cut tears the paste", "resistencia por debajo de la cual un corte desgarra la pasta";
    /// 10,000 psi.
    GRANITE_HARD = 68.947, MPA, PRACTICE, "strength above which deep grinding is like granite", "resistencia por encima de la cual desbastar a fondo es como granito";
    /// 2,000 psi, quoted for stripping precast.
    LIFT_STRENGTH = 13.789, MPA, Basis::Unconfirmed(text("PCI MNL-117, strength at stripping", "PCI MNL-117, resistencia al desmoldar")), "strength before handling and lifting", "resistencia antes de manipular y elevar";
    LIFT_AGE = 16.0, HOURS, PRACTICE, "age before handling and lifting where no strength is known", "edad antes de manipular y elevar si no se conoce la resistencia";
    REBOUND_THICKNESS = 100.0, MILLIMETRE, Basis::Unconfirmed(text("EN 12504-2 and ASTM C805", "EN 12504-2 y ASTM C805")), "thinnest member a rebound hammer reads", "espesor mínimo que lee un esclerómetro";
    /// The careful end of 1.10 to 1.25.
    CUBE_PER_CYLINDER = 1.25, None, PRACTICE, "cube strength over cylinder strength", "resistencia de cubo entre resistencia de cilindro";
    /// Pad 20, with room for pads of different makes.
    VERY_COARSE_UM = 900.0, MICROMETRE, PRACTICE, "size above which a metal tool is for very hard concrete only (coarser than about 20)", "tamaño por encima del cual un útil metálico es solo para hormigón muy duro (más grueso que 20, más o menos)";
    COARSE_METAL_UM = 700.0, MICROMETRE, PRACTICE, "size from which a metal tool counts as coarse (about grit 20)", "tamaño desde el que un útil metálico es grueso (grano 20, más o menos)";
    FINE_END_UM = 40.0, MICROMETRE, PRACTICE, "size from which a grit counts as the fine end (about 400)", "tamaño desde el que un grano es del extremo fino (400, más o menos)";
    /// Pad 100, with 7 % for pads of different makes.
    FINE_PASS_UM = 160.0, MICROMETRE, PRACTICE, "size from which a pass counts as 100 or finer", "tamaño desde el que una pasada es de 100 o más fina";
    HONED_UM = 80.0, MICROMETRE, PRACTICE, "size down to which metal chatter is ground out (about 200)", "tamaño hasta el que se borran las marcas de metal (200, más o menos)";
    USELESS_UM = 17.0, MICROMETRE, PRACTICE, "size finer than which a sealer hides the gain (about 800)", "tamaño por debajo del cual el sellador oculta la mejora (800, más o menos)";
    SAME_GRIT = 1.10, None, PRACTICE, "size ratio within which two grits count as the same", "razón de tamaños dentro de la cual dos granos son el mismo";
    PLUCK_WAIT = 24.0, HOURS, PRACTICE, "wait after plucking where no new evidence of strength is recorded", "espera tras un arranque si no hay nueva prueba de resistencia";
    FILL_CURE = 12.0, HOURS, PRACTICE, "cure of a cement fill before the next pass", "curado de un relleno de cemento antes de la siguiente pasada";
    /// 10:1 of 31.45 % acid.
    ACID_STRENGTH = 0.91, MOLAR, PRACTICE, "strongest hydrochloric wash (10:1 of 31 % acid)", "lavado clorhídrico más fuerte (10:1 de ácido al 31 %)";
    HOUSEHOLD_AMMONIA = 10.0, PERCENT, PRACTICE, "strongest ammonia for neutralising", "amoníaco más fuerte para neutralizar";
    AMMONIA_RATIO = 10.0, None, PRACTICE, "water to one part of household ammonia, at least", "agua por parte de amoníaco doméstico, al menos";
    TAP_PH_LOW = 6.5, None, Basis::Unconfirmed(text("US secondary drinking water standards, pH 6.5 to 8.5", "normas secundarias de agua potable de EE. UU., pH de 6,5 a 8,5")), "lowest pH of tap water where none was read", "pH mínimo del agua del grifo si no se midió";
    TAP_PH_HIGH = 8.5, None, Basis::Unconfirmed(text("US secondary drinking water standards, pH 6.5 to 8.5", "normas secundarias de agua potable de EE. UU., pH de 6,5 a 8,5")), "highest pH of tap water where none was read", "pH máximo del agua del grifo si no se midió";
    PH_BELOW = 1.0, None, Basis::Unconfirmed(text("SSPC-SP 13/NACE 6 and ASTM D4260", "SSPC-SP 13/NACE 6 y ASTM D4260")), "pH below the rinse water", "pH por debajo del agua de enjuague";
    PH_ABOVE = 2.0, None, Basis::Unconfirmed(text("SSPC-SP 13/NACE 6 and ASTM D4260", "SSPC-SP 13/NACE 6 y ASTM D4260")), "pH above the rinse water", "pH por encima del agua de enjuague";
    DRY_BEFORE = 24.0, HOURS, PRACTICE, "drying before a sealer", "secado antes de un sellador";
    SHEET_ON = 16.0, HOURS, Basis::Unconfirmed(text("ASTM D4263", "ASTM D4263")), "time a plastic sheet is left on", "tiempo que se deja puesta la lámina plástica";
    DRY_RH = 60.0, PERCENT, PRACTICE, "humidity of the air above which drying takes longer", "humedad del aire por encima de la cual el secado tarda más";
    HUMID_FACTOR = 2.0, None, PRACTICE, "drying time in humid air over the usual one", "tiempo de secado en aire húmedo entre el usual";
    /// One threshold: 5 °F would be 2.8 K.
    DEW_MARGIN = crate::sums::air::DEW_MARGIN_K, KELVIN, Basis::Unconfirmed(text("ISO 8502-4 and ISO 12944-7, a rule for steel, here applied to concrete", "ISO 8502-4 e ISO 12944-7, regla para acero aplicada aquí al hormigón")), "surface above the dew point", "superficie sobre el punto de rocío";
    SURFACE_RISE = 0.5, KELVIN, PRACTICE, "rise of the surface that counts as warming", "subida de la superficie que cuenta como calentamiento";
    POT_LIFE_AT = 23.0, CELSIUS, Basis::Unconfirmed(text("ISO 3270, standard atmosphere for paints", "ISO 3270, atmósfera normal para pinturas")), "temperature of a pot life where its sheet names none", "temperatura de una vida de mezcla si la ficha no la indica";
    CLIMATE_FRESH = 2.0, HOURS, PRACTICE, "age of a climate reading that still speaks for now", "antigüedad de una lectura de clima que aún vale";
    MATT_AT_200 = 48.263, MPA, PRACTICE, "strength for ending at 200 under a reactive sealer", "resistencia para acabar en 200 bajo un sellador reactivo";
    QUANTITY_OFF = 25.0, PERCENT, PRACTICE, "difference of quantity used from quantity called for", "diferencia entre lo gastado y lo previsto";
    HEAT_RISE = crate::sums::strength::HEAT_RISE_K_PER_H, KELVIN, PRACTICE, "rise of temperature per hour under heat", "subida de temperatura por hora con calor";
    HEAT_CAUTION = crate::sums::strength::HEAT_LIMIT_C, CELSIUS, PRACTICE, "concrete temperature under heat, careful end", "temperatura del hormigón con calor, extremo prudente";
    HEAT_STOP = 70.0, CELSIUS, PRACTICE, "concrete temperature under heat", "temperatura del hormigón con calor";
    STRIP_DIFFERENCE = 20.0, KELVIN, PRACTICE, "concrete over room temperature before stripping", "hormigón sobre la temperatura del local antes de desmoldear";
    SHIFT = 12.0, HOURS, PRACTICE, "how long a safety confirmation holds", "cuánto vale una confirmación de seguridad";
    WORK_PERIOD = 12.0, HOURS, PRACTICE, "work period within which bleach and acid must not meet", "periodo de trabajo en el que lejía y ácido no deben coincidir";
    PERSON_LIFT = 25.0, Some(Dimension::Kilogram), PRACTICE, "mass one person may lift", "masa que puede levantar una persona";
    DENSITY = 2400.0, Some(Dimension::KilogramPerCubicMetre), PRACTICE, "density where the mix states none", "densidad si la mezcla no la indica";
    VIBRATION_ACTION = 2.5, MS2, Basis::Published(text("Directive 2002/44/EC, article 3", "Directiva 2002/44/CE, artículo 3")), "vibration A(8), action value", "vibración A(8), valor que da lugar a una acción";
    VIBRATION_LIMIT = 5.0, MS2, Basis::Published(text("Directive 2002/44/EC, article 3", "Directiva 2002/44/CE, artículo 3")), "vibration A(8), limit value", "vibración A(8), valor límite";
    /// At 5 m/s² the action value is reached in two hours.
    VIBRATION_ASK = 120.0, MINUTES, PRACTICE, "minutes a day with tools of unknown vibration", "minutos al día con útiles de vibración desconocida";
    CLOCK_JUMP = 1.0, HOURS, Basis::Record, "difference between a device's clock and the order of its entries", "diferencia entre el reloj de un dispositivo y el orden de sus entradas";
    LATE_AFTER = 24.0, HOURS, Basis::Record, "hours from work to record", "horas del trabajo al registro";
}

/// Where a limit that was applied came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The product's data sheet, as the shop entered it.
    DataSheet,
    /// A setting of the shop.
    ShopSetting,
    /// The shipped default of the material class.
    ClassDefault,
    /// The shipped default of the rule.
    Shipped,
}

impl Source {
    /// The words for it.
    pub const fn label(self) -> Text {
        match self {
            Self::DataSheet => text("data sheet", "ficha técnica"),
            Self::ShopSetting => text("shop setting", "ajuste del taller"),
            Self::ClassDefault => text("class default", "valor de la clase"),
            Self::Shipped => text("shipped default", "valor de fábrica"),
        }
    }
}

/// A limit that was applied, and where it came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Applied {
    /// The value.
    pub value: f64,
    /// Where it came from.
    pub source: Source,
}

impl Applied {
    /// A shipped limit.
    pub(crate) const fn shipped(limit: &Limit) -> Self {
        Self { value: limit.value, source: Source::Shipped }
    }

    /// The shop's setting where there is one, else the shipped limit.
    pub(crate) fn setting(setting: Option<f64>, limit: &Limit) -> Self {
        let set = setting.map(|value| Self { value, source: Source::ShopSetting });
        set.unwrap_or(Self::shipped(limit))
    }

    /// The limit and where it came from, as facts.
    pub(crate) fn facts(&self, name: Text, unit: Dimension) -> [Fact; 2] {
        [Fact::new(name, FactValue::Number(self.value, unit)), self.source_fact()]
    }

    /// Where it came from, as a fact.
    pub(crate) fn source_fact(&self) -> Fact {
        Fact::new(text("limit from", "límite según"), FactValue::Word(self.source.label()))
    }
}

/// A limit of a product: its data sheet's, else the default of its class.
pub(crate) fn of_product(
    product: &Product,
    sheet: fn(&Product) -> Option<f64>,
    class: fn(&ClassFacts) -> Option<f64>,
) -> Option<Applied> {
    let given = sheet(product).map(|value| Applied { value, source: Source::DataSheet });
    let default =
        || class(materials::of(product.class)).map(|value| Applied { value, source: Source::ClassDefault });
    given.or_else(default)
}

impl Limit {
    /// The limit as a fact.
    pub(crate) fn fact(&self) -> Fact {
        let value = match self.unit {
            Some(unit) => FactValue::Number(self.value, unit),
            None => FactValue::Count(self.value, 2),
        };
        Fact::new(self.name, value)
    }
}
