//! Logging, striking, correcting, answering for a finding: on disk, in the folder, and what the rules say then.

use serde_json::json;

use super::{Bench, lines, listed, pass, step};
use crate::ErrorCode;
use crate::dto::{DayState, EntryStatus, FindingState, PaperAsk, PaperKind, PaperSize};

#[test]
fn the_day_shows_a_piece_in_its_group_with_a_sentence_and_its_day_of_handover() {
    let bench = Bench::new();
    let desk = bench.open();
    let day = desk.day(None).expect("a day");
    assert_eq!(day.date, "Tuesday 4 March");
    let states: Vec<DayState> = day.groups.iter().map(|group| group.state).collect();
    let all = [DayState::Trouble, DayState::Running, DayState::Ready, DayState::Waiting, DayState::Done];
    assert_eq!(states, all);
    let (_, piece) = listed(&desk, None).expect("listed");
    assert_eq!((piece.name.as_str(), piece.job.as_str()), ("Island", "J-7 Kitchen"));
    assert_eq!(piece.handover.expect("a day").text, "20 Mar");
    assert!(!piece.line.is_empty());
}

#[test]
fn a_piece_is_found_by_code_name_and_job() {
    let bench = Bench::new();
    let desk = bench.open();
    for found in ["C-1", "isl", "kitchen", "J-7 island"] {
        assert!(listed(&desk, Some(found)).is_some(), "{found}");
    }
    assert!(listed(&desk, Some("basin")).is_none());
}

#[test]
fn a_grit_jump_is_found_when_it_is_logged_and_gone_when_it_is_struck() {
    let bench = Bench::new();
    let desk = bench.open();
    let before = desk.piece("C-1").expect("a sheet").findings.len();
    let logged = desk.log(&step("grit_pass", "C-1", pass(800))).expect("logged");
    assert!(logged.in_folder, "{}", logged.say);
    let finding = logged.findings.iter().find(|it| it.rule == "grit-step").expect("the jump is found");
    assert!(!finding.why.is_empty() && !finding.remedy.is_empty() && finding.may_except);
    let hash = &logged.hashes[0];
    assert!(finding.entries.contains(hash));
    assert!(lines(&bench.shop()).iter().any(|line| line.contains(r#""grit_pass""#) && line.contains("800")));

    let sheet = desk.piece("C-1").expect("a sheet");
    assert!(sheet.findings.iter().any(|it| it.key == finding.key));
    let newest = &sheet.history[0];
    assert_eq!(
        (newest.hash.as_str(), newest.status, newest.in_folder),
        (hash.as_str(), EntryStatus::Counts, true)
    );
    assert!(newest.may_strike && newest.may_correct);

    desk.strike(hash, "not done").expect("struck");
    let sheet = desk.piece("C-1").expect("a sheet");
    assert_eq!(sheet.findings.len(), before);
    let struck = sheet.history.iter().find(|it| it.hash == *hash).expect("still readable");
    assert_eq!(struck.status, EntryStatus::Struck);
    assert_eq!(struck.status_text, "struck by Ada Brook: not done");
    assert!(!struck.may_strike);
    assert!(lines(&bench.shop()).iter().any(|line| line.contains(r#""strike""#)));
    let again = desk.strike(hash, "again").expect_err("struck already");
    assert_eq!(again.code, ErrorCode::BadInput);
}

#[test]
fn a_corrected_entry_is_judged_by_its_correction() {
    let bench = Bench::new();
    let desk = bench.open();
    let logged = desk.log(&step("grit_pass", "C-1", pass(800))).expect("logged");
    let mended =
        desk.correct(&logged.hashes[0], &step("grit_pass", "C-1", pass(200)), "misread").expect("kept");
    assert!(mended.findings.iter().all(|it| it.rule != "grit-step"), "{:?}", mended.findings);
    let sheet = desk.piece("C-1").expect("a sheet");
    assert!(sheet.findings.iter().all(|it| it.rule != "grit-step"));
    let of = |status| sheet.history.iter().find(|it| it.status == status);
    assert!(of(EntryStatus::Replaced).is_some());
    assert!(sheet.history.iter().any(|it| it.status_text == "corrected: misread"));
}

#[test]
fn a_finding_somebody_answers_for_is_shown_as_accepted_with_name_and_reason() {
    let bench = Bench::new();
    let desk = bench.open();
    let logged = desk.log(&step("grit_pass", "C-1", pass(800))).expect("logged");
    desk.except("C-1", "grit-step", Some(&logged.hashes[0]), "trial patch was clean").expect("kept");
    let sheet = desk.piece("C-1").expect("a sheet");
    let finding = sheet.findings.iter().find(|it| it.rule == "grit-step").expect("still readable");
    assert_eq!(finding.state, FindingState::Accepted);
    assert_eq!(finding.accepted_by.as_deref(), Some("Ada Brook: trial patch was clean"));
    assert!(!finding.may_except);
}

#[test]
fn bad_values_are_named_by_their_field_and_nothing_is_written() {
    let bench = Bench::new();
    let desk = bench.open();
    let count = lines(&bench.shop()).len();
    let error = desk.log(&step("grit_pass", "C-1", json!({ "region": "face" }))).expect_err("refused");
    assert_eq!(error.code, ErrorCode::BadInput);
    assert!(error.field.is_some(), "{error:?}");
    let unknown = desk.log(&step("grit_pass", "C-9", pass(200))).expect_err("refused");
    assert_eq!(unknown.code, ErrorCode::UnknownPiece);
    assert_eq!(desk.strike("0000", "x").expect_err("refused").code, ErrorCode::Unknown);
    assert_eq!(lines(&bench.shop()).len(), count);
}

#[test]
fn without_a_shop_every_call_says_so() {
    let bench = Bench::new();
    let desk = bench.desk("nobody");
    assert_eq!(desk.day(None).expect_err("no shop").code, ErrorCode::Usage);
    assert_eq!(desk.log(&step("rinse", "C-1", json!({}))).expect_err("no shop").code, ErrorCode::Usage);
    assert!(desk.sweep().is_ok());
}

#[test]
fn a_home_that_only_looks_may_not_write() {
    let bench = Bench::new();
    let desk = bench.desk("guest");
    desk.open_shop(&bench.shop()).expect("opened");
    assert!(listed(&desk, Some("island")).is_some());
    assert!(!desk.piece("C-1").expect("a sheet").may_write);
    assert_eq!(
        desk.log(&step("grit_pass", "C-1", pass(200))).expect_err("refused").code,
        ErrorCode::NotJoined
    );
}

#[test]
fn papers_have_names_of_their_own_and_none_is_written_over() {
    let bench = Bench::new();
    let desk = bench.open();
    let ask = PaperAsk {
        kind: PaperKind::Care,
        piece: Some("C-1".into()),
        job: None,
        lang: crate::dto::Lang::En,
        paper: PaperSize::A4,
        units: crate::dto::UnitsChoice::Si,
    };
    let first = desk.make_paper(&ask).expect("made");
    assert_eq!(first.name, "C-1-care-sheet-2025-03-04.pdf");
    assert_eq!(desk.make_paper(&ask).expect("the same paper again").name, first.name);
    std::fs::write(&first.path, b"something else").expect("written");
    let second = desk.make_paper(&ask).expect("made");
    assert_eq!(second.name, "C-1-care-sheet-2025-03-04-2.pdf");
    assert_eq!(std::fs::read(&first.path).expect("still there"), b"something else");
    let record = desk.make_paper(&PaperAsk { kind: PaperKind::Record, ..ask }).expect("made");
    assert!(record.name.starts_with("C-1-process-record") && record.bytes > 1000);
}
