//! Strength now, when each gate is reached, and how much sooner with heat.

use super::check::within;
use super::fit::{Band, Fit};
use super::maturity::{History, Maturity, Model};
use super::{Grounds, SumError};
use crate::moment::{Moment, add_hours};
use crate::text::{Text, text};

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Strength-maturity method (ASTM C1074) with the curve fitted to the mix's own breaks.",
        "Método de madurez (ASTM C1074) con la curva ajustada a las roturas de la propia mezcla.",
    ),
    validity: text(
        "Inside the equivalent ages of the breaks and for the mix they came from; the piece kept moist. An estimate: a break or a trial grind outranks it.",
        "Dentro de las edades equivalentes de las roturas y para su misma mezcla; la pieza mantenida húmeda. Es una estimación: una rotura o una prueba de desbaste pesa más.",
    ),
};

/// Highest concrete temperature heat curing may aim at, °C (common practice 65 to 70; the lower end counts).
pub const HEAT_LIMIT_C: f64 = 65.0;
/// Fastest rise and fall under heat, K/h (common practice).
pub const HEAT_RISE_K_PER_H: f64 = 20.0;

/// What the curve says about a piece now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Now {
    /// Equivalent age, h.
    pub equivalent_age_h: f64,
    /// The curve's value, MPa; `None` outside the ages of the breaks.
    pub strength_mpa: Option<f64>,
    /// The same with its bands.
    pub band: Option<Band>,
    /// Older than the oldest break: at least this, MPa, since strength does not fall.
    pub at_least_mpa: Option<f64>,
    /// Why there is no value.
    pub why: Option<Text>,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// Strength at an equivalent age.
///
/// # Errors
/// An age that is not a finite number of hours.
pub fn now(fit: &Fit, equivalent_age_h: f64) -> Result<Now, SumError> {
    let age = within("equivalent_age_h", equivalent_age_h, 0.0, 1e6)?;
    let (low, high) = fit.range_h;
    let mut now = Now {
        equivalent_age_h: age,
        strength_mpa: None,
        band: None,
        at_least_mpa: None,
        why: None,
        grounds: GROUNDS,
    };
    if age < low {
        now.why = Some(text(
            "younger than the youngest break: the curve says nothing yet",
            "más joven que la primera rotura: la curva aún no dice nada",
        ));
    } else if age > high {
        now.at_least_mpa = Some(fit.curve.strength_mpa(high));
        now.why = Some(text(
            "older than the oldest break: the curve is not carried beyond it",
            "más vieja que la última rotura: la curva no se prolonga más allá",
        ));
    } else {
        let (strength, band) = fit.band(age)?;
        (now.strength_mpa, now.band) = (Some(strength), band);
    }
    Ok(now)
}

/// When a strength is reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gate {
    /// The strength asked for, MPa.
    pub gate_mpa: f64,
    /// Equivalent age at which the curve reaches it, h; never below the youngest break.
    pub equivalent_age_h: Option<f64>,
    /// When the curve reaches it.
    pub reached_at: Option<Moment>,
    /// When the lower end of the 90 % band reaches it.
    pub sure_at: Option<Moment>,
    /// The moment lies in the history, not ahead of it.
    pub past: bool,
    /// Why there is no moment.
    pub why: Option<Text>,
}

/// A fitted curve, a piece's history and the parameters that tie them.
#[derive(Debug, Clone, Copy)]
pub struct Course<'a> {
    /// The curve.
    pub fit: &'a Fit,
    /// The temperatures of the piece.
    pub history: &'a History,
    /// What the history adds up to.
    pub maturity: &'a Maturity,
    /// Temperature of the concrete from the last reading on, °C, if one is assumed.
    pub assume_c: Option<f64>,
}

impl Course<'_> {
    /// When the piece reaches `gate_mpa`: in the past from its readings, ahead from the assumed temperature.
    ///
    /// # Errors
    /// A gate or an assumed temperature no concrete has.
    pub fn gate(&self, gate_mpa: f64) -> Result<Gate, SumError> {
        let gate_mpa = within("gate_mpa", gate_mpa, 0.1, 300.0)?;
        if let Some(assumed) = self.assume_c {
            within("assume_c", assumed, 0.0, HEAT_LIMIT_C)?;
        }
        let age = age_for(self.fit, gate_mpa);
        let sure = age.and_then(|age| sure_age(self.fit, gate_mpa, age));
        let reached_at = age.and_then(|age| self.moment_of(age));
        Ok(Gate {
            gate_mpa,
            equivalent_age_h: age,
            reached_at,
            sure_at: sure.and_then(|age| self.moment_of(age)),
            past: age.is_some_and(|age| age <= self.maturity.equivalent_age_h),
            why: match (age, reached_at) {
                (None, _) => Some(text(
                    "above the strength at the oldest break: the curve is not carried beyond it",
                    "por encima de la resistencia en la última rotura: la curva no se prolonga",
                )),
                (_, None) => Some(text(
                    "not reached yet; state a temperature to assume",
                    "aún no alcanzada; indique una temperatura supuesta",
                )),
                _ => None,
            },
        })
    }

    fn moment_of(&self, age_h: f64) -> Option<Moment> {
        let model = &self.maturity.model;
        if let Some(past) = self.history.reached(age_h, model) {
            return Some(past);
        }
        let missing = age_h - self.maturity.equivalent_age_h;
        add_hours(self.history.last().at, missing.max(0.0) / model.rate(self.assume_c?))
    }
}

/// The equivalent age at which the curve reaches the gate, within the breaks. A gate below the youngest break
/// counts as reached there, not before.
fn age_for(fit: &Fit, gate_mpa: f64) -> Option<f64> {
    let (low, high) = fit.range_h;
    if gate_mpa <= fit.curve.strength_mpa(low) {
        return Some(low);
    }
    fit.curve.age_h(gate_mpa).filter(|age| *age <= high).map(|age| age.max(low))
}

/// The first age from `from` on at which the lower end of the band stands at the gate.
fn sure_age(fit: &Fit, gate_mpa: f64, from: f64) -> Option<f64> {
    const STEPS: u32 = 400;
    let lower = |age: f64| Some(fit.band(age).ok()?.1?.true_strength_mpa.0);
    let high = fit.range_h.1;
    let step = |i: u32| from + (high - from) * f64::from(i) / f64::from(STEPS);
    let first = (0..=STEPS).find(|i| lower(step(*i)).is_some_and(|value| value >= gate_mpa))?;
    if first == 0 {
        return Some(from);
    }
    let (mut below, mut above) = (step(first - 1), step(first));
    for _ in 0..60 {
        let middle = f64::midpoint(below, above);
        match lower(middle) {
            Some(value) if value >= gate_mpa => above = middle,
            _ => below = middle,
        }
    }
    Some(above)
}

/// What warming a piece would gain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatGain {
    /// Hours to the age asked for if the piece stays as it is.
    pub unheated_h: f64,
    /// Hours if it is warmed; cooling down comes after.
    pub heated_h: f64,
    /// What is gained, h.
    pub saved_h: f64,
    /// Hours the fall back to the starting temperature takes at the same rate.
    pub cooling_h: f64,
}

/// Hours to gain `missing_h` of equivalent age at `from_c`, against warming at [`HEAT_RISE_K_PER_H`] to `to_c`
/// and staying there.
///
/// # Errors
/// Above [`HEAT_LIMIT_C`], or values no concrete has.
pub fn heat_gain(missing_h: f64, from_c: f64, to_c: f64, model: Model) -> Result<HeatGain, SumError> {
    let model = model.checked()?;
    let missing = within("missing_h", missing_h, 0.0, 100_000.0)?;
    let from = within("from_c", from_c, 0.0, HEAT_LIMIT_C)?;
    let to = within("to_c", to_c, from, HEAT_LIMIT_C)?;
    let unheated_h = missing / model.rate(from);
    let heated_h = hours_with_ramp(missing, from, to, &model);
    let cooling_h = (to - from) / HEAT_RISE_K_PER_H;
    Ok(HeatGain { unheated_h, heated_h, saved_h: unheated_h - heated_h, cooling_h })
}

/// Minute by minute through the rise, then at the final temperature.
fn hours_with_ramp(missing: f64, from: f64, to: f64, model: &Model) -> f64 {
    const MINUTE_H: f64 = 1.0 / 60.0;
    let ramp = (to - from) / HEAT_RISE_K_PER_H;
    let (mut age, mut hours) = (0.0, 0.0);
    while hours < ramp {
        let part = MINUTE_H.min(ramp - hours);
        let gained = model.rate(from + HEAT_RISE_K_PER_H * (hours + part / 2.0)) * part;
        if age + gained >= missing {
            return hours + (missing - age) / gained * part;
        }
        age += gained;
        hours += part;
    }
    hours + (missing - age) / model.rate(to)
}
