//! `used-before-cured`

use super::{coats, is_wet, product_fact};
use crate::body::handling::Wrap;
use crate::body::setup::Product;
use crate::materials::ClassFacts;
use crate::rules::facts::is_unknown;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "used-before-cured",
    title: text(
        "Handling, wrapping, water and use each wait for their own time after the last coat",
        "Manipular, envolver, mojar y usar esperan cada uno su tiempo tras la última mano",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "A sealer is dry long before it is cured. Fingers print it, a wrap sticks or sweats it white, water spots it, and a client who was given no dates spoils it in good faith.",
        "Un sellador está seco mucho antes de estar curado. Los dedos lo marcan, un envoltorio se pega o lo hace sudar, el agua lo mancha, y un cliente sin fechas lo estropea de buena fe.",
    ),
    remedy: text(
        "Wait for the time on the sheet, or hand over with the dates for water, light use and full use on the care sheet. Wrap in what breathes.",
        "Esperar el tiempo de la ficha, o entregar con las fechas de agua, uso ligero y uso completo en la hoja de cuidados. Envolver con material transpirable.",
    ),
    looks: &[Look::Step(
        &[
            Kind::Rinse,
            Kind::Clean,
            Kind::WaterTest,
            Kind::Storage,
            Kind::Packing,
            Kind::Loading,
            Kind::Delivery,
            Kind::Install,
            Kind::Handover,
        ],
        judge,
    )],
};

/// What a step does to a fresh coat, and which time it has to wait for.
struct Asks {
    what: Text,
    sheet: fn(&Product) -> Option<f64>,
    class: fn(&ClassFacts) -> Option<f64>,
}

const HANDLE: Asks =
    Asks { what: text("handle after", "manipular tras"), sheet: |p| p.handle_h, class: |c| c.handle_h };
const WRAP: Asks =
    Asks { what: text("wrap after", "envolver tras"), sheet: |p| p.wrap_h, class: |c| c.wrap_h };
const WATER: Asks = Asks {
    what: text("first water after", "primer contacto con agua tras"),
    sheet: |p| p.water_h,
    class: |c| c.water_h,
};
const FULL_USE: Asks = Asks {
    what: text("full use after", "uso completo tras"),
    sheet: |p| p.full_use_h,
    class: |c| c.full_use_h,
};

const SINCE: Text = text("time since the last coat", "tiempo desde la última mano");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(&(last, coat)) = coats(past, subject.region).last() else { return Vec::new() };
    let since = past.after(last);
    if since.has(&[Kind::Strip]) || between_coats(past.case, subject, last, coat.coat) {
        return Vec::new();
    }
    let product = past.case.product(coat.product, last.done.start);
    let hours = hours_between(last.done.finish(), subject.at);
    let hits = asks(subject).into_iter().filter_map(|asks| {
        let limit = product.and_then(|it| limits::of_product(it, asks.sheet, asks.class));
        let mut facts = vec![product_fact(product), number(SINCE, hours, Dimension::Hour)];
        let Some(limit) = limit else {
            facts.push(missing(asks.what));
            return Some(Hit::cannot_tell([last], facts));
        };
        if hours >= limit.value {
            return None;
        }
        facts.extend(limit.facts(asks.what, Dimension::Hour));
        Some(Hit::violated([last], facts).until(add_hours(last.done.finish(), limit.value)))
    });
    hits.collect()
}

fn asks(subject: &Subject<'_>) -> Vec<Asks> {
    let wrapped = |wrap: Option<Wrap>| wrap.is_some_and(|it| it != Wrap::None);
    match subject.kind {
        Kind::WaterTest => vec![WATER],
        Kind::Rinse => vec![WATER],
        Kind::Clean if subject.step.is_none_or(is_wet) => vec![WATER],
        Kind::Storage if wrapped(subject.read(view::storage).and_then(|it| it.wrap)) => vec![HANDLE, WRAP],
        // A packing whose wrap is not known yet is taken as wrapped.
        Kind::Packing if subject.read(view::packing).is_none_or(|it| wrapped(Some(it.wrap))) => {
            vec![HANDLE, WRAP]
        }
        Kind::Storage | Kind::Packing | Kind::Loading | Kind::Delivery | Kind::Install => vec![HANDLE],
        // Handed over early is normal where the dates are on the sheet that was given.
        Kind::Handover if subject.read(view::handover).is_some_and(|it| is_unknown(&it.care_sheet)) => {
            vec![FULL_USE]
        }
        _ => Vec::new(),
    }
}

/// Whether a wet step only prepared the next coat of the same application.
fn between_coats(case: &Case<'_>, subject: &Subject<'_>, last: &Step, number: u32) -> bool {
    let wet = matches!(subject.kind, Kind::Rinse | Kind::Clean);
    let later = case.whole().after(last);
    wet && later.all(view::seal_coat).any(|(step, coat)| {
        covers(step, subject.region) && coat.coat > number && step.done.start >= subject.at
    })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    /// Coated at hour 100: handle 12 h, wrap 48 h, water 24 h, full use 168 h.
    fn coated() -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let times = json!({ "class": "reactive_sealer", "handle_h": 12, "wrap_h": 48, "water_h": 24, "full_use_h": 168 });
        bench.product("sealer", times);
        let last = bench.step(100.0, "seal_coat", coat(1));
        (bench, last)
    }

    fn store(wrap: &str) -> serde_json::Value {
        json!({ "condition": "good", "position": "flat", "wrap": wrap })
    }

    fn water() -> serde_json::Value {
        json!({ "falls": "yes", "drains": "yes", "held_h": 1 })
    }

    fn handover(sheet: &str) -> serde_json::Value {
        json!({ "received_by": "Client", "care_sheet": sheet })
    }

    #[test]
    pub(crate) fn clear() {
        let (mut bench, _) = coated();
        bench.step(112.0, "storage", store("none"));
        bench.step(112.0, "handover", handover("3"));
        bench.step(124.0, "water_test", water());
        bench.step(148.0, "packing", json!({ "condition": "good", "wrap": "breathable" }));
        bench.step(268.0, "handover", handover(""));
        bench.expect_clear(&RULE);
        let mut bare = Bench::poured();
        bare.step(30.0, "storage", store("film"));
        bare.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for (hours, kind, body) in [
            (111.9, "storage", store("none")),
            (147.9, "storage", store("breathable")),
            (123.9, "water_test", water()),
            (123.9, "rinse", rinse()),
            (111.9, "install", json!({ "base_level": "yes" })),
            (267.9, "handover", handover("none")),
        ] {
            let (mut bench, last) = coated();
            let done = bench.step(hours, kind, body);
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[last, done]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let body = with(coat(1), json!({ "product": id("not in the shop") }));
        let last = bench.step(100.0, "seal_coat", body);
        let done = bench.step(300.0, "water_test", water());
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[last, done]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = coated();
        bench.step(101.0, "water_test", water());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn rinsing_before_the_next_coat_is_no_use() {
        let (mut bench, _) = coated();
        bench.step(102.0, "rinse", rinse());
        bench.step(110.0, "seal_coat", coat(2));
        bench.expect_clear(&RULE);
    }

    #[test]
    fn a_planned_step_waits_for_the_time_on_the_sheet() {
        let (bench, _) = coated();
        let until = |kind: &str| bench.bare_gate(&RULE, 101.0, kind).unwrap().state;
        assert_eq!(until("loading"), GateState::Until(at(112.0)));
        assert_eq!(until("packing"), GateState::Until(at(148.0)));
        assert_eq!(until("water_test"), GateState::Until(at(124.0)));
    }
}
