//! Forms over a real home and folder: what is proposed, trying, drafts, corrections.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::{Bench, lines, pass, step};
use crate::ErrorCode;
use crate::desk::Desk;
use crate::dto::{Control, Field, Form, Lang, Need, Settings, StepDraft, UnitsChoice};

/// A shop with a second piece that stands as the first does, and a washed one.
fn shop() -> (Bench, Desk) {
    let bench = Bench::new();
    let piece = |code: &str, finish: &str| {
        json!({ "kind": "piece", "body": { "code": code, "name": "Run", "job": "J-7", "mix": "Face mix",
            "length_mm": 1000, "width_mm": 600, "finish": finish } })
    };
    let pour = json!({ "kind": "pour", "pieces": ["C-2", "C-3"], "done": "2025-02-04T11:00:00-06:00",
        "body": { "mix": "Face mix", "batch": "B-2" } });
    let acid = json!({ "kind": "product", "body": { "name": "Acid", "class": "hydrochloric_acid" } });
    let sealer = json!({ "kind": "product", "body": { "name": "Sealer", "class": "reactive_sealer" } });
    let ground = json!({ "kind": "grit_pass", "pieces": ["C-2"], "done": "2025-03-04T08:30:00-06:00", "body": pass(100) });
    bench.add(&[piece("C-2", "honed"), piece("C-3", "washed"), acid, sealer, pour, ground]);
    let desk = bench.open();
    (bench, desk)
}

fn field<'f>(form: &'f Form, name: &str) -> &'f Field {
    form.fields.iter().find(|it| it.name == name).unwrap_or_else(|| panic!("no field {name}"))
}

/// A form sent back as it came, with some values changed.
fn sent(form: &Form, changed: Value) -> StepDraft {
    let mut values = form.values.clone();
    let changed: BTreeMap<String, Value> = serde_json::from_value(changed).expect("an object");
    values.extend(changed);
    StepDraft {
        kind: form.kind.clone(),
        pieces: form.pieces.iter().map(|it| it.id.clone()).collect(),
        done: None,
        person: None,
        values,
        confirmed: Vec::new(),
        note: None,
    }
}

fn named(code: &str) -> Vec<String> {
    vec![code.to_owned()]
}

#[test]
fn a_form_speaks_the_language_of_the_home_and_says_where_its_values_come_from() {
    let (_bench, desk) = shop();
    let form = desk.form("grit_pass", &named("C-1")).expect("a form");
    assert_eq!(form.pieces.iter().map(|it| it.code.as_str()).collect::<Vec<_>>(), ["C-1"]);
    assert!(!form.pieces[0].outline.drawing.shapes.is_empty());
    // A honed face is finished with wet paper, whatever was used before.
    assert_eq!((&form.values["scale"], &form.values["bond"]), (&json!("p"), &json!("paper")));
    assert_eq!(field(&form, "bond").from.as_deref(), Some("as planned"));
    assert!(form.plan.is_some());
    assert_eq!(field(&form, "result").need, Need::Must);
    assert_eq!(field(&form, "photos").control, Control::Photo);
    let settings = desk.start().settings;
    desk.set_settings(&Settings { lang: Lang::Es, ..settings }).expect("kept");
    let form = desk.form("grit_pass", &named("C-1")).expect("un formulario");
    assert!(form.title.starts_with("Pasada de grano"), "{}", form.title);
    assert_eq!(field(&form, "bond").from.as_deref(), Some("según la ruta"));
    assert_eq!(desk.form("polish", &[]).expect_err("no such kind").field.as_deref(), Some("kind"));
    assert_eq!(desk.form("rinse", &named("C-9")).expect_err("no piece").code, ErrorCode::UnknownPiece);
}

#[test]
fn every_kind_has_a_form_at_the_desk() {
    let (_bench, desk) = shop();
    for kind in trowelogue_core::body::Kind::ALL {
        for pieces in [Vec::new(), named("C-1")] {
            let form =
                desk.form(kind.wire(), &pieces).unwrap_or_else(|error| panic!("{}: {error}", kind.wire()));
            assert!(!form.title.is_empty());
            assert!(!form.fields.is_empty(), "{}", kind.wire());
            assert!(form.fields.iter().all(|it| !it.label.is_empty()), "{}", kind.wire());
        }
    }
}

#[test]
fn a_planned_jump_is_found_before_it_is_logged_and_nothing_is_written() {
    let (bench, desk) = shop();
    let before = lines(&bench.shop()).len();
    let form = desk.form("grit_pass", &named("C-1")).expect("a form");
    let fits = desk.try_step(&sent(&form, json!({ "grit": 200, "result": "cut_out" }))).expect("tried");
    assert!(fits.ready, "{:?}", fits.problems);
    assert!(fits.findings.iter().all(|it| it.rule != "grit-step"), "{:?}", fits.findings);
    let jump = desk.try_step(&sent(&form, json!({ "grit": 800, "result": "cut_out" }))).expect("tried");
    assert!(jump.ready);
    let found = jump.findings.iter().find(|it| it.rule == "grit-step").expect("the jump is found");
    assert!(!found.may_except && !found.why.is_empty());
    assert_eq!(lines(&bench.shop()).len(), before, "trying writes nothing");
    assert!(desk.piece("C-1").expect("a sheet").findings.iter().all(|it| it.rule != "grit-step"));
}

#[test]
fn problems_are_named_by_field_and_sums_are_said_while_values_are_missing() {
    let (_bench, desk) = shop();
    let climate = step("climate", "C-1", json!({ "air_c": 20, "rh_pct": 50 }));
    let tried = desk.try_step(&climate).expect("tried");
    assert!(!tried.ready);
    assert_eq!(tried.problems.iter().filter_map(|it| it.field.as_deref()).collect::<Vec<_>>(), ["surface_c"]);
    // 9.3 °C at 20 °C and 50 %: WMO-No. 8, annex 4.B, computed by hand.
    assert_eq!(tried.says.iter().map(|it| it.value.as_str()).collect::<Vec<_>>(), ["9.3\u{a0}°C"]);
    let tried = desk.try_step(&step("climate", "C-1", json!({ "air_c": 20, "rh_pct": 50, "surface_c": 12 })));
    assert_eq!(tried.expect("tried").says[1].value, "2.7\u{a0}K");
    for (name, bad) in
        [("air_c", json!(500)), ("air_c", json!("NaN")), ("air_c", json!("3 kg")), ("colour", json!("x"))]
    {
        let mut draft = step("climate", "C-1", json!({ "air_c": 20, "rh_pct": 50, "surface_c": 19 }));
        draft.values.insert(name.into(), bad.clone());
        let tried = desk.try_step(&draft).expect("tried");
        assert_eq!(tried.problems.len(), 1, "{bad}: {:?}", tried.problems);
        assert_eq!(tried.problems[0].field.as_deref(), Some(name));
        assert_eq!(desk.log(&draft).expect_err("refused").field.as_deref(), Some(name));
    }
    for done in ["yesterday", "2025-03-04", "9999-01-01T00:00"] {
        let draft = StepDraft { done: Some(done.into()), ..climate.clone() };
        let problems = desk.try_step(&draft).expect("tried").problems;
        assert!(problems.iter().any(|it| it.field.as_deref() == Some("done")), "{done}: {problems:?}");
    }
}

#[test]
fn a_wash_says_its_strength_and_asks_for_its_cautions_once_a_shift() {
    let (bench, desk) = shop();
    let form = desk.form("acid_wash", &named("C-3")).expect("a form");
    assert_eq!(form.values["ratio"], json!("20:1"));
    assert_eq!(field(&form, "ratio").from.as_deref(), Some("as planned"));
    assert_eq!(form.confirm.iter().map(|it| it.key.as_str()).collect::<Vec<_>>(), ["acid"]);
    let mut draft = sent(&form, json!({ "concentrate_pct": "31.45", "cream_lost": "trace" }));
    let tried = desk.try_step(&draft).expect("tried");
    assert!(tried.ready, "{:?}", tried.problems);
    // 31.45 % is 10.0 mol/L; one part in twenty-one of it.
    assert_eq!(tried.says[0].value, "0.48\u{a0}mol/L");
    assert!(tried.findings.iter().any(|it| it.rule == "acid-unconfirmed"), "{:?}", tried.findings);
    draft.confirmed = vec!["acid".into()];
    let tried = desk.try_step(&draft).expect("tried");
    assert!(tried.findings.iter().all(|it| it.rule != "acid-unconfirmed"), "{:?}", tried.findings);
    let before = lines(&bench.shop()).len();
    let logged = desk.log(&draft).expect("logged");
    assert_eq!(logged.hashes.len(), 2, "the confirmation, then the wash");
    assert_eq!(lines(&bench.shop()).len(), before + 2);
    assert_eq!(desk.form("neutralise", &named("C-3")).expect("a form").confirm, []);
    draft.confirmed = vec!["magic".into()];
    assert_eq!(desk.log(&draft).expect_err("refused").field.as_deref(), Some("confirmed"));
    draft.confirmed = Vec::new();
    draft.values.insert("concentrate_pct".into(), json!("unknown"));
    assert!(desk.try_step(&draft).expect("tried").says[0].value.contains("cannot tell"));
}

#[test]
fn one_entry_covers_the_pieces_that_join() {
    let (bench, desk) = shop();
    let form = desk.form("grit_pass", &named("C-1")).expect("a form");
    let mut draft = sent(&form, json!({ "grit": 200, "result": "cut_out" }));
    let other = desk.form("grit_pass", &named("C-2")).expect("a form").pieces[0].id.clone();
    draft.pieces.push(other);
    let before = lines(&bench.shop()).len();
    let logged = desk.log(&draft).expect("logged");
    assert_eq!((logged.hashes.len(), lines(&bench.shop()).len()), (1, before + 1));
    for code in ["C-1", "C-2"] {
        let sheet = desk.piece(code).expect("a sheet");
        assert!(sheet.history.iter().any(|it| it.hash == logged.hashes[0]), "{code}");
    }
}

#[test]
fn a_draft_survives_the_desk_and_goes_when_its_step_is_logged() {
    let (bench, desk) = shop();
    let form = desk.form("grit_pass", &named("C-1")).expect("a form");
    let mut draft = sent(&form, json!({ "grit": 200, "minutes_min": 12 }));
    draft.values.remove("result");
    desk.keep_draft(&draft).expect("kept");
    draft.pieces.push(desk.form("grit_pass", &named("C-2")).expect("a form").pieces[0].id.clone());
    desk.keep_draft(&draft).expect("kept again");
    drop(desk);

    let desk = bench.open();
    let notes = desk.drafts().expect("drafts");
    assert_eq!(notes.len(), 1, "one per kind and piece: {notes:?}");
    assert_eq!((notes[0].title.as_str(), notes[0].codes.join(" ")), ("grit pass", "C-1 C-2".to_owned()));
    let again = desk.form("grit_pass", &named("C-1")).expect("a form");
    assert!(again.from_draft);
    assert_eq!((&again.values, again.pieces.len()), (&draft.values, 2));
    assert!(!desk.form("rinse", &named("C-1")).expect("a form").from_draft);
    desk.log(&sent(&again, json!({ "result": "cut_out" }))).expect("logged");
    assert_eq!(desk.drafts().expect("drafts"), []);

    desk.keep_draft(&draft).expect("kept");
    let dir = bench.home("owner").join("drafts");
    let file = std::fs::read_dir(std::fs::read_dir(&dir).unwrap().next().unwrap().unwrap().path());
    let path = file.unwrap().next().unwrap().unwrap().path();
    std::fs::write(&path, "{").expect("damaged");
    assert_eq!(desk.drafts().expect("drafts"), []);
    assert!(!desk.form("grit_pass", &named("C-1")).expect("a form").from_draft);
    desk.drop_draft("grit_pass", &named("C-1")).expect("dropped");
    desk.drop_draft("grit_pass", &named("C-1")).expect("dropping nothing is no error");
    draft.values.insert("notes".into(), json!("x".repeat(200_000)));
    assert_eq!(desk.keep_draft(&draft).expect_err("too long").code, ErrorCode::TooLong);
}

#[test]
fn a_correction_changes_what_was_changed_and_nothing_else() {
    let (_bench, desk) = shop();
    let sealer = desk.form("seal_coat", &named("C-3")).expect("a form").values["product"].clone();
    let coat = json!({ "product": sealer, "lot": "S-1", "coat": 1, "air_c": 21.37, "rh_pct": 50, "surface_c": 20.06,
        "quantity_l": 0.333, "area_m2": 0.6, "notes": "north light" });
    let logged = desk.log(&step("seal_coat", "C-3", coat)).expect("logged");
    let settings = desk.start().settings;
    desk.set_settings(&Settings { units: UnitsChoice::Us, ..settings }).expect("kept");
    let form = desk.correction_form(&logged.hashes[0]).expect("a form");
    assert_eq!(form.corrects.as_deref(), Some(logged.hashes[0].as_str()));
    assert_eq!((&form.values["air_c"], field(&form, "air_c").unit.as_deref()), (&json!(70.5), Some("°F")));
    let mended = sent(&form, json!({ "lot": "S-2" }));
    let corrected = desk.correct(&logged.hashes[0], &mended, "misread label").expect("corrected");
    let again = desk.correction_form(&corrected.hashes[0]).expect("a form");
    assert_eq!(again.values["lot"], json!("S-2"));
    assert_eq!(again.values["notes"], json!("north light"));
    let settings = desk.start().settings;
    desk.set_settings(&Settings { units: UnitsChoice::Si, ..settings }).expect("kept");
    let facts = desk.piece("C-3").expect("a sheet").history[0].facts.clone();
    let shown: Vec<&str> = facts.iter().map(|it| it.value.as_str()).collect();
    assert!(shown.contains(&"333\u{a0}mL"), "the quantity is what it was: {shown:?}");
    assert!(shown.contains(&"21.4\u{a0}°C"), "no unit was turned twice: {shown:?}");
    assert_eq!(desk.correction_form("00").expect_err("none").code, ErrorCode::Unknown);
}

#[test]
fn a_time_of_the_clock_on_the_wall_gets_the_offset_of_the_shop() {
    let (_bench, desk) = shop();
    let cure = json!({ "method": "covered", "until": "2025-03-04T09:30" });
    let draft = StepDraft { done: Some("2025-03-03T08:00".into()), ..step("initial_cure", "C-3", cure) };
    let logged = desk.log(&draft).expect("logged");
    let form = desk.correction_form(&logged.hashes[0]).expect("a form");
    assert_eq!(form.values["until"], json!("2025-03-04T09:30"));
    let early = StepDraft { done: Some("2025-03-04T10:00".into()), ..draft };
    assert_eq!(desk.log(&early).expect_err("ends before it began").field.as_deref(), Some("until"));
}
