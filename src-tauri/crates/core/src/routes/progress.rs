//! How far a piece has come on its route: which recorded step did which stage.
//!
//! Work moves along the route; evidence (a reading, an inspection) only fills its place. Work on the face that
//! goes back to an earlier stage opens every stage after it again. Nothing recorded is ever discarded: what
//! fits no stage stands beside the route. So a route changed midway keeps what was done.

use super::{Route, Stage, When};
use crate::body::sealing::SealCoat;
use crate::body::surface::{Bond, GritPass, PassResult};
use crate::body::{Body, Kind};
use crate::id::Hash;
use crate::moment::Moment;
use crate::shop::{Shop, Step};

/// Coats where neither the route nor the product says how many. Common practice, no source.
const COATS: u32 = 2;
/// A pass does a stage whose grit number is within this ratio of its own: half a step of the ladder. The scales
/// differ by up to 1.5 times in size, so this holds across them roughly, which is enough to find the place.
const SAME_GRIT: f64 = std::f64::consts::SQRT_2;

/// How a stage stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StageState {
    /// Done, by these entries.
    Done(Vec<Hash>),
    /// Begun: a pass that did not finish, or some coats of several.
    Part(Vec<Hash>),
    /// Left out, and its time is past or it was not wanted.
    Passed,
    /// Left out, and still to be done.
    Owed,
    /// Ahead.
    Open,
}

/// A piece's progress on a route.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Progress {
    /// How each stage of the route stands.
    pub stages: Vec<StageState>,
    /// The stage that is due; `None` when the route is done.
    pub next: Option<usize>,
    /// The stages still to be done, in order; the one that is due first.
    pub ahead: Vec<usize>,
    /// Optional stages that may be done before it.
    pub options: Vec<usize>,
    /// Stages a rule may ask for before it.
    pub asked: Vec<usize>,
}

/// Finds which step did which stage. `history` is in order of work.
pub fn progress(route: &Route, shop: &Shop, history: &[&Step]) -> Progress {
    let mut walk = Walk::new(route, shop);
    for step in history {
        walk.take(step);
    }
    walk.take_evidence(history);
    walk.verdict()
}

struct Walk<'r, 'a> {
    route: &'r Route,
    shop: &'r Shop,
    /// The steps that did each stage.
    by: Vec<Vec<&'a Step>>,
    /// Whether they finished it.
    finished: Vec<bool>,
    /// The first stage after the newest work.
    at: usize,
}

impl<'r, 'a> Walk<'r, 'a> {
    fn new(route: &'r Route, shop: &'r Shop) -> Self {
        let count = route.stages.len();
        Self { route, shop, by: vec![Vec::new(); count], finished: vec![false; count], at: 0 }
    }

    /// Puts one step of work in its place.
    fn take(&mut self, step: &'a Step) {
        let Some(kind) = step.kind.filter(|kind| !is_evidence(*kind)) else { return };
        let ahead = (self.at..self.by.len()).find(|at| self.fits(*at, step));
        let behind = (0..self.at).rev().find(|at| self.fits(*at, step));
        let leaps = |to: usize| self.leaves_out(to, supports(kind));
        match (ahead, behind) {
            (Some(to), Some(back)) if leaps(to) && !self.by[back].is_empty() => {
                self.go_back(back, step, kind);
            }
            (Some(to), _) if !(supports(kind) && leaps(to)) => self.put(to, step),
            (_, Some(back)) => self.go_back(back, step, kind),
            _ => {}
        }
    }

    /// Whether going on to a stage leaves out one that must be done. A supporting step (a rinse, drying) leaps
    /// over nothing but its like.
    fn leaves_out(&self, to: usize, supporting: bool) -> bool {
        (self.at..to).any(|at| {
            let stage = &self.route.stages[at];
            let counts = !supporting || !supports(stage.kind);
            counts && !is_evidence(stage.kind) && !self.finished[at] && self.is_due(at)
        })
    }

    fn put(&mut self, at: usize, step: &'a Step) {
        self.by[at].push(step);
        self.finished[at] = self.is_finished_by(at, step);
        self.at = if self.finished[at] { at + 1 } else { at };
    }

    fn go_back(&mut self, to: usize, step: &'a Step, kind: Kind) {
        if to + 1 >= self.at || !self.reopens(to, step, kind) {
            self.by[to].push(step);
            self.finished[to] |= self.is_finished_by(to, step);
            return;
        }
        for at in to + 1..self.by.len() {
            self.by[at].clear();
            self.finished[at] = false;
        }
        self.put(to, step);
    }

    /// Whether work that belongs to an earlier stage makes the stages after it due again.
    fn reopens(&self, to: usize, step: &Step, kind: Kind) -> bool {
        let sealed = self.sealed_after(to);
        match kind {
            Kind::AcidWash => true,
            // Abrading between coats with the last grit or finer is no return to the ladder.
            Kind::GritPass => !sealed || self.coarser_than_last(step),
            Kind::Rinse | Kind::Neutralise | Kind::Clean | Kind::Fill | Kind::Colour => !sealed,
            _ => false,
        }
    }

    fn sealed_after(&self, from: usize) -> bool {
        let coats = (from..self.by.len()).filter(|at| self.route.stages[*at].kind == Kind::SealCoat);
        coats.into_iter().any(|at| !self.by[at].is_empty())
    }

    fn coarser_than_last(&self, step: &Step) -> bool {
        let passes = self.by.iter().flatten().filter(|it| it.kind == Some(Kind::GritPass));
        let last = passes.max_by_key(|it| it.done.start).and_then(|it| pass_of(it));
        match (last, pass_of(step)) {
            (Some(last), Some(this)) => this.grit * SAME_GRIT < last.grit,
            _ => true,
        }
    }

    fn is_finished_by(&self, at: usize, step: &Step) -> bool {
        match step.body() {
            Some(Body::GritPass(pass)) => pass_finished(pass),
            Some(Body::SealCoat(coat)) => self.by[at].len() as u64 >= u64::from(self.coats(at, coat, step)),
            _ => true,
        }
    }

    fn coats(&self, at: usize, coat: &SealCoat, step: &Step) -> u32 {
        let product = self.shop.products.get(&coat.product).map(|it| it.at(step.done.start));
        let wanted = self.route.stages[at].coats.or_else(|| product.and_then(|it| it.coats));
        wanted.unwrap_or(COATS).max(1)
    }

    fn fits(&self, at: usize, step: &Step) -> bool {
        let stage = &self.route.stages[at];
        let barred = match &stage.when {
            When::With(id) => !self.was_done(id),
            When::Without(id) => self.was_done(id),
            _ => false,
        };
        !barred && fits(stage, step)
    }

    fn was_done(&self, id: &str) -> bool {
        self.route.place(id).is_some_and(|at| !self.by[at].is_empty())
    }

    fn is_due(&self, at: usize) -> bool {
        match &self.route.stages[at].when {
            When::Always => true,
            When::Optional | When::Asked => false,
            When::With(id) => self.was_done(id),
            When::Without(id) => !self.was_done(id),
        }
    }

    /// Evidence counts from the work before its place to the work after it; some kinds at any time.
    fn take_evidence(&mut self, history: &[&'a Step]) {
        for at in 0..self.by.len() {
            let stage = &self.route.stages[at];
            if !is_evidence(stage.kind) {
                continue;
            }
            let (from, to) = if holds_any_time(stage.kind) { (None, None) } else { self.window(at) };
            let inside = |step: &Step| {
                from.is_none_or(|from| step.done.start >= from) && to.is_none_or(|to| step.done.start <= to)
            };
            let found = history.iter().copied().filter(|step| self.fits(at, step) && inside(step));
            self.by[at] = found.collect();
            self.finished[at] = !self.by[at].is_empty();
        }
    }

    fn window(&self, at: usize) -> (Option<Moment>, Option<Moment>) {
        let work = |at: &usize| !is_evidence(self.route.stages[*at].kind);
        let before = (0..at).rev().filter(work).find_map(|it| self.by[it].last());
        let after = (at + 1..self.by.len()).filter(work).find_map(|it| self.by[it].first());
        (before.map(|step| step.done.start), after.map(|step| step.done.start))
    }

    fn verdict(&self) -> Progress {
        let stages: Vec<StageState> = (0..self.by.len()).map(|at| self.state(at)).collect();
        let owed = stages.iter().position(|state| *state == StageState::Owed);
        let first = (self.at..stages.len()).find(|at| !self.finished[*at] && self.is_due(*at));
        let next = owed.or(first);
        let due = |at: &usize| Some(*at) != owed && !self.finished[*at] && self.is_due(*at);
        let ahead = owed.into_iter().chain((self.at..stages.len()).filter(due)).collect();
        let until = next.unwrap_or(stages.len());
        let open = |at: &usize| !self.finished[*at] && stages[*at] == StageState::Open;
        let may = |wanted: When| {
            let fitting = (self.at..until).filter(open).filter(|at| self.route.stages[*at].when == wanted);
            fitting.collect::<Vec<_>>()
        };
        Progress { next, ahead, options: may(When::Optional), asked: may(When::Asked), stages }
    }

    fn state(&self, at: usize) -> StageState {
        let hashes = || self.by[at].iter().map(|step| step.hash).collect();
        match (self.finished[at], self.by[at].is_empty()) {
            (true, _) => StageState::Done(hashes()),
            (false, false) => StageState::Part(hashes()),
            (false, true) if at >= self.at => StageState::Open,
            (false, true) if self.is_due(at) && self.still_owed(at) => StageState::Owed,
            (false, true) => StageState::Passed,
        }
    }

    /// Whether a stage left behind is worth doing late: what takes acid off the face, until a coat covers it.
    fn still_owed(&self, at: usize) -> bool {
        let cleansing =
            matches!(self.route.stages[at].kind, Kind::Rinse | Kind::Neutralise | Kind::PhReading);
        cleansing && !self.sealed_after(at)
    }
}

/// Evidence fills its place and moves nothing.
fn is_evidence(kind: Kind) -> bool {
    use Kind as K;
    matches!(
        kind,
        K::Strength
            | K::TrialSpot
            | K::Inspection
            | K::PhReading
            | K::Climate
            | K::Moisture
            | K::WaterDrop
            | K::WaterTest
            | K::Temperature
            | K::SampleAgreed
            | K::DrawingApproved
            | K::ChangeAgreed
            | K::SiteSurvey
            | K::Quote
            | K::FormPrepared
            | K::Incident
            | K::ServiceVisit
    )
}

fn holds_any_time(kind: Kind) -> bool {
    use Kind as K;
    matches!(
        kind,
        K::Strength
            | K::TrialSpot
            | K::SampleAgreed
            | K::DrawingApproved
            | K::SiteSurvey
            | K::Quote
            | K::FormPrepared
    )
}

/// Steps that serve the work before them.
fn supports(kind: Kind) -> bool {
    matches!(kind, Kind::Rinse | Kind::Neutralise | Kind::Clean | Kind::Dry | Kind::Flush)
}

fn fits(stage: &Stage, step: &Step) -> bool {
    let region = match (stage.region, step.common().and_then(|common| common.region)) {
        (Some(wanted), Some(worked)) => wanted == worked,
        _ => true,
    };
    let grit = match stage.kind {
        Kind::GritPass => grit_fits(stage, step),
        Kind::Strength => trial_fits(stage, step),
        _ => true,
    };
    step.kind == Some(stage.kind) && region && grit
}

/// A trial grind answers for the stage that asks for its grit; a break, for any.
fn trial_fits(stage: &Stage, step: &Step) -> bool {
    let Some(Body::Strength(strength)) = step.body() else { return false };
    let wanted = stage.set.get("trial_grit").and_then(serde_json::Value::as_f64);
    wanted
        .zip(strength.trial_grit)
        .is_none_or(|(wanted, tried)| (wanted / tried).max(tried / wanted) < SAME_GRIT)
}

fn grit_fits(stage: &Stage, step: &Step) -> bool {
    let Some(pass) = pass_of(step) else { return false };
    let Some(wanted) = stage.set.get("grit").and_then(serde_json::Value::as_f64) else { return true };
    (wanted / pass.grit).max(pass.grit / wanted) < SAME_GRIT
}

fn pass_of(step: &Step) -> Option<&GritPass> {
    match step.body()? {
        Body::GritPass(pass) => Some(pass),
        _ => None,
    }
}

/// Whether a pass finished its grit. Metal bonds leave chatter that the next grits take out.
fn pass_finished(pass: &GritPass) -> bool {
    match pass.result {
        PassResult::CutOut => true,
        PassResult::Chatter => matches!(pass.bond, Bond::Metal | Bond::CupWheel),
        PassResult::ScratchesLeft | PassResult::Plucking | PassResult::NotCutting => false,
    }
}
