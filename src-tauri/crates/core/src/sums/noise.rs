//! Noise: the daily exposure level, and the dose by the US rule.

use super::check::within;
use super::{Grounds, SumError};
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Directive 2003/10/EC: LEX,8h = 10·lg(Σ T·10^(L/10) / 8 h), action values 80 and 85 dB(A), limit 87 dB(A) under the protector. 29 CFR 1910.95: 8 h at 90 dB(A), halved every 5 dB, from 80 dB(A) on (appendix A from memory).",
        "Directiva 2003/10/CE: LEX,8h = 10·lg(Σ T·10^(L/10) / 8 h), valores de acción 80 y 85 dB(A), límite 87 dB(A) bajo el protector. 29 CFR 1910.95: 8 h a 90 dB(A), la mitad cada 5 dB, desde 80 dB(A) (apéndice A de memoria).",
    ),
    validity: text(
        "One person and one day of at most 24 h; levels from 50 to 140 dB(A) at the ear. Impulse noise is judged apart. Confirm the local limits.",
        "Una persona y un día de 24 h como mucho; niveles de 50 a 140 dB(A) en el oído. El ruido de impacto se juzga aparte. Confirme los límites locales.",
    ),
};

/// Time at one level.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Spell {
    /// Level at the ear, dB(A).
    pub level_dba: f64,
    /// Time, h.
    pub hours_h: f64,
}

/// One person's noise of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Noise {
    /// Daily noise exposure level LEX,8h, dB(A).
    pub lex_8h_dba: f64,
    /// Dose by 29 CFR 1910.95, %.
    pub dose_pct: f64,
    /// Eight-hour average by 29 CFR 1910.95, dB(A).
    pub twa_dba: f64,
    /// At or above the lower action value of 80 dB(A).
    pub lower_action_reached: bool,
    /// At or above the upper action value of 85 dB(A).
    pub upper_action_reached: bool,
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The noise of a day.
///
/// # Errors
/// No spell, a level outside 50 to 140 dB(A), more than 24 hours together.
pub fn noise(spells: &[Spell]) -> Result<Noise, SumError> {
    if spells.is_empty() {
        return Err(SumError::Missing { field: "spells" });
    }
    let (mut energy, mut dose, mut total) = (0.0, 0.0, 0.0);
    for spell in spells {
        let level = within("level_dba", spell.level_dba, 50.0, 140.0)?;
        let hours = within("hours_h", spell.hours_h, 0.0, 24.0)?;
        total += hours;
        energy += hours * 10f64.powf(level / 10.0);
        if level >= 80.0 {
            dose += 100.0 * hours / allowed_h(level);
        }
    }
    within("hours_h", total, 1e-6, 24.0)?;
    let lex = 10.0 * (energy / 8.0).log10();
    // No dose is no average: 16.61·lg would run to minus infinity.
    let twa_dba = if dose > 0.0 { 16.61 * (dose / 100.0).log10() + 90.0 } else { 0.0 };
    Ok(Noise {
        lex_8h_dba: lex,
        dose_pct: dose,
        twa_dba: twa_dba.max(0.0),
        lower_action_reached: lex >= 80.0 - 1e-9,
        upper_action_reached: lex >= 85.0 - 1e-9,
        grounds: GROUNDS,
    })
}

/// Hours allowed at a level by 29 CFR 1910.95: 8 / 2^((L − 90)/5).
fn allowed_h(level_dba: f64) -> f64 {
    8.0 / 2f64.powf((level_dba - 90.0) / 5.0)
}

/// Hours at a level until the 85 dB(A) action level by an exchange of 3 dB (NIOSH, EU).
///
/// # Errors
/// A level outside 50 to 140 dB(A).
pub fn hours_to_85_dba(level_dba: f64) -> Result<f64, SumError> {
    let level = within("level_dba", level_dba, 50.0, 140.0)?;
    Ok((8.0 * 10f64.powf((85.0 - level) / 10.0)).min(24.0))
}

/// Hours allowed at a level by 29 CFR 1910.95, at most 24.
///
/// # Errors
/// A level outside 80 to 140 dB(A).
pub fn osha_allowed_h(level_dba: f64) -> Result<f64, SumError> {
    Ok(allowed_h(within("level_dba", level_dba, 80.0, 140.0)?).min(24.0))
}
