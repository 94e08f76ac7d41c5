//! One piece: where it stands, what stands before its next step, its findings, its history.

use trowelogue_core::body::{Group, Kind, Needs};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::plan::{self, PiecePlan, PlanGate};
use trowelogue_core::rules::{self, GateState};
use trowelogue_core::shop::Versions;

use super::open::Open;
use super::{Desk, clocks, conditions, finding, history, map, picture, row, words};
use crate::Result;
use crate::dto::{Fact, Gate, PaperKind, PieceSheet, StepChoice};
use crate::format::Voice;
use crate::papers::Maker;
use crate::reading::{day_state, first_upper, gate_code, line_of};

impl Desk {
    /// Everything about one piece, by its id or code.
    ///
    /// # Errors
    /// No shop is open; there is no such piece, or the code fits more than one.
    pub fn piece(&self, id: &str) -> Result<PieceSheet> {
        self.with(|open| {
            let piece = open.session.piece_named(id)?;
            Ok(sheet(open, piece))
        })
    }
}

fn sheet(open: &Open, id: ObjectId) -> PieceSheet {
    let session = &open.session;
    let (shop, voice, now) = (session.shop(), &session.voice, session.now());
    let findings = rules::check_piece(shop, id);
    let plan = plan::next_with(shop, id, now, &findings);
    // `piece_named` gives only pieces there are.
    let facts = shop.pieces[&id].now();
    let job = facts.job.and_then(|job| shop.jobs.get(&job)).map(Versions::now);
    PieceSheet {
        id: id.to_string(),
        code: facts.code.clone(),
        name: facts.name.clone(),
        job: job.map(|job| format!("{} {}", job.code, job.name)).unwrap_or_default(),
        facts: card(open, id, now, &plan),
        outline: picture::outline(voice, facts),
        state: day_state(&plan),
        line: line_of(voice, &plan, now).text,
        clock: row::clock(voice, shop, &plan, now),
        clocks: clocks::of_plan(voice, id, &facts.code, &plan, now),
        conditions: conditions::of_piece(session, id, now),
        charts: Maker::unillustrated(session.shop(), *voice, now)
            .chart_pictures(id)
            .into_iter()
            .map(Into::into)
            .collect(),
        map: map::of_piece(session, id, facts, now),
        next: row::next_step(voice, &plan),
        options: plan.options.iter().map(|step| row::step_told(voice, step)).collect(),
        gates: plan.gates.iter().map(|it| gate(voice, it, now)).collect(),
        kinds: kinds(voice, &plan),
        column: picture::column(voice, shop, &plan, &findings, now, &finding::key),
        findings: findings.iter().map(|it| finding::told(session, it)).collect(),
        history: history::of_piece(session, id),
        papers: vec![PaperKind::Record, PaperKind::Care, PaperKind::Labels],
        may_write: session.link.is_some(),
    }
}

/// Size, use, finish, mix and pour, as the papers have them, and the route.
fn card(open: &Open, id: ObjectId, now: Moment, plan: &PiecePlan) -> Vec<Fact> {
    let session = &open.session;
    let voice = session.voice;
    let card = Maker::unillustrated(session.shop(), voice, now).card(id);
    let route = plan
        .route
        .as_ref()
        .map(|route| Fact { label: voice.say(words::ROUTE), value: route.name.get(voice.lang).to_owned() });
    let facts = card.facts.into_iter().map(|it| Fact { label: it.label, value: it.value });
    facts.chain(route).collect()
}

fn gate(voice: &Voice, gate: &PlanGate, now: Moment) -> Gate {
    let facts = first_upper(&voice.facts_in_a_line(&gate.facts));
    let why = voice.say(gate.why());
    Gate {
        title: format!("{}.", first_upper(&voice.say(gate.title()))),
        why: if facts.is_empty() { why } else { format!("{facts}. {why}") },
        clears_at: gate.opens().map(|it| voice.when(&it, &now)),
        // Cautions are confirmed in the form of the step itself.
        open: matches!(gate.state, GateState::Open | GateState::Confirm | GateState::Accepted(_)),
        rule: gate.rule().map(|_| gate_code(gate)),
    }
}

/// Every step that can be logged: what the route expects first, then the others in the order of the trade.
fn kinds(voice: &Voice, plan: &PiecePlan) -> Vec<StepChoice> {
    let expected = plan.step.as_ref().map(|step| step.kind);
    let choice = |kind: Kind| StepChoice {
        kind: kind.wire().to_owned(),
        title: first_upper(kind.label().get(voice.lang)),
        group: voice.say(words::group(kind.group())),
        expected: Some(kind) == expected,
    };
    let others = Kind::ALL.iter().copied().filter(|kind| can_log(*kind) && Some(*kind) != expected);
    expected.into_iter().chain(others).map(choice).collect()
}

/// Kinds of entries a person logs about a piece.
pub(crate) fn can_log(kind: Kind) -> bool {
    let of_pieces = !matches!(kind.needs(), Needs::Nothing | Needs::Object);
    let of_course = matches!(kind.group(), Group::Before | Group::Work | Group::After);
    (of_pieces && of_course) || matches!(kind, Kind::Note | Kind::RouteChosen)
}
