//! What may be done next, from when, and why not yet.

use trowelogue_core::moment::{self, Moment};
use trowelogue_core::plan::{self, PiecePlan, PlanGate, PlanState, PlannedStep};
use trowelogue_core::rules::GateState;
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{Text, text};

use super::About;
use crate::Result;
use crate::dto::DayState;
use crate::dto::report::{GateRow, Next, NextRow};
use crate::format::Voice;
use crate::say::fill;
use crate::session::Session;

const NOW: Text = text("{step}: may be done now.", "{step}: se puede hacer ahora.");
const RUNNING: Text = text("{what} runs until {when}.", "{what} hasta {when}.");
const FROM: Text = text("{step}: from {when}. {why}", "{step}: a partir de {when}. {why}");
const HELD: Text = text("{step}: not yet. {why}", "{step}: todavía no. {why}");
const FINISHED: Text = text("Handed over.", "Entregada.");
const ROUTE_DONE: Text = text("Nothing is left to do on its route.", "No queda nada por hacer en su ruta.");
const NO_ROUTE: Text = text(
    "No route is chosen and no finish is named, so the next step cannot be told.",
    "No hay ruta elegida ni acabado indicado: no se puede saber el siguiente paso.",
);
const TROUBLE_ONE: Text = text("A stop stands. {rest}", "Hay un alto vigente. {rest}");
const TROUBLE: Text = text("{count} stops stand. {rest}", "Hay {count} altos vigentes. {rest}");

impl Session {
    /// What may be done next on the pieces asked for, at a moment or now.
    ///
    /// # Errors
    /// There is no such piece or job, or the code fits more than one; the moment is none.
    pub fn next(&self, about: &About, as_of: Option<&str>) -> Result<Next> {
        let at = match as_of {
            Some(said) => self.moment_given("as-of", said)?,
            None => self.now(),
        };
        let whole = *about == About::default();
        let plans = if whole {
            plan::next_shop(self.shop(), at)
        } else {
            self.pieces_about(about)?.into_iter().map(|piece| plan::next(self.shop(), piece, at)).collect()
        };
        Ok(Next { pieces: plans.iter().map(|it| row(&self.voice, self.shop(), it, at)).collect() })
    }
}

fn row(voice: &Voice, shop: &Shop, plan: &PiecePlan, at: Moment) -> NextRow {
    let piece = shop.pieces.get(&plan.piece).map(trowelogue_core::shop::Versions::now);
    let binding = plan.binding_gate();
    NextRow {
        id: plan.piece.to_string(),
        code: piece.map_or_else(|| plan.piece.to_string(), |it| it.code.clone()),
        name: piece.map(|it| it.name.clone()).unwrap_or_default(),
        state: day_state(plan),
        step: plan.step.as_ref().map(|step| step.kind.wire().to_owned()),
        title: plan.step.as_ref().map(|step| step.title.get(voice.lang).to_owned()),
        region: plan.step.as_ref().and_then(|step| step.region).map(|it| it.wire().to_owned()),
        earliest: plan.earliest.as_ref().map(moment::write),
        binding: binding.map(gate_code),
        gates: plan.gates.iter().map(|gate| gate_row(voice, gate)).collect(),
        line: line_of(voice, plan, at).text,
    }
}

/// Code of the rule behind a gate, or what the route waits for.
pub(crate) fn gate_code(gate: &PlanGate) -> String {
    gate.rule().map_or_else(|| "route".to_owned(), |rule| rule.code.to_owned())
}

fn gate_row(voice: &Voice, gate: &PlanGate) -> GateRow {
    let (state, until) = match gate.state {
        GateState::Open => ("open", None),
        GateState::Until(moment) => ("until", Some(moment)),
        GateState::Confirm => ("confirm", None),
        GateState::Blocked => ("blocked", None),
        GateState::Accepted(_) => ("accepted", None),
    };
    GateRow {
        rule: gate_code(gate),
        title: voice.say(gate.title()),
        severity: gate.severity.into(),
        state,
        verdict: gate.verdict.wire(),
        until: until.as_ref().map(moment::write),
        entries: gate.entries.iter().map(ToString::to_string).collect(),
        facts: voice.facts(&gate.facts),
        why: voice.say(gate.why()),
        remedy: voice.say(gate.remedy()),
        until_text: until.as_ref().map(|it| voice.moment(it)),
    }
}

/// Where a piece stands, as the day's list has it.
pub(crate) fn day_state(plan: &PiecePlan) -> DayState {
    match plan.state {
        PlanState::Finished => DayState::Done,
        PlanState::InTrouble => DayState::Trouble,
        PlanState::Running => DayState::Running,
        PlanState::Ready => DayState::Ready,
        PlanState::Waiting | PlanState::Blocked => DayState::Waiting,
    }
}

/// What may be done on a piece, or why not, in a sentence.
pub(crate) struct NextLine {
    /// The sentence.
    pub text: String,
}

/// Says what may be done on a piece at a moment, or why not.
pub(crate) fn line_of(voice: &Voice, plan: &PiecePlan, at: Moment) -> NextLine {
    let rest = match (&plan.step, plan.state) {
        (_, PlanState::Finished) => voice.say(FINISHED),
        (None, _) if plan.route.is_none() => voice.say(NO_ROUTE),
        (None, _) => voice.say(ROUTE_DONE),
        (Some(step), _) => step_line(voice, plan, step, at),
    };
    let text = match (plan.state, plan.stops) {
        (PlanState::InTrouble, 1) => fill(TROUBLE_ONE, voice.lang, &[("rest", &rest)]),
        (PlanState::InTrouble, count) => fill(TROUBLE, voice.lang, &[("count", &count), ("rest", &rest)]),
        _ => rest,
    };
    NextLine { text }
}

fn step_line(voice: &Voice, plan: &PiecePlan, step: &PlannedStep, at: Moment) -> String {
    let name = first_upper(step.title.get(voice.lang));
    let lang = voice.lang;
    let running = plan.timers.iter().filter(|timer| timer.end > at).min_by_key(|timer| timer.end);
    if let (PlanState::Running, Some(timer)) = (plan.state, running) {
        let what = first_upper(timer.kind.label().get(lang));
        return fill(RUNNING, lang, &[("what", &what), ("when", &voice.moment(&timer.end))]);
    }
    let why = plan.binding_gate().map(|gate| voice.say(gate.title())).unwrap_or_default();
    match plan.earliest {
        Some(earliest) if earliest > at => {
            fill(FROM, lang, &[("step", &name), ("when", &voice.moment(&earliest)), ("why", &why)])
        }
        Some(_) => fill(NOW, lang, &[("step", &name)]),
        None => fill(HELD, lang, &[("step", &name), ("why", &why)]),
    }
}

/// A phrase with a capital first; a sign with its capital inside, as pH, stays as it is written.
pub(crate) fn first_upper(words: &str) -> String {
    if words.chars().nth(1).is_some_and(char::is_uppercase) {
        return words.to_owned();
    }
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
