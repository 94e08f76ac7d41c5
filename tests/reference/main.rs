//! The sums against the published world: each check value stands beside its source.
//!
//! Values computed with an independent library name it with its version. "From memory" means that the figure was
//! recalled from the publication and not read again.

mod air;
mod chemistry;
mod coats;
mod exposure;
mod grits;
mod maturity;
mod units;

use std::collections::BTreeSet;

/// One value of the product against one of the outside.
struct Check {
    source: &'static str,
    what: String,
    found: f64,
    wanted: f64,
    within: f64,
}

impl Check {
    /// A NaN agrees with nothing.
    fn agrees(&self) -> bool {
        let off = (self.found - self.wanted).abs();
        off.is_finite() && off <= self.within
    }

    /// Whether the value itself comes from outside, not from a formula worked by hand or from practice.
    fn is_published(&self) -> bool {
        !["by hand", "common practice", "definition"].iter().any(|inside| self.source.contains(inside))
    }
}

/// A check with an absolute tolerance.
fn check(source: &'static str, what: impl Into<String>, found: f64, wanted: f64, within: f64) -> Check {
    Check { source, what: what.into(), found, wanted, within }
}

/// A check to the last figure of `printed`.
fn to_the_digit(source: &'static str, what: impl Into<String>, found: f64, printed: &str) -> Check {
    let decimals = printed.split_once('.').map_or(0, |(_, tail)| tail.len());
    let half = 0.5 * 10f64.powi(-i32::try_from(decimals).expect("few"));
    // A hair more than half a unit, for values that end on a five.
    check(source, what, found, printed.parse().expect("a number"), half * 1.000_001)
}

fn all() -> Vec<Check> {
    [
        air::checks(),
        maturity::checks(),
        chemistry::checks(),
        coats::checks(),
        grits::checks(),
        exposure::checks(),
        units::checks(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

#[test]
fn every_value_agrees_with_its_source() {
    let off: Vec<String> = all()
        .iter()
        .filter(|c| !c.agrees())
        .map(|c| {
            format!("{}: {} is {}, the source says {} (± {})", c.source, c.what, c.found, c.wanted, c.within)
        })
        .collect();
    assert!(off.is_empty(), "{}", off.join("\n"));
}

#[test]
fn there_are_enough_published_values_and_sources() {
    let checks = all();
    let published: Vec<&Check> = checks.iter().filter(|check| check.is_published()).collect();
    let sources: BTreeSet<&str> = published.iter().map(|check| check.source).collect();
    println!("{} values, of them {} published by {} sources", checks.len(), published.len(), sources.len());
    assert!(published.len() >= 150, "{} values", published.len());
    assert!(sources.len() >= 15, "{sources:?}");
}
