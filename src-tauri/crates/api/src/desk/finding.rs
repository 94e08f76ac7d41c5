//! Findings as the window shows them.

use trowelogue_core::id::Hash;
use trowelogue_core::rules::{Finding, State, Verdict};

use super::words;
use crate::dto::{self, FindingState};
use crate::reading::{accepted, severity_words, state_words};
use crate::say::fill;
use crate::session::Session;

/// Names a finding for as long as rule, piece and entries stay the same.
pub(crate) fn key(finding: &Finding) -> String {
    let piece = finding.piece.map(|id| id.to_string()).unwrap_or_default();
    let entries: String = finding.entries.iter().map(ToString::to_string).collect();
    let hash = Hash::of(&[finding.rule.code.as_bytes(), piece.as_bytes(), entries.as_bytes()]);
    hash.to_string()[..16].to_owned()
}

/// A finding in words.
pub(crate) fn told(session: &Session, finding: &Finding) -> dto::Finding {
    let voice = &session.voice;
    let rule = finding.rule;
    let accepted_by = accepted(session.shop(), finding)
        .map(|it| fill(words::ACCEPTED_BY, voice.lang, &[("who", &it.by), ("why", &it.why)]));
    dto::Finding {
        key: key(finding),
        rule: rule.code.to_owned(),
        title: voice.say(rule.title),
        severity: finding.severity.into(),
        severity_text: severity_words(voice, finding.severity, finding.verdict),
        state: state(finding.state),
        state_text: state_words(voice, finding.state),
        cannot_tell: finding.verdict == Verdict::CannotTell,
        piece: finding.piece.map(|id| id.to_string()),
        entries: finding.entries.iter().map(ToString::to_string).collect(),
        facts: voice.facts(&finding.facts),
        why: voice.say(rule.why),
        basis: rule.basis.words(voice.lang),
        remedy: voice.say(rule.remedy),
        clears_at: finding.clears_at.as_ref().map(|it| voice.when(it, &session.now())),
        accepted_by,
        may_except: finding.state == State::Stands && finding.piece.is_some() && session.link.is_some(),
    }
}

fn state(state: State) -> FindingState {
    match state {
        State::Stands => FindingState::Stands,
        State::Accepted(_) => FindingState::Accepted,
        State::Waiting => FindingState::Waiting,
    }
}
