//! The projection is a cache: missing, garbled or behind, the answers are the same.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::{Bench, listed, pass, step};
use crate::dto::Day;

pub(super) fn projection(bench: &Bench) -> PathBuf {
    let shops = std::fs::read_dir(bench.home("owner").join("shops")).expect("shops");
    let shop = shops.flatten().next().expect("one shop").path();
    shop.join("projection.sqlite")
}

fn answers(bench: &Bench) -> (Day, Day, Day) {
    let desk = bench.open();
    let day = |find| desk.day(find).expect("a day");
    (day(None), day(Some("island")), day(Some("L-4711")))
}

/// Has it been read back: a changed row shows where it was, a rebuilt one does not.
fn is_same_file(path: &Path, before: &[u8]) -> bool {
    std::fs::read(path).is_ok_and(|now| now == before)
}

#[test]
fn a_projection_thrown_away_or_garbled_gives_the_same_answers() {
    let bench = Bench::new();
    let desk = bench.open();
    desk.log(&step(
        "fill",
        "C-1",
        json!({ "region": "face", "material": "cement_fill", "lot": "L-4711", "method": "slurry" }),
    ))
    .expect("logged");
    drop(desk);
    let path = projection(&bench);
    let wanted = answers(&bench);
    assert!(wanted.2.groups.iter().any(|group| !group.pieces.is_empty()), "found by its lot");

    let whole = std::fs::read(&path).expect("a projection");
    assert_eq!(answers(&bench), wanted);
    assert!(is_same_file(&path, &whole), "a current projection is used as it is");

    std::fs::remove_file(&path).expect("thrown away");
    assert_eq!(answers(&bench), wanted);
    for garbled in [b"no database".to_vec(), Vec::new(), whole[..whole.len() / 2].to_vec()] {
        std::fs::write(&path, garbled).expect("garbled");
        assert_eq!(answers(&bench), wanted);
    }
}

#[test]
fn a_projection_that_cannot_be_written_is_said_and_nothing_else_changes() {
    let bench = Bench::new();
    let wanted = answers(&bench);
    let path = projection(&bench);
    std::fs::remove_file(&path).expect("thrown away");
    std::fs::create_dir_all(path.join("in the way")).expect("a folder");
    let (day, found, _) = answers(&bench);
    assert_eq!((&day.groups, &found.groups), (&wanted.0.groups, &wanted.1.groups));
    assert!(day.notices.iter().any(|it| it.contains("search index")), "{:?}", day.notices);
}

#[test]
fn piece_by_piece_it_comes_to_what_a_whole_reading_gives() {
    let bench = Bench::new();
    let desk = bench.open();
    let first = desk.log(&step("grit_pass", "C-1", pass(800))).expect("logged");
    desk.log(&step("grit_pass", "C-1", pass(1500))).expect("logged");
    desk.except("C-1", "grit-step", Some(&first.hashes[0]), "clean").expect("kept");
    desk.strike(&first.hashes[0], "not done").expect("struck");
    bench.add(&[
        json!({ "kind": "piece", "body": { "code": "C-2", "name": "Shelf", "finish": "honed" } }),
        json!({ "kind": "job", "object": "J-7", "body": { "code": "J-7", "name": "Kitchen north", "handover_by": "2025-03-10" } }),
    ]);
    desk.sweep().expect("swept");
    let by_steps = desk.day(None).expect("a day");
    std::fs::remove_file(projection(&bench)).expect("thrown away");
    assert_eq!(bench.open().day(None).expect("a day"), by_steps);
    let (_, piece) = listed(&desk, Some("north")).expect("found by the new name of its job");
    assert_eq!(piece.job, "J-7 Kitchen north");
}
