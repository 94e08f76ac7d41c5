//! Paths and links: nothing a file says makes anybody read or write outside the folder.

use std::fs;

use trowelogue_testkit::forge::Forger;
use trowelogue_testkit::trowelogue_core::body::{Kind, input};
use trowelogue_testkit::trowelogue_core::id::{DeviceId, Hash, ShopId};
use trowelogue_testkit::trowelogue_core::shop::Reading;
use trowelogue_testkit::trowelogue_journal::{
    BreakKind, Expected, NoteKind, Published, read_folder, verify_folder,
};
use trowelogue_testkit::yard::{Yard, append, draft_of, files_below, note, own_file};

use super::{breaks, counting, folded};

/// Names that lead elsewhere, on one system or another.
const AWAY: [&str; 8] = [
    "../../../etc/passwd",
    "/etc/passwd",
    "..\\..\\windows\\system32",
    "C:\\autoexec.bat",
    "\\\\host\\share\\x",
    "a/../../b",
    "con",
    "aaaaaaaaaaaaaaaaaaa/",
];

#[test]
fn a_photo_name_that_leads_elsewhere_is_no_photo() {
    for name in AWAY {
        let photos = serde_json::json!({ "text": "see photo", "photos": [{ "hash": name }] });
        let refused = input::read(Kind::Note, photos.as_object().unwrap().clone()).unwrap_err();
        assert!(refused.field.contains("photos"), "{name}: {refused}");
        // Somebody who writes the line by hand gets no further: the body is carried along, unread.
        let yard = Yard::new().unwrap();
        let mut anna = yard.found("anna").unwrap();
        let hash = append(&mut anna, draft_of(Kind::Note, &photos), 0).unwrap();
        let shop = folded(&yard.folder());
        let step = shop.steps.iter().find(|step| step.hash == hash).unwrap();
        assert!(matches!(step.reading, Reading::Newer(_)), "{name}: {:?}", step.reading);
        assert_eq!(breaks(&yard.folder()), []);
    }
}

#[test]
fn an_id_that_is_a_path_is_no_id() {
    for name in AWAY {
        assert!(name.parse::<DeviceId>().is_err(), "{name}");
        assert!(name.parse::<ShopId>().is_err(), "{name}");
        assert!(name.parse::<Hash>().is_err(), "{name}");
    }
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let good = counting(&yard.folder());
    let mut forger = Forger::new(5, anna.file());
    let device = forger.device.to_string();
    for (number, name) in AWAY.iter().enumerate() {
        let plain = forger.header(1);
        let start = plain.find("{\"v\"").unwrap();
        let end = plain.find(",\"b\":").unwrap();
        let named = serde_json::to_string(name).unwrap();
        let entry = plain[start..end].replace(&format!("\"{device}\""), &named);
        let line = forger.sign(&entry, "null");
        fs::write(yard.folder().join("logs").join(format!("evil-{number}.jsonl")), line).unwrap();
    }
    let found = breaks(&yard.folder());
    assert!(!found.is_empty() && found.iter().all(|it| *it == BreakKind::HeaderInvalid), "{found:?}");
    let before = files_below(yard.dir.path());
    anna.read().unwrap();
    assert_eq!(counting(&yard.folder()), good);
    assert_eq!(files_below(yard.dir.path()), before, "reading it makes no file anywhere");
}

#[cfg(unix)]
#[test]
fn links_lead_nowhere() {
    use std::os::unix::fs::symlink;
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let outside = yard.dir.path().join("outside.jsonl");
    // A good log, but not in the folder.
    fs::rename(own_file(&anna, 1), &outside).unwrap();
    let device = anna.device();
    symlink(&outside, own_file(&anna, 1)).unwrap();
    symlink("/etc/passwd", yard.folder().join("logs").join("passwd.jsonl")).unwrap();
    symlink("loop.jsonl", yard.folder().join("logs").join("loop.jsonl")).unwrap();
    symlink("/dev/zero", yard.folder().join("logs").join("zero.jsonl")).unwrap();
    let reading = read_folder(&yard.folder()).unwrap();
    assert!(reading.merged.records.is_empty());
    let strays = reading.notes.iter().filter(|it| it.kind == NoteKind::StrayFile).count();
    assert_eq!(strays, 4, "{:?}", reading.notes);
    // The writer does not write through it either, and says that it could not publish.
    let before = fs::read(&outside).unwrap();
    let done = anna.append(vec![note("goes on")], trowelogue_testkit::yard::at(1)).unwrap();
    assert!(matches!(done.published, Published::NotYet(_)));
    assert_eq!(fs::read(&outside).unwrap(), before);
    // A photo that is a link is a photo that is missing.
    let photo = Hash::of(&[b"not a photo"]);
    let place = yard.folder().join(trowelogue_testkit::trowelogue_journal::photo_place(&photo));
    fs::create_dir_all(place.parent().unwrap()).unwrap();
    symlink("/etc/passwd", place).unwrap();
    let expected = Expected { photos: [photo].into(), ..Expected::default() };
    let found = verify_folder(&yard.folder(), &expected).unwrap().breaks;
    assert!(found.iter().any(|it| it.kind == BreakKind::PhotoMissing), "{device}: {found:?}");
}

#[cfg(unix)]
#[test]
fn pipes_and_sockets_hold_nobody_up() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    let hash = append(&mut anna, note("genuine"), 0).unwrap();
    let _socket =
        std::os::unix::net::UnixListener::bind(yard.folder().join("logs").join("socket.jsonl")).unwrap();
    let made =
        std::process::Command::new("mkfifo").arg(yard.folder().join("logs").join("pipe.jsonl")).status();
    assert!(made.unwrap().success());
    let reading = read_folder(&yard.folder()).unwrap();
    assert_eq!(reading.merged.records.iter().map(|it| it.hash).collect::<Vec<_>>(), [hash]);
    assert_eq!(reading.notes.iter().filter(|it| it.kind == NoteKind::StrayFile).count(), 2);
}

#[test]
fn a_swapped_photo_is_named() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let (one, two) = (b"one picture".as_slice(), b"another picture".as_slice());
    let hashes = [Hash::of(&[one]), Hash::of(&[two])];
    // Each under the other's name.
    for (hash, bytes) in hashes.iter().zip([two, one]) {
        let place = yard.folder().join(trowelogue_testkit::trowelogue_journal::photo_place(hash));
        fs::create_dir_all(place.parent().unwrap()).unwrap();
        fs::write(place, bytes).unwrap();
    }
    let expected = Expected { photos: hashes.into(), ..Expected::default() };
    let found = verify_folder(&yard.folder(), &expected).unwrap().breaks;
    assert_eq!(found.iter().map(|it| it.kind).collect::<Vec<_>>(), [BreakKind::PhotoWrong; 2]);
}
