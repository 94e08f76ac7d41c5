//! Washing: acid, what neutralises it, what is left of it.

pub(crate) mod acid_left_on;
pub(crate) mod acid_near_metal;
pub(crate) mod acid_on_soft_stone;
pub(crate) mod acid_too_strong;
pub(crate) mod acid_unprepared;
pub(crate) mod ammonia_too_strong;
pub(crate) mod ph_high;
pub(crate) mod ph_low;

use crate::body::setup::{Aggregate, Mix};
use crate::body::surface::{PhOf, PhReading};
use crate::rules::prelude::*;

/// What the pH of the face is held against: the rinse water as read, else what tap water may be.
#[derive(Clone, Copy)]
struct RinseWater<'a> {
    low: f64,
    high: f64,
    step: Option<&'a Step>,
}

/// The rinse water read last, or, where it was read only afterwards, then.
fn rinse_water<'a>(past: &Past<'_, 'a>) -> RinseWater<'a> {
    let whole = past.case.whole();
    let tap = |(_, it): &(&Step, &PhReading)| it.of == PhOf::RinseWater;
    let read = past.all(view::ph_reading).rev().find(tap).or_else(|| whole.all(view::ph_reading).find(tap));
    let usual = RinseWater { low: limits::TAP_PH_LOW.value, high: limits::TAP_PH_HIGH.value, step: None };
    read.map_or(usual, |(step, it)| RinseWater { low: it.ph, high: it.ph, step: Some(step) })
}

impl RinseWater<'_> {
    /// The rinse water as facts.
    fn facts(&self) -> Vec<Fact> {
        let name = text("pH of the rinse water", "pH del agua de enjuague");
        match self.step {
            Some(_) => vec![count(name, self.low, 1)],
            None => vec![missing(name), limits::TAP_PH_LOW.fact(), limits::TAP_PH_HIGH.fact()],
        }
    }
}

/// The last pH read on the face, of its final rinse or of the surface.
fn face_reading<'a>(past: &Past<'_, 'a>, region: Option<Region>) -> Option<(&'a Step, &'a PhReading)> {
    past.all(view::ph_reading).rfind(|(step, it)| it.of != PhOf::RinseWater && covers(step, region))
}

/// Stone in a piece that acid dissolves; `None` where the record does not say what stone there is.
fn soluble_stone(case: &Case<'_>) -> Option<Vec<Aggregate>> {
    let vein = case.facts().and_then(|it| it.vein_mix);
    let vein: Option<Option<&Mix>> = vein.map(|id| case.shop.mixes.get(&id).map(crate::shop::Versions::now));
    let mixes: Option<Vec<&Mix>> = std::iter::once(case.mix()).chain(vein).collect();
    let mixes = mixes?;
    if mixes.iter().any(|mix| mix.aggregates.is_empty()) {
        return None;
    }
    let soluble = |it: &Aggregate| {
        matches!(it, Aggregate::Limestone | Aggregate::Marble | Aggregate::Dolomite | Aggregate::Shell)
    };
    Some(mixes.into_iter().flat_map(|mix| mix.aggregates.iter().copied()).filter(soluble).collect())
}
