//! Bodies: every kind has a schema, reading is tolerant for what is stored and strict for what is entered.

use serde_json::{Map, Value, json};

use super::{Body, Details, Kind, input};

#[allow(clippy::needless_pass_by_value, reason = "called with literals")]
fn map(value: Value) -> Map<String, Value> {
    value.as_object().cloned().unwrap()
}

#[test]
fn kinds_are_found_by_the_name_they_write() {
    for kind in Kind::ALL {
        assert_eq!(Kind::parse(kind.wire()), Some(*kind));
        assert!(!kind.label().en.is_empty() && !kind.label().es.is_empty());
        let schema = kind.schema();
        assert_eq!(schema.get("type"), Some(&json!("object")), "{}", kind.wire());
    }
    assert_eq!(Kind::parse("no_such_kind"), None);
}

#[test]
fn a_stored_body_with_a_newer_field_is_still_read() {
    let stored = json!({ "standing_water_removed": "yes", "times": 2, "notes": "cold tap", "colour_of_water": "clear" });
    let details = Details::from_stored(Kind::Rinse, &stored).unwrap();
    assert_eq!(details.common.notes.as_deref(), Some("cold tap"));
    assert!(matches!(details.body, Body::Rinse(_)));
}

#[test]
fn an_entered_body_with_an_unknown_field_is_refused_by_name() {
    let entered = map(json!({ "standing_water_removed": "yes", "colour_of_water": "clear" }));
    let error = input::read(Kind::Rinse, entered).unwrap_err();
    assert_eq!(error.field, "colour_of_water");
}

#[test]
fn a_missing_must_field_is_named() {
    let error = input::read(Kind::Rinse, map(json!({ "times": 2 }))).unwrap_err();
    assert_eq!((error.field.as_str(), error.why), ("standing_water_removed", input::Refusal::Missing));
}

#[test]
fn a_text_with_a_unit_becomes_si_and_is_kept_as_entered() {
    // 68 °F = 20 °C exactly (NIST SP 811, B.9).
    let entered = map(json!({ "air_c": "68 °F", "rh_pct": 55, "surface_c": 19.5 }));
    let details = input::read(Kind::Climate, entered).unwrap();
    let stored = details.to_stored();
    assert!((stored["air_c"].as_f64().unwrap() - 20.0).abs() < 1e-9);
    assert_eq!(stored["entered"]["air_c"], "68 °F");
    let again = Details::from_stored(Kind::Climate, &Value::Object(stored)).unwrap();
    assert_eq!(again, details);
}

#[test]
fn an_unknown_unit_is_refused_by_field() {
    let entered = map(json!({ "air_c": "68 furlongs", "rh_pct": 55, "surface_c": 19.5 }));
    assert_eq!(input::read(Kind::Climate, entered).unwrap_err().field, "air_c");
}

#[test]
fn absurd_values_are_refused_by_field() {
    for (field, value) in [("rh_pct", json!(140)), ("air_c", json!(1e30)), ("surface_c", json!(-400))] {
        let mut entered = map(json!({ "air_c": 20, "rh_pct": 55, "surface_c": 19 }));
        entered.insert(field.into(), value);
        assert_eq!(input::read(Kind::Climate, entered).unwrap_err().field, field);
    }
}

#[test]
fn unknown_is_a_statement_where_a_must_value_may_not_be_known() {
    let wash = json!({ "acid": "hydrochloric", "concentrate_pct": "unknown", "water_parts": 20, "acid_parts": 1,
        "cream_lost": "trace" });
    let details = input::read(Kind::AcidWash, map(wash)).unwrap();
    let Body::AcidWash(wash) = &details.body else { panic!("an acid wash") };
    assert_eq!(wash.concentrate_pct.get(), None);
    assert_eq!(details.to_stored()["concentrate_pct"], "unknown");
}
