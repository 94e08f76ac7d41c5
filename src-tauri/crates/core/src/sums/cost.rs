//! What work costs, and what the shop learns from it.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Minutes at the shop's rate plus materials at their price; learnt rates are the middle of the shop's own records.",
        "Minutos a la tarifa del taller más materiales a su precio; las tasas aprendidas son la mediana de los registros propios.",
    ),
    validity: text("Only what was recorded; one currency.", "Solo lo registrado; una moneda."),
};

/// Work and materials of one step, piece or route.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effort {
    /// Minutes of all hands.
    pub minutes: f64,
    /// Materials at their price, in the shop's currency.
    pub materials: f64,
}

/// What several efforts come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// Minutes together.
    pub minutes: f64,
    /// Labour, in the shop's currency.
    pub labour: f64,
    /// Materials, in the shop's currency.
    pub materials: f64,
    /// Both.
    pub total: f64,
    /// Both, for each square metre; `None` where no area was given.
    pub total_per_m2: Option<f64>,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The cost of efforts at a rate per hour.
///
/// # Errors
/// Negative or absurd figures.
pub fn cost(efforts: &[Effort], rate_per_h: f64, area_m2: Option<f64>) -> Result<Cost, SumError> {
    let rate = within("rate_per_h", rate_per_h, 0.0, 1e7)?;
    let (mut minutes, mut materials) = (0.0, 0.0);
    for effort in efforts {
        minutes += within("minutes", effort.minutes, 0.0, 1e7)?;
        materials += within("materials", effort.materials, 0.0, 1e12)?;
    }
    let area = area_m2.map(|area| within("area_m2", area, 1e-4, 1e6)).transpose()?;
    let labour = minutes / 60.0 * rate;
    let total = labour + materials;
    Ok(Cost {
        minutes,
        labour,
        materials,
        total,
        total_per_m2: area.map(|area| total / area),
        grounds: GROUNDS,
    })
}

/// Actual against estimate, %: 20 means a fifth more than estimated.
///
/// # Errors
/// An estimate of nothing.
pub fn over_estimate_pct(actual: f64, estimate: f64) -> Result<f64, SumError> {
    let actual = within("actual", actual, 0.0, 1e12)?;
    Ok((actual / within("estimate", estimate, 1e-6, 1e12)? - 1.0) * 100.0)
}

/// Minutes per square metre as the shop has seen them: the middle of its records of minutes and area.
///
/// # Errors
/// No record, or one without an area.
pub fn learnt_min_per_m2(records: &[(f64, f64)]) -> Result<f64, SumError> {
    let mut rates = Vec::with_capacity(records.len());
    for (minutes, area) in records {
        rates.push(within("minutes", *minutes, 0.0, 1e7)? / within("area_m2", *area, 1e-4, 1e6)?);
    }
    rates.sort_by(f64::total_cmp);
    match rates.len() {
        0 => Err(SumError::Missing { field: "records" }),
        n if n % 2 == 1 => Ok(rates[n / 2]),
        n => Ok(f64::midpoint(rates[n / 2 - 1], rates[n / 2])),
    }
}
