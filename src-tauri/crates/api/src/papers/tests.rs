//! What a record carries, and that its pages follow from it.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use trowelogue_core::id::Hash;
use trowelogue_core::text::Lang;
use trowelogue_core::units::System;
use trowelogue_journal::Home;
use trowelogue_journal::excerpt::{Checked, check_lines};
use trowelogue_papers::model::{Options, ProcessRecord};
use trowelogue_papers::seal::{self, Signer};

use super::anew::{self, Anew};
use super::making::{Carried, Making};
use super::{Maker, verify_paper};
use crate::dto::{self, PaperAsk, PaperKind, PaperSize, UnitsChoice};
use crate::format::Voice;
use crate::{About, Clock, Session, Setup};

const NOW: &str = "2026-03-04T10:20:00-06:00";

fn setup(home: &Path) -> Setup {
    let clock = Clock::At(trowelogue_core::moment::parse(NOW).unwrap());
    Setup { home: home.to_path_buf(), clock, lang: None, units: None }
}

/// A place for papers, and the demo's folder opened to look.
fn demo() -> (tempfile::TempDir, Session) {
    let place = tempfile::tempdir().unwrap();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../sample-logs/demo-shop");
    let session = Session::open(&setup(&place.path().join("home")), &folder).unwrap();
    (place, session)
}

fn ask(piece: &str) -> PaperAsk {
    PaperAsk {
        kind: PaperKind::Record,
        piece: Some(piece.into()),
        job: None,
        lang: dto::Lang::En,
        paper: PaperSize::A4,
        units: UnitsChoice::Si,
    }
}

fn codes(session: &Session) -> Vec<String> {
    session.show(&About::default()).unwrap().pieces.into_iter().map(|it| it.code).collect()
}

fn said_of(file: &[u8], session: Option<&Session>) -> Anew {
    anew::compare(file, &seal::look(file).unwrap().unwrap(), session)
}

#[test]
fn the_pages_of_every_demo_piece_follow_from_what_they_carry() {
    let (_place, mut session) = demo();
    for code in codes(&session) {
        let file = session.paper(&ask(&code)).unwrap();
        assert_eq!(said_of(&file, None), Anew::Made(Vec::new()), "{code}");
    }
}

#[test]
fn language_units_and_sheet_are_carried_along() {
    let (_place, mut session) = demo();
    let ask =
        PaperAsk { lang: dto::Lang::Es, paper: PaperSize::Letter, units: UnitsChoice::Us, ..ask("K-02") };
    let file = session.paper(&ask).unwrap();
    assert_eq!(said_of(&file, None), Anew::Made(Vec::new()), "alone");
    assert_eq!(said_of(&file, Some(&session)), Anew::Made(Vec::new()), "with the folder");
}

/// A device nobody knows.
struct Stranger(trowelogue_journal::Shop);

impl Signer for Stranger {
    fn device(&self) -> String {
        self.0.device().to_string()
    }

    fn key(&self) -> String {
        self.0.public_key().to_string()
    }

    fn sign(&self, message: &[u8]) -> Option<String> {
        self.0.sign(seal::CONTEXT, message)
    }
}

/// A record of a demo piece with something changed in it, sealed anew by a stranger's device: every digest and the
/// signature are good.
fn forged(session: &mut Session, place: &Path, change: impl FnOnce(&mut ProcessRecord)) -> PathBuf {
    let piece = session.pieces_about(&About { piece: Some("K-02".into()), job: None }).unwrap()[0];
    let (lines, choice) = session.lines_of(piece).unwrap();
    let voice = Voice { lang: Lang::En, system: System::Metric, zone: session.voice.zone };
    let photo = |hash: &Hash| session.photo(hash);
    let maker = Maker { shop: session.shop(), photo: &photo, voice, now: session.now() };
    let mut record = maker.record(piece, Vec::new());
    let mut making = Making::new(session.shop(), &session.view.merged, piece, &voice, PaperSize::A4, &choice);
    making.compare(&record, &Carried { shop: &lines.shop, lines: &lines.lines }, session.now(), &photo);
    record.attachments = lines.attachments(Lang::En);
    record.attachments.push(making.attachment(Lang::En));
    change(&mut record);
    let stranger = Home::open(place.join("stranger"));
    let founded = stranger.found(&place.join("elsewhere"), "Elsewhere", session.now()).unwrap();
    let bytes =
        trowelogue_papers::signed_record(&record, &Options::default(), &Stranger(founded.shop)).unwrap();
    let file = place.join("forged.pdf");
    std::fs::write(&file, bytes).unwrap();
    file
}

#[test]
fn a_sentence_changed_under_a_new_seal_is_named_with_its_page() {
    let (place, mut session) = demo();
    let file = forged(&mut session, place.path(), |record| {
        let finding = record.findings.first_mut().unwrap();
        finding.why = "Nothing was found to be wrong with this coat.".into();
    });
    let verify = verify_paper(&setup(&place.path().join("home")), &file, None).unwrap();
    assert!(!verify.breaks.is_empty(), "{verify:?}");
    assert!(verify.breaks.iter().all(|it| it.kind == "differs_from_entries"), "{verify:?}");
    let first = &verify.breaks[0].text;
    assert!(first.starts_with("page ") && first.contains("Nothing was found"), "{first}");
}

#[test]
fn a_value_a_finding_or_a_step_left_out_under_a_new_seal_is_named() {
    let changes: [fn(&mut ProcessRecord); 4] = [
        |record| record.steps[4].values[0].value = "as it should be".into(),
        |record| drop(record.steps.remove(3)),
        |record| record.findings.clear(),
        |record| record.piece.client = "somebody else".into(),
    ];
    for (at, change) in changes.into_iter().enumerate() {
        let (place, mut session) = demo();
        let file = forged(&mut session, place.path(), change);
        let verify = verify_paper(&setup(&place.path().join("home")), &file, None).unwrap();
        assert!(verify.breaks.iter().any(|it| it.text.starts_with("page ")), "{at}: {verify:?}");
    }
}

#[test]
fn a_paper_of_another_version_is_not_made_anew_and_that_is_said() {
    let (place, mut session) = demo();
    let file = forged(&mut session, place.path(), |record| {
        record.imprint.tool = "Trowelogue 0.0.1".into();
        record.steps[4].values[0].value = "as it should be".into();
    });
    let verify = verify_paper(&setup(&place.path().join("home")), &file, None).unwrap();
    assert!(verify.breaks.is_empty(), "{verify:?}");
    assert!(
        verify.notes.iter().any(|it| it.kind == "other_version" && it.text.contains("0.0.1")),
        "{verify:?}"
    );
}

#[test]
fn a_paper_robbed_of_what_it_was_made_with_is_told() {
    let (place, mut session) = demo();
    for name in ["making.json", "shop.json", "entries.jsonl"] {
        let file =
            forged(&mut session, place.path(), |record| record.attachments.retain(|it| it.name != name));
        let verify = verify_paper(&setup(&place.path().join("home")), &file, None).unwrap();
        assert!(verify.breaks.iter().any(|it| it.file.ends_with(name)), "{name}: {verify:?}");
        std::fs::remove_dir_all(place.path().join("elsewhere")).unwrap();
        std::fs::remove_dir_all(place.path().join("stranger")).unwrap();
    }
}

/// A shop of two clients whose pieces share a mix, with a price and an internal note.
fn two_clients() -> (tempfile::TempDir, Session) {
    let place = tempfile::tempdir().unwrap();
    let founded =
        Session::found(&setup(&place.path().join("owner")), &place.path().join("shop"), "Quarry Lane", "Ada");
    let mut session = founded.unwrap().session;
    let piece = |code: &str, job: &str| {
        json!({ "kind": "piece", "body": { "code": code, "name": "Island", "job": job,
        "mix": "Face mix", "length_mm": 1800, "width_mm": 600, "thickness_mm": 40, "finish": "honed" } })
    };
    let pour = |piece: &str, day: u32| {
        json!({ "kind": "pour", "pieces": [piece],
        "done": format!("2025-02-{day:02}T09:00:00-06:00"), "body": { "mix": "Face mix", "batch": "B-1" } })
    };
    let strength = |piece: &str, day: u32, mpa: f64| {
        json!({ "kind": "strength", "pieces": [piece],
        "done": format!("2025-02-{day:02}T09:00:00-06:00"), "body": { "method": "cylinder", "result_mpa": mpa } })
    };
    let entries: Vec<Value> = vec![
        json!({ "kind": "client", "body": { "name": "R. Halloway" } }),
        json!({ "kind": "client", "body": { "name": "S. Undisclosed" } }),
        json!({ "kind": "mix", "body": { "name": "Face mix", "aggregates": ["siliceous"] } }),
        json!({ "kind": "job", "body": { "code": "J-7", "name": "Kitchen", "client": "R. Halloway" } }),
        json!({ "kind": "job", "body": { "code": "J-8", "name": "Bath", "client": "S. Undisclosed" } }),
        piece("C-1", "J-7"),
        piece("D-1", "J-8"),
        pour("C-1", 4),
        pour("D-1", 5),
        strength("C-1", 7, 14.0),
        strength("D-1", 6, 8.5),
        strength("D-1", 12, 26.25),
        json!({ "kind": "change_agreed", "pieces": ["C-1"], "done": "2025-02-20T09:00:00-06:00",
            "body": { "change": "one tap hole more", "agreed_by": "R. Halloway", "price": 4321.5 } }),
        json!({ "kind": "note", "pieces": ["C-1"], "done": "2025-02-21T09:00:00-06:00",
            "body": { "text": "the client haggles", "internal": true } }),
        json!({ "kind": "note", "pieces": ["D-1"], "done": "2025-02-21T09:00:00-06:00",
            "body": { "text": "stain beside the basin" } }),
    ];
    for entry in entries {
        let mut entry = entry;
        if entry.get("done").is_none() {
            entry["done"] = json!("2025-02-01T09:00:00-06:00");
        }
        session.add(entry.to_string().as_bytes(), "test").unwrap();
    }
    (place, session)
}

#[test]
fn no_line_of_another_client_no_cost_and_nothing_internal_is_ever_inside() {
    let (_place, mut session) = two_clients();
    let file = session.paper(&ask("C-1")).unwrap();
    let sealed = seal::look(&file).unwrap().unwrap();
    let inside: String =
        sealed.attachments.values().map(|it| String::from_utf8_lossy(it).into_owned()).collect();
    let drawn = seal::drawn(&file).unwrap().words.concat().join(" ");
    let others = session.show(&About { piece: Some("D-1".into()), job: None }).unwrap();
    let other = &others.pieces[0];
    for text in [&inside, &drawn] {
        // With a mark that no hash and no signature has: those hold any four digits now and then.
        for word in ["S. Undisclosed", "\"J-8", "J-8 ", "basin", "4321.5", "4,321", "haggles"] {
            assert!(!text.contains(word), "{word}");
        }
        assert!(text.contains("R. Halloway") && text.contains("one tap hole more"));
    }
    assert!(!inside.contains(&other.id), "the other's piece is not even named");
    let lines = String::from_utf8_lossy(&sealed.attachments["entries.jsonl"]);
    let held = check_lines(lines.lines()).into_iter().filter_map(|line| match line {
        Checked::Entry(record) => Some(record.hash.to_string()),
        _ => None,
    });
    let held: Vec<String> = held.collect();
    assert!(held.len() > 8 && !other.steps.iter().any(|step| held.contains(&step.hash)), "{held:?}");
}

#[test]
fn what_is_shown_of_such_entries_is_said_to_rest_on_the_seal_and_the_pages_still_follow() {
    let (place, mut session) = two_clients();
    let file = place.path().join("record.pdf");
    session.write_paper(&ask("C-1"), &file).unwrap();
    let verify = verify_paper(&setup(&place.path().join("other")), &file, None).unwrap();
    assert!(verify.breaks.is_empty(), "{verify:?}");
    let note = |kind: &str| verify.notes.iter().find(|it| it.kind == kind);
    assert!(note("made_anew").is_some(), "{verify:?}");
    let stated = &note("stated").unwrap().text;
    assert!(stated.contains("without their price") && stated.contains("other pours"), "{stated}");
    let verify =
        verify_paper(&setup(&place.path().join("owner")), &file, Some(&place.path().join("shop"))).unwrap();
    assert!(
        verify.breaks.is_empty() && !verify.notes.iter().any(|it| it.kind == "entries_untold"),
        "{verify:?}"
    );
}

#[test]
fn an_entry_held_back_is_told_where_the_folder_is_at_hand() {
    let (place, mut session) = two_clients();
    let file = place.path().join("record.pdf");
    session.write_paper(&ask("C-1"), &file).unwrap();
    let late = json!({ "kind": "note", "pieces": ["C-1"], "done": "2025-02-22T09:00:00-06:00", "body": { "text": "chipped" } });
    session.add(late.to_string().as_bytes(), "test").unwrap();
    let verify =
        verify_paper(&setup(&place.path().join("owner")), &file, Some(&place.path().join("shop"))).unwrap();
    let note = verify.notes.iter().find(|it| it.kind == "entries_untold").unwrap();
    assert!(verify.breaks.is_empty() && note.text.contains("1 entries"), "{verify:?}");
}
