//! The least-squares solver behind [`super::fit`].

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn, U3, Vector3};

use super::{Break, no_fit};
use crate::sums::SumError;
use crate::sums::curve::{Curve, Form, from_parameters};

pub(super) fn solve(form: Form, breaks: &[Break]) -> Result<Curve, SumError> {
    match form {
        Form::Log => {
            let (a, b) = line(breaks.iter().map(|item| (item.equivalent_age_h.log10(), item.strength_mpa)));
            from_parameters(form, &[a, b])
        }
        Form::Hyperbolic => refine(form, breaks, hyperbolic_starts(breaks)),
        Form::Exponential => refine(form, breaks, exponential_starts(breaks)),
    }
}

/// Intercept and slope of the least-squares line.
fn line(points: impl Iterator<Item = (f64, f64)> + Clone) -> (f64, f64) {
    let n = points.clone().count() as f64;
    let (x, y) = points.clone().fold((0.0, 0.0), |(x, y), (px, py)| (x + px / n, y + py / n));
    let (xy, xx) =
        points.fold((0.0, 0.0), |(xy, xx), (px, py)| (xy + (px - x) * (py - y), xx + (px - x) * (px - x)));
    (y - xy / xx * x, xy / xx)
}

/// For each of a few start ages the hyperbola is a straight line in `(t−t0)/S` over `t−t0` (ASTM C1074, A1).
fn hyperbolic_starts(breaks: &[Break]) -> Vec<[f64; 3]> {
    let first = breaks.iter().map(|item| item.equivalent_age_h).fold(f64::INFINITY, f64::min);
    let start = |share: f64| {
        let t0 = share * first;
        let since = move |item: &Break| item.equivalent_age_h - t0;
        let (intercept, slope) =
            line(breaks.iter().map(|item| (since(item), since(item) / item.strength_mpa)));
        let strongest = breaks.iter().map(|item| item.strength_mpa).fold(0.0, f64::max);
        let su = if slope > 0.0 { 1.0 / slope } else { 3.0 * strongest };
        let k = if intercept > 0.0 { 1.0 / (intercept * su) } else { 1.0 / first };
        [su.ln(), k.ln(), t0]
    };
    [0.0, 0.2, 0.4, 0.6, 0.8, 0.95].map(start).to_vec()
}

/// For each of a few shapes the logarithm of strength is a straight line in `t^−α`.
fn exponential_starts(breaks: &[Break]) -> Vec<[f64; 3]> {
    let middle = breaks.iter().map(|item| item.equivalent_age_h.ln()).sum::<f64>() / breaks.len() as f64;
    let start = |alpha: f64| {
        let points =
            breaks.iter().map(move |item| (item.equivalent_age_h.powf(-alpha), item.strength_mpa.ln()));
        let (ln_su, slope) = line(points);
        let ln_tau = if slope < 0.0 { (-slope).ln() / alpha } else { middle };
        [ln_su, ln_tau, alpha.ln()]
    };
    [0.2, 0.4, 0.6, 0.8, 1.0, 1.4, 2.0].map(start).to_vec()
}

/// How many of the best starts are followed to their end.
const FOLLOWED: usize = 3;

/// Runs the solver from the best starts and keeps the best end.
fn refine(form: Form, breaks: &[Break], starts: Vec<[f64; 3]>) -> Result<Curve, SumError> {
    let problem = |start| Problem { form, breaks, at: Vector3::from(start) };
    let finite = starts.into_iter().filter(|start| start.iter().all(|value| value.is_finite()));
    let mut ranked: Vec<(f64, Problem)> =
        finite.map(problem).filter_map(|start| Some((start.residuals()?.norm_squared(), start))).collect();
    ranked.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let ends = ranked.into_iter().take(FOLLOWED).filter_map(|(_, start)| {
        let (end, report) = LevenbergMarquardt::new().with_patience(200).minimize(start);
        let sound = report.termination.was_successful() && report.objective_function.is_finite();
        sound.then_some((report.objective_function, end.at))
    });
    let best = ends.min_by(|(a, _), (b, _)| a.total_cmp(b));
    let (_, at) = best.ok_or_else(no_fit)?;
    let natural = match form {
        Form::Exponential => [at.x.exp(), at.y.exp(), at.z.exp()],
        _ => [at.x.exp(), at.y.exp(), at.z],
    };
    from_parameters(form, &natural)
}

/// The residuals over parameters that cannot turn negative: `ln Su`, `ln k` or `ln τ`, and `t0` or `ln α`.
struct Problem<'a> {
    form: Form,
    breaks: &'a [Break],
    at: Vector3<f64>,
}

/// What a step into a region where the curve does not exist costs, so that it is not taken.
const FORBIDDEN_MPA: f64 = 1e6;

impl Problem<'_> {
    fn strength(&self, age_h: f64) -> f64 {
        let (su, second) = (self.at.x.exp(), self.at.y.exp());
        if self.form == Form::Exponential {
            return su * (-(second / age_h).powf(self.at.z.exp())).exp();
        }
        // Not clamped at t0: a corner there would hide the gradient from the solver.
        let grown = second * (age_h - self.at.z);
        if grown <= -1.0 { FORBIDDEN_MPA } else { su * grown / (1.0 + grown) }
    }

    fn slopes(&self, age_h: f64) -> [f64; 3] {
        let (su, second) = (self.at.x.exp(), self.at.y.exp());
        if self.form == Form::Exponential {
            let alpha = self.at.z.exp();
            let power = (second / age_h).powf(alpha);
            let strength = su * (-power).exp();
            return [strength, -strength * power * alpha, -strength * power * alpha * (second / age_h).ln()];
        }
        let since = age_h - self.at.z;
        let below = 1.0 + second * since;
        [self.strength(age_h), su * second * since / (below * below), -su * second / (below * below)]
    }
}

impl LeastSquaresProblem<f64, Dyn, U3> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, U3>;
    type ParameterStorage = Owned<f64, U3>;

    fn set_params(&mut self, at: &Vector3<f64>) {
        self.at = *at;
    }

    fn params(&self) -> Vector3<f64> {
        self.at
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let each = self.breaks.iter().map(|item| self.strength(item.equivalent_age_h) - item.strength_mpa);
        let all: Vec<f64> = each.collect();
        all.iter().all(|value| value.is_finite()).then(|| DVector::from_vec(all))
    }

    fn jacobian(&self) -> Option<nalgebra::OMatrix<f64, Dyn, U3>> {
        let rows: Vec<f64> = self.breaks.iter().flat_map(|item| self.slopes(item.equivalent_age_h)).collect();
        let full = DMatrix::from_row_slice(self.breaks.len(), 3, &rows);
        rows.iter().all(|value| value.is_finite()).then(|| full.fixed_columns::<3>(0).into_owned())
    }
}
