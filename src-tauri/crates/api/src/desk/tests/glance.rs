//! The first look: what was seen last is there at once, and gives way to the record.

use std::sync::mpsc;

use serde_json::json;

use super::{Bench, listed, pass, step};
use crate::dto::{Lang, Settings, Standing};

/// The bench after a day was looked at.
fn looked_at() -> Bench {
    let bench = Bench::new();
    bench.open().day(None).expect("a day");
    bench
}

#[test]
fn start_and_day_are_as_the_record_has_them() {
    let bench = looked_at();
    let desk = bench.open();
    let (start, day) = (desk.start(), desk.day(None).expect("a day"));
    let seen = bench.desk("owner").glance_at(&bench.shop()).expect("a glance");
    assert_eq!(seen.start, start);
    assert_eq!(seen.day, day);
    assert_eq!(start.standing, Standing::Owner);
}

#[test]
fn whoever_needs_the_record_waits_for_it_and_the_watcher_is_told_once_it_is_there() {
    let bench = looked_at();
    let desk = bench.desk("owner");
    let (tell, told) = mpsc::channel();
    let tell = std::sync::Mutex::new(tell);
    desk.watch(move |changed| drop(tell.lock().map(|tell| tell.send(changed))));
    assert_eq!(desk.start().standing, Standing::Owner);
    let logged = desk.log(&step("grit_pass", "C-1", pass(200))).expect("logged");
    assert_eq!(logged.hashes.len(), 1);
    assert!(told.recv().expect("told").pieces.is_empty(), "everything is asked for again");
    let (_, piece) = listed(&desk, None).expect("in the day");
    assert_eq!(piece, listed(&bench.open(), None).expect("in the day").1);
}

#[test]
fn what_another_process_wrote_meanwhile_is_there_once_the_record_is_read() {
    let bench = looked_at();
    bench.add(&[json!({ "kind": "piece", "body": { "code": "C-2", "name": "Shelf", "finish": "honed" } })]);
    let desk = bench.desk("owner");
    desk.start();
    desk.folder().expect("read");
    let day = desk.day(None).expect("a day");
    assert!(day.groups.iter().flat_map(|group| &group.pieces).any(|piece| piece.code == "C-2"));
}

#[test]
fn in_another_language_without_a_projection_or_elsewhere_there_is_no_glance() {
    let bench = looked_at();
    let glance = || bench.desk("owner").glance_at(&bench.shop());
    assert!(glance().is_some());
    assert!(bench.desk("owner").glance_at(&bench.all.path().join("elsewhere")).is_none());
    assert!(bench.desk("nobody").glance_at(&bench.shop()).is_none());
    let settings = bench.open().start().settings;
    let spanish = Settings { lang: Lang::Es, ..settings.clone() };
    bench.desk("owner").set_settings(&spanish).expect("kept");
    assert!(glance().is_none(), "rows speak English");
    bench.desk("owner").set_settings(&settings).expect("kept");
    assert!(glance().is_some());
    let path = super::projection::projection(&bench);
    std::fs::write(&path, b"no database").expect("garbled");
    assert!(glance().is_none());
    std::fs::remove_file(&path).expect("thrown away");
    assert!(glance().is_none());
    assert_eq!(bench.desk("owner").start().standing, Standing::Owner, "the shop opens all the same");
}
