//! The three forms of a strength-maturity curve. Age is equivalent age in hours, strength in MPa.

use super::SumError;

named! {
    /// The form of a strength-maturity curve.
    pub enum Form, "form" {
        /// Hyperbolic, as in ASTM C1074: `S = Su·k(t−t0) / (1 + k(t−t0))`.
        Hyperbolic = "hyperbolic",
        /// Logarithmic (Plowman 1956): `S = a + b·log10 t`.
        Log = "log",
        /// Exponential (Freiesleben Hansen and Pedersen 1985): `S = Su·exp(−(τ/t)^α)`.
        Exponential = "exponential",
    }
}

impl Form {
    /// How many parameters are fitted.
    pub const fn parameters(self) -> usize {
        match self {
            Self::Log => 2,
            Self::Hyperbolic | Self::Exponential => 3,
        }
    }
}

/// A strength-maturity curve with its parameters.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
#[serde(tag = "form", rename_all = "snake_case")]
pub enum Curve {
    /// See [`Form::Hyperbolic`].
    Hyperbolic {
        /// Limiting strength, MPa.
        su_mpa: f64,
        /// Rate constant, 1/h.
        k_per_h: f64,
        /// Age at which strength begins, h.
        t0_h: f64,
    },
    /// See [`Form::Log`].
    Log {
        /// Strength at one hour, MPa.
        a_mpa: f64,
        /// Gain per tenfold age, MPa.
        b_mpa: f64,
    },
    /// See [`Form::Exponential`].
    Exponential {
        /// Limiting strength, MPa.
        su_mpa: f64,
        /// Time constant, h.
        tau_h: f64,
        /// Shape.
        alpha: f64,
    },
}

impl Curve {
    /// Which form it is.
    pub const fn form(&self) -> Form {
        match self {
            Self::Hyperbolic { .. } => Form::Hyperbolic,
            Self::Log { .. } => Form::Log,
            Self::Exponential { .. } => Form::Exponential,
        }
    }

    /// Strength at `age_h`, never below zero.
    pub fn strength_mpa(&self, age_h: f64) -> f64 {
        let strength = match *self {
            Self::Hyperbolic { su_mpa, k_per_h, t0_h } => {
                let grown = k_per_h * (age_h - t0_h).max(0.0);
                su_mpa * grown / (1.0 + grown)
            }
            Self::Log { a_mpa, b_mpa } => a_mpa + b_mpa * age_h.log10(),
            Self::Exponential { su_mpa, tau_h, alpha } => su_mpa * (-(tau_h / age_h).powf(alpha)).exp(),
        };
        if age_h > 0.0 { strength.max(0.0) } else { 0.0 }
    }

    /// The age at which the curve reaches `strength_mpa`; `None` where it never does.
    pub fn age_h(&self, strength_mpa: f64) -> Option<f64> {
        let age = match *self {
            _ if strength_mpa <= 0.0 => return None,
            Self::Hyperbolic { su_mpa, .. } | Self::Exponential { su_mpa, .. } if strength_mpa >= su_mpa => {
                return None;
            }
            Self::Hyperbolic { su_mpa, k_per_h, t0_h } => {
                t0_h + strength_mpa / (k_per_h * (su_mpa - strength_mpa))
            }
            Self::Log { a_mpa, b_mpa } => 10f64.powf((strength_mpa - a_mpa) / b_mpa),
            Self::Exponential { su_mpa, tau_h, alpha } => {
                tau_h / (su_mpa / strength_mpa).ln().powf(1.0 / alpha)
            }
        };
        age.is_finite().then_some(age)
    }

    /// The parameters in the order of the form.
    pub fn parameters(&self) -> Vec<f64> {
        match *self {
            Self::Hyperbolic { su_mpa, k_per_h, t0_h } => vec![su_mpa, k_per_h, t0_h],
            Self::Log { a_mpa, b_mpa } => vec![a_mpa, b_mpa],
            Self::Exponential { su_mpa, tau_h, alpha } => vec![su_mpa, tau_h, alpha],
        }
    }

    /// How strength at `age_h` changes with each parameter, in their order.
    pub fn gradient(&self, age_h: f64) -> Vec<f64> {
        match *self {
            Self::Hyperbolic { su_mpa, k_per_h, t0_h } => {
                let since = age_h - t0_h;
                let below = 1.0 + k_per_h * since;
                vec![
                    k_per_h * since / below,
                    su_mpa * since / (below * below),
                    -su_mpa * k_per_h / (below * below),
                ]
            }
            Self::Log { .. } => vec![1.0, age_h.log10()],
            Self::Exponential { su_mpa, tau_h, alpha } => {
                let ratio = tau_h / age_h;
                let power = ratio.powf(alpha);
                let share = (-power).exp();
                vec![share, -su_mpa * share * alpha * power / tau_h, -su_mpa * share * power * ratio.ln()]
            }
        }
    }
}

/// The curve of a form from its parameters, if they are ones the form can have.
pub(super) fn from_parameters(form: Form, parameters: &[f64]) -> Result<Curve, SumError> {
    let curve = match (form, parameters) {
        (Form::Hyperbolic, &[su_mpa, k_per_h, t0_h]) => Curve::Hyperbolic { su_mpa, k_per_h, t0_h },
        (Form::Log, &[a_mpa, b_mpa]) => Curve::Log { a_mpa, b_mpa },
        (Form::Exponential, &[su_mpa, tau_h, alpha]) => Curve::Exponential { su_mpa, tau_h, alpha },
        _ => return Err(super::fit::no_fit()),
    };
    let sound = curve.parameters().iter().all(|value| value.is_finite());
    if sound { Ok(curve) } else { Err(super::fit::no_fit()) }
}
