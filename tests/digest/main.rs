//! Devices that hold the same entries show the same state: a thousand ways in which one set of entries can lie in
//! a folder and arrive there, read by the journal and folded, give one digest.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

mod arrival;
mod chance;
mod shop;

use std::collections::BTreeSet;

use arrival::Reader;
use chance::Chance;
use shop::Written;
use trowelogue_testkit::trowelogue_core::entry::Merged;
use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
use trowelogue_testkit::trowelogue_core::shop::Status;
use trowelogue_testkit::trowelogue_journal::read_folder;

const CASES: u64 = 1_000;

fn digest_of(merged: &Merged) -> String {
    digest(&fold(merged)).to_string()
}

#[test]
fn however_the_entries_lie_and_arrive_the_digest_is_one() {
    let written = Written::new();
    let threads = std::thread::available_parallelism().map_or(1, |it| it.get() as u64);
    std::thread::scope(|scope| {
        let part = |first| (first..CASES).step_by(threads as usize);
        for first in 0..threads {
            let written = &written;
            scope.spawn(move || {
                let reader = Reader::new(written);
                part(first).for_each(|case| one_digest(case, written, &reader));
            });
        }
    });
}

fn one_digest(case: u64, written: &Written, reader: &Reader) {
    let expected = digest_of(&written.merged);
    let mut chance = Chance::of(case);
    let files = arrival::scatter(written, &mut chance);
    let arrived = reader.receive(&files, &mut chance);
    assert_eq!(digest_of(&arrived), expected, "case {case}, arriving: {}", arrival::listing(&files));
    let at_once = read_folder(&reader.folder()).unwrap();
    assert_eq!(digest_of(&at_once.merged), expected, "case {case}, at once: {}", arrival::listing(&files));
}

/// A shop in which nothing is decided by order would prove nothing.
#[test]
fn the_shop_has_entries_of_every_status_and_a_fork() {
    let written = Written::new();
    let shop = fold(&written.merged);
    let statuses: BTreeSet<&str> = shop.steps.iter().map(|step| step.status.wire()).collect();
    let every = [Status::Counts, Status::Struck, Status::Replaced, Status::Apart, Status::Waiting];
    assert_eq!(statuses, every.iter().map(|it| it.wire()).collect());
    assert_eq!(shop.forks.len(), 3, "three numbers were given twice");
    assert!(shop.steps.len() >= 30, "{} entries", shop.steps.len());
    // One entry more or less is another state.
    let mut less = written.merged.clone();
    less.records.pop();
    assert_ne!(digest_of(&less), digest_of(&written.merged));
}
