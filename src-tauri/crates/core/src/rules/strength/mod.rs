//! Strength before cutting, lifting and ending: the ladder of evidence and the rules that climb it.

pub(crate) mod cut_below_gate;

mod curves;
mod evidence;

pub(crate) use curves::Curves;
pub(crate) use evidence::{Standing, against};
