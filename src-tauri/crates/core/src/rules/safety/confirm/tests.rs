//! What a form is told to ask before a step is recorded.

use serde_json::{Value, json};

use super::*;
use crate::rules::testing::{Bench, at, id};

fn asked(bench: &Bench, hours: f64, kind: Kind, values: Value) -> Vec<(SafetyTopic, &'static str)> {
    let Value::Object(values) = values else { panic!("values are an object") };
    let found = confirmations(&bench.shop(), id("worker"), &Prospect { kind, values: &values }, at(hours));
    for it in &found {
        assert!(!it.details.is_empty() && crate::rules::find(it.code).is_some(), "{it:?}");
    }
    found.into_iter().map(|it| (it.topic, it.code)).collect()
}

const ACID: (SafetyTopic, &str) = (SafetyTopic::Acid, "acid-unconfirmed");
const ISOCYANATE: (SafetyTopic, &str) = (SafetyTopic::Isocyanate, "isocyanate-unconfirmed");

#[test]
fn half_filled_values_are_enough() {
    let bench = Bench::poured();
    assert_eq!(asked(&bench, 10.0, Kind::AcidWash, json!({})), [ACID]);
    assert_eq!(asked(&bench, 10.0, Kind::Neutralise, json!({})), [ACID]);
    assert_eq!(asked(&bench, 10.0, Kind::Neutralise, json!({ "agent": "bicarbonate" })), []);
    assert_eq!(asked(&bench, 10.0, Kind::Clean, json!({ "agent": "acid_cleaner" })), [ACID]);
    assert_eq!(asked(&bench, 10.0, Kind::SealCoat, json!({ "product": id("film") })), [ISOCYANATE]);
    assert_eq!(asked(&bench, 10.0, Kind::SealCoat, json!({ "product": id("sealer") })), []);
    let on_edge = asked(&bench, 10.0, Kind::Loading, json!({ "position": "on_edge", "suction": "yes" }));
    let topics: Vec<SafetyTopic> = on_edge.iter().map(|it| it.0).collect();
    assert_eq!(topics, [SafetyTopic::OnEdge, SafetyTopic::Suction]);
    assert_eq!(asked(&bench, 10.0, Kind::Rinse, json!({})), []);
}

#[test]
fn what_was_confirmed_in_this_shift_is_not_asked_again() {
    let mut bench = Bench::poured();
    bench.confirm(9.0, &["acid"]);
    assert_eq!(asked(&bench, 21.0, Kind::AcidWash, json!({})), []);
    assert_eq!(asked(&bench, 21.1, Kind::AcidWash, json!({})), [ACID]);
    assert_eq!(
        asked(&bench, 8.9, Kind::AcidWash, json!({})),
        [ACID],
        "a confirmation holds from its moment on"
    );
}
