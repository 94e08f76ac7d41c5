//! Water lost by a fresh face.

use super::air::saturation_pressure_hpa;
use super::check::{humidity, within};
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Uno, ACI Materials Journal 95-M34 (1998), SI form; cross-check by Menzel's formula as printed there.",
        "Uno, ACI Materials Journal 95-M34 (1998), forma SI; comprobado con la fórmula de Menzel allí impresa.",
    ),
    validity: text(
        "Fresh, wet concrete; concrete and air from 0 to 60 °C; wind at 0.5 m above the face, 0 to 100 km/h. The estimate is uncertain by about 40 % (Hover, ACI SP-338, 2020).",
        "Hormigón fresco y húmedo; hormigón y aire de 0 a 60 °C; viento a 0,5 m sobre la cara, 0 a 100 km/h. La incertidumbre ronda el 40 % (Hover, ACI SP-338, 2020).",
    ),
};

/// Above this loss plain concrete needs protection, kg/(m²·h): ACI 305R, 0.2 lb/(ft²·h) rounded.
pub const ACTION_KG_PER_M2_H: f64 = 1.0;
/// The same for dense mixes with silica fume: about half (ACI 305R-91, as cited by the silica fume guide).
pub const ACTION_DENSE_KG_PER_M2_H: f64 = 0.5;

/// What a fresh face loses to the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evaporation {
    /// Loss by Uno, kg/(m²·h); never below zero.
    pub loss_kg_per_m2_h: f64,
    /// Loss by Menzel, kg/(m²·h); never below zero.
    pub menzel_kg_per_m2_h: f64,
    /// Water condenses on the face instead.
    pub condenses: bool,
    /// At or above the level at which plain concrete needs protection.
    pub action: bool,
    /// The same for dense mixes with silica fume.
    pub action_dense: bool,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The weather over a fresh face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreshFace {
    /// Temperature of the concrete, °C.
    pub concrete_c: f64,
    /// Temperature of the air, °C.
    pub air_c: f64,
    /// Relative humidity, %.
    pub rh_pct: f64,
    /// Wind, km/h.
    pub wind_km_per_h: f64,
}

/// Evaporation from a fresh face.
///
/// # Errors
/// Outside the stated ranges.
pub fn evaporation(face: &FreshFace) -> Result<Evaporation, SumError> {
    let concrete = within("concrete_c", face.concrete_c, 0.0, 60.0)?;
    let air = within("air_c", face.air_c, 0.0, 60.0)?;
    let share = humidity(face.rh_pct)? / 100.0;
    let wind = within("wind_km_per_h", face.wind_km_per_h, 0.0, 100.0)?;
    let uno = 5.0 * ((concrete + 18.0).powf(2.5) - share * (air + 18.0).powf(2.5)) * (wind + 4.0) * 1e-6;
    let kilopascal = (saturation_pressure_hpa(concrete)? - share * saturation_pressure_hpa(air)?) / 10.0;
    let menzel = 0.313 * kilopascal * (0.253 + 0.06 * wind);
    let loss = uno.max(0.0);
    Ok(Evaporation {
        loss_kg_per_m2_h: loss,
        menzel_kg_per_m2_h: menzel.max(0.0),
        condenses: uno < 0.0,
        action: loss >= ACTION_KG_PER_M2_H,
        action_dense: loss >= ACTION_DENSE_KG_PER_M2_H,
        grounds: GROUNDS,
    })
}
