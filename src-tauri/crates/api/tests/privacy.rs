//! A passphrase set, told, changed, mistaken; a client erased on request; photos on their way.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::json;
use trowelogue_api::{Clock, EraseAsk, Session, Setup};
use trowelogue_core::moment::parse;
use trowelogue_journal::{Home, read_folder};

const FIRST: &str = "a passphrase of the shop";
const SECOND: &str = "quite another one";
/// Words that must not be readable in the folder once there is a passphrase.
const SECRET: &str = "Wintergreen Lane 4";

struct Yard(tempfile::TempDir);

impl Yard {
    fn setup(&self, name: &str) -> Setup {
        let clock = Clock::At(parse("2025-03-04T10:20:00-06:00").unwrap());
        Setup { home: self.0.path().join(name), clock, lang: None, units: None }
    }

    fn folder(&self) -> PathBuf {
        self.0.path().join("shop")
    }

    fn found(&self) -> Session {
        Session::found(&self.setup("anna"), &self.folder(), "North Yard Castings", "Anna").unwrap().session
    }

    /// A device that joined and was accepted as an owner.
    fn join(&self, owner: &mut Session, name: &str) -> Session {
        let joined = Session::join(&self.setup(name), &self.folder(), name).unwrap();
        *owner = self.open("anna");
        owner.accept(&joined.device, Some("owner")).unwrap();
        self.open(name)
    }

    fn open(&self, name: &str) -> Session {
        Session::open(&self.setup(name), &self.folder()).unwrap()
    }

    /// The bodies this home can read, as text; for one that never joined, those in the folder.
    fn seen(&self, name: &str) -> String {
        let home = Home::open(self.0.path().join(name));
        let reading = home.shop(&self.folder()).and_then(|mut shop| shop.read());
        let reading = reading.or_else(|_| read_folder(&self.folder())).unwrap();
        reading.merged.records.iter().map(|record| format!("{:?}", record.body)).collect()
    }

    /// Everything that can be read of the folder as text.
    fn readable(&self) -> String {
        let mut all = String::new();
        for file in files(&self.folder()) {
            all += &String::from_utf8_lossy(&fs::read(file).unwrap());
        }
        all
    }

    fn whole(&self, session: &mut Session) {
        let verify = session.verify().unwrap();
        assert!(verify.breaks.is_empty(), "{}", serde_json::to_string(&verify).unwrap());
    }
}

fn files(dir: &Path) -> Vec<PathBuf> {
    let items = fs::read_dir(dir).into_iter().flatten().flatten();
    items
        .flat_map(|item| if item.path().is_dir() { files(&item.path()) } else { vec![item.path()] })
        .collect()
}

fn client(session: &mut Session) {
    let entry = json!({
        "kind": "client", "done": "2025-03-04T09:00:00-06:00",
        "body": { "name": "R. Halloway", "address": SECRET },
    });
    session.add(entry.to_string().as_bytes(), "test").unwrap();
}

fn picture(shade: u8) -> Vec<u8> {
    let mut bytes = Vec::new();
    let pixels = vec![shade; 48 * 32 * 3];
    image::write_buffer_with_format(
        &mut std::io::Cursor::new(&mut bytes),
        &pixels,
        48,
        32,
        image::ExtendedColorType::Rgb8,
        image::ImageFormat::Jpeg,
    )
    .unwrap();
    bytes
}

fn noted(session: &mut Session, photo: &[u8]) {
    let note =
        json!({ "kind": "note", "done": "2025-03-04T09:00:00-06:00", "body": { "text": "see photo" } });
    session.add_with_photos(note.to_string().as_bytes(), "test", &[photo.to_vec()]).unwrap();
}

/// What `verify` says others can still read, by kind.
fn exposed(session: &mut Session) -> Vec<String> {
    let health = session.verify().unwrap().health.into_iter().filter(|row| row.kind.contains("still"));
    health.map(|row| row.kind).collect()
}

#[test]
fn a_passphrase_hides_what_was_plain_and_what_comes() {
    let yard = Yard(tempfile::tempdir().unwrap());
    let mut anna = yard.found();
    client(&mut anna);
    noted(&mut anna, &picture(90));
    assert!(yard.readable().contains(SECRET));
    assert!(anna.set_passphrase("short").is_err());
    anna.set_passphrase(FIRST).unwrap();
    let readable = yard.readable();
    assert!(
        !readable.contains(SECRET) && !readable.contains("see photo"),
        "what was plain is published again"
    );
    assert!(!readable.contains("JFIF"), "photos too");
    assert!(readable.contains("\"kind\":\"client\""), "kinds stay readable");
    noted(&mut anna, &picture(120));
    assert!(!yard.readable().contains("see photo"));
    yard.whole(&mut anna);
    // The same home, opened again, reads and writes as before.
    let mut again = yard.open("anna");
    assert!(yard.seen("anna").contains("see photo"));
    assert_eq!(again.digest(), anna.digest());
    yard.whole(&mut again);
    // Somebody without it sees that there are entries, that they hold together, and nothing more.
    let mut stranger = yard.open("stranger");
    let text = yard.seen("stranger");
    assert!(!text.contains(SECRET) && !text.contains("see photo"));
    assert_eq!(stranger.digest(), anna.digest(), "order and state are those of everybody");
    yard.whole(&mut stranger);
}

#[test]
fn a_device_that_was_not_told_keeps_its_entries_until_it_is() {
    let yard = Yard(tempfile::tempdir().unwrap());
    let mut anna = yard.found();
    let mut ben = yard.join(&mut anna, "ben");
    noted(&mut ben, &picture(60));
    anna = yard.open("anna");
    client(&mut anna);
    anna.set_passphrase(FIRST).unwrap();
    // Ben's own log is his to publish again; until he is told, nothing of his goes out.
    let mut ben = yard.open("ben");
    let note = json!({ "kind": "note", "done": "2025-03-04T09:30:00-06:00", "body": { "text": "not yet" } });
    let written = ben.add(note.to_string().as_bytes(), "test").unwrap();
    assert!(!written.in_folder && written.remarks.iter().any(|it| it.contains("passphrase")), "{written:?}");
    assert!(!yard.readable().contains("not yet"));
    for name in ["anna", "ben", "stranger"] {
        assert_eq!(exposed(&mut yard.open(name)), ["still_plain"], "{name}: Ben's log and photo");
    }
    let error = ben.tell_passphrase("mistaken").unwrap_err();
    assert!(error.message.contains("not the one"), "{error:?}");
    assert!(ben.set_passphrase(SECOND).is_err(), "nor can he set another over it");
    ben.tell_passphrase(FIRST).unwrap();
    assert!(yard.seen("ben").contains("not yet"));
    let readable = yard.readable();
    assert!(!readable.contains("see photo") && !readable.contains("not yet") && !readable.contains("JFIF"));
    yard.whole(&mut ben);
    let mut anna = yard.open("anna");
    assert_eq!(exposed(&mut anna), Vec::<String>::new());
    assert!(yard.seen("anna").contains("not yet"));
    assert_eq!(anna.digest(), ben.digest());
    yard.whole(&mut anna);
}

#[test]
fn a_changed_passphrase_opens_what_was_written_under_the_old_one() {
    let yard = Yard(tempfile::tempdir().unwrap());
    let mut anna = yard.found();
    let mut ben = yard.join(&mut anna, "ben");
    anna = yard.open("anna");
    anna.set_passphrase(FIRST).unwrap();
    ben = {
        drop(ben);
        yard.open("ben")
    };
    ben.tell_passphrase(FIRST).unwrap();
    noted(&mut ben, &picture(60));
    anna = yard.open("anna");
    anna.set_passphrase(SECOND).unwrap();
    // A new device is told the new one only. Ben, who left, never publishes again: his log is under the old.
    let mut cleo = yard.join(&mut anna, "cleo");
    assert!(!yard.seen("cleo").contains("see photo"));
    assert!(cleo.tell_passphrase(FIRST).is_err());
    cleo.tell_passphrase(SECOND).unwrap();
    assert!(yard.seen("cleo").contains("see photo"));
    yard.whole(&mut cleo);
    // A home keeps what it read in the clear: the folder lost, and the passphrase with it, the record is there.
    fs::remove_dir_all(yard.folder()).unwrap();
    assert!(yard.seen("cleo").contains("see photo"));
}

#[test]
fn a_client_erased_is_gone_everywhere_and_the_chain_holds() {
    let yard = Yard(tempfile::tempdir().unwrap());
    let mut anna = yard.found();
    let mut ben = yard.join(&mut anna, "ben");
    client(&mut ben);
    drop(ben);
    let mut anna = yard.open("anna");
    let ask = |client: &str| EraseAsk {
        client: Some(client.into()),
        why: "asked by letter".into(),
        ..EraseAsk::default()
    };
    assert!(anna.erase(&ask("nobody")).is_err());
    assert!(anna.erase(&EraseAsk { why: String::new(), ..ask("R. Halloway") }).is_err());
    anna.erase(&ask("R. Halloway")).unwrap();
    // It was in Ben's log: Anna's home has it no more, Ben's device takes it out of the folder.
    let in_home = |name: &str| {
        let all: Vec<u8> =
            files(&yard.0.path().join(name)).iter().flat_map(|it| fs::read(it).unwrap()).collect();
        String::from_utf8_lossy(&all).contains(SECRET)
    };
    assert!(!in_home("anna") && in_home("ben"));
    assert_eq!(exposed(&mut yard.open("anna")), ["erased_still_shown"]);
    assert!(!yard.seen("anna").contains(SECRET));
    let mut ben = yard.open("ben");
    let note = json!({ "kind": "note", "done": "2025-03-04T09:30:00-06:00", "body": { "text": "goes on" } });
    ben.add(note.to_string().as_bytes(), "test").unwrap();
    assert!(!in_home("ben") && !yard.readable().contains(SECRET));
    assert_eq!(exposed(&mut ben), Vec::<String>::new());
    yard.whole(&mut ben);
    let mut anna = yard.open("anna");
    yard.whole(&mut anna);
    assert_eq!(anna.digest(), ben.digest());
    let mut stranger = yard.open("stranger");
    yard.whole(&mut stranger);
    assert_eq!(stranger.digest(), ben.digest());
    assert!(!in_home("anna"), "it does not come back");
}

#[test]
fn an_erased_entry_takes_its_photo_along_unless_another_names_it() {
    let yard = Yard(tempfile::tempdir().unwrap());
    let mut anna = yard.found();
    let (alone, shared) = (picture(40), picture(200));
    noted(&mut anna, &alone);
    noted(&mut anna, &shared);
    noted(&mut anna, &shared);
    let photos = |at: &Path| files(at).iter().filter(|it| it.to_string_lossy().contains("photos")).count();
    assert_eq!((photos(&yard.folder()), photos(&yard.0.path().join("anna"))), (2, 2));
    let merged = read_folder(&yard.folder()).unwrap().merged;
    let notes = merged.records.iter().filter(|it| it.entry.kind == "note").take(2);
    let entries = notes.map(|it| it.hash.to_string()).collect();
    anna.erase(&EraseAsk { client: None, entries, why: "asked by letter".into() }).unwrap();
    assert_eq!((photos(&yard.folder()), photos(&yard.0.path().join("anna"))), (1, 1));
    yard.whole(&mut anna);
}

#[test]
fn a_photo_that_is_missing_or_wrong_is_named_and_comes_back() {
    let yard = Yard(tempfile::tempdir().unwrap());
    let mut anna = yard.found();
    noted(&mut anna, &picture(40));
    let place = files(&yard.folder().join("photos")).pop().unwrap();
    let kinds = |session: &mut Session| -> Vec<&str> {
        session.verify().unwrap().breaks.iter().map(|it| it.kind).collect()
    };
    fs::write(&place, "something else").unwrap();
    assert_eq!(kinds(&mut yard.open("stranger")), ["photo_wrong"]);
    fs::remove_file(&place).unwrap();
    assert_eq!(kinds(&mut yard.open("stranger")), ["photo_missing"]);
    // Its own device puts it back with whatever it writes next.
    noted(&mut yard.open("anna"), &picture(41));
    assert_eq!(kinds(&mut yard.open("stranger")), Vec::<&str>::new());
}
