//! Hand-arm vibration: the daily exposure A(8) of one person.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Directive 2002/44/EC and ISO 5349-1: A(8) = √(Σ a²·T / 8 h); action value 2.5 m/s², limit value 5 m/s²; 100 points at the action value, 400 at the limit.",
        "Directiva 2002/44/CE e ISO 5349-1: A(8) = √(Σ a²·T / 8 h); valor de acción 2,5 m/s², valor límite 5 m/s²; 100 puntos en el valor de acción, 400 en el límite.",
    ),
    validity: text(
        "One person and one day of at most 24 h; vector sums of the three axes. Declared values of tools are often lower than what a worn tool gives. Binding in the EU, guidance elsewhere: confirm locally.",
        "Una persona y un día de 24 h como mucho; suma vectorial de los tres ejes. Los valores declarados suelen ser menores que los de una herramienta gastada. Obligatorio en la UE, orientación fuera de ella: confirme la norma local.",
    ),
};

/// Daily exposure action value, m/s².
pub const ACTION_MS2: f64 = 2.5;
/// Daily exposure limit value, m/s².
pub const LIMIT_MS2: f64 = 5.0;

/// Time with one tool.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Use {
    /// Vibration, vector sum of the axes, m/s².
    pub vibration_ms2: f64,
    /// Trigger time, min.
    pub minutes: f64,
}

/// One person's exposure of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposure {
    /// Daily exposure A(8), m/s².
    pub a8_ms2: f64,
    /// Exposure points: 2·a²·T with T in hours.
    pub points: f64,
    /// At or above the action value.
    pub action_reached: bool,
    /// At or above the limit value.
    pub limit_reached: bool,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The exposure of a day.
///
/// # Errors
/// No use, a magnitude outside 0 to 100 m/s², a time below zero, more than 24 hours together.
pub fn exposure(uses: &[Use]) -> Result<Exposure, SumError> {
    if uses.is_empty() {
        return Err(SumError::Missing { field: "points" });
    }
    let mut sum = 0.0;
    let mut minutes = 0.0;
    for part in uses {
        let magnitude = within("vibration_ms2", part.vibration_ms2, 0.0, 100.0)?;
        let time = within("minutes", part.minutes, 0.0, 1_440.0)?;
        minutes += time;
        sum += magnitude * magnitude * time / 60.0;
    }
    within("minutes", minutes, 0.0, 1_440.0)?;
    let a8_ms2 = (sum / 8.0).sqrt();
    Ok(Exposure {
        a8_ms2,
        points: 2.0 * sum,
        // The last bit of a root must not hide a value reached.
        action_reached: a8_ms2 >= ACTION_MS2 - 1e-9,
        limit_reached: a8_ms2 >= LIMIT_MS2 - 1e-9,
        grounds: GROUNDS,
    })
}

/// Vector sum of the three axes, m/s².
///
/// # Errors
/// An axis outside 0 to 100 m/s².
pub fn vector_sum_ms2(x: f64, y: f64, z: f64) -> Result<f64, SumError> {
    let square = |axis| within("vibration_ms2", axis, 0.0, 100.0).map(|a| a * a);
    Ok((square(x)? + square(y)? + square(z)?).sqrt())
}

/// Hours until a magnitude alone reaches `value_ms2`, at most 24.
///
/// # Errors
/// A magnitude outside 0.1 to 100 m/s².
pub fn hours_to(value_ms2: f64, vibration_ms2: f64) -> Result<f64, SumError> {
    let value = within("value_ms2", value_ms2, 0.1, 100.0)?;
    let magnitude = within("vibration_ms2", vibration_ms2, 0.1, 100.0)?;
    Ok((8.0 * (value / magnitude).powi(2)).min(24.0))
}

/// Reads `4.5:90,6.0:30`: m/s² and minutes of each tool.
///
/// # Errors
/// The item that cannot be read.
pub fn parse_uses(list: &str) -> Result<Vec<Use>, SumError> {
    list.split(',').enumerate().map(|(at, item)| parse_use(at + 1, item)).collect()
}

fn parse_use(at: usize, item: &str) -> Result<Use, SumError> {
    let parts = item.split_once(':').and_then(|(vibration, minutes)| {
        Some(Use { vibration_ms2: vibration.trim().parse().ok()?, minutes: minutes.trim().parse().ok()? })
    });
    parts.ok_or_else(|| SumError::Item {
        field: "points",
        at,
        found: item.chars().take(40).collect(),
        why: text(
            "write m/s² and minutes like 4.5:90, items apart by commas",
            "escriba m/s² y minutos como 4.5:90, separados por comas",
        ),
    })
}
