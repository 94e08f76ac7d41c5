//! What stands before a planned step: the gates of the rules, and the waits of the route.

use super::propose::PlannedStep;
use super::{ChainLink, blocks};
use crate::body::{Body, Kind};
use crate::id::Hash;
use crate::moment::{Moment, add_hours};
use crate::routes::{Progress, Route, StageState, Wait, WaitFor};
use crate::rules::{Case, Fact, FactValue, Gate, GateState, Rule, Severity, Verdict, gates_of};
use crate::shop::Step;
use crate::text::{Text, text};
use crate::units::Dimension;

/// How often gates are asked again at the moment they name, before the answer is taken.
const ROUNDS: usize = 4;

/// Where a gate comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GateSource {
    /// A rule.
    Rule(&'static Rule),
    /// A wait of the route.
    Wait(WaitFor),
}

/// Something that stands before a planned step, or has a word of caution for it.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanGate {
    /// Where it comes from.
    pub source: GateSource,
    /// Its weight here.
    pub severity: Severity,
    /// Violated, or cannot tell.
    pub verdict: Verdict,
    /// Whether the step may go ahead.
    pub state: GateState,
    /// The entries it rests on.
    pub entries: Vec<Hash>,
    /// What was measured and what it is held against.
    pub facts: Vec<Fact>,
}

impl PlanGate {
    /// The rule, where it is one.
    pub fn rule(&self) -> Option<&'static Rule> {
        match self.source {
            GateSource::Rule(rule) => Some(rule),
            GateSource::Wait(_) => None,
        }
    }

    /// What it is called.
    pub fn title(&self) -> Text {
        match self.source {
            GateSource::Rule(rule) => rule.title,
            GateSource::Wait(reason) => reason.label(),
        }
    }

    /// Why it is there.
    pub fn why(&self) -> Text {
        match self.source {
            GateSource::Rule(rule) => rule.why,
            GateSource::Wait(_) => {
                text("The route of this piece asks for this wait.", "La ruta de esta pieza pide esta espera.")
            }
        }
    }

    /// What to do now.
    pub fn remedy(&self) -> Text {
        match self.source {
            GateSource::Rule(rule) => rule.remedy,
            GateSource::Wait(_) => text(
                "Wait until then, or change the route of the piece.",
                "Espere hasta entonces o cambie la ruta de la pieza.",
            ),
        }
    }

    /// When it opens by itself.
    pub fn opens(&self) -> Option<Moment> {
        match self.state {
            GateState::Until(moment) => Some(moment),
            _ => None,
        }
    }
}

impl From<Gate> for PlanGate {
    fn from(gate: Gate) -> Self {
        Self {
            source: GateSource::Rule(gate.rule),
            severity: gate.severity,
            verdict: gate.verdict,
            state: gate.state,
            entries: gate.entries,
            facts: gate.facts,
        }
    }
}

/// Every gate before a step. A gate that opens later is asked again for that moment, since others may stand
/// there by then (a recoat window that has closed).
pub(super) fn of_step(
    case: &Case<'_>,
    route: &Route,
    seen: &Progress,
    step: &PlannedStep,
    at: Moment,
) -> Vec<PlanGate> {
    let mut gates = waits(case, route, seen, step.stage, None);
    gates.retain(|gate| gate.opens().is_some_and(|moment| moment > at));
    let mut when = at;
    for _ in 0..ROUNDS {
        for gate in gates_of(case, &step.planned(), when).into_iter().map(PlanGate::from) {
            take(&mut gates, gate, at);
        }
        match earliest(&gates, at) {
            Some(later) if later > when => when = later,
            _ => break,
        }
    }
    gates
}

/// Adds a gate; of two from one rule the one that holds longer stays.
fn take(gates: &mut Vec<PlanGate>, gate: PlanGate, at: Moment) {
    let rank = |gate: &PlanGate| (blocks(gate.state), gate.opens().filter(|moment| *moment > at));
    match gates.iter_mut().find(|it| it.source == gate.source) {
        Some(there) if rank(there) < rank(&gate) => *there = gate,
        Some(_) => {}
        None => gates.push(gate),
    }
}

/// The earliest moment all gates are open; `None` where one is blocked.
pub(super) fn earliest(gates: &[PlanGate], at: Moment) -> Option<Moment> {
    if gates.iter().any(|gate| blocks(gate.state)) {
        return None;
    }
    Some(gates.iter().filter_map(PlanGate::opens).fold(at, Moment::max))
}

/// The gate that decides: a blocked one, the heaviest first, else the one that opens last.
pub(super) fn binding(gates: &[PlanGate]) -> Option<usize> {
    let all = || gates.iter().enumerate();
    let blocked = all().filter(|(_, gate)| blocks(gate.state)).min_by_key(|(_, gate)| gate.severity);
    let last = || all().filter_map(|(at, gate)| gate.opens().map(|opens| (opens, at))).max();
    blocked.map(|(at, _)| at).or_else(|| last().map(|(_, at)| at))
}

/// The waits of a stage. Stages still ahead count from their earliest moment in `ahead`.
pub(super) fn waits(
    case: &Case<'_>,
    route: &Route,
    seen: &Progress,
    stage: usize,
    ahead: Option<&[ChainLink]>,
) -> Vec<PlanGate> {
    let waits = route.stages[stage].waits.iter();
    waits.filter_map(|wait| gate_of(case, route, seen, wait, ahead)).collect()
}

fn gate_of(
    case: &Case<'_>,
    route: &Route,
    seen: &Progress,
    wait: &Wait,
    ahead: Option<&[ChainLink]>,
) -> Option<PlanGate> {
    let done = base(case, route, seen, wait);
    let planned = ahead.and_then(|links| planned_base(route, wait, links));
    let step = done.filter(|_| planned.is_none());
    if step.is_some_and(|step| wait.reason == WaitFor::Dry && reads_dry(case, step)) {
        return None;
    }
    let hours = wait.hours.or_else(|| step.and_then(|step| hours_of_product(case, step, wait.reason)))?;
    let from = planned.or(step.map(|step| step.done.finish()))?;
    Some(PlanGate {
        source: GateSource::Wait(wait.reason),
        severity: Severity::Caution,
        verdict: Verdict::Violated,
        state: GateState::Until(add_hours(from, hours)?),
        entries: step.iter().map(|step| step.hash).collect(),
        facts: vec![
            Fact::new(text("counts from", "cuenta desde"), FactValue::When(from)),
            Fact::new(text("wait", "espera"), FactValue::Number(hours, Dimension::Hour)),
        ],
    })
}

/// The recorded step a wait counts from.
fn base<'a>(case: &Case<'a>, route: &Route, seen: &Progress, wait: &Wait) -> Option<&'a Step> {
    let Some(after) = &wait.after else {
        let pour = wait.reason == WaitFor::Age;
        let fits = |kind: Kind| if pour { kind == Kind::Pour } else { is_work(kind) };
        return case.history.iter().rev().copied().find(|step| step.kind.is_some_and(fits));
    };
    let (StageState::Done(by) | StageState::Part(by)) = &seen.stages[route.place(after)?] else {
        return None;
    };
    let newest = by.last()?;
    case.history.iter().copied().find(|step| step.hash == *newest)
}

/// The moment a stage that is still ahead is reached, where a wait counts from one.
fn planned_base(route: &Route, wait: &Wait, links: &[ChainLink]) -> Option<Moment> {
    let reached = |link: &&ChainLink| match &wait.after {
        Some(after) => route.stages[link.stage].id == *after,
        None => wait.reason != WaitFor::Age && is_work(route.stages[link.stage].kind),
    };
    links.iter().rev().find(reached).and_then(|link| link.earliest)
}

/// Work a wait without a stage of its own counts from: whatever wets or loads the face.
pub(super) fn is_work(kind: Kind) -> bool {
    use Kind as K;
    matches!(
        kind,
        K::Pour
            | K::Demould
            | K::Clean
            | K::Colour
            | K::AcidWash
            | K::Rinse
            | K::Neutralise
            | K::GritPass
            | K::Flush
            | K::Fill
            | K::Trowel
            | K::Strip
            | K::Densify
            | K::SealCoat
    )
}

/// A passed moisture reading after the work says more than hours do.
fn reads_dry(case: &Case<'_>, work: &Step) -> bool {
    case.of(Kind::Moisture).any(|step| {
        let Some(Body::Moisture(reading)) = step.body() else { return false };
        reading.verdict == crate::body::sealing::Verdict::Pass && step.done.start >= work.done.finish()
    })
}

fn hours_of_product(case: &Case<'_>, step: &Step, reason: WaitFor) -> Option<f64> {
    let id = match step.body()? {
        Body::Fill(fill) => fill.product?,
        Body::SealCoat(coat) => coat.product,
        Body::Densify(densify) => densify.product,
        _ => return None,
    };
    let product = case.shop.products.get(&id)?.at(step.done.start);
    match reason {
        WaitFor::FillCure => product.fill_cure_h,
        WaitFor::Recoat => product.recoat_min_h,
        WaitFor::SealerCure => product.water_h,
        WaitFor::Dry => product.dry_before_h,
        WaitFor::Age | WaitFor::Rest => None,
    }
}
