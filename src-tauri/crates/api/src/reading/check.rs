//! What the rules say of what is recorded.

use trowelogue_core::body::Body;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::{self, Moment};
use trowelogue_core::plan::{self, PlanGate};
use trowelogue_core::rules::{self, Finding, GateState, Severity, State, Verdict};
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Text, text};

use super::{About, steps};
use crate::Result;
use crate::dto::report::{AcceptedRow, Check, FindingRow, ShownFinding};
use crate::format::{Voice, piece_code};
use crate::session::Session;

const STANDS: Text = text("stands", "vigente");
const ACCEPTED: Text = text("accepted", "aceptado");
const WAITING: Text = text("waiting", "en espera");

impl Check {
    /// Whether a stop stands: then the command line ends with 1.
    pub fn has_stop(&self) -> bool {
        self.findings.iter().any(|it| it.severity == crate::dto::Severity::Stop && it.state == "stands")
    }
}

impl Session {
    /// Every finding about the pieces asked for; with a moment also what the next steps wait for at that moment.
    ///
    /// # Errors
    /// There is no such piece or job, or the code fits more than one; the moment is none.
    pub fn check(&self, about: &About, as_of: Option<&str>) -> Result<Check> {
        let at = as_of.map(|said| self.moment_given("as-of", said)).transpose()?;
        let pieces = self.pieces_about(about)?;
        let shop = self.shop();
        let mut rows: Vec<FindingRow> =
            self.findings_about(about, &pieces).iter().map(|it| finding_row(&self.voice, shop, it)).collect();
        if let Some(at) = at {
            rows.retain(|row| row.entries.iter().all(|hash| done_by(shop, hash, at)));
            for piece in pieces {
                rows.extend(waiting(shop, piece, at).iter().map(|it| finding_row(&self.voice, shop, it)));
            }
        }
        rows.sort_by_key(|row| row.severity);
        Ok(Check { findings: rows })
    }

    /// Findings of the pieces; those of people and days only where the whole shop is asked about.
    fn findings_about(&self, about: &About, pieces: &[ObjectId]) -> Vec<Finding> {
        match about {
            About { piece: None, job: None } => rules::check_shop(self.shop()),
            _ => pieces.iter().flat_map(|piece| findings_of(self.shop(), *piece)).collect(),
        }
    }

    /// A moment as given: RFC 3339 with offset.
    pub(crate) fn moment_given(&self, field: &str, said: &str) -> Result<Moment> {
        moment::parse(said).map_err(|error| crate::ApiError::bad_input(field, error.say(self.voice.lang)))
    }
}

/// Every finding of a piece: its own, and those of people and days that its entries caused.
pub(crate) fn findings_of(shop: &Shop, piece: ObjectId) -> Vec<Finding> {
    rules::check_piece(shop, piece)
}

/// What the next step of a piece waits for at a moment, in the form of findings.
pub(crate) fn waiting(shop: &Shop, piece: ObjectId, at: Moment) -> Vec<Finding> {
    let plan = plan::next(shop, piece, at);
    plan.gates.iter().filter_map(|gate| as_finding(piece, gate)).collect()
}

/// A gate that holds the step back, as a finding that waits. Gates of the route alone rest on no rule.
fn as_finding(piece: ObjectId, gate: &PlanGate) -> Option<Finding> {
    let rule = gate.rule()?;
    let clears_at = match gate.state {
        GateState::Until(moment) => Some(moment),
        GateState::Blocked | GateState::Confirm => None,
        GateState::Open | GateState::Accepted(_) => return None,
    };
    Some(Finding {
        rule,
        severity: gate.severity,
        state: State::Waiting,
        verdict: gate.verdict,
        piece: Some(piece),
        entries: gate.entries.clone(),
        facts: gate.facts.clone(),
        clears_at,
    })
}

fn done_by(shop: &Shop, hash: &str, at: Moment) -> bool {
    let step = hash.parse().ok().and_then(|hash: Hash| shop.step(&hash));
    step.is_none_or(|step| step.done.start <= at)
}

/// A finding as the machine form has it.
pub(crate) fn finding_row(voice: &Voice, shop: &Shop, finding: &Finding) -> FindingRow {
    let rule = finding.rule;
    FindingRow {
        rule: rule.code,
        title: voice.say(rule.title),
        severity: finding.severity.into(),
        state: finding.state.wire(),
        verdict: finding.verdict.wire(),
        piece: finding.piece.map(|id| id.to_string()),
        piece_code: finding.piece.map(|id| piece_code(shop, id)),
        entries: finding.entries.iter().map(ToString::to_string).collect(),
        facts: voice.facts(&finding.facts),
        why: voice.say(rule.why),
        basis: rule.basis.words(voice.lang),
        remedy: voice.say(rule.remedy),
        clears_at: finding.clears_at.as_ref().map(moment::write),
        accepted: accepted(shop, finding),
        shown: ShownFinding {
            severity: severity_words(voice, finding.severity, finding.verdict),
            state: state_words(voice, finding.state),
            entries: entry_lines(voice, shop, &finding.entries),
            clears_at: finding.clears_at.as_ref().map(|it| voice.moment(it)),
        },
    }
}

/// The exception that accepted a finding, if one did.
pub(crate) fn accepted(shop: &Shop, finding: &Finding) -> Option<AcceptedRow> {
    let State::Accepted(hash) = finding.state else { return None };
    let Some(Body::Exception(exception)) = shop.step(&hash).and_then(Step::body) else { return None };
    Some(AcceptedRow {
        entry: hash.to_string(),
        by: exception.accepted_by.clone(),
        why: exception.why.clone(),
    })
}

/// The word for a weight; where nothing was seen, that is said.
pub(crate) fn severity_words(voice: &Voice, severity: Severity, verdict: Verdict) -> String {
    const CANNOT_TELL: Text = text("cannot tell", "no se puede saber");
    let word = voice.say(severity.label());
    match verdict {
        Verdict::Violated => word,
        Verdict::CannotTell => format!("{word} ({})", voice.say(CANNOT_TELL)),
    }
}

pub(crate) fn state_words(voice: &Voice, state: State) -> String {
    voice.say(match state {
        State::Stands => STANDS,
        State::Accepted(_) => ACCEPTED,
        State::Waiting => WAITING,
    })
}

/// The entries a finding rests on, a line each.
pub(crate) fn entry_lines(voice: &Voice, shop: &Shop, entries: &[Hash]) -> Vec<String> {
    let line = |hash: &Hash| match shop.step(hash) {
        Some(step) => {
            let short = &hash.to_string()[..12];
            format!(
                "{} · {} · {} · {short}",
                steps::title(voice, step),
                voice.span(&step.done),
                shop.person_name(step.person)
            )
        }
        None => hash.to_string(),
    };
    entries.iter().map(line).collect()
}
