//! Units of measure: one place where anything is converted. SI inside, US and metric outside.
//!
//! A field carries its unit as the end of its name (`air_c`, `thickness_mm`); [`Dimension`] is that ending.
//! Factors are those of NIST Special Publication 811 (2008), appendix B.8, written so that every exact factor
//! is exact here too. A temperature and a difference of temperatures are two dimensions and never mix.

mod read;
mod show;
mod table;
#[cfg(test)]
mod tests;

pub use read::{BadUnit, parse};
pub use show::{number, show};
pub use table::{Unit, convert, from_unit, to_unit, unit, units_of};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The system of units a shop reads and writes in. Storage is SI whatever this says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, JsonSchema)]
pub enum System {
    /// Metric units, SI and the units accepted beside it.
    #[default]
    #[serde(rename = "si", alias = "metric")]
    Metric,
    /// US customary units.
    #[serde(rename = "us")]
    Us,
}

/// What kind of thing is measured. Units of one quantity convert into each other, others do not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Quantity {
    /// A temperature on a scale with a zero point.
    Temperature,
    /// A difference of temperatures.
    Difference,
    /// A difference of temperatures per time.
    Warming,
    /// A share of a whole.
    Share,
    /// A length.
    Length,
    /// An area.
    Area,
    /// A volume.
    Volume,
    /// A mass.
    Mass,
    /// A mass per volume.
    Density,
    /// A mass per area.
    AreaMass,
    /// A mass per area and time.
    Evaporation,
    /// A pressure or strength.
    Pressure,
    /// A force.
    Force,
    /// A span of time.
    Time,
    /// Temperature above a datum, summed over time.
    Maturity,
    /// A vibration magnitude.
    Acceleration,
    /// A speed.
    Speed,
    /// Turns per time.
    Turning,
    /// A volume per time.
    Flow,
    /// Area covered by a volume.
    Coverage,
    /// Amount of substance per volume.
    Amount,
    /// A sound level.
    Sound,
}

macro_rules! dimensions {
    ($($(#[$doc:meta])* $name:ident = $suffix:literal, $quantity:ident, $unit:literal;)*) => {
        /// A quantity in the unit its field name ends in.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Dimension { $($(#[$doc])* $name,)* }

        impl Dimension {
            /// Every dimension a field name can end in.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// The ending of the field name, without the underscore before it.
            pub const fn suffix(self) -> &'static str {
                match self { $(Self::$name => $suffix,)* }
            }

            /// What kind of thing it measures.
            pub const fn quantity(self) -> Quantity {
                match self { $(Self::$name => Quantity::$quantity,)* }
            }

            /// The symbol of the unit values are stored in.
            pub const fn symbol(self) -> &'static str {
                match self { $(Self::$name => $unit,)* }
            }
        }
    };
}

dimensions! {
    /// A temperature, in degrees Celsius.
    Celsius = "c", Temperature, "°C";
    /// A difference of temperatures, in kelvin.
    Kelvin = "k", Difference, "K";
    /// A rise of temperature, in kelvin per hour.
    KelvinPerHour = "c_per_h", Warming, "K/h";
    /// A share, in per cent.
    Percent = "pct", Share, "%";
    /// A length, in millimetres.
    Millimetre = "mm", Length, "mm";
    /// A length, in metres.
    Metre = "m", Length, "m";
    /// A length, in micrometres.
    Micrometre = "um", Length, "µm";
    /// An area, in square metres.
    SquareMetre = "m2", Area, "m²";
    /// A volume, in litres.
    Litre = "l", Volume, "L";
    /// A volume, in millilitres.
    Millilitre = "ml", Volume, "mL";
    /// A volume, in cubic metres.
    CubicMetre = "m3", Volume, "m³";
    /// A mass, in kilograms.
    Kilogram = "kg", Mass, "kg";
    /// A mass, in grams.
    Gram = "g", Mass, "g";
    /// A density, in kilograms per cubic metre.
    KilogramPerCubicMetre = "kgm3", Density, "kg/m³";
    /// A mass per volume, in grams per litre.
    GramPerLitre = "g_per_l", Density, "g/L";
    /// A density, in kilograms per litre.
    KilogramPerLitre = "kg_per_l", Density, "kg/L";
    /// A mass per volume, in grams per cubic metre (absolute humidity).
    GramPerCubicMetre = "g_per_m3", Density, "g/m³";
    /// A mass per area, in grams per square metre.
    GramPerSquareMetre = "g_per_m2", AreaMass, "g/m²";
    /// A mass per area, in kilograms per square metre.
    KilogramPerSquareMetre = "kg_per_m2", AreaMass, "kg/m²";
    /// Evaporation, in kilograms per square metre and hour.
    KilogramPerSquareMetreHour = "kg_per_m2_h", Evaporation, "kg/(m²·h)";
    /// A strength, in megapascals.
    Megapascal = "mpa", Pressure, "MPa";
    /// A vapour pressure, in pascals.
    Pascal = "pa", Pressure, "Pa";
    /// A force, in newtons.
    Newton = "n", Force, "N";
    /// A time, in minutes.
    Minute = "min", Time, "min";
    /// A time, in hours.
    Hour = "h", Time, "h";
    /// A time, in days.
    Day = "d", Time, "d";
    /// A time, in seconds.
    Second = "s", Time, "s";
    /// Maturity (temperature-time factor), in degree Celsius hours.
    CelsiusHour = "c_h", Maturity, "°C·h";
    /// A vibration magnitude, in metres per second squared.
    MetrePerSecondSquared = "ms2", Acceleration, "m/s²";
    /// A speed, in metres per second.
    MetrePerSecond = "ms", Speed, "m/s";
    /// A speed, in kilometres per hour (wind).
    KilometrePerHour = "km_per_h", Speed, "km/h";
    /// A speed of turning, in revolutions per minute.
    TurnsPerMinute = "rpm", Turning, "rpm";
    /// A flow, in cubic metres per hour.
    CubicMetrePerHour = "m3_per_h", Flow, "m³/h";
    /// Coverage, in square metres per litre.
    SquareMetrePerLitre = "m2_per_l", Coverage, "m²/L";
    /// A concentration, in moles per litre.
    MolePerLitre = "mol_per_l", Amount, "mol/L";
    /// A sound level, in A-weighted decibels.
    Decibel = "dba", Sound, "dB(A)";
}

/// The dimension a field name ends in: `air_c` is a temperature in °C, `yield_m2_per_l` a coverage.
/// The longest ending counts. `None` for a field that carries no unit.
pub fn dimension_of_field(field: &str) -> Option<Dimension> {
    let ends = |d: &&Dimension| field.strip_suffix(d.suffix()).is_some_and(|stem| stem.ends_with('_'));
    Dimension::ALL.iter().filter(ends).max_by_key(|d| d.suffix().len()).copied()
}
