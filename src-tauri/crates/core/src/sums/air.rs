//! Moist air: dew point, margin, humidity at a surface, and when a coat may be laid.
//!
//! Magnus form with the coefficients of the WMO guide (WMO-No. 8, annex 4.B; Sonntag 1990), over water at all
//! temperatures. From 0 to 50 °C the dew point differs from the ASHRAE formulation by at most 0.044 K.

use super::check::{humidity, within};
use super::{Grounds, SumError};
use crate::text::text;

/// Magnus coefficient over water, WMO-No. 8, annex 4.B.
const A: f64 = 17.62;
/// Magnus coefficient over water, in °C.
const B: f64 = 243.12;
/// Saturation pressure at 0 °C, in hPa.
const C: f64 = 6.112;
/// Gas constant of water vapour, in J/(kg·K) (IAPWS: 461.526).
const WATER_GAS: f64 = 461.526;
/// The range of the formula, in °C.
const LOW: f64 = -45.0;
/// The range of the formula, in °C.
const HIGH: f64 = 60.0;

/// The margin a coat needs where the product names none: 3 K above the dew point. The rule is written for
/// steel (ISO 8502-4, ISO 12944-7); on concrete it is common practice.
pub const DEW_MARGIN_K: f64 = 3.0;

/// Basis and validity of everything here.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Magnus formula with the coefficients of WMO-No. 8, annex 4.B (17.62; 243.12 °C; 6.112 hPa), over water.",
        "Fórmula de Magnus con los coeficientes de OMM-N.º 8, anexo 4.B (17,62; 243,12 °C; 6,112 hPa), sobre agua.",
    ),
    validity: text(
        "Air and dew point from −45 to 60 °C, humidity from 1 to 100 %. Below 0 °C the value is the dew point over supercooled water, not the frost point.",
        "Aire y punto de rocío de −45 a 60 °C, humedad de 1 a 100 %. Bajo 0 °C el valor es el punto de rocío sobre agua subenfriada, no el de escarcha.",
    ),
};

/// Saturation vapour pressure over water, in hPa.
fn saturation_hpa(c: f64) -> f64 {
    C * (A * c / (B + c)).exp()
}

/// Saturation vapour pressure over water, in hPa, from −45 to 60 °C.
///
/// # Errors
/// Outside the range of the formula.
pub fn saturation_pressure_hpa(air_c: f64) -> Result<f64, SumError> {
    within("air_c", air_c, LOW, HIGH).map(saturation_hpa)
}

/// A dew point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DewPoint {
    /// In °C.
    pub dew_point_c: f64,
    /// Below 0 °C: the value is over supercooled water.
    pub over_supercooled_water: bool,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The dew point of air at `air_c` (°C) and `rh_pct` (%).
///
/// # Errors
/// Outside the range of the formula, or a humidity of zero or above 100 %.
pub fn dew_point(air_c: f64, rh_pct: f64) -> Result<DewPoint, SumError> {
    let air_c = within("air_c", air_c, LOW, HIGH)?;
    let rh = humidity(rh_pct)? / 100.0;
    let gamma = rh.ln() + A * air_c / (B + air_c);
    let dew_point_c = if rh_pct >= 100.0 { air_c } else { B * gamma / (A - gamma) };
    if dew_point_c < LOW {
        return Err(SumError::Refused {
            field: "rh_pct",
            why: text(
                "the dew point of this air lies below −45 °C, where the formula no longer holds",
                "el punto de rocío de este aire queda bajo −45 °C, donde la fórmula ya no vale",
            ),
        });
    }
    Ok(DewPoint { dew_point_c, over_supercooled_water: dew_point_c < 0.0, grounds: GROUNDS })
}

/// How far a surface is from condensation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// The dew point of the air.
    pub dew: DewPoint,
    /// Surface temperature minus dew point, in K.
    pub margin_k: f64,
    /// Relative humidity of the air at the temperature of the surface, in %; above 100 water condenses.
    pub rh_at_surface_pct: f64,
}

/// The dew-point margin of a surface at `surface_c`.
///
/// # Errors
/// Outside the range of the formula.
pub fn margin(air_c: f64, rh_pct: f64, surface_c: f64) -> Result<Margin, SumError> {
    let dew = dew_point(air_c, rh_pct)?;
    let surface_c = within("surface_c", surface_c, LOW, HIGH)?;
    let rh_at_surface_pct = rh_pct * saturation_hpa(air_c) / saturation_hpa(surface_c);
    Ok(Margin { dew, margin_k: surface_c - dew.dew_point_c, rh_at_surface_pct })
}

/// Water in the air, in g/m³: vapour pressure over gas constant times temperature.
///
/// # Errors
/// Outside the range of the formula.
pub fn absolute_humidity_g_per_m3(air_c: f64, rh_pct: f64) -> Result<f64, SumError> {
    let air_c = within("air_c", air_c, LOW, HIGH)?;
    let pascal = saturation_hpa(air_c) * humidity(rh_pct)?;
    Ok(pascal / (WATER_GAS * (air_c + 273.15)) * 1000.0)
}

/// Relative humidity, in %, of the same air warmed to `warmed_c`: the vapour pressure stays.
///
/// # Errors
/// Outside the range of the formula; cooling is refused, since it may pass the dew point.
pub fn humidity_when_warmed_pct(air_c: f64, rh_pct: f64, warmed_c: f64) -> Result<f64, SumError> {
    let air_c = within("air_c", air_c, LOW, HIGH)?;
    let warmed_c = within("warmed_c", warmed_c, air_c, HIGH)?;
    Ok(humidity(rh_pct)? * saturation_hpa(air_c) / saturation_hpa(warmed_c))
}

/// What a product asks of the climate when a coat is laid. What it does not name is `None`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CoatLimits {
    /// Lowest and highest air temperature, °C.
    pub air_c: Option<(f64, f64)>,
    /// Lowest and highest surface temperature, °C.
    pub surface_c: Option<(f64, f64)>,
    /// Lowest and highest relative humidity, %.
    pub rh_pct: Option<(f64, f64)>,
    /// Least dew-point margin, K; [`DEW_MARGIN_K`] where the product names none.
    pub margin_k: Option<f64>,
}

/// When a coat may be laid in this air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoatWindow {
    /// The dew point of the air, °C.
    pub dew_point_c: f64,
    /// The surface temperatures at which a coat may be laid, lowest and highest; `None` where there is none.
    pub surface_c: Option<(f64, f64)>,
    /// The air temperature is one the product takes.
    pub air_fits: bool,
    /// The humidity is one the product takes.
    pub rh_fits: bool,
}

/// The surface temperatures at which a coat may be laid in this air.
///
/// # Errors
/// Outside the range of the formula.
pub fn coat_window(air_c: f64, rh_pct: f64, limits: &CoatLimits) -> Result<CoatWindow, SumError> {
    let dew_point_c = dew_point(air_c, rh_pct)?.dew_point_c;
    let margin_k = within("margin_k", limits.margin_k.unwrap_or(DEW_MARGIN_K), 0.0, 30.0)?;
    let fits =
        |value: f64, limit: Option<(f64, f64)>| limit.is_none_or(|(low, high)| (low..=high).contains(&value));
    let (low, high) = limits.surface_c.unwrap_or((LOW, HIGH));
    let low = low.max(dew_point_c + margin_k);
    let (air_fits, rh_fits) = (fits(air_c, limits.air_c), fits(rh_pct, limits.rh_pct));
    let surface_c = (low <= high && air_fits && rh_fits).then_some((low, high));
    Ok(CoatWindow { dew_point_c, surface_c, air_fits, rh_fits })
}
