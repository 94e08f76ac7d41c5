//! The planner: states, gates, timers, the chain, and that nothing is earlier than its gates.

use proptest::prelude::*;
use serde_json::{Value, json};

use super::probe::Probe;
use super::{PiecePlan, PlanState, TimerKind, gates, next};
use crate::moment::{Moment, add_hours};
use crate::routes::{Route, shipped, shipped_with};

fn plan(probe: &Probe) -> PiecePlan {
    next(&probe.shop(), Probe::PIECE, probe.now)
}

fn later(from: Moment, hours: f64) -> Moment {
    add_hours(from, hours).unwrap()
}

fn due(plan: &PiecePlan) -> &str {
    plan.step.as_ref().map_or("done", |step| step.id.as_str())
}

#[test]
fn without_route_or_finish_something_has_to_be_chosen_first() {
    let probe = Probe::new("glass");
    let mut shop = probe.shop();
    let mut piece = shop.pieces[&Probe::PIECE].now().clone();
    piece.finish = None;
    shop.pieces.insert(Probe::PIECE, crate::shop::Versions::first(probe.now, piece));
    let plan = next(&shop, Probe::PIECE, probe.now);
    assert_eq!((plan.state, plan.route, plan.step), (PlanState::Blocked, None, None));
}

#[test]
fn the_finish_points_to_a_shipped_route_that_is_not_frozen() {
    let plan = plan(&Probe::cast("as_cast"));
    let route = plan.route.as_ref().unwrap();
    assert_eq!((route.code.as_str(), route.frozen), ("as_cast_cleaned", false));
    assert_eq!((due(&plan), plan.state), ("clean", PlanState::Ready));
}

#[test]
fn a_route_chosen_midway_keeps_what_was_done() {
    let mut probe = Probe::cast("as_cast");
    probe.add("clean", json!({ "agent": "water" }));
    let frozen = serde_json::to_value(shipped_with("hand_honed").unwrap()).unwrap();
    probe.add("route_chosen", json!({ "code": "hand_honed", "version": 1, "route": frozen, "why": "marks" }));
    let plan = plan(&probe);
    assert_eq!((due(&plan), plan.route.as_ref().unwrap().frozen), ("paper-600", true));
    assert_eq!(
        plan.options.iter().map(|it| it.id.as_str()).collect::<Vec<_>>(),
        ["trial-spot", "wash", "strength"]
    );
}

#[test]
fn an_edited_route_holds_for_the_piece_it_was_frozen_into() {
    let mut probe = Probe::cast("as_cast");
    let mut value = serde_json::to_value(shipped_with("as_cast_cleaned").unwrap()).unwrap();
    value["version"] = json!(7);
    value["stages"].as_array_mut().unwrap().retain(|stage| stage["id"] != "clean");
    probe.add("route_chosen", json!({ "code": "as_cast_cleaned", "version": 7, "route": value }));
    assert_eq!(due(&plan(&probe)), "rinse-last");
}

#[test]
fn drying_runs_then_the_coat_is_ready() {
    let mut probe = Probe::cast("as_cast");
    probe.add("clean", json!({ "agent": "water" }));
    let rinsed = probe.now;
    probe.rinse();
    let dried = probe.now;
    probe.add("dry", json!({ "at": "bench" }));
    let running = plan(&probe);
    assert_eq!((due(&running), running.state), ("seal", PlanState::Running));
    assert_eq!(running.timers[0].kind, TimerKind::Dry);
    assert_eq!((running.timers[0].start, running.timers[0].end), (dried, later(dried, 24.0)));
    assert!(running.earliest.is_none_or(|it| it >= later(rinsed, 24.0)));
    assert_eq!(running.handover(), running.earliest, "nothing after it waits longer");
    probe.wait_h(24.0);
    let waits: Vec<_> =
        plan(&probe).gates.iter().filter(|it| it.rule().is_none()).map(|it| it.state).collect();
    assert_eq!(waits, [], "the route's wait is over");
    assert_eq!(plan(&probe).timers, []);
}

#[test]
fn a_passed_moisture_reading_ends_the_routes_wait() {
    let mut probe = Probe::cast("as_cast");
    probe.rinse();
    probe.add("dry", json!({ "at": "bench" }));
    let waits = |probe: &Probe| plan(probe).gates.iter().filter(|it| it.rule().is_none()).count();
    assert_eq!(waits(&probe), 1);
    probe.add("moisture", json!({ "method": "impedance", "value": 3.1, "verdict": "pass" }));
    assert_eq!(waits(&probe), 0);
}

#[test]
fn a_dwell_runs_for_its_minutes() {
    let mut probe = Probe::cast("washed");
    let start = probe.now;
    probe.wash();
    let at = |minutes: f64| next(&probe.shop(), Probe::PIECE, later(start, minutes / 60.0));
    let dwell = at(9.0);
    assert_eq!((dwell.state, dwell.timers[0].kind), (PlanState::Running, TimerKind::Dwell));
    assert_eq!(dwell.timers[0].end, later(start, 10.0 / 60.0));
    assert_eq!(at(10.0).timers, [], "over on the minute");
    assert_eq!(due(&dwell), "rinse-acid");
}

#[test]
fn the_recoat_window_and_the_pot_run_after_a_coat() {
    let mut probe = Probe::cast("as_cast");
    let start = probe.now;
    probe.coat(1);
    let plan = plan(&probe);
    let [recoat, pot] = plan.timers[..] else { panic!("{:?}", plan.timers) };
    assert_eq!((recoat.end, recoat.latest), (later(start, 4.0), Some(later(start, 24.0))));
    assert_eq!((pot.kind, pot.end, pot.holds_work()), (TimerKind::PotLife, later(start, 1.5), false));
    let step = plan.step.unwrap();
    assert_eq!((step.id.as_str(), step.values["coat"].as_u64()), ("seal", Some(2)));
    assert_eq!(step.values["product"], json!(Probe::SEALER), "carried over from the first coat");
    assert_eq!(step.values.get("air_c"), None, "a reading is never carried over");
}

#[test]
fn what_is_written_for_later_has_not_happened_yet() {
    let mut probe = Probe::cast("as_cast");
    let now = probe.now;
    probe.wait_h(48.0);
    probe.add("clean", json!({ "agent": "water" }));
    assert_eq!(due(&next(&probe.shop(), Probe::PIECE, now)), "clean");
}

#[test]
fn after_handover_only_a_route_chosen_later_goes_on() {
    let mut probe = Probe::cast("as_cast");
    probe.add("handover", json!({ "received_by": "client", "care_sheet": "1" }));
    assert_eq!(plan(&probe).state, PlanState::Finished);
    let repair = serde_json::to_value(shipped_with("repair").unwrap()).unwrap();
    probe.add("route_chosen", json!({ "code": "repair", "version": 1, "route": repair }));
    assert_eq!(due(&plan(&probe)), "assess", "what was done before does not count on a repair");
}

/// A whole body for a step, as a person who does what the route says would log it.
fn logged(step: &super::PlannedStep) -> Value {
    let mut body = match step.kind.wire() {
        "demould" => json!({ "face": ["clean"] }),
        "inspection" => json!({ "checklist": [{ "what": "face", "result": "pass" }] }),
        "sample_agreed" => json!({ "samples": ["middle"], "agreed_by": "client" }),
        "trial_spot" => json!({ "good": "yes" }),
        "acid_wash" => json!({ "concentrate_pct": 31, "cream_lost": "none", "metal_masked": "yes" }),
        "rinse" => json!({ "standing_water_removed": "yes" }),
        "ph_reading" => json!({ "ph": 8.0, "method": "paper" }),
        "neutralise" => json!({ "concentrate_pct": 8 }),
        "clean" => json!({}),
        "strength" => json!({ "trial": "shaved" }),
        "grit_pass" => json!({ "result": "cut_out", "power": "electric", "rcd": "yes" }),
        "fill" => json!({ "lot": "F1", "expires": "2026-01-31" }),
        "densify" => {
            json!({ "product": Probe::SEALER, "lot": "D1", "dwell_min": 30, "residue_off": "yes", "expires": "2026-01-31" })
        }
        "colour" => json!({ "product": Probe::SEALER, "lot": "C1", "expires": "2026-01-31" }),
        "strip" => json!({ "method": "pad", "residue_removed": "yes" }),
        "dry" => json!({ "at": "bench" }),
        "moisture" => json!({ "method": "impedance", "value": 3, "reference": 3, "verdict": "pass" }),
        "seal_coat" => {
            json!({ "product": Probe::SEALER, "lot": "L1", "expires": "2026-01-31", "air_c": 20, "rh_pct": 50,
                "surface_c": 20, "surface_steady": "yes", "mixed_before_min": 40, "pores_filled": "yes" })
        }
        "sealer_cure" => json!({ "method": "air", "until": "2025-06-01T08:00:00-06:00" }),
        "initial_cure" => json!({ "method": "covered" }),
        "trowel" => json!({}),
        "water_test" => json!({ "falls": "yes", "drains": "yes", "held_h": 24 }),
        "storage" | "loading" => json!({ "condition": "good", "position": "flat" }),
        "packing" => json!({ "condition": "good", "wrap": "breathable" }),
        "delivery" => json!({ "condition": "good", "taken_by": "client" }),
        "install" => json!({ "base_level": "yes", "sealant": "neutral_silicone", "acid_or_flux": "no" }),
        "handover" => json!({ "received_by": "client", "care_sheet": "1" }),
        other => panic!("no body for {other}"),
    };
    let map = body.as_object_mut().unwrap();
    map.insert("photos".into(), json!([{ "hash": crate::id::Hash([7; 32]) }]));
    map.extend(step.values.clone());
    if let Some(region) = step.region {
        map.insert("region".into(), json!(region.wire()));
    }
    body
}

/// Follows a route as `next` leads, each step at its earliest, with or without its optional stages; what a rule
/// asks for is done when it blocks or cannot tell. The ids in the order they were done.
fn walk(route: &Route, with_options: bool) -> Vec<String> {
    let finish = route.finishes.first().map_or("honed", |finish| finish.wire());
    let mut probe = if route.afresh { Probe::cast("as_cast") } else { Probe::new(finish) };
    let frozen = serde_json::to_value(route).unwrap();
    probe.add("route_chosen", json!({ "code": route.code, "version": route.version, "route": frozen }));
    let mut done = Vec::new();
    for _ in 0..80 {
        let plan = plan(&probe);
        let Some(due) = plan.step else {
            broken_none(&probe, &route.code);
            return done;
        };
        let asked = |step: &super::PlannedStep| route.stages[step.stage].when == crate::routes::When::Asked;
        let untold = plan.gates.iter().any(|gate| gate.verdict == crate::rules::Verdict::CannotTell);
        let asks = plan.earliest.is_none() || untold;
        let wanted = |step: &super::PlannedStep| with_options || (asks && asked(step));
        // In the order of the route: evidence comes before the work it is for.
        let mut options = plan.options;
        options.sort_by_key(|step| step.stage);
        let step = options.into_iter().find(wanted).unwrap_or(due);
        probe.now = step.earliest.unwrap_or(probe.now);
        if step.kind == crate::body::Kind::Pour {
            probe.pour();
        } else {
            let body = logged(&step);
            probe.confirm(step.kind, &body);
            probe.add(step.kind.wire(), body);
        }
        done.push(step.id);
    }
    panic!("{} never ends: {done:?}", route.code);
}

fn broken_none(probe: &Probe, code: &str) {
    let findings = crate::rules::check_piece(&probe.shop(), Probe::PIECE);
    let found: Vec<_> = findings.iter().map(|it| (it.rule.code, it.verdict, &it.facts)).collect();
    assert_eq!(found, [], "{code} breaks a rule, or leaves one in the dark");
}

/// The rules judge a planned pass by its grit, though nobody knows yet how it will end.
#[test]
fn a_planned_pass_is_judged_before_it_is_done() {
    let mut probe = Probe::cast("salt_pepper");
    probe.pass(50.0, "scratches_left");
    probe.pass(100.0, "cut_out");
    let mut value = serde_json::to_value(shipped_with("salt_pepper").unwrap()).unwrap();
    value["version"] = json!(2);
    value["stages"].as_array_mut().unwrap().retain(|stage| stage["id"] != "grit-200");
    probe.add("route_chosen", json!({ "code": "salt_pepper", "version": 2, "route": value }));
    let plan = plan(&probe);
    let rules: Vec<_> = plan.gates.iter().filter_map(|gate| gate.rule()).map(|rule| rule.code).collect();
    assert_eq!(due(&plan), "grit-400");
    assert!(rules.contains(&"grit-step"), "{rules:?}");
    assert_eq!(plan.step.unwrap().values.get("result"), None, "an outcome is never proposed");
}

#[test]
fn next_leads_through_every_shipped_route_to_its_end_and_breaks_no_rule() {
    for route in shipped() {
        let last = &route.stages.last().unwrap().id;
        let must = |id: &String| {
            route.stages.iter().any(|it| it.id == *id && it.when == crate::routes::When::Always)
        };
        let plain = walk(route, false);
        assert_eq!(plain.last(), Some(last), "{}", route.code);
        for stage in route.stages.iter().filter(|it| must(&it.id)) {
            assert!(plain.contains(&stage.id), "{} leaves out {}", route.code, stage.id);
        }
        let full = walk(route, true);
        assert_eq!(full.last(), Some(last), "{}", route.code);
        assert!(full.len() >= plain.len(), "{}", route.code);
        let order = |id: &String| route.place(id).unwrap();
        assert!(full.windows(2).all(|pair| order(&pair[0]) <= order(&pair[1])), "{}: {full:?}", route.code);
    }
}

proptest! {
    /// Any of the steps below, in any order and spacing, at any moment asked for.
    #[test]
    fn the_earliest_is_never_earlier_than_a_gate(
        steps in prop::collection::vec((0usize..9, 0.1f64..40.0), 0..12),
        ask in 0.0f64..60.0,
        finish in prop::sample::select(vec!["as_cast", "washed", "salt_pepper", "glass", "floor", "pressed"]),
    ) {
        let mut probe = Probe::cast(finish);
        for (what, hours) in steps {
            match what {
                0 => probe.wash(),
                1 => probe.rinse(),
                2 => probe.neutralise(),
                3 => probe.pass(50.0, "cut_out"),
                4 => probe.pass(200.0, "plucking"),
                5 => probe.coat(1),
                6 => probe.add("fill", json!({ "material": "cement_fill", "lot": "F", "method": "spot" })),
                7 => probe.add("dry", json!({ "at": "bench" })),
                _ => probe.add("moisture", json!({ "method": "impedance", "value": 3, "verdict": "pass" })),
            };
            probe.wait_h(hours);
        }
        let at = later(probe.now, ask);
        let plan = next(&probe.shop(), Probe::PIECE, at);
        if let Some(earliest) = plan.earliest {
            prop_assert!(earliest >= at);
            for gate in &plan.gates {
                prop_assert!(gate.opens().is_none_or(|opens| opens <= earliest), "{gate:?}");
                prop_assert!(gate.state != crate::rules::GateState::Blocked);
            }
        }
        // Clearing the gate that decides moves the earliest, unless another opens at the same time.
        if let (Some(earliest), Some(binding)) = (plan.earliest, plan.binding) {
            let mut others = plan.gates.clone();
            let cleared = others.remove(binding);
            let same = others.iter().any(|it| it.opens() == cleared.opens());
            if earliest > at && !same {
                prop_assert!(gates::earliest(&others, at).unwrap() < earliest);
            }
        }
        let mut reached = None;
        for link in &plan.chain {
            prop_assert!(link.earliest >= reached, "a later stage is never earlier");
            reached = link.earliest;
        }
    }
}
