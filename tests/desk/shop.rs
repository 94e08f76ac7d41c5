//! What the desk shows of the demo shop, and what comes of a planted mistake.

use std::collections::BTreeSet;
use std::sync::mpsc;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use trowelogue_api::dto::{DayState, FindingState, Lang, Settings, StepDraft};

use crate::{Place, open};

fn planted() -> Vec<Value> {
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/../sample-logs/demo-shop/PLANTED.json");
    let page: Value = serde_json::from_str(&std::fs::read_to_string(page).unwrap()).unwrap();
    page["planted"].as_array().unwrap().clone()
}

/// A wet pass on the face, filled in as a person would.
pub(crate) fn pass(desk: &trowelogue_api::Desk, code: &str, grit: u32) -> StepDraft {
    let values = json!({ "region": "face", "grit": grit, "scale": "pad", "bond": "resin", "wet": true,
        "result": "cut_out", "power": "electric", "rcd": "yes", "dust": "water" });
    StepDraft {
        kind: "grit_pass".into(),
        pieces: vec![desk.piece(code).unwrap().id],
        done: None,
        person: None,
        values: serde_json::from_value(values).unwrap(),
        confirmed: Vec::new(),
        note: None,
    }
}

#[test]
fn every_piece_stands_in_one_group_and_trouble_holds_what_was_planted_on_pieces_at_work() {
    let place = Place::new();
    let desk = place.desk("home");
    let day = desk.day(None).unwrap();
    let states: Vec<_> = day.groups.iter().map(|group| group.state).collect();
    let all = [DayState::Trouble, DayState::Running, DayState::Ready, DayState::Waiting, DayState::Done];
    assert_eq!(states, all);
    let codes: Vec<_> = day.groups.iter().flat_map(|group| &group.pieces).map(|it| it.code.clone()).collect();
    let each: BTreeSet<_> = codes.iter().collect();
    assert!(codes.len() > 15 && each.len() == codes.len(), "{codes:?}");
    for group in &day.groups {
        for piece in &group.pieces {
            assert!(!piece.line.is_empty() && !piece.outline.text.is_empty(), "{}", piece.code);
            assert!(group.state != DayState::Trouble || piece.stops > 0, "{}", piece.code);
            let sheet = desk.piece(&piece.id).unwrap();
            assert_eq!((sheet.state, &sheet.line), (group.state, &piece.line));
        }
    }
}

#[test]
fn the_sheets_show_exactly_the_findings_that_were_planted() {
    let place = Place::new();
    let desk = place.desk("home");
    let mut shown = BTreeSet::new();
    for piece in desk.day(None).unwrap().groups.iter().flat_map(|group| &group.pieces) {
        let sheet = desk.piece(&piece.id).unwrap();
        assert_eq!(
            sheet.history.len(),
            sheet.history.iter().map(|it| &it.hash).collect::<BTreeSet<_>>().len()
        );
        assert!(!sheet.column.layers.is_empty(), "{}", sheet.code);
        for finding in sheet.findings {
            assert!(![&finding.why, &finding.basis, &finding.remedy].iter().any(|text| text.is_empty()));
            let accepted = finding.state == FindingState::Accepted;
            shown.insert((finding.rule, sheet.code.clone(), accepted, finding.entries));
        }
    }
    let word = |it: &Value, field: &str| it[field].as_str().unwrap().to_owned();
    let entries = |it: &Value| {
        let all = it["entries"].as_array().unwrap().iter();
        all.map(|hash| hash.as_str().unwrap().to_owned()).collect::<BTreeSet<_>>()
    };
    let of_pieces = planted().into_iter().filter(|it| it["piece"] != "");
    let wanted: BTreeSet<_> = of_pieces
        .map(|it| (word(&it, "rule"), word(&it, "piece"), it["state"] == "accepted", entries(&it)))
        .collect();
    let shown: BTreeSet<_> = shown
        .into_iter()
        .map(|(rule, code, accepted, hashes)| (rule, code, accepted, hashes.into_iter().collect()))
        .collect();
    assert_eq!(shown, wanted);
}

#[test]
fn a_piece_is_found_by_code_name_job_and_lot() {
    let place = Place::new();
    let desk = place.desk("home");
    for find in ["K-01", "sink", "J-2022-04 counter", "R2-0822"] {
        let day = desk.day(Some(find)).unwrap();
        assert!(day.groups.iter().any(|group| !group.pieces.is_empty()), "{find}");
    }
    let nothing = desk.day(Some("no such piece")).unwrap();
    assert!(nothing.groups.iter().all(|group| group.pieces.is_empty()));
}

#[test]
fn a_planted_jump_is_explained_seen_by_the_other_home_within_two_seconds_and_gone_when_struck() {
    let place = Place::new();
    let [one, other] = place.two_desks(["one", "other"]);
    one.sweep().unwrap();
    let (tell, told) = mpsc::channel();
    other.watch(move |changed| drop(tell.send(changed)));
    let before: BTreeSet<String> = one.piece("K-02").unwrap().findings.into_iter().map(|it| it.key).collect();
    one.log(&pass(&one, "K-02", 50)).unwrap();
    let lines = place.lines();
    let logged = one.log(&pass(&one, "K-02", 800)).unwrap();
    let began = Instant::now();
    assert!(logged.in_folder, "{}", logged.say);
    let new: Vec<String> = place.lines().difference(&lines).cloned().collect();
    assert_eq!(new.len(), 1);
    assert!(new[0].contains(r#""grit":800"#));
    let finding = logged.findings.iter().find(|it| it.rule == "grit-step").unwrap();
    assert!(!finding.why.is_empty() && finding.entries.contains(&logged.hashes[0]));

    let within = Duration::from_secs(2);
    while !other.piece("K-02").unwrap().findings.iter().any(|it| it.key == finding.key) {
        told.recv_timeout(within.saturating_sub(began.elapsed())).unwrap();
    }
    assert!(began.elapsed() < within);

    one.strike(&logged.hashes[0], "not done").unwrap();
    let after = one.piece("K-02").unwrap();
    assert!(after.findings.iter().all(|it| it.key != finding.key));
    assert!(before.iter().all(|key| after.findings.iter().any(|it| it.key == *key)));
    assert!(one.verify().unwrap().good);
}

#[test]
fn a_projection_thrown_away_gives_the_same_day() {
    let place = Place::new();
    let desk = place.desk("home");
    desk.log(&pass(&desk, "K-02", 100)).unwrap();
    let (day, found) = (desk.day(None).unwrap(), desk.day(Some("R2-0822")).unwrap());
    drop(desk);
    let shops = std::fs::read_dir(place.home("home").join("shops")).unwrap();
    let projection = shops.flatten().next().unwrap().path().join("projection.sqlite");
    for garbled in [None, Some("no database")] {
        std::fs::remove_file(&projection).unwrap();
        if let Some(bytes) = garbled {
            std::fs::write(&projection, bytes).unwrap();
        }
        let again = open(&place.home("home"), &place.shop());
        assert_eq!(again.day(None).unwrap(), day);
        assert_eq!(again.day(Some("R2-0822")).unwrap(), found);
    }
}

#[test]
fn in_spanish_no_english_sentence_is_left_on_the_day_and_the_sheets() {
    let place = Place::new();
    let desk = place.desk("home");
    let spanish = Settings { lang: Lang::Es, ..desk.start().settings };
    let english = desk.day(None).unwrap();
    desk.set_settings(&spanish).unwrap();
    let day = desk.day(None).unwrap();
    for (one, other) in english.groups.iter().zip(&day.groups) {
        for (en, es) in one.pieces.iter().zip(&other.pieces) {
            assert_ne!(en.line, es.line, "{}", en.code);
        }
    }
    for piece in day.groups.iter().flat_map(|group| &group.pieces) {
        let sheet = desk.piece(&piece.id).unwrap();
        let mut said: Vec<String> = vec![sheet.line, sheet.column.scale];
        said.extend(sheet.gates.into_iter().flat_map(|it| [it.title, it.why]));
        said.extend(sheet.kinds.into_iter().flat_map(|it| [it.title, it.group]));
        said.extend(sheet.findings.into_iter().flat_map(|it| [it.title, it.why, it.remedy, it.state_text]));
        said.extend(sheet.history.iter().flat_map(|it| it.facts.iter().map(|fact| fact.label.clone())));
        said.extend(sheet.facts.into_iter().map(|fact| fact.label));
        for text in said {
            let words = text.to_lowercase();
            let left = words.split(|c: char| !c.is_alphabetic()).find(|word| ENGLISH.contains(word));
            assert_eq!(left, None, "{}: {text}", piece.code);
        }
    }
}

/// Words of English that no Spanish sentence has.
const ENGLISH: [&str; 14] = [
    "the", "and", "with", "until", "from", "was", "were", "which", "before", "after", "not", "face", "piece",
    "step",
];
