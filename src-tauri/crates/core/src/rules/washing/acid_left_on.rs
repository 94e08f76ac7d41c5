//! `acid-left-on`

use crate::rules::grinding::region_fact;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "acid-left-on",
    title: text(
        "Every acid wash is rinsed, neutralized and rinsed",
        "Todo lavado ácido se enjuaga, se neutraliza y se enjuaga",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Acid left in the pores goes on eating paste and draws water; its salts bloom white and lift the sealer. The first rinse does most: equal volumes of 10:1 ammonia neutralize under a third of unspent 10:1 acid.",
        "El ácido que queda en los poros sigue comiendo pasta y atrae agua; sus sales afloran blancas y despegan el sellador. El primer enjuague hace lo principal: igual volumen de amoníaco 10:1 neutraliza menos de un tercio del ácido 10:1 sin gastar.",
    ),
    remedy: text(
        "Rinse, neutralize with household ammonia 10:1 or bicarbonate, rinse again, and take standing water off each time.",
        "Enjuagar, neutralizar con amoníaco doméstico 10:1 o bicarbonato, enjuagar de nuevo y retirar el agua cada vez.",
    ),
    looks: &[Look::Step(CLOSING, judge)],
};

/// Steps that shut the face or say that washing is over.
pub(super) const CLOSING: &[Kind] = &[
    Kind::Dry,
    Kind::Fill,
    Kind::Colour,
    Kind::Densify,
    Kind::SealCoat,
    Kind::Packing,
    Kind::Loading,
    Kind::Delivery,
    Kind::Install,
    Kind::Handover,
];

/// What has to follow a wash, in order.
const ASKED: [(Kind, Text); 3] = [
    (Kind::Rinse, text("first rinse", "primer enjuague")),
    (Kind::Neutralise, text("neutralizing", "neutralización")),
    (Kind::Rinse, text("last rinse", "último enjuague")),
];

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let mut washes: Vec<&Step> = Vec::new();
    for (step, _) in past.all(view::acid_wash).filter(|(step, _)| covers(step, subject.region)) {
        // Of several washes of a region the last counts.
        washes.retain(|it| region_of(it) != region_of(step));
        washes.push(step);
    }
    washes.into_iter().filter_map(|wash| left_on(&past.after(wash), wash)).collect()
}

/// Each wash is judged once: at the first step that closes its region.
fn left_on(since: &Past<'_, '_>, wash: &Step) -> Option<Hit> {
    let region = region_of(wash);
    let mut asked = ASKED.iter().peekable();
    let mut done = vec![wash];
    for step in since.steps.iter().filter(|step| covers(step, region)) {
        if step.kind.is_some_and(|kind| CLOSING.contains(&kind)) {
            return None;
        }
        if asked.next_if(|(kind, _)| step.kind == Some(*kind)).is_some() {
            done.push(step);
        }
    }
    let missed = asked.next()?;
    let facts = std::iter::once(missing(missed.1)).chain(region_fact(region)).collect();
    Some(Hit::violated(done, facts))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.step(100.1, "rinse", rinse());
        bench.step(100.2, "neutralise", neutralise());
        bench.step(100.3, "rinse", rinse());
        bench.step(100.4, "dry", json!({ "at": "rack" }));
        bench.step(130.0, "seal_coat", coat(1));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut never = Bench::poured();
        let washed = never.step(100.0, "acid_wash", wash());
        let rinsed = never.step(100.1, "rinse", rinse());
        let dry = never.step(100.4, "dry", json!({ "at": "rack" }));
        never.step(130.0, "seal_coat", coat(1));
        never.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[washed, rinsed, dry]]);
        let mut no_last_rinse = Bench::poured();
        let washed = no_last_rinse.step(100.0, "acid_wash", wash());
        let rinsed = no_last_rinse.step(100.1, "rinse", rinse());
        let neutral = no_last_rinse.step(100.2, "neutralise", neutralise());
        let coated = no_last_rinse.step(130.0, "seal_coat", coat(1));
        no_last_rinse.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[washed, rinsed, neutral, coated]]);
    }

    /// What is not recorded counts as not done: there is no reading that could be missing.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.expect_clear(&RULE);
        bench.step(100.4, "dry", json!({ "at": "rack" }));
        bench.expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.step(130.0, "seal_coat", coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn neutralizing_before_the_first_rinse_does_not_count() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.step(100.1, "neutralise", neutralise());
        bench.step(100.2, "rinse", rinse());
        bench.step(100.4, "dry", json!({ "at": "rack" }));
        bench.expect_violated(&RULE);
    }

    #[test]
    fn the_gate_of_a_coat_is_shut_until_the_last_rinse() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        assert_eq!(bench.gate(&RULE, 101.0, "seal_coat", &coat(1)).unwrap().state, GateState::Blocked);
        bench.step(100.1, "rinse", rinse());
        bench.step(100.2, "neutralise", neutralise());
        bench.step(100.3, "rinse", rinse());
        assert_eq!(bench.gate(&RULE, 101.0, "seal_coat", &coat(1)), None);
    }
}
