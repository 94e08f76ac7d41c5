//! kill -9 at random moments of a process that appends, seals segments, puts in photos and mirrors another device's
//! log.

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use trowelogue_testkit::dice::{Dice, rounds};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Home, Shop};
use trowelogue_testkit::yard::{Yard, append, at, files_below, note};

use super::recovered;
use trowelogue_testkit::trowelogue_journal::{PhotoSeen, photo_place};

/// Names the place the worker works in.
pub(crate) const PLACE: &str = "TROWELOGUE_TEST_WORK";
/// How the worker is started: this program, and nothing of it but the worker.
pub(crate) const WORKER: [&str; 4] = ["--exact", "kill::worker", "--ignored", "--nocapture"];
/// How many processes are killed in the long run.
const ROUNDS: &str = "TROWELOGUE_KILL_ROUNDS";
/// Rounds on one shop, before a new one is founded.
const ON_ONE_SHOP: usize = 10;

/// The worker: writes until it is killed, and says each hash once the journal has acknowledged it.
#[test]
#[ignore = "a process that other tests start"]
fn worker() {
    let Some(place) = std::env::var_os(PLACE).map(PathBuf::from) else { return };
    let open = |name: &str| Home::open(place.join(name)).shop(&place.join("shop")).unwrap();
    let (mut anna, mut ben) = (open("anna"), open("ben"));
    let long = "z".repeat(20_000);
    let mut out = std::io::stdout().lock();
    for second in 0.. {
        // The first batch is long, so that even a process that lives for a moment fills its segment.
        let batch = if second % 5 == 0 { vec![note(&long); 40] } else { vec![note("short")] };
        say(&mut out, &mut anna, batch, second);
        ben.sweep().unwrap();
        say(&mut out, &mut ben, vec![note("seen")], second);
        let photo = anna.put_photo(&bytes(second)).unwrap();
        writeln!(out, "photo {photo}").unwrap();
        out.flush().unwrap();
    }
}

/// Bytes that stand for a photo: the journal looks at none. No two are the same, in whatever process.
fn bytes(second: i64) -> Vec<u8> {
    let seed = format!("{second} {}", std::process::id());
    seed.as_bytes().iter().copied().cycle().take(150_000).collect()
}

fn say(
    out: &mut impl std::io::Write,
    shop: &mut Shop,
    batch: Vec<trowelogue_testkit::trowelogue_journal::Draft>,
    second: i64,
) {
    for written in shop.append(batch, at(second)).unwrap().written() {
        writeln!(out, "acked {}", written.hash).unwrap();
    }
    out.flush().unwrap();
}

/// What a worker had said is durable.
#[derive(Default)]
struct Told {
    entries: Vec<Hash>,
    photos: Vec<Hash>,
}

/// Starts a worker and kills it after a while; gives what it had been told is durable.
fn killed_after(place: &Path, wait: Duration) -> Told {
    let mut worker = Command::new(std::env::current_exe().unwrap())
        .args(WORKER)
        .env(PLACE, place)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let lines = BufReader::new(worker.stdout.take().unwrap());
    let reader = std::thread::spawn(move || {
        let mut told = Told::default();
        for line in lines.lines().map_while(Result::ok) {
            // A line cut by the kill was not yet said.
            let said = |word: &str| line.split_once(word)?.1.parse::<Hash>().ok();
            told.entries.extend(said("acked "));
            told.photos.extend(said("photo "));
        }
        told
    });
    std::thread::sleep(wait);
    worker.kill().unwrap();
    worker.wait().unwrap();
    reader.join().unwrap()
}

#[test]
fn a_killed_process_loses_nothing_it_acknowledged() {
    let mut dice = Dice::new(0x9_0119);
    let rounds = rounds(ROUNDS, 50);
    let (mut told, mut photos, mut sealed) = (0, 0, 0);
    for round in 0..rounds.div_ceil(ON_ONE_SHOP) {
        let yard = Yard::new().unwrap();
        append(&mut yard.found("anna").unwrap(), note("first"), 0).unwrap();
        append(&mut yard.join("ben").unwrap(), note("first"), 0).unwrap();
        let mut acked = Told::default();
        for kill in 0..ON_ONE_SHOP {
            let wait = Duration::from_millis(30 + dice.below(500) as u64);
            let new = killed_after(yard.dir.path(), wait);
            acked.entries.extend(new.entries);
            acked.photos.extend(new.photos);
            let when = format!("round {round}, kill {kill}");
            // One process, one device: what the other one wrote is in the folder or in its own home.
            let mut anna = yard.home("anna").shop(&yard.folder()).unwrap();
            let mut ben = yard.home("ben").shop(&yard.folder()).unwrap();
            anna.sweep().unwrap();
            ben.sweep().unwrap();
            recovered(&mut anna, &acked.entries, &when);
            recovered(&mut ben, &acked.entries, &when);
            photos_are_whole(&yard, &anna, &acked.photos, &when);
        }
        told += acked.entries.len();
        photos += acked.photos.len();
        sealed += segments(&yard);
    }
    assert!(told > rounds, "only {told} entries were acknowledged in {rounds} rounds");
    assert!(photos > rounds / 2, "only {photos} photos were acknowledged in {rounds} rounds");
    assert!(sealed > 0, "no segment was ever sealed");
}

/// Every photo that was acknowledged is in the home and, its device having published, in the folder; and whatever
/// stands under a photo's name, in either place, is that photo.
fn photos_are_whole(yard: &Yard, shop: &Shop, photos: &[Hash], when: &str) {
    for photo in photos {
        assert!(matches!(shop.photo(photo), PhotoSeen::Here(_)), "{when}: {photo} is lost");
        let place = yard.folder().join(photo_place(photo));
        assert!(place.is_file(), "{when}: {photo} is not in the folder");
    }
    for file in files_below(&yard.dir.path().join("shop/photos")) {
        let path = yard.folder().join("photos").join(&file);
        let named = path.file_stem().and_then(|name| name.to_str()?.parse::<Hash>().ok());
        if path.extension().is_some_and(|ending| ending == "jpg") {
            let bytes = std::fs::read(&path).unwrap();
            assert_eq!(named, Some(Hash::of(&[&bytes])), "{when}: {path:?}");
        }
    }
}

/// Sealed segments in the folder.
fn segments(yard: &Yard) -> usize {
    let logs = files_below(&yard.folder().join("logs"));
    logs.iter().filter(|name| name.to_string_lossy().ends_with("-0002.jsonl")).count()
}
