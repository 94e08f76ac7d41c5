//! The sums of the trade: strength, washes, moist air, coats, grits, loads and exposure.
//!
//! Every sum is a pure function: SI in, SI out, with the basis it rests on and the limits it holds in. Outside
//! them it refuses in words ([`SumError`]) and never extrapolates. [`calc`] has the form the command line
//! prints. Where the sources disagree or a figure is from memory, the words say so and the careful side counts.

mod check;
mod error;
#[macro_use]
mod words;

pub mod air;
pub mod calc;
pub mod calendar;
pub mod chemistry;
pub mod coat;
pub mod cost;
pub mod curve;
pub mod evaporation;
pub mod fit;
pub mod grit;
pub mod load;
pub mod logger;
pub mod maturity;
pub mod noise;
pub mod pot_life;
pub mod silica;
pub mod strength;
pub mod tool;
pub mod vibration;
pub mod wash;

#[cfg(test)]
mod hostile_tests;

pub use error::SumError;

use crate::text::Text;

/// What a result rests on and where it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grounds {
    /// A published source, or "common practice, no source".
    pub basis: Text,
    /// The limits it holds in.
    pub validity: Text,
}
