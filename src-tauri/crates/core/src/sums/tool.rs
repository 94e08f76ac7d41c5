//! Tools: life by area, rate of work, speed at the rim.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Areas the shop has seen its tools last. Default for a set of diamond brushes: 5,000 to 20,000 ft² per grit (common practice, no source).",
        "Superficies que el taller ha visto durar sus útiles. Por defecto, un juego de cepillos de diamante: 5 000 a 20 000 ft² por grano (práctica común, sin fuente).",
    ),
    validity: text(
        "The same bond on concrete of like hardness. The speed marked on tool and pad is never exceeded.",
        "La misma liga en hormigón de dureza parecida. Nunca se supera la velocidad marcada en máquina y disco.",
    ),
};

/// Life of a set of diamond brushes per grit, m², least and most: 5,000 and 20,000 ft².
pub const BRUSH_LIFE_M2: (f64, f64) = (464.515_2, 1_858.060_8);

/// What a job takes of a tool.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wear {
    /// Tools the area uses up, with the wear already on the first.
    pub tools: f64,
    /// Whole tools to have at hand.
    pub tools_to_have: u32,
    /// Life left in the last one, m².
    pub left_m2: f64,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// Tools for `area_m2`, each lasting `life_m2`, the first already having done `done_m2`.
///
/// # Errors
/// Areas or lives no tool has.
pub fn wear(area_m2: f64, life_m2: f64, done_m2: f64) -> Result<Wear, SumError> {
    let area = within("area_m2", area_m2, 0.0, 1_000_000.0)?;
    let life = within("life_m2", life_m2, 0.01, 1_000_000.0)?;
    let done = within("done_m2", done_m2, 0.0, life)?;
    let tools = (done + area) / life;
    let whole = (tools - 1e-9).ceil().max(1.0);
    Ok(Wear { tools, tools_to_have: whole as u32, left_m2: whole * life - done - area, grounds: GROUNDS })
}

/// The life of a tool as the shop has seen it: the middle of its records, m².
///
/// # Errors
/// No record, or one that is not an area.
pub fn seen_life_m2(records_m2: &[f64]) -> Result<f64, SumError> {
    let mut records = Vec::with_capacity(records_m2.len());
    for record in records_m2 {
        records.push(within("life_m2", *record, 0.01, 1_000_000.0)?);
    }
    records.sort_by(f64::total_cmp);
    match records.len() {
        0 => Err(SumError::Missing { field: "life_m2" }),
        n if n % 2 == 1 => Ok(records[n / 2]),
        n => Ok(f64::midpoint(records[n / 2 - 1], records[n / 2])),
    }
}

/// Speed at the rim, m/s: π · diameter · turns.
///
/// # Errors
/// A diameter or a speed no tool has.
pub fn rim_speed_ms(diameter_mm: f64, speed_rpm: f64) -> Result<f64, SumError> {
    let diameter = within("diameter_mm", diameter_mm, 5.0, 2_000.0)?;
    let turns = within("speed_rpm", speed_rpm, 1.0, 30_000.0)?;
    Ok(std::f64::consts::PI * diameter / 1000.0 * turns / 60.0)
}
