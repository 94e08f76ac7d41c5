//! Exceptions: a named person accepts a finding, with a reason.
//!
//! One that names entries covers the findings of its rule that rest on any of them. One that names none covers
//! what the rule had found when it was written, or, where it had found nothing yet, the next such finding:
//! a waiver for one step must not become a waiver for ever.

use super::case::Case;
use super::finding::{Finding, State};
use super::hit::{Gate, GateState};
use crate::body::authority::Exception;
use crate::body::{Body, Kind};
use crate::entry::OrderKey;
use crate::id::Hash;
use crate::shop::{Shop, Step};

/// Marks the findings of a piece that an exception covers.
pub(crate) fn apply(case: &Case<'_>, findings: &mut [Finding]) {
    for (step, exception) in exceptions(case) {
        let mut of_rule: Vec<&mut Finding> =
            findings.iter_mut().filter(|it| it.rule.code == exception.rule).collect();
        of_rule.sort_by_key(|it| newest(case.shop, &it.entries));
        if !step.refs.is_empty() {
            let named =
                of_rule.iter_mut().filter(|it| it.entries.iter().any(|hash| step.refs.contains(hash)));
            named.for_each(|it| accept(it, step.hash));
            continue;
        }
        let earlier = of_rule.iter().filter(|it| newest(case.shop, &it.entries) < Some(step.order)).count();
        let covered = if earlier > 0 { earlier } else { 1 };
        of_rule.into_iter().take(covered).for_each(|it| accept(it, step.hash));
    }
}

/// Marks the findings that are about no single piece: an exception covers them only where it names what they
/// rest on.
pub(crate) fn apply_to_shop(shop: &Shop, findings: &mut [Finding]) {
    for step in shop.of_kind(Kind::Exception) {
        let Some(Body::Exception(exception)) = step.body() else { continue };
        let named = findings.iter_mut().filter(|it| {
            it.rule.code == exception.rule && it.entries.iter().any(|hash| step.refs.contains(hash))
        });
        named.for_each(|it| accept(it, step.hash));
    }
}

/// Marks the gates of a planned step that an exception covers: one that named no entries and has covered no
/// finding yet, or one that names what the gate rests on.
pub(crate) fn apply_to_gates(case: &Case<'_>, gates: &mut [Gate]) {
    for (step, exception) in exceptions(case) {
        for gate in gates.iter_mut().filter(|it| it.rule.code == exception.rule) {
            let named = gate.entries.iter().any(|hash| step.refs.contains(hash));
            if named || (step.refs.is_empty() && !spent(case, gate, step)) {
                gate.state = GateState::Accepted(step.hash);
            }
        }
    }
}

fn exceptions<'a>(case: &Case<'a>) -> Vec<(&'a Step, &'a Exception)> {
    let read = case.of(Kind::Exception).filter_map(|step| match step.body() {
        Some(Body::Exception(exception)) => Some((step, &**exception)),
        _ => None,
    });
    read.collect()
}

/// An exception without entries is spent once it covers a finding on something done.
fn spent(case: &Case<'_>, gate: &Gate, exception: &Step) -> bool {
    let mut findings: Vec<Finding> =
        gate.rule.check(case).into_iter().map(|hit| Finding::new(gate.rule, Some(case.piece), hit)).collect();
    apply(case, &mut findings);
    findings.iter().any(|it| it.state == State::Accepted(exception.hash))
}

fn accept(finding: &mut Finding, exception: Hash) {
    if finding.state == State::Stands {
        finding.state = State::Accepted(exception);
    }
}

fn newest(shop: &Shop, entries: &[Hash]) -> Option<OrderKey> {
    entries.iter().filter_map(|hash| shop.step(hash)).map(|step| step.order).max()
}
