//! What the shop keeps: made, changed, copied, put in a row, drawn; routes of the shop's own.

use serde_json::{Value, json};

use super::{Bench, pass, step};
use crate::desk::Desk;
use crate::dto::{Form, Logged, PassphraseState, Settings, StepDraft, UnitsChoice};

/// A set-up form, filled in.
fn made(kind: &str, values: Value) -> StepDraft {
    StepDraft { pieces: Vec::new(), ..step(kind, "", values) }
}

fn filled(form: &Form, change: &[(&str, Value)]) -> StepDraft {
    let mut draft = made(&form.kind, json!(form.values));
    draft.values.extend(change.iter().map(|(name, value)| ((*name).to_owned(), value.clone())));
    draft
}

fn id_of(desk: &Desk, kind: &str, name: &str) -> String {
    let rows = desk.shelf(kind).expect("a shelf").rows;
    rows.into_iter().find(|row| row.name == name).expect("on the shelf").id
}

fn new_one(logged: &Logged) -> String {
    logged.objects[0].clone()
}

#[test]
fn shelves_count_what_stands_on_them_and_what_is_made_stands_there() {
    let bench = Bench::new();
    let desk = bench.open();
    let count = |desk: &Desk, kind: &str| {
        let heads = desk.shelves().expect("shelves");
        heads.into_iter().find(|it| it.kind == kind).expect("a shelf").count
    };
    assert_eq!((count(&desk, "client"), count(&desk, "piece"), count(&desk, "person")), (0, 1, 1));
    let logged = desk.log(&made("client", json!({ "name": "Rill family" }))).expect("written");
    assert_eq!(count(&desk, "client"), 1);
    let sheet = desk.object("client", &new_one(&logged)).expect("a sheet");
    assert_eq!((sheet.name.as_str(), sheet.history.len()), ("Rill family", 1));
    assert!(sheet.history[0].may_correct && sheet.history[0].may_strike);
    assert!(desk.shelf("pour").is_err(), "a pour stands on no shelf");
    assert!(desk.object("client", "nobody").is_err());
}

#[test]
fn a_change_is_a_new_version_that_keeps_what_was_not_touched_to_the_last_digit() {
    let bench = Bench::new();
    let desk = bench.open();
    let settings = Settings { units: UnitsChoice::Us, ..desk.start().settings };
    desk.set_settings(&settings).expect("kept");
    let id = id_of(&desk, "piece", "C-1");
    let form = desk.object_form("piece", Some(&id), false).expect("a form");
    assert_eq!(form.values["length_mm"], json!(70.866), "shown in inches");
    assert!(form.fields.iter().all(|field| field.name != "object"), "which one it changes is settled");
    desk.log(&filled(&form, &[("name", json!("Island top"))])).expect("written");
    let sheet = desk.object("piece", &id).expect("a sheet");
    assert_eq!(sheet.history.len(), 2);
    assert_eq!(desk.shelf("piece").expect("a shelf").rows.len(), 1);
    let written = super::lines(&bench.shop()).pop().expect("a line");
    assert!(written.contains(r#""length_mm":1800"#) && written.contains("Island top"), "{written}");
}

#[test]
fn an_object_is_put_right_by_a_correction_and_taken_out_by_a_strike() {
    let bench = Bench::new();
    let desk = bench.open();
    let logged = desk.log(&made("tool", json!({ "name": "Grinder", "power": "electric" }))).expect("written");
    let form = desk.correction_form(&logged.hashes[0]).expect("a form");
    desk.correct(&logged.hashes[0], &filled(&form, &[("vibration_ms2", json!(4.5))]), "mistyped")
        .expect("corrected");
    let sheet = desk.object("tool", &new_one(&logged)).expect("a sheet");
    assert!(sheet.facts.iter().any(|fact| fact.value.contains("4.5")), "{:?}", sheet.facts);
    assert_eq!(sheet.history.len(), 2);
    desk.strike(&sheet.history[0].hash, "it was right before").expect("struck");
    let sheet = desk.object("tool", &new_one(&logged)).expect("a sheet");
    assert!(sheet.facts.iter().all(|fact| !fact.value.contains("4.5")), "{:?}", sheet.facts);
    desk.strike(&logged.hashes[0], "never bought").expect("struck");
    assert!(desk.object("tool", &new_one(&logged)).is_err(), "it stands on the shelf no more");
}

#[test]
fn a_row_of_pieces_gets_free_codes_and_is_written_whole_or_not_at_all() {
    let bench = Bench::new();
    let desk = bench.open();
    let row = desk.series("C-1", 3).expect("codes");
    assert_eq!(row.codes, ["C-2", "C-3", "C-4"]);
    let form = desk.object_form("piece", Some(&id_of(&desk, "piece", "C-1")), true).expect("a form");
    assert_eq!(form.values["code"], json!("C-2"));
    let logged = desk.log_series(&filled(&form, &[]), 3).expect("written");
    assert_eq!(logged.objects.len(), 3);
    let codes: Vec<String> =
        desk.shelf("piece").expect("a shelf").rows.into_iter().map(|row| row.name).collect();
    assert_eq!(codes, ["C-1", "C-2", "C-3", "C-4"]);
    let before = super::lines(&bench.shop()).len();
    let bad = filled(&form, &[("code", json!("D-1")), ("length_mm", json!(-5))]);
    assert_eq!(desk.log_series(&bad, 3).expect_err("refused").field.as_deref(), Some("length_mm"));
    assert_eq!(super::lines(&bench.shop()).len(), before);
    assert!(desk.series("D-1", 0).is_err() && desk.series("D-1", 100_000).is_err());
}

#[test]
fn a_piece_is_drawn_while_it_is_filled_in_and_a_cut_out_off_the_plan_is_said() {
    let bench = Bench::new();
    let desk = bench.open();
    let cut = |x: i32| json!([{ "x_mm": x, "y_mm": 100, "length_mm": 500, "width_mm": 300 }]);
    let values =
        json!({ "length_mm": 1500, "width_mm": 600, "cut_outs": cut(200), "finished_edges": ["front"] });
    let tried = desk.try_step(&made("piece", values)).expect("tried");
    assert!(!tried.ready, "code and name are missing");
    assert!(
        tried.pictures[0].text.iter().any(|line| line.contains("500\u{a0}mm × 300\u{a0}mm")),
        "{:?}",
        tried.pictures[0].text
    );
    let off = json!({ "length_mm": 1500, "width_mm": 600, "cut_outs": cut(1400) });
    let off = desk.try_step(&made("piece", off)).expect("tried");
    assert!(off.pictures[0].text.iter().any(|line| line.contains("left out")), "{:?}", off.pictures[0].text);
    let half = json!({ "code": "X", "name": "X", "cut_outs": [{ "x_mm": 1 }, {}] });
    let half = desk.try_step(&made("piece", half)).expect("tried");
    assert_eq!(half.problems[0].field.as_deref(), Some("cut_outs"));
}

#[test]
fn a_data_sheet_value_beats_the_class_default_and_both_say_where_they_come_from() {
    let bench = Bench::new();
    let desk = bench.open();
    let values =
        json!({ "name": "Clear", "class": "waterborne_urethane", "air_min_c": 14, "hazards": ["GHS07"] });
    let logged = desk.log(&made("product", values)).expect("written");
    let sheet = desk.object("product", &new_one(&logged)).expect("a sheet");
    let limit = |label: &str| sheet.limits.iter().find(|it| it.label == label).expect("a limit");
    let air = limit("Lowest air temperature");
    assert_eq!((air.value.as_str(), air.source.as_str(), air.own), ("14.0\u{a0}°C", "data sheet", true));
    assert_eq!(limit("Number of coats").source, "class default");
    assert_eq!(sheet.hazards[0].name, "Exclamation mark");
    let bare =
        desk.log(&made("product", json!({ "name": "Acid", "class": "hydrochloric_acid" }))).expect("written");
    let bare = desk.object("product", &new_one(&bare)).expect("a sheet");
    assert!(bare.hazards.iter().any(|it| it.code == "GHS05"));
    assert!(bare.hazards_say.expect("words").contains("Usual for its class"));
    let unknown = made("product", json!({ "name": "X", "class": "wax", "hazards": ["GHS99"] }));
    assert_eq!(desk.log(&unknown).expect_err("refused").field.as_deref(), Some("hazards"));
}

#[test]
fn a_shipped_route_is_copied_edited_and_chosen_and_a_later_edit_changes_nothing_begun() {
    let bench = Bench::new();
    let desk = bench.open();
    assert!(desk.object("route", "salt_pepper").expect("a sheet").stages.len() > 5);
    let mut edit = desk.route_edit("salt_pepper", true).expect("a copy");
    assert_eq!((edit.version, edit.problems.len()), (1, 0), "{:?}", edit.problems);
    edit.name = "Ours".into();
    let count = edit.stages.len();
    edit.stages.swap(1, 2);
    edit.stages.retain(|stage| stage.kind != "inspection");
    let last = edit.stages.last_mut().expect("a stage");
    last.wait_h = Some(36.0);
    let tried = desk.try_route(&edit).expect("tried");
    assert!(tried.problems.is_empty(), "{:?}", tried.problems);
    let own = new_one(&desk.log_route(&tried).expect("written"));
    let sheet = desk.object("route", &own).expect("a sheet");
    assert_eq!(sheet.name, "Ours");
    assert!(sheet.stages.len() <= count && sheet.stages.last().expect("a stage").wait_h == Some(36.0));
    assert_eq!(sheet.facts.last().map(|it| it.label.as_str()), Some("Copied from"));

    let code = super::lines(&bench.shop()).last().and_then(|line| {
        let line: Value = serde_json::from_str(line).ok()?;
        Some(line["b"]["route"]["code"].as_str()?.to_owned())
    });
    let code = code.expect("a code");
    desk.log(&step("route_chosen", "C-1", json!({ "code": code }))).expect("chosen");
    let done = desk.piece("C-1").expect("a sheet").history.len();
    let mut next = desk.route_edit(&own, false).expect("to edit");
    assert_eq!(next.version, 2);
    next.stages.truncate(2);
    desk.log_route(&next).expect("written");
    assert_eq!(desk.object("route", &own).expect("a sheet").stages.len(), 2);
    let piece = desk.piece("C-1").expect("a sheet");
    assert_eq!(piece.history.len(), done, "what was done stays");
    assert!(piece.column.layers.len() > 3, "the piece keeps the version it chose");
    let mut bad = desk.route_edit(&own, false).expect("to edit");
    bad.stages.clear();
    assert!(desk.log_route(&bad).is_err());
    assert!(desk.route_edit("no_such_route", true).is_err());
}

#[test]
fn a_passphrase_is_set_by_the_owner_and_told_to_another_device() {
    let bench = Bench::new();
    let desk = bench.open();
    let state = |desk: &Desk| desk.start().shop.expect("a shop").passphrase;
    assert_eq!(state(&desk), PassphraseState::None);
    assert!(desk.set_passphrase("short").is_err());
    desk.set_passphrase("slate river trowel").expect("set");
    assert_eq!(state(&desk), PassphraseState::Told);
    let other = bench.desk("other");
    other.join(&bench.shop(), "Bo Marsh").expect("joined");
    assert_eq!(state(&other), PassphraseState::NotTold);
    assert!(other.tell_passphrase("another one altogether").is_err());
    other.tell_passphrase("slate river trowel").expect("told");
    assert_eq!(state(&other), PassphraseState::Told);
    assert_eq!(id_of(&other, "piece", "C-1").len(), 36);
}

#[test]
fn a_device_shows_the_same_fingerprint_everywhere_and_may_be_made_an_owner() {
    let bench = Bench::new();
    let desk = bench.open();
    let other = bench.desk("other");
    let joined = other.join(&bench.shop(), "Bo Marsh").expect("joined");
    desk.sweep().expect("swept");
    let page = desk.folder().expect("a page");
    let row = page.devices.iter().find(|it| !it.this).expect("the other");
    assert_eq!(row.fingerprint, joined.fingerprint);
    assert_eq!(Some(&row.fingerprint), joined.start.shop.expect("a shop").fingerprint.as_ref());
    assert!(page.matters.iter().any(|it| it.key == "apart"), "{:?}", page.matters);
    assert!(desk.give_role(&row.id, "owner").is_err(), "it is not accepted yet");
    desk.accept(&row.id).expect("accepted");
    desk.give_role(&row.id, "owner").expect("given");
    let page = desk.folder().expect("a page");
    assert!(page.devices.iter().all(|it| it.owner) && page.matters.is_empty(), "{:?}", page.matters);
    assert!(desk.settle("0000", "why").is_err());
}

#[test]
fn a_set_up_form_half_filled_in_is_kept_and_named() {
    let bench = Bench::new();
    let desk = bench.open();
    desk.keep_draft(&made("piece", json!({ "code": "N-1" }))).expect("kept");
    let note = &desk.drafts().expect("drafts")[0];
    assert_eq!((note.codes.as_slice(), note.object.as_deref()), (["N-1".to_owned()].as_slice(), None));
    let form = desk.object_form("piece", None, false).expect("a form");
    assert!(form.from_draft && form.values["code"] == "N-1");
    let other = desk.object_form("piece", Some(&id_of(&desk, "piece", "C-1")), false).expect("a form");
    assert!(!other.from_draft, "a draft of a new piece is none of this one");
    desk.log(&step("grit_pass", "C-1", pass(200))).expect("logged");
}
