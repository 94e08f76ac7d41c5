//! The fold: from merged entries, in any order of arrival, to one shop.
//!
//! Invariant: the result depends on the set of entries alone. Nothing here looks at the order of the input, at
//! a clock, or at a path.

mod digest;
mod grow;
mod order;
mod state;
mod status;
mod trust;

#[cfg(test)]
mod tests;

pub use digest::digest;
pub use grow::{Growth, grow};

use crate::entry::Merged;
use crate::shop::Shop;

/// Folds merged entries into a shop.
pub fn fold(merged: &Merged) -> Shop {
    let log = order::Log::new(merged);
    let trust = trust::judge(merged, &log);
    let statuses = status::judge(&log, &trust);
    state::build(merged, &log, &trust, &statuses)
}
