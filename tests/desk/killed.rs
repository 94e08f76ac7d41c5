//! A home killed in mid-append: no step that was acknowledged is lost, and the shop opens.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::shop::pass;
use crate::{Place, open};

/// Rounds of this test; the kills of the journal itself are tested with more.
const ROUNDS: usize = 6;

/// The child of the test below: logs until it is killed, and names each step once it is acknowledged. It is told
/// home and folder on its standard input; without them it has nothing to do.
#[test]
#[ignore = "run by the test that kills it"]
fn child_that_logs() {
    let places: Vec<String> = std::io::stdin().lines().map_while(Result::ok).take(2).collect();
    let [home, shop] = places.as_slice() else { return };
    let desk = open(Path::new(home), Path::new(shop));
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
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--ignored", "--exact", "--nocapture", "killed::child_that_logs"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let told = format!("{}\n{}\n", place.home("home").display(), place.shop().display());
        child.stdin.take().unwrap().write_all(told.as_bytes()).unwrap();
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
