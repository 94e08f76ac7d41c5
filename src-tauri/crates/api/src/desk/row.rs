//! One piece in the day's list, worked out from its findings and its plan.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use trowelogue_core::body::{Kind, Place};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::plan::{self, GateSource, PiecePlan, PlanState, PlannedStep};
use trowelogue_core::rules::{Finding, Severity, State};
use trowelogue_core::shop::{Shop, Step, Versions};

use super::{clocks, picture, words};
use crate::dto::{ClockFace, DayPiece, DayState, NextStep, PieceClock};
use crate::format::Voice;
use crate::reading::{day_state, first_upper, line_of};

/// The longest a row of a piece that is not finished is believed, in milliseconds. What stands before a step is
/// asked again then, although no moment was named at which it changes.
const BELIEVED_MS: i64 = 60_000;

/// A row of the day's list, and how long it holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Row {
    /// Where the piece stands.
    pub state: DayState,
    /// The row as it is shown.
    pub piece: DayPiece,
    /// Time to spare before the handover agreed on, in milliseconds; none where no day was agreed.
    pub spare_ms: Option<i64>,
    /// Until when the row holds, in milliseconds since 1970; none: until the record changes.
    pub until_ms: Option<i64>,
    /// The day of handover agreed on, in milliseconds since 1970.
    pub handover_ms: Option<i64>,
    /// Clocks that run on it.
    pub clocks: Vec<PieceClock>,
    /// Who has worked on it.
    pub people: BTreeSet<ObjectId>,
    /// Where it is.
    pub place: Place,
}

impl Row {
    /// The row of a piece at a moment; none where the piece is not recorded.
    pub(crate) fn of(
        voice: &Voice,
        shop: &Shop,
        id: ObjectId,
        findings: &[Finding],
        now: Moment,
    ) -> Option<Self> {
        let facts = shop.pieces.get(&id).map(Versions::now)?;
        let plan = plan::next_with(shop, id, now, findings);
        let job = facts.job.and_then(|job| shop.jobs.get(&job)).map(Versions::now);
        let handover = job.and_then(|job| job.handover_by).map(|day| voice.when_day(day, &now));
        let standing = |severity: Severity| {
            findings.iter().filter(|it| it.severity == severity && it.state == State::Stands).count()
        };
        let piece = DayPiece {
            id: id.to_string(),
            code: facts.code.clone(),
            name: facts.name.clone(),
            job: job.map(|job| format!("{} {}", job.code, job.name)).unwrap_or_default(),
            job_id: facts.job.map(|job| job.to_string()),
            outline: picture::outline(voice, facts),
            next: next_step(voice, &plan),
            line: line_of(voice, &plan, now).text,
            clock: clock(voice, shop, &plan, now),
            stops: super::open::small(standing(Severity::Stop) as u64),
            cautions: super::open::small(standing(Severity::Caution) as u64),
            handover: handover.clone(),
        };
        Some(Self {
            state: day_state(&plan),
            piece,
            spare_ms: handover.as_ref().map(|due| spare(&plan, due.ms, now)),
            until_ms: holds_until(shop, id, &plan, now),
            handover_ms: handover.map(|due| due.ms),
            clocks: clocks::of_plan(voice, id, &facts.code, &plan, now),
            people: in_force(shop, id).map(|step| step.person).collect(),
            place: place(shop, id),
        })
    }

    /// What decides the order within a group: the least to spare first, of those handed over the newest, and last
    /// whatever has no day; those alike by code.
    pub(crate) fn order(&self) -> (bool, Option<i64>, &str) {
        let order = self.order_ms();
        (order.is_none(), order, &self.piece.code)
    }

    /// The number in it.
    pub(crate) fn order_ms(&self) -> Option<i64> {
        match self.state {
            DayState::Done => self.handover_ms.map(i64::wrapping_neg),
            _ => self.spare_ms,
        }
    }
}

fn in_force(shop: &Shop, id: ObjectId) -> impl Iterator<Item = &Step> {
    shop.steps_of(id).filter(|step| step.in_force)
}

/// Where a piece is: where the newest work that says so was done; a piece that was delivered is on site.
fn place(shop: &Shop, id: ObjectId) -> Place {
    let says = |step: &Step| {
        let away =
            matches!(step.kind, Some(Kind::Delivery | Kind::Install | Kind::Handover | Kind::ServiceVisit));
        let said = step.common().and_then(|common| common.place);
        said.or(away.then_some(Place::Site)).map(|place| (step.done.start, place))
    };
    let newest = in_force(shop, id).filter_map(says).max_by_key(|(moment, _)| *moment);
    newest.map_or(Place::Shop, |(_, place)| place)
}

/// The step that is due, as a button says it.
pub(crate) fn next_step(voice: &Voice, plan: &PiecePlan) -> Option<NextStep> {
    plan.step.as_ref().map(|step| step_told(voice, step))
}

/// A step of the plan, as a button says it.
pub(crate) fn step_told(voice: &Voice, step: &PlannedStep) -> NextStep {
    NextStep {
        kind: step.kind.wire().to_owned(),
        title: first_upper(step.title.get(voice.lang)),
        region: step.region.map(|region| voice.say(region.label())),
    }
}

/// What runs on the piece, else what its next step waits for.
pub(crate) fn clock(voice: &Voice, shop: &Shop, plan: &PiecePlan, now: Moment) -> Option<ClockFace> {
    let running = plan.timers.iter().filter(|timer| timer.end > now);
    if let Some(timer) = running.min_by_key(|timer| (!timer.holds_work(), timer.end)) {
        return Some(ClockFace {
            label: voice.say(timer.kind.label()),
            starts: voice.when(&timer.start, &now),
            ends: voice.when(&timer.end, &now),
        });
    }
    let ends = plan.earliest.filter(|earliest| *earliest > now)?;
    let gate = plan.binding_gate()?;
    let began = gate.entries.iter().filter_map(|hash| shop.step(hash)).map(|step| step.done.finish()).max();
    let label = match gate.source {
        GateSource::Wait(reason) => reason.label(),
        GateSource::Rule(_) => words::WAITS,
    };
    let starts = began.filter(|began| *began < ends).unwrap_or(now);
    Some(ClockFace {
        label: voice.say(label),
        starts: voice.when(&starts, &now),
        ends: voice.when(&ends, &now),
    })
}

/// Time from the earliest end of the route to the end of the day agreed on.
fn spare(plan: &PiecePlan, due_ms: i64, now: Moment) -> i64 {
    const DAY_MS: i64 = 24 * 3_600_000;
    let done = plan.handover().unwrap_or(now).max(now);
    due_ms + DAY_MS - done.timestamp_millis()
}

/// Until when a plan holds: to the next moment it names, for a piece at work never longer than a minute.
fn holds_until(shop: &Shop, id: ObjectId, plan: &PiecePlan, now: Moment) -> Option<i64> {
    let future = shop.steps_of(id).map(|step| step.done.start);
    let timers = plan.timers.iter().flat_map(|timer| [Some(timer.end), timer.latest]).flatten();
    let gates = plan.gates.iter().filter_map(plan::PlanGate::opens);
    let named = future.chain(timers).chain(gates).chain(plan.earliest).filter(|moment| *moment > now);
    let named = named.map(|moment| moment.timestamp_millis()).min();
    let believed = (plan.state != PlanState::Finished).then(|| now.timestamp_millis() + BELIEVED_MS);
    named.into_iter().chain(believed).min()
}
