//! The shortest ladder from a start grit to an end grit.

use super::{GROUNDS, Grit, LARGEST_RATIO, SIZE_TOLERANCE, USUAL_RATIO, scratch_um, tables};
use crate::body::surface::GritScale;
use crate::sums::{Grounds, SumError};
use crate::text::text;

/// A ladder of grits.
#[derive(Debug, Clone, PartialEq)]
pub struct Ladder {
    /// The scale.
    pub scale: GritScale,
    /// Grit numbers, coarse to fine, both ends included.
    pub steps: Vec<f64>,
    /// Particle size of each, µm.
    pub particle_um: Vec<f64>,
    /// Size ratio of each step to the next.
    pub size_ratios: Vec<f64>,
    /// Depth of the scratches the last grit leaves, µm, least and most.
    pub scratch_left_um: (f64, f64),
    /// Basis and validity.
    pub grounds: Grounds,
}

/// The ladder from one number to a finer one: as few steps as the usual ratio allows, and among those the
/// evenest. Where the numbers on sale leave a wider gap, steps up to the largest allowed ratio are taken.
///
/// # Errors
/// A number outside the scale, an end coarser than the start, or a gap no step bridges.
pub fn ladder(from: f64, to: f64, scale: GritScale) -> Result<Ladder, SumError> {
    let start = Grit { number: from, scale }.particle_um()?;
    let end = Grit { number: to, scale }.particle_um()?;
    if end > start {
        return Err(SumError::Refused {
            field: "to",
            why: text(
                "a ladder runs from coarse to fine; backwards only as rework",
                "una escala va de grueso a fino; hacia atrás solo como repaso",
            ),
        });
    }
    let rungs = rungs(from, to, scale)?;
    let found = shortest(&rungs, USUAL_RATIO).or_else(|| shortest(&rungs, LARGEST_RATIO * SIZE_TOLERANCE));
    let path = found.ok_or(SumError::Refused {
        field: "to",
        why: text(
            "no grits on sale in this scale bridge the gap within the step rule",
            "ningún grano a la venta en esta escala salva el hueco dentro de la regla de paso",
        ),
    })?;
    let particle_um: Vec<f64> = path.iter().map(|(_, size)| *size).collect();
    Ok(Ladder {
        scale,
        steps: path.iter().map(|(number, _)| *number).collect(),
        size_ratios: particle_um.windows(2).map(|pair| pair[0] / pair[1]).collect(),
        particle_um,
        scratch_left_um: scratch_um(Grit { number: to, scale })?,
        grounds: GROUNDS,
    })
}

/// Number and size of every grit that may stand on the ladder, coarse to fine.
fn rungs(from: f64, to: f64, scale: GritScale) -> Result<Vec<(f64, f64)>, SumError> {
    let between = tables::sold(scale).iter().copied().filter(|number| *number > from && *number < to);
    let ends = if to > from { vec![to] } else { Vec::new() };
    std::iter::once(from)
        .chain(between)
        .chain(ends)
        .map(|number| Grit { number, scale }.particle_um().map(|size| (number, size)))
        .collect()
}

/// The best way to reach a rung: how many steps, how uneven, and from where.
#[derive(Clone, Copy)]
struct Way {
    steps: usize,
    unevenness: f64,
    from: usize,
}

/// Fewest steps, then the least sum of squared log ratios (the evenest); `None` if the end is out of reach.
fn shortest(rungs: &[(f64, f64)], limit: f64) -> Option<Vec<(f64, f64)>> {
    let mut ways = vec![None; rungs.len()];
    ways[0] = Some(Way { steps: 0, unevenness: 0.0, from: 0 });
    for at in 1..rungs.len() {
        let reach = |from: usize| {
            let way: Way = ways[from]?;
            let ratio = rungs[from].1 / rungs[at].1;
            let unevenness = way.unevenness + ratio.ln().powi(2);
            (ratio <= limit).then_some(Way { steps: way.steps + 1, unevenness, from })
        };
        ways[at] = (0..at)
            .filter_map(reach)
            .min_by(|a: &Way, b: &Way| a.steps.cmp(&b.steps).then(a.unevenness.total_cmp(&b.unevenness)));
    }
    let mut at = rungs.len() - 1;
    let mut path = vec![rungs[at]];
    while at > 0 {
        at = ways[at]?.from;
        path.push(rungs[at]);
    }
    path.reverse();
    Some(path)
}
