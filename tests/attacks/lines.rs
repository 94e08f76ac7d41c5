//! Forged, re-signed, replayed and truncated logs.

use std::fs;

use trowelogue_testkit::forge::Forger;
use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
use trowelogue_testkit::trowelogue_journal::{BreakKind, Expected, NoteKind, read_folder};
use trowelogue_testkit::yard::{Yard, acceptance, append, hashes_in, log_file, note, own_file};

use super::{breaks, counting, folded};

#[test]
fn a_changed_entry_costs_itself_and_is_named() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    for number in 0..5 {
        append(&mut anna, note(&format!("note {number}")), number).unwrap();
    }
    let good = counting(&yard.folder());
    let file = own_file(&anna, 1);
    let text = fs::read_to_string(&file).unwrap();
    for (from, to, kind) in [
        ("\"kind\":\"note\"", "\"kind\":\"noto\"", BreakKind::BadSignature),
        ("note 2", "note 9", BreakKind::BadHash),
        ("\"seq\":3", "\"seq\":4", BreakKind::BadSignature),
    ] {
        fs::write(&file, text.replacen(from, to, 1)).unwrap();
        assert!(breaks(&yard.folder()).contains(&kind), "{from}: {:?}", breaks(&yard.folder()));
        let left = counting(&yard.folder());
        assert_eq!(left.len(), good.len() - 1, "{from}");
        assert!(left.is_subset(&good), "{from}: nothing forged counts");
    }
    // A body taken out changes no hash, so it is the missing body that is named.
    let at = text.rfind("\"b\":").unwrap() + 4;
    let end = text.rfind(",\"s\":").unwrap();
    fs::write(&file, format!("{}null{}", &text[..at], &text[end..])).unwrap();
    assert_eq!(breaks(&yard.folder()), [BreakKind::BodyMissing]);
}

#[test]
fn a_line_signed_by_another_key_does_not_enter_a_log() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    let hash = append(&mut anna, note("genuine"), 0).unwrap();
    let good = counting(&yard.folder());
    // The forger knows everything but the key: device, number and the line before.
    let mut forger = Forger::new(1, anna.file());
    (forger.device, forger.prev, forger.seq) = (anna.device(), hash, 2);
    let line = forger.note("never written");
    let file = own_file(&anna, 1);
    fs::write(&file, fs::read_to_string(&file).unwrap() + &line).unwrap();
    assert_eq!(breaks(&yard.folder()), [BreakKind::BadSignature]);
    assert_eq!(counting(&yard.folder()), good);
    // The next entry of the device itself sweeps it away.
    append(&mut anna, note("goes on"), 1).unwrap();
    assert_eq!(breaks(&yard.folder()), []);
}

#[test]
fn a_log_signed_anew_by_an_unknown_key_stands_apart() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let good = counting(&yard.folder());
    let mut forger = Forger::new(2, anna.file());
    // It accepts itself, as an owner.
    let lines = forger.header(1)
        + &forger.entry(
            "accept",
            Some(forger.device),
            "{\"salt\":\"AAAAAAAAAAAAAAAAAAAAAA\",\"role\":\"owner\"}",
        )
        + &forger.note("genuine");
    let file = log_file(&yard.folder(), forger.device, 1);
    fs::create_dir_all(file.parent().unwrap()).unwrap();
    fs::write(&file, &lines).unwrap();
    assert_eq!(breaks(&yard.folder()), []);
    assert_eq!(counting(&yard.folder()), good);
    assert_eq!(hashes_in(&yard.folder()).unwrap().len(), good.len() + 2, "kept, and shown apart");
}

#[test]
fn a_header_with_another_devices_name_lends_it_no_key() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let good = counting(&yard.folder());
    let mut forger = Forger::new(3, anna.file());
    forger.device = anna.device();
    let lines = forger.header(1) + &forger.note("in Anna's name");
    // Under any other name it is a copy that adds nothing; in the place of the log itself it is a break.
    let copy = yard.folder().join("logs").join("copy.jsonl");
    fs::write(&copy, &lines).unwrap();
    assert_eq!(breaks(&yard.folder()), []);
    assert_eq!(read_folder(&yard.folder()).unwrap().notes[0].kind, NoteKind::CopyAddsNothing);
    assert_eq!(counting(&yard.folder()), good);
    fs::rename(copy, own_file(&anna, 1)).unwrap();
    assert!(breaks(&yard.folder()).contains(&BreakKind::DeviceKeyMismatch));
    assert!(counting(&yard.folder()).is_empty());
    // Its owner puts it right.
    append(&mut anna, note("goes on"), 1).unwrap();
    assert_eq!(breaks(&yard.folder()), []);
    assert!(counting(&yard.folder()).is_superset(&good));
}

#[test]
fn what_was_written_for_another_shop_is_worth_nothing_here() {
    let here = Yard::new().unwrap();
    let mut anna = here.found("anna").unwrap();
    append(&mut anna, note("here"), 0).unwrap();
    let good = counting(&here.folder());
    // The same home founds another shop and writes there.
    let other = here.dir.path().join("other");
    let mut elsewhere =
        here.home("anna").found(&other, "Other", trowelogue_testkit::yard::at(0)).unwrap().shop;
    append(&mut elsewhere, note("there"), 0).unwrap();
    let foreign = fs::read_to_string(own_file(&elsewhere, 1)).unwrap();
    // The whole log, under its own name; and one line of it slipped into a log of this shop.
    let file = log_file(&here.folder(), elsewhere.device(), 1);
    fs::create_dir_all(file.parent().unwrap()).unwrap();
    fs::write(&file, &foreign).unwrap();
    assert_eq!(breaks(&here.folder()), [BreakKind::ForeignShop]);
    fs::remove_file(&file).unwrap();
    let own = own_file(&anna, 1);
    let line = foreign.lines().nth(1).unwrap();
    fs::write(&own, format!("{}{line}\n", fs::read_to_string(&own).unwrap())).unwrap();
    assert_eq!(breaks(&here.folder()), [BreakKind::DeviceKeyMismatch]);
    assert_eq!(counting(&here.folder()), good);
}

#[test]
fn a_log_cut_at_a_line_is_noticed_by_its_neighbours() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    let mut ben = yard.join("ben").unwrap();
    append(&mut anna, acceptance(ben.device(), "crew"), 0).unwrap();
    append(&mut anna, note("the inconvenient one"), 1).unwrap();
    ben.read().unwrap();
    append(&mut ben, note("saw it"), 2).unwrap();
    let file = own_file(&anna, 1);
    let text = fs::read_to_string(&file).unwrap();
    let cut = text.trim_end().rfind('\n').unwrap() + 1;
    fs::write(&file, &text[..cut]).unwrap();
    // Somebody without a home is told that Ben has seen more.
    let notes = read_folder(&yard.folder()).unwrap().notes;
    assert!(notes.iter().any(|it| it.kind == NoteKind::BehindNeighbours), "{notes:?}");
    // A home that has seen it still holds it, and names the file.
    assert_eq!(ben.read().unwrap().merged.records.len(), 3);
    let found = ben.verify(&Expected::default()).unwrap().breaks;
    assert_eq!(found.iter().map(|it| it.kind).collect::<Vec<_>>(), [BreakKind::FileTooShortOfKnown]);
}

#[test]
fn a_retired_device_writes_on_and_none_of_it_counts() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    let mut ben = yard.join("ben").unwrap();
    append(&mut anna, acceptance(ben.device(), "owner"), 0).unwrap();
    let last = append(&mut ben, note("the last that counts"), 1).unwrap();
    anna.read().unwrap();
    let mut retire = acceptance(ben.device(), "crew");
    (retire.kind, retire.refs) = ("retire".into(), vec![last]);
    retire.body = serde_json::json!({ "reason": "lost" }).as_object().unwrap().clone();
    append(&mut anna, retire, 2).unwrap();
    let good = counting(&yard.folder());
    assert!(good.contains(&last));
    // Dated back before its retirement, and accepting an accomplice.
    let accomplice = Forger::new(4, anna.file()).device;
    append(&mut ben, note("too late"), -100).unwrap();
    append(&mut ben, acceptance(accomplice, "owner"), -99).unwrap();
    assert_eq!(counting(&yard.folder()), good);
    assert_eq!(hashes_in(&yard.folder()).unwrap().len(), good.len() + 2, "nothing is dropped");
    assert!(!folded(&yard.folder()).devices.contains_key(&accomplice));
}

#[test]
fn two_owners_who_accept_different_devices_at_once_agree_in_the_end() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    let mut ben = yard.join("ben").unwrap();
    append(&mut anna, acceptance(ben.device(), "owner"), 0).unwrap();
    let (mut cleo, mut dora) = (yard.join("cleo").unwrap(), yard.join("dora").unwrap());
    append(&mut cleo, note("of Cleo"), 1).unwrap();
    append(&mut dora, note("of Dora"), 1).unwrap();
    // Neither sees what the other does: the folder is away while they do it.
    let away = yard.dir.path().join("away");
    for shop in [&mut anna, &mut ben] {
        shop.read().unwrap();
    }
    fs::rename(yard.folder(), &away).unwrap();
    fs::write(yard.folder(), "in the way").unwrap();
    append(&mut anna, acceptance(cleo.device(), "owner"), 5).unwrap();
    append(&mut ben, acceptance(dora.device(), "owner"), 5).unwrap();
    fs::remove_file(yard.folder()).unwrap();
    fs::rename(&away, yard.folder()).unwrap();
    for _ in 0..2 {
        for shop in [&mut anna, &mut ben, &mut cleo, &mut dora] {
            shop.sweep().unwrap();
        }
    }
    let shops = [&mut anna, &mut ben, &mut cleo, &mut dora].map(|shop| fold(&shop.read().unwrap().merged));
    for shop in &shops {
        assert_eq!(digest(shop), digest(&shops[0]));
        let accepted = shop.devices.values().filter(|it| it.status.wire() == "accepted").count();
        assert_eq!(accepted, 4);
    }
    assert_eq!(breaks(&yard.folder()), []);
}
