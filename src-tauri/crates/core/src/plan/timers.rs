//! Clocks that run by themselves: dwells, cures, drying, the recoat window, pot life.

use super::gates::is_work;
use crate::body::{Body, Kind};
use crate::id::{Hash, ObjectId};
use crate::moment::{Moment, add_hours};
use crate::routes::{Route, WaitFor};
use crate::rules::Case;
use crate::shop::Step;

choices! {
    /// What a clock runs for.
    pub enum TimerKind {
        Dwell = "dwell": "dwell", "tiempo de acción";
        FillCure = "fill_cure": "fill curing", "curado del relleno";
        Dry = "dry": "drying", "secado";
        Recoat = "recoat": "until the next coat", "hasta la siguiente mano";
        PotLife = "pot_life": "pot life", "vida de la mezcla";
        SealerCure = "sealer_cure": "sealer curing", "curado del sellador";
        InitialCure = "initial_cure": "initial cure", "curado inicial";
    }
}

/// A clock that runs on a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timer {
    /// What for.
    pub kind: TimerKind,
    /// The entry that started it.
    pub step: Hash,
    /// When it began.
    pub start: Moment,
    /// When it ends.
    pub end: Moment,
    /// Of a recoat window: past this the face is abraded first.
    pub latest: Option<Moment>,
}

impl Timer {
    /// Whether work on the piece waits for it. Pot life presses instead.
    pub fn holds_work(&self) -> bool {
        self.kind != TimerKind::PotLife
    }
}

/// The clocks that run at a moment: started, not over, and not cut short by later work on the face.
pub(super) fn running(case: &Case<'_>, route: &Route, at: Moment) -> Vec<Timer> {
    let Some(last) = case.history.iter().rposition(|step| step.kind.is_some_and(is_clocked_work)) else {
        return Vec::new();
    };
    let step = case.history[last];
    let mut timers: Vec<Timer> = of_step(case, route, step).into_iter().flatten().collect();
    timers.retain(|timer| timer.start <= at && at < timer.latest.unwrap_or(timer.end).max(timer.end));
    timers
}

/// Work whose clock, or lack of one, replaces that of the work before it: work on the face, and what only waits.
fn is_clocked_work(kind: Kind) -> bool {
    use Kind as K;
    is_work(kind) || matches!(kind, K::InitialCure | K::Dry | K::SealerCure | K::Handover)
}

fn of_step(case: &Case<'_>, route: &Route, step: &Step) -> [Option<Timer>; 2] {
    let start = step.done.start;
    let hours = |kind, hours: Option<f64>| span(kind, step, add_hours(start, hours?));
    let one = |timer| [timer, None];
    match step.body() {
        Some(Body::InitialCure(_)) => one(span(TimerKind::InitialCure, step, step.done.end)),
        Some(Body::AcidWash(wash)) => one(dwell(step, wash.dwell_min)),
        Some(Body::Neutralise(it)) => one(dwell(step, it.dwell_min)),
        Some(Body::Densify(it)) => one(dwell(step, Some(it.dwell_min))),
        Some(Body::Fill(fill)) => {
            let sheet = fill.product.and_then(|id| product(case, id, start)).and_then(|it| it.fill_cure_h);
            one(hours(TimerKind::FillCure, sheet.or_else(|| wait_hours(route, WaitFor::FillCure))))
        }
        Some(Body::Dry(_)) => one(dry(route, step)),
        Some(Body::SealerCure(cure)) => one(span(TimerKind::SealerCure, step, Some(cure.until))),
        Some(Body::SealCoat(coat)) => [recoat(case, step, coat.product), pot_life(case, step, coat.product)],
        _ => [None, None],
    }
}

fn span(kind: TimerKind, step: &Step, end: Option<Moment>) -> Option<Timer> {
    let start = step.done.start;
    end.filter(|end| *end > start).map(|end| Timer { kind, step: step.hash, start, end, latest: None })
}

/// A dwell runs until its minutes are over, or until it was ended.
fn dwell(step: &Step, minutes: Option<f64>) -> Option<Timer> {
    let planned = add_hours(step.done.start, minutes? / 60.0);
    span(TimerKind::Dwell, step, step.done.end.or(planned))
}

fn dry(route: &Route, step: &Step) -> Option<Timer> {
    let planned = wait_hours(route, WaitFor::Dry).and_then(|hours| add_hours(step.done.start, hours));
    span(TimerKind::Dry, step, step.done.end.or(planned))
}

fn recoat(case: &Case<'_>, step: &Step, id: ObjectId) -> Option<Timer> {
    let product = product(case, id, step.done.start)?;
    let from = step.done.finish();
    let end = add_hours(from, product.recoat_min_h?)?;
    let latest = product.recoat_max_h.and_then(|hours| add_hours(from, hours));
    Some(Timer { kind: TimerKind::Recoat, step: step.hash, start: step.done.start, end, latest })
}

/// The pot's clock as its sheet gives it, from the start of the coat.
fn pot_life(case: &Case<'_>, step: &Step, id: ObjectId) -> Option<Timer> {
    let minutes = product(case, id, step.done.start)?.pot_life_min?;
    span(TimerKind::PotLife, step, add_hours(step.done.start, minutes / 60.0))
}

fn product<'a>(case: &Case<'a>, id: ObjectId, at: Moment) -> Option<&'a crate::body::setup::Product> {
    case.shop.products.get(&id).map(|versions| versions.at(at))
}

/// The hours the route asks for, for this reason.
fn wait_hours(route: &Route, reason: WaitFor) -> Option<f64> {
    let waits = route.stages.iter().flat_map(|stage| &stage.waits);
    waits.filter(|wait| wait.reason == reason).find_map(|wait| wait.hours)
}
