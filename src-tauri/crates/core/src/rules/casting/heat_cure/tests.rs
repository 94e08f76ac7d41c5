//! Both sides of each limit of heat curing.

use super::*;
use crate::rules::testing::*;
use crate::rules::{GateState, Verdict};

fn heated(more: serde_json::Value) -> (Bench, crate::id::Hash) {
    let mut bench = Bench::poured();
    let plain = json!({ "method": "heat", "peak_c": 60, "rise_c_per_h": 15, "strip_difference_k": 10, "after_set": true });
    let cure = bench.pour_span(5.0, 20.0, "initial_cure", with(plain, more));
    (bench, cure)
}

#[test]
pub(crate) fn clear() {
    let (mut bench, _) = heated(json!({ "peak_c": 65, "rise_c_per_h": 20, "strip_difference_k": 20 }));
    bench.step(21.0, "demould", json!({ "face": ["clean"] }));
    bench.expect_clear(&RULE);
    let mut covered = Bench::poured();
    covered.pour_span(1.0, 20.0, "initial_cure", json!({ "method": "covered" }));
    covered.step(21.0, "demould", json!({ "face": ["clean"] }));
    covered.expect_clear(&RULE);
}

#[test]
pub(crate) fn violated() {
    for (more, severity) in [
        (json!({ "peak_c": 65.1 }), Severity::Caution),
        (json!({ "peak_c": 70 }), Severity::Caution),
        (json!({ "peak_c": 70.1 }), Severity::Stop),
        (json!({ "rise_c_per_h": 20.1 }), Severity::Caution),
        (json!({ "after_set": false }), Severity::Caution),
    ] {
        let (bench, cure) = heated(more);
        bench.expect(&RULE, Verdict::Violated, severity, &[&[cure]]);
    }
    let (mut stripped, cure) = heated(json!({ "strip_difference_k": 20.1 }));
    let out = stripped.step(20.1, "demould", json!({ "face": ["clean"] }));
    stripped.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[cure, out]]);
}

#[test]
pub(crate) fn cannot_tell() {
    for field in ["peak_c", "rise_c_per_h", "after_set"] {
        let (bench, cure) = heated(json!({ field: null }));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cure]]);
    }
    let (mut stripped, cure) = heated(json!({ "strip_difference_k": null }));
    let out = stripped.step(21.0, "demould", json!({ "face": ["clean"] }));
    stripped.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cure, out]]);
}

#[test]
pub(crate) fn excepted() {
    heated(json!({ "peak_c": 80 })).0.expect_accepted(&RULE);
}

#[test]
fn any_cure_that_gets_too_hot_counts() {
    let mut bench = Bench::poured();
    bench.pour_span(1.0, 20.0, "initial_cure", json!({ "method": "covered", "peak_c": 72 }));
    bench.expect_violated(&RULE);
}

/// From 24 to 46 °C in an hour is 22 K/h; in two hours it is 11.
#[test]
fn a_logger_stands_in_for_what_was_not_stated() {
    for (hours, verdict) in [(1.0, Some(Verdict::Violated)), (2.0, None)] {
        let (mut bench, _) = heated(json!({ "peak_c": null, "rise_c_per_h": null }));
        let series =
            json!([{ "after_h": 0, "temperature_c": 24 }, { "after_h": hours, "temperature_c": 46 }]);
        bench.pour_step(5.5, "temperature", json!({ "of": "concrete", "series": series }));
        assert_eq!(bench.findings(&RULE).first().map(|it| it.verdict), verdict, "{hours}");
    }
}

#[test]
fn a_hot_piece_waits_for_its_cooling() {
    // 40 K over the room at hour 20: 20 K too much, an hour at 20 K/h.
    let (bench, _) = heated(json!({ "strip_difference_k": 40 }));
    let gate = bench.bare_gate(&RULE, 20.2, "demould").unwrap();
    assert_eq!(gate.state, GateState::Until(at(21.0)));
    let (mut read, _) = heated(json!({ "strip_difference_k": 40 }));
    read.pour_step(20.5, "temperature", json!({ "of": "concrete", "reading_c": 35 }));
    read.pour_step(20.5, "temperature", json!({ "of": "air", "reading_c": 18 }));
    assert_eq!(read.bare_gate(&RULE, 20.6, "demould"), None);
}
