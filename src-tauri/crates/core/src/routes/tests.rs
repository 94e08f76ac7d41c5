//! Routes: every shipped document is whole, and done work finds its stage.

use serde_json::{Value, json};

use super::shipped::COUNT;
use super::{BadRoute, Progress, Route, StageState, check, progress, shipped, shipped_for, shipped_with};
use crate::body::setup::FinishKind;
use crate::plan::probe::Probe;

#[test]
fn every_shipped_route_is_read_and_is_good() {
    assert_eq!(shipped().len(), COUNT);
    for route in shipped() {
        assert_eq!(check(route), Vec::<BadRoute>::new(), "{}", route.code);
        for words in [&route.name, &route.about] {
            assert!(!words.en.is_empty() && !words.es.is_empty(), "{}", route.code);
        }
        let value = serde_json::to_value(route).unwrap();
        assert_eq!(Route::read(&value).unwrap(), *route, "a frozen copy reads back the same");
    }
}

#[test]
fn every_finish_has_its_usual_route() {
    for finish in FinishKind::ALL {
        assert!(shipped_for(*finish).is_some(), "{finish:?}");
    }
}

#[test]
fn codes_are_unique() {
    let mut codes: Vec<_> = shipped().iter().map(|route| &route.code).collect();
    codes.sort();
    codes.dedup();
    assert_eq!(codes.len(), COUNT);
}

fn edited(change: impl Fn(&mut Value)) -> Vec<String> {
    let mut value = serde_json::to_value(shipped_with("salt_pepper").unwrap()).unwrap();
    change(&mut value);
    check(&Route::read(&value).unwrap()).into_iter().map(|bad| bad.field).collect()
}

#[test]
fn a_bad_edit_is_refused_and_the_field_named() {
    assert_eq!(edited(|_| {}), Vec::<String>::new());
    assert_eq!(edited(|it| it["code"] = json!("Salt & Pepper")), ["code"]);
    assert_eq!(edited(|it| it["stages"] = json!([])), ["stages"]);
    assert_eq!(edited(|it| it["stages"][1]["id"] = json!("pour")), ["stages[1].id"]);
    assert_eq!(edited(|it| it["stages"][2]["set"] = json!({ "gritt": 50 })), ["stages[2].set.gritt"]);
    assert_eq!(edited(|it| it["stages"][2]["set"] = json!({ "notes": "x" })), ["stages[2].set.notes"]);
    assert_eq!(edited(|it| it["stages"][2]["when"] = json!({ "with": "later" })), ["stages[2].when"]);
    let wait = |hours: Value| json!([{ "for": "dry", "hours": hours, "after": "nowhere" }]);
    let fields = edited(|it| it["stages"][2]["waits"] = wait(json!(-1)));
    assert_eq!(fields, ["stages[2].waits[0].after", "stages[2].waits[0].hours"]);
}

#[test]
fn an_unknown_kind_is_refused_in_words() {
    let mut value = serde_json::to_value(&shipped()[0]).unwrap();
    value["stages"][0]["kind"] = json!("strike");
    let bad = Route::read(&value).unwrap_err();
    assert!(bad.to_string().contains("\"strike\" is not a kind of work on a piece"), "{bad}");
}

fn seen(code: &str, probe: &Probe) -> (&'static Route, Progress) {
    let route = shipped_with(code).unwrap();
    let shop = probe.shop();
    let seen = progress(route, &shop, &shop.history(Probe::PIECE));
    (route, seen)
}

fn next_id(code: &str, probe: &Probe) -> String {
    let (route, seen) = seen(code, probe);
    seen.next.map_or_else(|| "done".to_owned(), |at| route.stages[at].id.clone())
}

#[test]
fn a_piece_without_a_pour_begins_with_it() {
    assert_eq!(next_id("salt_pepper", &Probe::new("salt_pepper")), "pour");
}

#[test]
fn passes_lead_on_one_by_one_and_a_pass_that_did_not_finish_stays_due() {
    let mut probe = Probe::cast("salt_pepper");
    assert_eq!(next_id("salt_pepper", &probe), "grit-50");
    probe.pass(50.0, "scratches_left");
    assert_eq!(next_id("salt_pepper", &probe), "grit-50");
    probe.pass(50.0, "cut_out");
    assert_eq!(next_id("salt_pepper", &probe), "grit-100");
    probe.pass(120.0, "cut_out");
    assert_eq!(next_id("salt_pepper", &probe), "grit-200", "120 stands in for 100");
}

#[test]
fn a_skipped_pass_is_passed_and_going_back_opens_what_came_after() {
    let mut probe = Probe::cast("salt_pepper");
    probe.pass(50.0, "cut_out");
    probe.pass(200.0, "cut_out");
    let (route, after) = seen("salt_pepper", &probe);
    assert_eq!(after.stages[route.place("grit-100").unwrap()], StageState::Passed);
    assert_eq!(next_id("salt_pepper", &probe), "grit-400");
    probe.pass(100.0, "cut_out");
    assert_eq!(next_id("salt_pepper", &probe), "grit-200", "finer passes are ground anew");
}

#[test]
fn a_fill_makes_the_pass_over_it_due() {
    let mut probe = Probe::cast("salt_pepper");
    for grit in [50.0, 100.0, 200.0] {
        probe.pass(grit, "cut_out");
    }
    assert_eq!(next_id("salt_pepper", &probe), "grit-400");
    probe.add("fill", json!({ "material": "cement_fill", "lot": "F1", "method": "slurry" }));
    assert_eq!(next_id("salt_pepper", &probe), "grit-200-again");
    probe.pass(200.0, "cut_out");
    assert_eq!(next_id("salt_pepper", &probe), "grit-400");
}

#[test]
fn a_neutralising_left_out_is_owed_until_a_coat_covers_it() {
    let mut probe = Probe::cast("washed");
    probe.add("trial_spot", json!({ "of": "acid_wash", "good": "yes" }));
    probe.wash();
    probe.rinse();
    probe.rinse();
    assert_eq!(next_id("as_cast_washed", &probe), "neutralise", "a second rinse does not replace it");
    probe.add("dry", json!({ "at": "bench" }));
    assert_eq!(next_id("as_cast_washed", &probe), "neutralise");
    probe.neutralise();
    assert_eq!(next_id("as_cast_washed", &probe), "rinse-last");
}

#[test]
fn wetting_a_dried_face_makes_drying_due_again_but_not_once_it_is_sealed() {
    let mut probe = Probe::cast("as_cast");
    probe.add("clean", json!({ "agent": "water" }));
    probe.rinse();
    probe.add("dry", json!({ "at": "bench" }));
    assert_eq!(next_id("as_cast_cleaned", &probe), "seal");
    probe.rinse();
    assert_eq!(next_id("as_cast_cleaned", &probe), "dry");
    probe.add("dry", json!({ "at": "bench" }));
    probe.coat(1);
    probe.coat(2);
    probe.rinse();
    assert_eq!(next_id("as_cast_cleaned", &probe), "seal-cure");
}

#[test]
fn a_coat_is_due_until_all_are_laid() {
    let mut probe = Probe::cast("as_cast");
    probe.add("dry", json!({ "at": "bench" }));
    probe.coat(1);
    assert_eq!(next_id("as_cast_cleaned", &probe), "seal");
    probe.coat(2);
    assert_eq!(next_id("as_cast_cleaned", &probe), "seal-cure");
}

#[test]
fn a_frozen_copy_of_a_shipped_route_is_known_again_and_any_change_of_it_is_not() {
    for route in shipped() {
        let mut value = serde_json::to_value(route).unwrap();
        assert_eq!(shipped::shipped_as(&value), Some(route));
        value["stages"].as_array_mut().unwrap().pop();
        assert_eq!(shipped::shipped_as(&value), None, "{}", route.code);
    }
}
