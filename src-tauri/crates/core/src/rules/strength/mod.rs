//! Strength before cutting, lifting and ending: the ladder of evidence and the rules that climb it.

pub(crate) mod cut_below_gate;
pub(crate) mod deep_cut_too_late;
pub(crate) mod fine_grit_early;
pub(crate) mod lifted_too_young;
pub(crate) mod rebound_on_thin;

mod curves;
mod evidence;
mod seen;

pub use curves::lend;
pub(crate) use curves::{Curves, readings};
pub(crate) use evidence::{Asked, Standing, against, known};
pub use seen::{mix_seen, strength_seen};

use crate::body::setup::{Aggregate, FinishKind};
use crate::rules::prelude::*;

/// Whether there is glass in a piece, by finish, pour or mix.
pub(crate) fn has_glass(case: &Case<'_>) -> bool {
    let poured = case.pour().is_some_and(|(_, pour)| pour.glass_pct.is_some_and(|pct| pct > 0.0));
    let mixed = case.mix().is_some_and(|mix| mix.aggregates.contains(&Aggregate::Glass));
    case.finish() == Some(FinishKind::Glass) || poured || mixed
}
