//! Reads a value with its unit as people write it: `68 °F`, `1 1/2 in`, `4 ft 6 in`, `2,5 L`.

use super::table::{known_elsewhere, unit, units_of};
use super::{Dimension, Quantity, from_unit};
use crate::text::Lang;

/// A value with a unit that cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BadUnit {
    /// There is no number where one should stand.
    NoNumber {
        /// What was read.
        text: String,
    },
    /// The number stands alone.
    NoUnit {
        /// What was read.
        text: String,
        /// The units that fit.
        accepted: String,
    },
    /// No such unit.
    Unknown {
        /// The unit as written.
        unit: String,
        /// The units that fit.
        accepted: String,
    },
    /// A unit, but of something else.
    WrongQuantity {
        /// The unit as written.
        unit: String,
        /// The units that fit.
        accepted: String,
    },
    /// The number or the unit has more than one reading.
    Ambiguous {
        /// What was read.
        text: String,
        /// The readings it could have.
        choices: &'static str,
    },
    /// Not a size anything has: not finite, below absolute zero, above 10^15.
    OutOfRange {
        /// What was read.
        text: String,
    },
}

impl BadUnit {
    /// The error in words.
    pub fn say(&self, lang: Lang) -> String {
        match lang {
            Lang::En => self.english(),
            Lang::Es => self.spanish(),
        }
    }

    fn english(&self) -> String {
        match self {
            Self::NoNumber { text } => {
                format!("{text:?} does not begin with a number; write it like \"68 °F\"")
            }
            Self::NoUnit { text, accepted } => format!("{text:?} has no unit; one of {accepted} fits"),
            Self::Unknown { unit, accepted } => format!("unknown unit {unit:?}; one of {accepted} fits"),
            Self::WrongQuantity { unit, accepted } => {
                format!("the unit {unit:?} measures something else; one of {accepted} fits")
            }
            Self::Ambiguous { text, choices } => {
                format!("{text:?} has more than one reading; write {choices}")
            }
            Self::OutOfRange { text } => format!("{text:?} is not a size this can have"),
        }
    }

    fn spanish(&self) -> String {
        match self {
            Self::NoNumber { text } => {
                format!("{text:?} no empieza con un número; escriba por ejemplo \"68 °F\"")
            }
            Self::NoUnit { text, accepted } => format!("{text:?} no lleva unidad; vale una de {accepted}"),
            Self::Unknown { unit, accepted } => {
                format!("unidad desconocida {unit:?}; vale una de {accepted}")
            }
            Self::WrongQuantity { unit, accepted } => {
                format!("la unidad {unit:?} mide otra cosa; vale una de {accepted}")
            }
            Self::Ambiguous { text, choices } => {
                format!("{text:?} admite más de una lectura; escriba {choices}")
            }
            Self::OutOfRange { text } => format!("{text:?} no es una medida posible aquí"),
        }
    }
}

impl std::fmt::Display for BadUnit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.english())
    }
}

impl std::error::Error for BadUnit {}

/// The largest size anything is recorded with.
const LARGEST: f64 = 1e15;

/// Reads `text` as a value of `dimension` and gives it in the unit of the dimension.
///
/// A value may be made of parts (`4 ft 6 in`, `2 h 30 min`) and hold a fraction (`1 1/2 in`). A decimal comma
/// is taken where it cannot be a thousands mark; `1,500` is refused as ambiguous.
///
/// # Errors
/// [`BadUnit`] names what was read and which units fit.
pub fn parse(text: &str, dimension: Dimension) -> Result<f64, BadUnit> {
    let mut rest = text.trim();
    let mut total: Option<f64> = None;
    while !rest.is_empty() {
        let (value, after) = take_number(rest).map_err(|bad| bad.about(text))?;
        let (name, after) = take_unit(after);
        let part = in_stored_unit(value, name, text, dimension)?;
        let adds = !matches!(dimension.quantity(), Quantity::Temperature | Quantity::Sound);
        total = match total {
            Some(_) if !adds || value < 0.0 => return Err(BadUnit::NoNumber { text: shown(text) }),
            Some(sum) if sum < 0.0 => Some(sum - part),
            Some(sum) => Some(sum + part),
            None => Some(part),
        };
        rest = after;
    }
    let value = total.ok_or_else(|| BadUnit::NoNumber { text: shown(text) })?;
    within_range(value, text, dimension)
}

fn within_range(value: f64, text: &str, dimension: Dimension) -> Result<f64, BadUnit> {
    let frozen_solid = dimension == Dimension::Celsius && value < -273.15;
    if !value.is_finite() || value.abs() > LARGEST || frozen_solid {
        return Err(BadUnit::OutOfRange { text: shown(text) });
    }
    Ok(value)
}

fn in_stored_unit(value: f64, name: &str, text: &str, dimension: Dimension) -> Result<f64, BadUnit> {
    let accepted = || accepted(dimension.quantity());
    if name.is_empty() {
        return Err(BadUnit::NoUnit { text: shown(text), accepted: accepted() });
    }
    if let Some(choices) = ambiguous_unit(name, dimension.quantity()) {
        return Err(BadUnit::Ambiguous { text: shown(name), choices });
    }
    let found = unit(name, dimension.quantity());
    found.and_then(|unit| from_unit(value, unit, dimension)).ok_or_else(|| {
        let unit = shown(name);
        match known_elsewhere(name) {
            true => BadUnit::WrongQuantity { unit, accepted: accepted() },
            false => BadUnit::Unknown { unit, accepted: accepted() },
        }
    })
}

/// Names that mean two things to people who write them.
fn ambiguous_unit(name: &str, quantity: Quantity) -> Option<&'static str> {
    match (name.to_lowercase().as_str(), quantity) {
        ("oz" | "ounce" | "ounces", Quantity::Volume) => Some("\"fl oz\" (US), \"imp fl oz\""),
        ("ton" | "tons", Quantity::Mass) => Some("\"t\" (1000 kg), \"lb\""),
        _ => None,
    }
}

fn accepted(quantity: Quantity) -> String {
    let symbols: Vec<&str> = units_of(quantity).map(|unit| unit.symbol).collect();
    symbols.join(", ")
}

fn shown(text: &str) -> String {
    text.trim().chars().take(40).collect()
}

enum BadNumber {
    Missing,
    TwoReadings,
}

impl BadNumber {
    fn about(self, text: &str) -> BadUnit {
        match self {
            Self::Missing => BadUnit::NoNumber { text: shown(text) },
            Self::TwoReadings => BadUnit::Ambiguous { text: shown(text), choices: "1500, 1.5" },
        }
    }
}

/// A number, perhaps with a fraction after it: `2`, `2.5`, `2,5`, `1 1/2`, `3/4`, `6e-3`.
fn take_number(text: &str) -> Result<(f64, &str), BadNumber> {
    let (sign, body) = match text.strip_prefix(['-', '−']) {
        Some(body) => (-1.0, body.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    if let Some((share, rest)) = take_fraction(body) {
        return Ok((sign * share, rest));
    }
    let (value, rest) = take_decimal(body)?;
    match take_fraction(rest.trim_start()) {
        Some((share, after)) if value.fract() == 0.0 => Ok((sign * (value + share), after)),
        _ => Ok((sign * value, rest)),
    }
}

fn take_fraction(text: &str) -> Option<(f64, &str)> {
    let (top, rest) = take_digits(text)?;
    let (bottom, rest) = take_digits(rest.strip_prefix(['/', '⁄'])?)?;
    let (top, bottom): (f64, f64) = (top.parse().ok()?, bottom.parse().ok()?);
    (bottom > 0.0).then_some((top / bottom, rest))
}

fn take_digits(text: &str) -> Option<(&str, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    (end > 0).then(|| text.split_at(end))
}

fn take_decimal(text: &str) -> Result<(f64, &str), BadNumber> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(text.len());
    let end = end + exponent_length(&text[end..]);
    let (figures, rest) = text.split_at(end);
    let point = decimal_point(figures)?;
    let value = point.parse().map_err(|_| BadNumber::Missing)?;
    Ok((value, rest))
}

/// Bytes of an exponent such as `e-3`; `e` without figures is the start of a unit.
fn exponent_length(text: &str) -> usize {
    let Some(body) = text.strip_prefix(['e', 'E']) else { return 0 };
    let figures = body.strip_prefix(['-', '+']).unwrap_or(body);
    match take_digits(figures) {
        Some((digits, _)) => text.len() - figures.len() + digits.len(),
        None => 0,
    }
}

/// The figures with a decimal point; refuses a comma that may mark thousands.
fn decimal_point(figures: &str) -> Result<String, BadNumber> {
    let Some((whole, tail)) = figures.split_once(',') else { return Ok(figures.to_owned()) };
    if tail.contains([',', '.']) || whole.contains('.') {
        return Err(BadNumber::TwoReadings);
    }
    let digits = tail.find(|c: char| !c.is_ascii_digit()).unwrap_or(tail.len());
    if digits == 3 && whole != "0" {
        return Err(BadNumber::TwoReadings);
    }
    Ok(format!("{whole}.{tail}"))
}

/// The unit's name and what stands after it: a name ends where the next number begins after a space.
fn take_unit(text: &str) -> (&str, &str) {
    let text = text.trim_start();
    let next = text
        .char_indices()
        .find(|&(at, c)| c.is_ascii_digit() && text[..at].ends_with([' ', '\'', '"', '\u{a0}']));
    let (name, rest) = text.split_at(next.map_or(text.len(), |(at, _)| at));
    (name.trim(), rest)
}
