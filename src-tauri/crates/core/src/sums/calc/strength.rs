//! `calc strength`.

use serde::Serialize;

use super::Stated;
use crate::moment::write;
use crate::sums::curve::{Curve, Form};
use crate::sums::fit::{Break, Fit, fit};
use crate::sums::maturity::{History, Maturity, Model, Reading, maturity};
use crate::sums::strength::{Course, Gate, Now, now};
use crate::sums::{Grounds, SumError};
use crate::text::{Lang, Text, text};

/// `calc strength`: how the files are to be taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StrengthIn {
    /// Datum, Q and reference temperature.
    #[serde(flatten)]
    pub model: Model,
    /// Form of the curve.
    pub form: Form,
    /// Strengths asked for, MPa.
    pub gate_mpa: Vec<f64>,
    /// Temperature from the last reading on, °C.
    pub assume_c: Option<f64>,
}

/// Result of [`strength`].
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StrengthOut {
    /// Nurse-Saul temperature-time factor.
    pub temperature_time_c_h: f64,
    /// Equivalent age at the reference temperature, h.
    pub equivalent_age_h: f64,
    /// Elapsed time from the first to the last reading, h.
    pub elapsed_h: f64,
    /// The curve.
    pub fit: FitOut,
    /// Strength at the last reading, MPa; `null` outside the ages of the breaks.
    pub strength_mpa: Option<f64>,
    /// Where the true strength lies at 90 %, MPa; `null` where it cannot be said.
    pub band_mpa: Option<[f64; 2]>,
    /// Where one more break would fall at 90 %, MPa.
    pub next_break_mpa: Option<[f64; 2]>,
    /// Beyond the oldest break: at least this, MPa.
    pub at_least_mpa: Option<f64>,
    /// When each strength asked for is reached.
    pub gates: Vec<GateOut>,
    /// Stretches without readings.
    pub gaps: Vec<GapOut>,
    /// Inputs, basis, validity.
    #[serde(flatten)]
    pub stated: Stated<StrengthIn>,
}

/// The fitted curve in figures.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FitOut {
    /// Form and parameters.
    #[serde(flatten)]
    pub curve: Curve,
    /// Number of breaks.
    pub breaks: usize,
    /// Youngest and oldest break, h.
    pub range_h: [f64; 2],
    /// Share of the scatter explained.
    pub r_squared: f64,
    /// Residual standard deviation, MPa.
    pub deviation_mpa: Option<f64>,
    /// Standard errors of the parameters, in their order.
    pub standard_errors: Option<Vec<f64>>,
    /// Break less curve, MPa.
    pub residuals_mpa: Vec<f64>,
}

impl From<Fit> for FitOut {
    fn from(fit: Fit) -> Self {
        Self {
            curve: fit.curve,
            breaks: fit.breaks,
            range_h: fit.range_h.into(),
            r_squared: fit.r_squared,
            deviation_mpa: fit.deviation_mpa,
            standard_errors: fit.standard_errors,
            residuals_mpa: fit.residuals_mpa,
        }
    }
}

/// When a strength is reached.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GateOut {
    /// The strength, MPa.
    pub gate_mpa: f64,
    /// When the curve reaches it, or `null`.
    pub reached_at: Option<String>,
    /// When the lower end of the band reaches it, or `null`.
    pub sure_at: Option<String>,
    /// Equivalent age at which the curve reaches it, h.
    pub equivalent_age_h: Option<f64>,
    /// Why there is no moment.
    pub why: Option<String>,
}

/// A stretch without readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GapOut {
    /// Last reading before it.
    pub from: String,
    /// First reading after it.
    pub to: String,
    /// Length, h.
    pub hours: f64,
}

const GROUNDS: Grounds = Grounds {
    basis: text(
        "ASTM C1074: Nurse-Saul and Freiesleben Hansen-Pedersen maturity (default parameters from memory of the standard); curve fitted to the mix's own breaks by least squares; 90 % band by Student's t on breaks minus parameters.",
        "ASTM C1074: madurez de Nurse-Saul y Freiesleben Hansen-Pedersen (parámetros por defecto de memoria de la norma); curva ajustada a las roturas propias por mínimos cuadrados; banda del 90 % por t de Student con roturas menos parámetros.",
    ),
    validity: crate::sums::strength::GROUNDS.validity,
};

/// Maturity of a history, a curve from breaks, strength now and the moments of the gates.
///
/// # Errors
/// As [`History::new`], [`maturity`], [`fit`] and [`Course::gate`].
pub fn strength(
    readings: Vec<Reading>,
    breaks: &[Break],
    inputs: StrengthIn,
    lang: Lang,
) -> Result<StrengthOut, SumError> {
    let history = History::new(readings)?;
    let sum = maturity(&history, inputs.model)?;
    let curve = fit(inputs.form, breaks)?;
    let course = Course { fit: &curve, history: &history, maturity: &sum, assume_c: inputs.assume_c };
    let gates = inputs.gate_mpa.iter().map(|gate| course.gate(*gate)).collect::<Result<Vec<_>, _>>()?;
    let state = now(&curve, sum.equivalent_age_h)?;
    let notes = notes(&sum, &state, &curve);
    Ok(StrengthOut {
        temperature_time_c_h: sum.temperature_time_c_h,
        equivalent_age_h: sum.equivalent_age_h,
        elapsed_h: sum.elapsed_h,
        strength_mpa: state.strength_mpa,
        band_mpa: state.band.map(|band| band.true_strength_mpa.into()),
        next_break_mpa: state.band.map(|band| band.next_break_mpa.into()),
        at_least_mpa: state.at_least_mpa,
        gates: gates.iter().map(|gate| gate_out(gate, lang)).collect(),
        gaps: gaps(&sum),
        fit: curve.into(),
        stated: Stated::new(inputs, GROUNDS, &notes, lang),
    })
}

fn gate_out(gate: &Gate, lang: Lang) -> GateOut {
    GateOut {
        gate_mpa: gate.gate_mpa,
        reached_at: gate.reached_at.as_ref().map(write),
        sure_at: gate.sure_at.as_ref().map(write),
        equivalent_age_h: gate.equivalent_age_h,
        why: gate.why.map(|why| why.get(lang).to_owned()),
    }
}

fn gaps(sum: &Maturity) -> Vec<GapOut> {
    let out = |gap: &crate::sums::maturity::Gap| GapOut {
        from: write(&gap.from),
        to: write(&gap.to),
        hours: gap.hours,
    };
    sum.gaps.iter().map(out).collect()
}

/// What a reader must know beside the figures.
fn notes(sum: &Maturity, state: &Now, curve: &Fit) -> Vec<Text> {
    let (coldest, hottest) = sum.range_c;
    let said = [
        (!sum.gaps.is_empty()).then_some(text(
            "There are stretches without readings; the mean of the readings at their ends was taken.",
            "Hay tramos sin lecturas; se tomó la media de las lecturas en sus extremos.",
        )),
        sum.coarse.then_some(text(
            "Readings are further apart than ASTM C1074 asks (half an hour for two days, then an hour; from memory).",
            "Las lecturas están más espaciadas de lo que pide ASTM C1074 (media hora durante dos días, luego una; de memoria).",
        )),
        (coldest < 0.0).then_some(text(
            "The concrete was below 0 °C: what the sum credits there is doubtful, and frost may have done harm.",
            "El hormigón estuvo bajo 0 °C: lo que la suma acredita ahí es dudoso y la helada pudo dañarlo.",
        )),
        (hottest > 40.0).then_some(text(
            "The concrete was above 40 °C: early heat lowers the later strength, and maturity does not see it.",
            "El hormigón pasó de 40 °C: el calor temprano rebaja la resistencia posterior y la madurez no lo ve.",
        )),
        curve.deviation_mpa.is_none().then_some(text(
            "Only as many breaks as the curve has parameters: there is no band.",
            "Solo hay tantas roturas como parámetros: no hay banda.",
        )),
        state.why,
    ];
    said.into_iter().flatten().collect()
}
