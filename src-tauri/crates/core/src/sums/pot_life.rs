//! How long a mixed two-part product stays usable.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Common practice, no source: pot life halves for every 10 °C warmer.",
        "Práctica común, sin fuente: la vida útil de la mezcla se reduce a la mitad por cada 10 °C más.",
    ),
    validity: text(
        "From 0 to 50 °C and at most 30 K from the temperature of the data sheet; small batches. A full bucket heats itself and goes sooner. The data sheet wins.",
        "De 0 a 50 °C y a 30 K como mucho de la temperatura de la ficha; cantidades pequeñas. Un cubo lleno se calienta y dura menos. Manda la ficha técnica.",
    ),
};

/// Pot life in minutes at `now_c`, from `minutes` at `at_c`.
///
/// # Errors
/// Outside 0 to 50 °C, more than 30 K apart, or no time at all.
pub fn pot_life_min(minutes: f64, at_c: f64, now_c: f64) -> Result<f64, SumError> {
    let minutes = within("minutes", minutes, 0.1, 10_000.0)?;
    let at = within("at_c", at_c, 0.0, 50.0)?;
    let now = within("now_c", now_c, 0.0, 50.0)?;
    within("now_c", now, at - 30.0, at + 30.0)?;
    Ok(minutes * 2f64.powf((at - now) / 10.0))
}
