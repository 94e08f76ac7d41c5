//! Pieces that are ready for the same step, so that one entry may cover them.

use chrono::TimeDelta;

use super::Ask;
use super::propose::Planned;
use crate::id::ObjectId;
use crate::plan::{self, PiecePlan};
use crate::shop::Shop;

/// Pieces worked on within this time are looked at, beside those of the same job or pour.
const RECENT_DAYS: i64 = 14;
/// The most pieces looked at.
const LOOKED_AT: usize = 200;

/// The pieces that are ready for the planned step, in order of their codes.
pub(super) fn could_join(ask: &Ask<'_>, planned: &Planned) -> Vec<ObjectId> {
    let mut found: Vec<(&str, ObjectId)> = candidates(ask)
        .into_iter()
        .filter(|piece| is_ready(&plan::next_with(ask.shop, *piece, ask.at, &[]), planned, ask))
        .filter_map(|piece| Some((ask.shop.pieces.get(&piece)?.now().code.as_str(), piece)))
        .collect();
    found.sort_unstable();
    found.into_iter().map(|(_, piece)| piece).collect()
}

fn candidates(ask: &Ask<'_>) -> Vec<ObjectId> {
    let job_of = |piece: &ObjectId| ask.shop.pieces.get(piece).and_then(|it| it.now().job);
    let jobs: Vec<ObjectId> = ask.pieces.iter().filter_map(job_of).collect();
    let pours: Vec<ObjectId> =
        ask.pieces.iter().filter_map(|it| ask.shop.pour_of(*it)).map(|(id, _)| id).collect();
    let related = |piece: &ObjectId| {
        job_of(piece).is_some_and(|job| jobs.contains(&job))
            || pours.iter().any(|pour| ask.shop.pours[pour].pieces.contains(piece))
            || worked_lately(ask.shop, *piece, ask)
    };
    let others = ask.shop.pieces.keys().filter(|piece| !ask.pieces.contains(piece));
    others.copied().filter(|piece| related(piece)).take(LOOKED_AT).collect()
}

fn worked_lately(shop: &Shop, piece: ObjectId, ask: &Ask<'_>) -> bool {
    let from = ask.at - TimeDelta::days(RECENT_DAYS);
    shop.steps_of(piece).any(|step| step.in_force && step.done.start >= from)
}

/// Whether the piece waits for nothing but this very step.
fn is_ready(plan: &PiecePlan, planned: &Planned, ask: &Ask<'_>) -> bool {
    let Some(step) = &plan.step else { return false };
    let ready = step.earliest.is_some_and(|earliest| earliest <= ask.at);
    let same = step.kind == ask.kind
        && step.region == planned.region
        && plan.stage(step.stage).is_some_and(|stage| stage.set == planned.route_set);
    let coat = step.values.get("coat") == planned.set.get("coat");
    ready && same && coat
}
