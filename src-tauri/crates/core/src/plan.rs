//! The planner: what may be done next on a piece, from when, and why not yet.
//!
//! Pure: history, settings and the moment are passed in. Invariant: the earliest moment of a step is never
//! earlier than any of its gates; a step that is blocked has no earliest moment.

mod gates;
mod propose;
mod timers;

#[cfg(test)]
pub(crate) mod probe;
#[cfg(test)]
mod tests;

pub use gates::{GateSource, PlanGate};
pub use propose::PlannedStep;
pub(crate) use propose::is_carried;
pub use timers::{Timer, TimerKind};

use crate::body::Kind;
use crate::id::ObjectId;
use crate::moment::Moment;
use crate::routes::{Held, InUse, Progress, Route, Stage, StageState, in_use, progress};
use crate::rules::{Case, Curves, Finding, GateState, Severity, State, Verdict, check_case, check_piece};
use crate::shop::{Shop, Step};

choices! {
    /// What can be done on a piece now.
    pub enum PlanState {
        Ready = "ready": "ready", "lista";
        Running = "running": "running", "en marcha";
        Waiting = "waiting": "waiting", "en espera";
        Blocked = "blocked": "something first", "falta algo antes";
        InTrouble = "in_trouble": "in trouble", "con problemas";
        Finished = "finished": "finished", "terminada";
    }
}

/// The route a plan follows.
#[derive(Debug, Clone, PartialEq)]
pub struct RouteInUse {
    /// The route.
    pub route: Held,
    /// It is the copy frozen into the piece's record, not the shipped route for its finish.
    pub frozen: bool,
}

impl std::ops::Deref for RouteInUse {
    type Target = Route;

    fn deref(&self) -> &Route {
        &self.route
    }
}

/// A stage still ahead, and the earliest moment for it as far as waits and products say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChainLink {
    /// Place of the stage in the route.
    pub stage: usize,
    /// The earliest moment; none where something before it is blocked.
    pub earliest: Option<Moment>,
}

/// The plan of one piece at a moment.
#[derive(Debug, Clone, PartialEq)]
pub struct PiecePlan {
    /// The piece.
    pub piece: ObjectId,
    /// What can be done on it.
    pub state: PlanState,
    /// The route it follows; none where neither route nor finish is known.
    pub route: Option<RouteInUse>,
    /// The step that is due.
    pub step: Option<PlannedStep>,
    /// Optional steps that may be done before it, and what a rule may ask for first.
    pub options: Vec<PlannedStep>,
    /// Dwells, cures and waits that are running.
    pub timers: Vec<Timer>,
    /// When the step may begin at the earliest; none where it is blocked or nothing is due.
    pub earliest: Option<Moment>,
    /// The gate that decides, as a place in `gates`: what blocks, else what opens last.
    pub binding: Option<usize>,
    /// Everything that stands before the step or has a word of caution for it.
    pub gates: Vec<PlanGate>,
    /// How each stage of the route stands, in its order.
    pub stages: Vec<StageState>,
    /// The stages ahead with their earliest moments; the one that is due first.
    pub chain: Vec<ChainLink>,
    /// Open stops on what was done.
    pub stops: usize,
}

impl PiecePlan {
    /// The gate that decides.
    pub fn binding_gate(&self) -> Option<&PlanGate> {
        self.gates.get(self.binding?)
    }

    /// The earliest moment the last stage of the route can be done, as far as waits and products say.
    pub fn handover(&self) -> Option<Moment> {
        self.chain.last()?.earliest
    }

    /// A stage of the route by its place.
    pub fn stage(&self, at: usize) -> Option<&Stage> {
        self.route.as_ref()?.stages.get(at)
    }

    fn bare(piece: ObjectId, state: PlanState, stops: usize) -> Self {
        Self {
            piece,
            state,
            route: None,
            step: None,
            options: Vec::new(),
            timers: Vec::new(),
            earliest: None,
            binding: None,
            gates: Vec::new(),
            stages: Vec::new(),
            chain: Vec::new(),
            stops,
        }
    }
}

/// What may be done next on a piece at a moment.
pub fn next(shop: &Shop, piece: ObjectId, at: Moment) -> PiecePlan {
    next_with(shop, piece, at, &check_piece(shop, piece))
}

/// The same where the findings of the piece are at hand.
pub fn next_with(shop: &Shop, piece: ObjectId, at: Moment, findings: &[Finding]) -> PiecePlan {
    next_of(Case::new(shop, piece), at, findings)
}

fn next_of(case: Case<'_>, at: Moment, findings: &[Finding]) -> PiecePlan {
    // What was written down for a later moment has not happened yet.
    let case = case.before(at);
    let piece = case.piece;
    let stops = findings.iter().filter(|it| is_open_stop(it)).count();
    let handed_over = case.of(Kind::Handover).next_back();
    let Some(used) = in_use(&case).filter(|used| goes_on(used, handed_over)) else {
        let state = if handed_over.is_some() { PlanState::Finished } else { PlanState::Blocked };
        return PiecePlan::bare(piece, trouble_first(state, stops), stops);
    };
    Planner { case: &case, used: &used, at, stops }.plan()
}

/// What may be done next on every piece, in order of their codes.
pub fn next_shop(shop: &Shop, at: Moment) -> Vec<PiecePlan> {
    let mut pieces: Vec<_> = shop.pieces.iter().map(|(id, it)| (&it.now().code, *id)).collect();
    pieces.sort();
    // A curve that was fitted for one piece of a mix is there for the next.
    let curves = Curves::default();
    let plan = |(_, piece)| {
        let case = Case::sharing(shop, piece, curves.clone());
        let findings = check_case(&case);
        next_of(case, at, &findings)
    };
    pieces.into_iter().map(plan).collect()
}

fn is_open_stop(finding: &Finding) -> bool {
    finding.severity == Severity::Stop
        && finding.state == State::Stands
        && finding.verdict == Verdict::Violated
}

/// A piece that was handed over goes on only on a route chosen afterwards.
fn goes_on(used: &InUse<'_>, handed_over: Option<&Step>) -> bool {
    let chosen = used.chosen.map(|step| step.done.start);
    handed_over.is_none_or(|step| chosen.is_some_and(|chosen| chosen > step.done.start))
}

fn trouble_first(state: PlanState, stops: usize) -> PlanState {
    if stops > 0 && state != PlanState::Finished { PlanState::InTrouble } else { state }
}

struct Planner<'p, 'a> {
    case: &'p Case<'a>,
    used: &'p InUse<'a>,
    at: Moment,
    stops: usize,
}

impl Planner<'_, '_> {
    fn route(&self) -> &Route {
        &self.used.route
    }

    fn plan(&self) -> PiecePlan {
        let seen = progress(self.route(), self.case.shop, &self.seen());
        let mut plan = PiecePlan::bare(self.case.piece, PlanState::Finished, self.stops);
        plan.route = Some(self.route_in_use());
        plan.timers = timers::running(self.case, self.route(), self.at);
        let before = seen.options.iter().chain(&seen.asked);
        plan.options = before.map(|stage| self.step(&seen, *stage).0).collect();
        if let Some((step, gates)) = seen.next.map(|stage| self.step(&seen, stage)) {
            plan.binding = gates::binding(&gates);
            plan.earliest = step.earliest;
            plan.gates = gates;
            plan.step = Some(step);
        }
        plan.chain = self.chain(&seen, plan.earliest);
        plan.state = trouble_first(self.state(&plan), self.stops);
        plan.stages = seen.stages;
        plan
    }

    /// The step of a stage, and what stands before it.
    fn step(&self, seen: &Progress, stage: usize) -> (PlannedStep, Vec<PlanGate>) {
        let mut step = propose::step(self.case, self.route(), seen, stage);
        let gates = gates::of_step(self.case, self.route(), seen, &step, self.at);
        step.earliest = gates::earliest(&gates, self.at);
        (step, gates)
    }

    /// The history the route looks at: all of it, or what came after a route that begins afresh was chosen.
    fn seen(&self) -> Vec<&Step> {
        let from = self.used.chosen.filter(|_| self.route().afresh).map(|step| step.done.start);
        let all = self.case.history.iter().copied();
        all.filter(|step| from.is_none_or(|from| step.done.start >= from)).collect()
    }

    fn route_in_use(&self) -> RouteInUse {
        RouteInUse { route: self.used.route.clone(), frozen: self.used.chosen.is_some() }
    }

    fn state(&self, plan: &PiecePlan) -> PlanState {
        let runs = plan.timers.iter().any(|timer| timer.holds_work() && timer.end > self.at);
        match (&plan.step, plan.earliest) {
            (None, _) => PlanState::Finished,
            (Some(_), _) if runs => PlanState::Running,
            (Some(_), None) => PlanState::Blocked,
            (Some(_), Some(earliest)) if earliest > self.at => PlanState::Waiting,
            (Some(_), Some(_)) => PlanState::Ready,
        }
    }

    /// Each stage ahead not before the one before it, nor before its waits.
    fn chain(&self, seen: &Progress, earliest: Option<Moment>) -> Vec<ChainLink> {
        let mut reached = earliest;
        let mut links: Vec<ChainLink> = Vec::with_capacity(seen.ahead.len());
        for &stage in &seen.ahead {
            if !links.is_empty() {
                let gates = gates::waits(self.case, self.route(), seen, stage, Some(&links));
                let until = gates.iter().filter_map(PlanGate::opens).max();
                reached = reached.map(|reached| until.map_or(reached, |until| reached.max(until)));
            }
            links.push(ChainLink { stage, earliest: reached });
        }
        links
    }
}

/// Whether a gate keeps a step from being done now or later.
fn blocks(state: GateState) -> bool {
    state == GateState::Blocked
}
