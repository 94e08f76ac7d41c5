//! The factor table.
//!
//! Each quantity has a small base (tenth of a micrometre and the like) in which the exact US factors are whole
//! numbers, so that a conversion is one multiplication and one division, each correctly rounded.

use super::{Dimension, Quantity};
use Quantity as Q;

/// One unit: its names and what one of it is in the base of its quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// The symbol it is written with.
    pub symbol: &'static str,
    /// Other spellings that are read, in lower case unless case matters.
    pub aliases: &'static [&'static str],
    /// What it measures.
    pub quantity: Quantity,
    /// One of it in the base of its quantity.
    factor: f64,
    /// Where its zero lies in the base; only temperatures have one.
    zero: f64,
}

const fn u(symbol: &'static str, aliases: &'static [&'static str], quantity: Quantity, factor: f64) -> Unit {
    Unit { symbol, aliases, quantity, factor, zero: 0.0 }
}

/// Standard gravity, m/s², exact by definition (NIST SP 811, B.8).
const GRAVITY: f64 = 9.806_65;
/// Avoirdupois pound, kg, exact.
const POUND: f64 = 0.453_592_37;
/// Square foot, m², exact.
const SQUARE_FOOT: f64 = 0.092_903_04;
/// US gallon, L, exact.
const GALLON: f64 = 3.785_411_784;
/// Cubic foot, m³, exact.
const CUBIC_FOOT: f64 = 0.028_316_846_592;

/// Every unit that is read or shown. Source of the factors: NIST SP 811 (2008), appendix B.8; the imperial
/// gallon and fluid ounce likewise.
static UNITS: &[Unit] = &[
    // Base: kelvin, with the zero of each scale. A degree Fahrenheit is 5/9 K.
    Unit { zero: 273.15, ..u("°C", &["c", "celsius", "ºc", "℃", "deg c", "degc"], Q::Temperature, 1.0) },
    Unit {
        zero: 459.67 * 5.0 / 9.0,
        ..u("°F", &["f", "fahrenheit", "ºf", "℉", "deg f", "degf"], Q::Temperature, 5.0 / 9.0)
    },
    u("K", &["kelvin"], Q::Temperature, 1.0),
    u("K", &["kelvin", "°c", "ºc", "c", "℃", "deg c", "degc"], Q::Difference, 9.0),
    u("°F", &["f", "ºf", "℉", "deg f", "degf"], Q::Difference, 5.0),
    u("K/h", &["°c/h", "c/h"], Q::Warming, 9.0),
    u("°F/h", &["f/h"], Q::Warming, 5.0),
    u("%", &["pct", "percent", "per cent"], Q::Share, 1.0),
    // Base: a hundredth of a micrometre.
    u("µm", &["um", "μm", "micron", "microns"], Q::Length, 100.0),
    u("mm", &[], Q::Length, 100_000.0),
    u("cm", &[], Q::Length, 1_000_000.0),
    u("m", &[], Q::Length, 100_000_000.0),
    u("mil", &["mils", "thou"], Q::Length, 2_540.0),
    u("in", &["\"", "inch", "inches", "″"], Q::Length, 2_540_000.0),
    u("ft", &["'", "foot", "feet", "′"], Q::Length, 30_480_000.0),
    u("yd", &["yard", "yards"], Q::Length, 91_440_000.0),
    // Base: a hundredth of a square millimetre.
    u("mm²", &["mm2"], Q::Area, 100.0),
    u("cm²", &["cm2"], Q::Area, 10_000.0),
    u("m²", &["m2", "sqm", "sq m"], Q::Area, 100_000_000.0),
    u("in²", &["in2", "sq in", "sqin"], Q::Area, 64_516.0),
    u("ft²", &["ft2", "sq ft", "sqft", "sf"], Q::Area, 9_290_304.0),
    u("yd²", &["yd2", "sq yd"], Q::Area, 83_612_736.0),
    // Base: nanolitre.
    u("mL", &["ml", "cm³", "cm3", "cc"], Q::Volume, 1e6),
    u("L", &["l", "liter", "liters", "litre", "litres", "dm³", "dm3"], Q::Volume, 1e9),
    u("m³", &["m3"], Q::Volume, 1e12),
    u("fl oz", &["us fl oz", "floz", "fl. oz", "fl. oz."], Q::Volume, 29_573_529.562_5),
    u("cup", &["cups", "us cup"], Q::Volume, 236_588_236.5),
    u("pt", &["us pt", "pint", "pints"], Q::Volume, 473_176_473.0),
    u("qt", &["us qt", "quart", "quarts"], Q::Volume, 946_352_946.0),
    u("gal", &["us gal", "gallon", "gallons"], Q::Volume, 3_785_411_784.0),
    u("imp gal", &["uk gal"], Q::Volume, 4_546_090_000.0),
    u("imp fl oz", &["uk fl oz"], Q::Volume, 28_413_062.5),
    u("ft³", &["ft3", "cu ft", "cuft"], Q::Volume, 28_316_846_592.0),
    u("yd³", &["yd3", "cu yd"], Q::Volume, 764_554_857_984.0),
    u("in³", &["in3", "cu in"], Q::Volume, 16_387_064.0),
    // Base: ten micrograms.
    u("mg", &[], Q::Mass, 100.0),
    u("g", &["gram", "grams"], Q::Mass, 100_000.0),
    u("kg", &["kilogram", "kilograms"], Q::Mass, 100_000_000.0),
    u("t", &["tonne", "tonnes"], Q::Mass, 100_000_000_000.0),
    u("oz", &["ounce", "ounces"], Q::Mass, 2_834_952.312_5),
    u("lb", &["lbs", "pound", "pounds", "#"], Q::Mass, 45_359_237.0),
    // Base: gram per cubic metre.
    u("g/m³", &["g/m3"], Q::Density, 1.0),
    u("kg/m³", &["kg/m3"], Q::Density, 1e3),
    u("g/L", &["g/l", "gpl"], Q::Density, 1e3),
    u("kg/L", &["kg/l", "g/ml", "g/mL", "g/cm³", "g/cm3"], Q::Density, 1e6),
    u("lb/ft³", &["lb/ft3", "pcf"], Q::Density, POUND * 1e3 / CUBIC_FOOT),
    u("lb/yd³", &["lb/yd3", "pcy"], Q::Density, POUND * 1e3 / 0.764_554_857_984),
    u("lb/gal", &["lb/us gal"], Q::Density, POUND * 1e6 / GALLON),
    u("oz/gal", &["oz/us gal"], Q::Density, POUND / 16.0 * 1e6 / GALLON),
    // Base: gram per square metre.
    u("g/m²", &["g/m2", "gsm"], Q::AreaMass, 1.0),
    u("kg/m²", &["kg/m2"], Q::AreaMass, 1e3),
    u("oz/ft²", &["oz/ft2"], Q::AreaMass, POUND / 16.0 * 1e3 / SQUARE_FOOT),
    u("oz/yd²", &["oz/yd2"], Q::AreaMass, POUND / 16.0 * 1e3 / 0.836_127_36),
    u("lb/ft²", &["lb/ft2", "psf"], Q::AreaMass, POUND * 1e3 / SQUARE_FOOT),
    // Base: kilogram per square metre and hour.
    u("kg/(m²·h)", &["kg/m²/h", "kg/m2/h"], Q::Evaporation, 1.0),
    u("lb/(ft²·h)", &["lb/ft²/h", "lb/ft2/h"], Q::Evaporation, POUND / SQUARE_FOOT),
    // Base: pascal.
    u("Pa", &["pa"], Q::Pressure, 1.0),
    u("hPa", &["hpa", "mbar"], Q::Pressure, 100.0),
    u("kPa", &["kpa"], Q::Pressure, 1e3),
    u("MPa", &["mpa", "N/mm²", "n/mm²", "n/mm2"], Q::Pressure, 1e6),
    u("psi", &["lbf/in²", "lbf/in2"], Q::Pressure, POUND * GRAVITY / 0.000_645_16),
    u("ksi", &[], Q::Pressure, POUND * GRAVITY / 0.000_645_16 * 1e3),
    // Base: newton.
    u("N", &["n"], Q::Force, 1.0),
    u("kN", &["kn"], Q::Force, 1e3),
    u("lbf", &[], Q::Force, POUND * GRAVITY),
    // Base: second.
    u("s", &["sec", "second", "seconds"], Q::Time, 1.0),
    u("min", &["minute", "minutes", "mins"], Q::Time, 60.0),
    u("h", &["hr", "hrs", "hour", "hours"], Q::Time, 3_600.0),
    u("d", &["day", "days"], Q::Time, 86_400.0),
    u("wk", &["week", "weeks"], Q::Time, 604_800.0),
    // Base: a ninth of a degree Celsius hour, so that a degree Fahrenheit hour is whole.
    u("°C·h", &["°c h", "c·h", "c h", "°c-h"], Q::Maturity, 9.0),
    u("°F·h", &["°f h", "f·h", "f h", "°f-h"], Q::Maturity, 5.0),
    u("°C·d", &["°c d", "c·d", "c d", "°c·day"], Q::Maturity, 216.0),
    // Base: metre per second squared.
    u("m/s²", &["m/s2"], Q::Acceleration, 1.0),
    u("ft/s²", &["ft/s2"], Q::Acceleration, 0.304_8),
    // Base: metre per hour.
    u("m/s", &[], Q::Speed, 3_600.0),
    u("km/h", &["kmh", "kph"], Q::Speed, 1_000.0),
    u("mph", &["mi/h"], Q::Speed, 1_609.344),
    u("ft/min", &["fpm"], Q::Speed, 18.288),
    u("rpm", &["1/min", "r/min", "/min"], Q::Turning, 1.0),
    // Base: cubic metre per hour.
    u("m³/h", &["m3/h"], Q::Flow, 1.0),
    u("L/s", &["l/s"], Q::Flow, 3.6),
    u("cfm", &["ft³/min", "ft3/min"], Q::Flow, CUBIC_FOOT * 60.0),
    // Base: square metre per litre.
    u("m²/L", &["m2/l", "m²/l"], Q::Coverage, 1.0),
    u("ft²/gal", &["ft2/gal", "sq ft/gal", "ft²/us gal", "sqft/gal"], Q::Coverage, SQUARE_FOOT / GALLON),
    u("mol/L", &["mol/l"], Q::Amount, 1.0),
    u("mmol/L", &["mmol/l"], Q::Amount, 0.001),
    u("dB(A)", &["dba", "db", "db(a)"], Q::Sound, 1.0),
];

/// All units of a quantity, in the order of the table.
pub fn units_of(quantity: Quantity) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.quantity == quantity)
}

/// The unit of this quantity with this symbol or spelling. The symbol counts first and with its case, then
/// the other spellings without regard to case.
pub fn unit(name: &str, quantity: Quantity) -> Option<&'static Unit> {
    let lower = name.to_lowercase();
    let exact = units_of(quantity).find(|unit| unit.symbol == name || unit.aliases.contains(&name));
    exact.or_else(|| {
        units_of(quantity).find(|u| u.symbol.to_lowercase() == lower || u.aliases.contains(&lower.as_str()))
    })
}

/// Converts between two units of one quantity; `None` where they measure different things.
pub fn convert(value: f64, from: &Unit, to: &Unit) -> Option<f64> {
    if from.quantity != to.quantity {
        return None;
    }
    if from == to {
        return Some(value);
    }
    if from.quantity == Quantity::Temperature {
        return Some(temperature(value, from, to));
    }
    Some(value * from.factor / to.factor)
}

/// Between Celsius and Fahrenheit without the detour through kelvin, which would cost the last digits.
fn temperature(value: f64, from: &Unit, to: &Unit) -> f64 {
    match (from.symbol, to.symbol) {
        ("°F", "°C") => (value - 32.0) * 5.0 / 9.0,
        ("°C", "°F") => value * 9.0 / 5.0 + 32.0,
        _ => (value * from.factor + from.zero - to.zero) / to.factor,
    }
}

/// A value in `unit`, in the unit of the dimension. `None` where they measure different things.
pub fn from_unit(value: f64, from: &Unit, dimension: Dimension) -> Option<f64> {
    convert(value, from, stored(dimension)?)
}

/// A value of the dimension, in `to`. `None` where they measure different things.
pub fn to_unit(value: f64, dimension: Dimension, to: &Unit) -> Option<f64> {
    convert(value, stored(dimension)?, to)
}

fn stored(dimension: Dimension) -> Option<&'static Unit> {
    units_of(dimension.quantity()).find(|unit| unit.symbol == dimension.symbol())
}

/// Whether any quantity has a unit of this name.
pub(super) fn known_elsewhere(name: &str) -> bool {
    Dimension::ALL.iter().any(|dimension| unit(name, dimension.quantity()).is_some())
}
