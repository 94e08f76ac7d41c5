//! Fits a strength-maturity curve to a mix's own breaks, and says how sure it is.
//!
//! Least squares by Levenberg-Marquardt (the logarithmic form is linear and solved directly); the bands use the
//! curve's gradient, the residual scatter and the t-quantile on breaks minus parameters.

mod solve;

use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, StudentsT};

use super::check::within;
use super::curve::{Curve, Form};
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Least-squares fit of the mix's own breaks (ASTM C1074, annex A1); 90 % confidence band by Student's t on breaks minus parameters.",
        "Ajuste por mínimos cuadrados de las roturas de la propia mezcla (ASTM C1074, anexo A1); banda de confianza del 90 % por t de Student con roturas menos parámetros.",
    ),
    validity: text(
        "This mix only, between the youngest and the oldest break; at least three different ages. The band covers the scatter of the breaks, not a change of mix, specimen or cure.",
        "Solo esta mezcla, entre la rotura más joven y la más vieja; al menos tres edades distintas. La banda cubre la dispersión de las roturas, no un cambio de mezcla, probeta o curado.",
    ),
};

/// The level of every band shown.
pub const LEVEL: f64 = 0.90;

/// One break of a specimen.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Break {
    /// Equivalent age of the specimen when it was broken, h.
    pub equivalent_age_h: f64,
    /// Cylinder strength, MPa.
    pub strength_mpa: f64,
}

/// A fitted curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The curve.
    pub curve: Curve,
    /// How many breaks it rests on.
    pub breaks: usize,
    /// Youngest and oldest break, h.
    pub range_h: (f64, f64),
    /// Break minus curve, MPa, in the order the breaks were given.
    pub residuals_mpa: Vec<f64>,
    /// Sum of squared residuals, MPa².
    pub squares_mpa2: f64,
    /// Share of the scatter the curve explains.
    pub r_squared: f64,
    /// Residual standard deviation, MPa; `None` where there are only as many breaks as parameters.
    pub deviation_mpa: Option<f64>,
    /// Standard errors of the parameters, in the order of the form.
    pub standard_errors: Option<Vec<f64>>,
    spread: Option<DMatrix<f64>>,
}

/// Strength at an age, with what is known of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// The curve's value, MPa.
    pub strength_mpa: f64,
    /// Where the mix's true strength lies, MPa, at [`LEVEL`].
    pub true_strength_mpa: (f64, f64),
    /// Where one more break would fall, MPa, at [`LEVEL`].
    pub next_break_mpa: (f64, f64),
}

/// Fits a curve to breaks.
///
/// # Errors
/// Fewer than three different ages, equal or falling strengths, values no concrete has, or breaks that do not
/// follow the form.
pub fn fit(form: Form, breaks: &[Break]) -> Result<Fit, SumError> {
    check_breaks(breaks)?;
    let curve = solve::solve(form, breaks)?;
    check_curve(&curve, breaks)?;
    Ok(assess(curve, breaks))
}

pub(super) fn no_fit() -> SumError {
    SumError::Refused {
        field: "breaks",
        why: text(
            "the breaks do not follow this form; try another form or look for a wrong break",
            "las roturas no siguen esta forma; pruebe otra o busque una rotura errónea",
        ),
    }
}

fn check_breaks(breaks: &[Break]) -> Result<(), SumError> {
    for (at, item) in breaks.iter().enumerate() {
        let sound = within("equivalent_age_h", item.equivalent_age_h, 0.1, 100_000.0)
            .and_then(|_| within("strength_mpa", item.strength_mpa, 0.01, 400.0));
        sound.map_err(|error| SumError::Item {
            field: "breaks",
            at: at + 1,
            found: error.to_string(),
            why: text("not a break concrete can have", "no es una rotura posible"),
        })?;
    }
    let mut ages: Vec<f64> = breaks.iter().map(|item| item.equivalent_age_h).collect();
    ages.sort_by(f64::total_cmp);
    ages.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    if ages.len() < 3 {
        return Err(SumError::Refused {
            field: "breaks",
            why: text(
                "a curve needs breaks at three different ages or more",
                "una curva necesita roturas a tres edades distintas o más",
            ),
        });
    }
    if !rises(breaks) {
        return Err(SumError::Refused {
            field: "breaks",
            why: text(
                "strength does not rise with age in these breaks",
                "en estas roturas la resistencia no crece con la edad",
            ),
        });
    }
    Ok(())
}

/// Whether strength rises with the logarithm of age, taken over all breaks.
fn rises(breaks: &[Break]) -> bool {
    let n = breaks.len() as f64;
    let (mean_x, mean_y) = breaks
        .iter()
        .fold((0.0, 0.0), |(x, y), item| (x + item.equivalent_age_h.ln() / n, y + item.strength_mpa / n));
    let slope: f64 =
        breaks.iter().map(|item| (item.equivalent_age_h.ln() - mean_x) * (item.strength_mpa - mean_y)).sum();
    slope > 1e-9
}

/// A fit may converge on something no mix does: a start after the first break, or a falling curve.
fn check_curve(curve: &Curve, breaks: &[Break]) -> Result<(), SumError> {
    let first = breaks.iter().map(|item| item.equivalent_age_h).fold(f64::INFINITY, f64::min);
    let sound = match *curve {
        Curve::Hyperbolic { su_mpa, k_per_h, t0_h } => su_mpa > 0.0 && k_per_h > 0.0 && t0_h < first,
        Curve::Log { b_mpa, .. } => b_mpa > 0.0,
        Curve::Exponential { su_mpa, tau_h, alpha } => su_mpa > 0.0 && tau_h > 0.0 && alpha > 0.0,
    };
    if sound { Ok(()) } else { Err(no_fit()) }
}

fn assess(curve: Curve, breaks: &[Break]) -> Fit {
    let residuals_mpa: Vec<f64> =
        breaks.iter().map(|item| item.strength_mpa - curve.strength_mpa(item.equivalent_age_h)).collect();
    let squares: f64 = residuals_mpa.iter().map(|r| r * r).sum();
    let mean = breaks.iter().map(|item| item.strength_mpa).sum::<f64>() / breaks.len() as f64;
    let total: f64 = breaks.iter().map(|item| (item.strength_mpa - mean).powi(2)).sum();
    let ages = || breaks.iter().map(|item| item.equivalent_age_h);
    let free = breaks.len().saturating_sub(curve.form().parameters());
    let variance = (free > 0).then(|| squares / free as f64);
    let spread = variance.and_then(|_| inverse_information(&curve, breaks));
    let standard_errors = variance.zip(spread.as_ref()).map(|(variance, spread)| {
        (0..spread.nrows()).map(|i| (variance * spread[(i, i)]).max(0.0).sqrt()).collect()
    });
    Fit {
        curve,
        breaks: breaks.len(),
        range_h: (ages().fold(f64::INFINITY, f64::min), ages().fold(0.0, f64::max)),
        residuals_mpa,
        squares_mpa2: squares,
        r_squared: 1.0 - squares / total,
        deviation_mpa: variance.map(f64::sqrt),
        standard_errors,
        spread,
    }
}

/// The inverse of JᵀJ. Columns are scaled to unit length first, since the parameters differ by decades.
fn inverse_information(curve: &Curve, breaks: &[Break]) -> Option<DMatrix<f64>> {
    let parameters = curve.form().parameters();
    let rows: Vec<f64> = breaks.iter().flat_map(|item| curve.gradient(item.equivalent_age_h)).collect();
    let mut jacobian = DMatrix::from_row_slice(breaks.len(), parameters, &rows);
    let lengths: Vec<f64> = jacobian.column_iter().map(|column| column.norm()).collect();
    if lengths.iter().any(|length| !length.is_finite() || *length <= 0.0) {
        return None;
    }
    for (mut column, length) in jacobian.column_iter_mut().zip(&lengths) {
        column /= *length;
    }
    let mut inverse = (jacobian.transpose() * &jacobian).try_inverse()?;
    for i in 0..parameters {
        for j in 0..parameters {
            inverse[(i, j)] /= lengths[i] * lengths[j];
        }
    }
    inverse.iter().all(|value| value.is_finite()).then_some(inverse)
}

impl Fit {
    /// Strength at `age_h` with its bands. The bands are `None` where there are no more breaks than parameters.
    ///
    /// # Errors
    /// `age_h` lies outside the breaks: the curve says nothing there.
    pub fn band(&self, age_h: f64) -> Result<(f64, Option<Band>), SumError> {
        let (low, high) = self.range_h;
        within("equivalent_age_h", age_h, low, high)?;
        let strength_mpa = self.curve.strength_mpa(age_h);
        Ok((
            strength_mpa,
            self.half_widths(age_h).map(|(mean, single)| Band {
                strength_mpa,
                true_strength_mpa: around(strength_mpa, mean),
                next_break_mpa: around(strength_mpa, single),
            }),
        ))
    }

    fn half_widths(&self, age_h: f64) -> Option<(f64, f64)> {
        let (spread, deviation) = (self.spread.as_ref()?, self.deviation_mpa?);
        let free = (self.breaks - self.curve.form().parameters()) as f64;
        let quantile = StudentsT::new(0.0, 1.0, free).ok()?.inverse_cdf(f64::midpoint(1.0, LEVEL));
        let gradient = DVector::from_vec(self.curve.gradient(age_h));
        let leverage = gradient.dot(&(spread * &gradient)).max(0.0);
        Some((quantile * deviation * leverage.sqrt(), quantile * deviation * (1.0 + leverage).sqrt()))
    }
}

fn around(value: f64, half: f64) -> (f64, f64) {
    ((value - half).max(0.0), value + half)
}

#[cfg(test)]
mod tests;
