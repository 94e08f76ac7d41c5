//! A home killed in mid-append, while a photo is made smaller, while the projection is built: nothing that was
//! acknowledged is lost, and the shop opens.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::json;
use trowelogue_api::Desk;
use trowelogue_testkit::dice::Dice;
use trowelogue_testkit::yard::files_below;

use crate::shop::pass;
use crate::{Place, open};

/// Rounds of this test; the kills of the journal itself are tested with more.
const ROUNDS: usize = 6;

/// Starts a child of this program that runs one of the functions below on a home and the shop.
fn child(name: &str, place: &Place) -> Child {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--ignored", "--exact", "--nocapture", name])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let told = format!("{}\n{}\n", place.home("home").display(), place.shop().display());
    child.stdin.take().unwrap().write_all(told.as_bytes()).unwrap();
    child
}

/// Home and shop, as a child was told on its standard input.
fn told() -> Option<(PathBuf, PathBuf)> {
    let places: Vec<String> = std::io::stdin().lines().map_while(Result::ok).take(2).collect();
    let [home, shop] = places.as_slice() else { return None };
    Some((home.into(), shop.into()))
}

/// The child of the test below: logs until it is killed, and names each step once it is acknowledged. It is told
/// home and folder on its standard input; without them it has nothing to do.
#[test]
#[ignore = "run by the test that kills it"]
fn child_that_logs() {
    let Some((home, shop)) = told() else { return };
    let desk = open(&home, &shop);
    let draft = pass(&desk, "K-02", 100);
    loop {
        println!("logged {}", desk.log(&draft).unwrap().hashes[0]);
    }
}

#[test]
fn a_step_that_was_acknowledged_survives_a_kill() {
    let place = Place::new();
    drop(place.desk("home"));
    let mut acknowledged: Vec<String> = Vec::new();
    for round in 0..ROUNDS {
        let mut child = child("killed::child_that_logs", &place);
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let hash = |line: String| line.rsplit_once("logged ").map(|(_, hash)| hash.to_owned());
        acknowledged.extend(lines.by_ref().filter_map(hash).take(1 + round % 3));
        child.kill().unwrap();
        child.wait().unwrap();
        acknowledged.extend(lines.filter_map(hash));

        let desk = open(&place.home("home"), &place.shop());
        let history = desk.piece("K-02").unwrap().history;
        let is_there = |hash: &String| history.iter().any(|it| it.hash == *hash);
        let lost: Vec<_> = acknowledged.iter().filter(|hash| !is_there(hash)).collect();
        assert!(lost.is_empty(), "round {round}: {lost:?}");
    }
    assert!(acknowledged.len() >= ROUNDS);
    let desk = open(&place.home("home"), &place.shop());
    desk.sweep().unwrap();
    let verified = desk.verify().unwrap();
    assert!(verified.good, "{:?}", verified.breaks);
}

/// A camera's photo: one of the demo's, with bytes after its end that no reader looks at, so that no two are the same.
fn camera(number: usize) -> String {
    let photos = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-logs/demo-shop/photos");
    let first = files_below(&photos).into_iter().next().unwrap();
    let mut bytes = std::fs::read(photos.join(first)).unwrap();
    bytes.extend(format!("{number} of {}", std::process::id()).bytes());
    data_encoding::BASE64.encode(&bytes)
}

/// The child of the test below: takes in a photo and logs a step with it at once, ready or not.
#[test]
#[ignore = "run by the test that kills it"]
fn child_that_takes_photos() {
    let Some((home, shop)) = told() else { return };
    let desk = open(&home, &shop);
    for number in 0.. {
        let photo = desk.add_photo(&camera(number)).unwrap().id;
        println!("photo {photo}");
        let mut step = pass(&desk, "K-02", 100);
        step.values.insert("photos".into(), json!([photo]));
        println!("logged {}", desk.log(&step).unwrap().hashes[0]);
    }
}

/// How many photos the entries of the piece that count name, once nothing waits any more.
fn photos_of(desk: &Desk) -> usize {
    let history = desk.piece("K-02").unwrap().history;
    let counts = history.iter().filter(|it| it.status == trowelogue_api::dto::EntryStatus::Counts);
    counts.map(|it| it.photos.len()).sum()
}

#[test]
fn a_photo_that_was_taken_in_survives_a_kill_and_finds_its_step() {
    let place = Place::new();
    let before = photos_of(&place.desk("home"));
    let mut dice = Dice::new(0x9_0f0);
    let mut logged = 0;
    for round in 0..ROUNDS {
        let mut child = child("killed::child_that_takes_photos", &place);
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let is_logged = |line: &String| line.starts_with("logged ");
        logged += lines.by_ref().filter(is_logged).take(1 + round % 2).count();
        std::thread::sleep(Duration::from_millis(dice.below(60) as u64));
        child.kill().unwrap();
        child.wait().unwrap();
        logged += lines.filter(is_logged).count();
    }
    let desk = open(&place.home("home"), &place.shop());
    let since = Instant::now();
    while photos_of(&desk) < before + logged {
        let found = photos_of(&desk) - before;
        assert!(since.elapsed() < Duration::from_secs(120), "{found} of {logged} photos came to their steps");
        std::thread::sleep(Duration::from_millis(50));
    }
    let verified = desk.verify().unwrap();
    assert!(verified.good, "{:?}", verified.breaks);
}

/// The child of the test below: throws the projection away and builds it again, over and over.
#[test]
#[ignore = "run by the test that kills it"]
fn child_that_rebuilds() {
    let Some((home, shop)) = told() else { return };
    loop {
        for file in projections(&home) {
            std::fs::remove_file(file).unwrap();
        }
        println!("begins");
        drop(open(&home, &shop));
        println!("built");
    }
}

/// The files of a home's projections.
fn projections(home: &std::path::Path) -> Vec<PathBuf> {
    let all = files_below(home).into_iter().filter(|it| it.to_string_lossy().contains("projection"));
    all.map(|it| home.join(it)).collect()
}

#[test]
fn a_projection_whose_building_was_killed_gives_the_same_answers() {
    let place = Place::new();
    let expected = place.desk("home").day(None).unwrap();
    let mut dice = Dice::new(0x9_0b1);
    assert!(!projections(&place.home("home")).is_empty(), "there is one");
    for round in 0..ROUNDS {
        let mut child = child("killed::child_that_rebuilds", &place);
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        assert!(lines.any(|line| line.ends_with("begins")), "round {round}");
        std::thread::sleep(Duration::from_millis(dice.below(900) as u64));
        child.kill().unwrap();
        child.wait().unwrap();
        let desk = open(&place.home("home"), &place.shop());
        assert_eq!(desk.day(None).unwrap(), expected, "round {round}");
        assert!(!desk.day(Some("K-02")).unwrap().groups.is_empty());
    }
}
