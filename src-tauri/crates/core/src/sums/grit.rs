//! Grit numbers by particle size, ladders from coarse to fine, and the scratch that is left.

mod ladder;
mod tables;

pub use ladder::{Ladder, ladder};

use super::check::within;
use super::{Grounds, SumError};
use crate::body::surface::GritScale;
use crate::text::text;

/// Basis and validity.
pub const GROUNDS: Grounds = Grounds {
    basis: text(
        "Particle sizes: FEPA P and CAMI by published tables (ISO 6344, ANSI); mesh by ASTM E11 openings (from memory), above 400 about 14,900 µm/number; pad numbers follow no binding standard, about 15,000 µm/number (common practice). Step rule: common practice, no source.",
        "Tamaños de grano: FEPA P y CAMI por tablas publicadas (ISO 6344, ANSI); malla por aberturas ASTM E11 (de memoria), sobre 400 unos 14 900 µm/número; los números de disco no siguen norma, unos 15 000 µm/número (práctica común). Regla de paso: práctica común, sin fuente.",
    ),
    validity: text(
        "Inside the table of each scale; a number between two rows lies on a straight line of logarithms. Sources differ by about 1 %, pads of different makes by much more.",
        "Dentro de la tabla de cada escala; un número entre dos filas se interpola en logaritmos. Las fuentes difieren cerca del 1 %, los discos de distintas marcas mucho más.",
    ),
};

/// A step up to this size ratio is an ordinary one ("about two").
pub const USUAL_RATIO: f64 = 2.2;
/// A step up to this size ratio is still allowed.
pub const LARGEST_RATIO: f64 = 2.5;
/// Sizes are known to about 1 %, so the largest ratio is not decided by the third figure.
const SIZE_TOLERANCE: f64 = 1.01;

/// A grit: a number on a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grit {
    /// The number.
    pub number: f64,
    /// The scale it belongs to.
    pub scale: GritScale,
}

/// Reads the name of a scale.
///
/// # Errors
/// `Unknown` with the names there are.
pub fn parse_scale(name: &str) -> Result<GritScale, SumError> {
    super::check::pick("scale", name, GritScale::ALL, GritScale::wire)
}

impl Grit {
    /// Mean particle size, µm.
    ///
    /// # Errors
    /// A number outside the table of its scale.
    pub fn particle_um(self) -> Result<f64, SumError> {
        let table = tables::sizes(self.scale);
        let (first, last) = (table[0].0, table[table.len() - 1].0);
        let number = within("grit", self.number, first, last)?;
        let pair = table.windows(2).find(|pair| number <= pair[1].0).unwrap_or(table);
        Ok(between(number, pair[0], pair[1]))
    }

    /// Whether the number stands in the table of its scale, and its size is not interpolated.
    pub fn is_listed(self) -> bool {
        tables::sizes(self.scale).iter().any(|(number, _)| (number - self.number).abs() < 1e-9)
    }
}

/// A straight line of logarithms between two rows; exact on the rows.
fn between(number: f64, (n0, s0): (f64, f64), (n1, s1): (f64, f64)) -> f64 {
    let share = (number / n0).ln() / (n1 / n0).ln();
    match share {
        share if share <= 0.0 => s0,
        share if share >= 1.0 => s1,
        share => s0 * (s1 / s0).powf(share),
    }
}

/// What a step from one grit to the next is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// The same size or coarser: only at a change of bond, after a fill, or as rework.
    Backwards,
    /// About two or less.
    Usual,
    /// Up to two and a half: still allowed.
    Large,
    /// More than two and a half: a grit was skipped.
    Skip,
}

/// The size ratio of a step and what it amounts to. Across scales the particle sizes decide.
///
/// # Errors
/// A number outside the table of its scale.
pub fn step(from: Grit, to: Grit) -> Result<(f64, Step), SumError> {
    let ratio = from.particle_um()? / to.particle_um()?;
    let verdict = match ratio {
        ratio if ratio <= 1.0 => Step::Backwards,
        ratio if ratio <= USUAL_RATIO => Step::Usual,
        ratio if ratio <= LARGEST_RATIO * SIZE_TOLERANCE => Step::Large,
        _ => Step::Skip,
    };
    Ok((ratio, verdict))
}

/// Depth of the scratches a grit leaves, µm, least and most: 0.2 to 0.5 of its particle size. Common practice,
/// coefficients without a source.
///
/// # Errors
/// A number outside the table of its scale.
pub fn scratch_um(grit: Grit) -> Result<(f64, f64), SumError> {
    let size = grit.particle_um()?;
    Ok((0.2 * size, 0.5 * size))
}

#[cfg(test)]
mod tests;
