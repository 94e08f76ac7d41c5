//! What day and piece show beside their lists: clocks, filters, conditions, places, both versions of a correction.

use serde_json::{Value, json};

use super::{Bench, clock_at, pass, step};
use crate::Desk;
use crate::dto::{Control, DayAsk, DayState, Form, MarkKind, Settings, UnitsChoice};

fn codes(desk: &Desk, ask: &DayAsk) -> Vec<String> {
    let groups = desk.day_of(ask).expect("a day").groups;
    groups.into_iter().flat_map(|group| group.pieces).map(|piece| piece.code).collect()
}

/// A neutraliser that was put on five minutes ago and works for a quarter of an hour.
fn neutralised(bench: &Bench) {
    bench.add(&[json!({ "kind": "neutralise", "pieces": ["C-1"], "done": "2025-03-04T10:15:00-06:00",
        "body": { "agent": "ammonia", "water_parts": 10, "agent_parts": 1, "dwell_min": 15 } })]);
}

#[test]
fn a_clock_runs_from_its_entry_and_is_there_again_when_the_desk_is_opened_anew() {
    let bench = Bench::new();
    neutralised(&bench);
    let clocks = bench.open().clocks().expect("clocks");
    assert_eq!(clocks.len(), 1, "{clocks:?}");
    let clock = &clocks[0];
    assert_eq!((clock.code.as_str(), clock.face.label.as_str(), clock.presses), ("C-1", "dwell", false));
    assert_eq!(clock.face.ends.ms - clock.face.starts.ms, 15 * 60_000);
    assert_eq!(bench.open().clocks().expect("clocks"), clocks, "it runs on the wall clock");
    let later = Desk::new(bench.home("owner"), clock_at("2025-03-04T10:31:00-06:00"));
    later.open_shop(&bench.shop()).expect("opened");
    assert_eq!(later.clocks().expect("clocks"), [], "over");
}

#[test]
fn the_day_is_narrowed_by_person_job_and_place() {
    let bench = Bench::new();
    bench.add(&[
        json!({ "kind": "person", "body": { "name": "Bo Marsh" } }),
        json!({ "kind": "job", "body": { "code": "J-8", "name": "Stair" } }),
        json!({ "kind": "piece", "body": { "code": "T-1", "name": "Tread", "job": "J-8" } }),
        json!({ "kind": "delivery", "pieces": ["T-1"], "person": "Bo Marsh", "done": "2025-03-04T09:00:00-06:00",
            "body": { "condition": "as loaded", "taken_by": "own crew", "damage": "none" } }),
    ]);
    let desk = bench.open();
    let filters = desk.day(None).expect("a day").filters;
    let value = |all: &[crate::dto::Choice], label: &str| {
        all.iter().find(|it| it.label.contains(label)).map(|it| it.value.clone())
    };
    let bo = DayAsk { person: value(&filters.people, "Bo Marsh"), ..DayAsk::default() };
    let stair = DayAsk { job: value(&filters.jobs, "Stair"), ..DayAsk::default() };
    let site = DayAsk { place: Some("site".into()), ..DayAsk::default() };
    for ask in [bo, stair, site] {
        assert_eq!(codes(&desk, &ask), ["T-1"], "{ask:?}");
    }
    let shop = DayAsk { place: Some("shop".into()), ..DayAsk::default() };
    assert_eq!(codes(&desk, &shop), ["C-1"]);
}

#[test]
fn of_pieces_handed_over_the_newest_few_are_shown_and_more_when_asked_for() {
    let bench = Bench::new();
    let piece =
        |n: usize| json!({ "kind": "piece", "body": { "code": format!("H-{n:02}"), "name": "Hearth" } });
    let gone = |n: usize| {
        json!({ "kind": "handover", "pieces": [format!("H-{n:02}")], "done": format!("2025-02-{n:02}T12:00:00-06:00"),
            "body": { "received_by": "Jo", "care_sheet": "1" } })
    };
    bench.add(&(1..=25).flat_map(|n| [piece(n), gone(n)]).collect::<Vec<Value>>());
    let desk = bench.open();
    let done = |ask: &DayAsk| {
        let groups = desk.day_of(ask).expect("a day").groups;
        groups.into_iter().find(|group| group.state == DayState::Done).expect("a group")
    };
    let few = done(&DayAsk::default());
    assert_eq!((few.count, few.pieces.len()), (25, 20));
    assert_eq!(done(&DayAsk { done: Some(70), ..DayAsk::default() }).pieces.len(), 25);
}

#[test]
fn a_piece_shows_its_newest_reading_with_its_age_and_whether_the_margin_is_enough() {
    let bench = Bench::new();
    let desk = bench.open();
    assert_eq!(desk.piece("C-1").expect("a sheet").conditions, None);
    let reading = |done: &str, surface: f64| json!({ "kind": "climate", "pieces": ["C-1"], "done": done, "body": { "air_c": 20, "rh_pct": 50, "surface_c": surface } });
    bench.add(&[reading("2025-03-04T09:50:00-06:00", 12.0)]);
    // 9.3 °C at 20 °C and 50 %: WMO-No. 8, annex 4.B, computed by hand.
    let close = bench.open().piece("C-1").expect("a sheet").conditions.expect("a reading");
    assert!(close.fresh && !close.enough, "{close:?}");
    let values: Vec<&str> = close.facts.iter().map(|it| it.value.as_str()).collect();
    assert_eq!(values[3..], ["9.3\u{a0}°C", "2.7\u{a0}K"]);
    assert!(close.say.starts_with("Read 30\u{a0}min ago."), "{}", close.say);
    let later = Desk::new(bench.home("owner"), clock_at("2025-03-07T09:50:00-06:00"));
    later.open_shop(&bench.shop()).expect("opened");
    let old = later.piece("C-1").expect("a sheet").conditions.expect("a reading");
    assert!(!old.fresh && old.say.starts_with("Read 3 days ago: too old"), "{}", old.say);
}

fn places(form: &Form) -> (f64, f64, Vec<String>) {
    let field = form.fields.iter().find(|it| it.name == "spots").expect("places");
    let Control::Places { frame: Some(frame), named, .. } = &field.control else { panic!("{field:?}") };
    (frame.length, frame.width, named.iter().map(|it| it.line.clone()).collect())
}

#[test]
fn a_place_on_the_plan_is_given_in_the_readers_units_and_marked_on_the_map() {
    let bench = Bench::new();
    let desk = bench.open();
    let (length, width, named) = places(&desk.form("note", &["C-1".into()]).expect("a form"));
    assert_eq!((length, width, named[4].as_str()), (1800.0, 600.0, "900; 300"));
    desk.log(&step("note", "C-1", json!({ "text": "Chip", "spots": ["450; 150; 6"] }))).expect("logged");
    let settings = desk.start().settings;
    desk.set_settings(&Settings { units: UnitsChoice::Us, ..settings }).expect("kept");
    let (length, ..) = places(&desk.form("note", &["C-1".into()]).expect("a form"));
    assert!((length - 1800.0 / 25.4).abs() < 1e-9);
    desk.log(&step("note", "C-1", json!({ "text": "Scratch", "spots": ["4; 2"] }))).expect("logged");
    let fill = json!({ "material": "cement_fill", "lot": "F-1", "method": "spot", "at": ["10; 5"] });
    desk.log(&step("fill", "C-1", fill)).expect("logged");
    let map = desk.piece("C-1").expect("a sheet").map;
    let kinds: Vec<MarkKind> = map.marks.iter().map(|it| it.kind).collect();
    assert_eq!(kinds, [MarkKind::Chip, MarkKind::Chip, MarkKind::Fill]);
    assert!(super::lines(&bench.shop()).iter().any(|it| it.contains(r#""x_mm":101.6"#)), "4 in are 101.6 mm");
    let numbers =
        map.picture.drawing.shapes.iter().filter(|it| matches!(it, crate::dto::Shape::Label { .. }));
    assert_eq!(numbers.count(), 3);
}

#[test]
fn a_correction_shows_what_it_changed() {
    let bench = Bench::new();
    let desk = bench.open();
    let logged = desk.log(&step("grit_pass", "C-1", pass(800))).expect("logged");
    desk.correct(&logged.hashes[0], &step("grit_pass", "C-1", pass(200)), "misread").expect("corrected");
    let history = desk.piece("C-1").expect("a sheet").history;
    let changed: Vec<_> = history.iter().filter(|it| !it.changes.is_empty()).collect();
    assert_eq!(changed.len(), 1);
    let [change] = changed[0].changes.as_slice() else { panic!("{:?}", changed[0].changes) };
    assert_eq!((change.was.as_deref(), change.is.as_deref()), (Some("800"), Some("200")));
}

#[test]
fn a_step_done_long_before_is_said_to_be_late_before_it_is_written() {
    let bench = Bench::new();
    let desk = bench.open();
    let mut draft = step("rinse", "C-1", json!({ "standing_water_removed": "yes" }));
    assert_eq!(desk.try_step(&draft).expect("tried").late, None);
    draft.done = Some("2025-03-01T10:20".into());
    let late = desk.try_step(&draft).expect("tried").late.expect("late");
    assert!(late.starts_with("written 3\u{a0}d"), "{late}");
}
