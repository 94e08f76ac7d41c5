//! The desk on a small shop of its own.

mod beside;
mod form;
mod glance;
mod help;
mod log;
mod opening;
mod photos;
mod projection;
mod shared;
mod shown;
mod stock;

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use tempfile::TempDir;

use super::Desk;
use crate::dto::{DayPiece, DayState, StepDraft};
use crate::{Clock, Session, Setup};

/// The moment of these tests.
const NOW: &str = "2025-03-04T10:20:00-06:00";

fn clock_at(said: &str) -> Clock {
    Clock::At(trowelogue_core::moment::parse(said).expect("a moment"))
}

/// Homes and a shop folder that vanish after the test.
struct Bench {
    all: TempDir,
}

impl Bench {
    /// A shop with one honed piece, poured four weeks ago, ground with 100 this morning.
    fn new() -> Self {
        let bench = Self { all: tempfile::tempdir().expect("a folder") };
        bench.desk("owner").found(&bench.shop(), "Quarry Lane", "Ada Brook").expect("founded");
        bench.add(&[
            json!({ "kind": "mix", "body": { "name": "Face mix", "aggregates": ["siliceous"] } }),
            json!({ "kind": "job", "body": { "code": "J-7", "name": "Kitchen", "handover_by": "2025-03-20" } }),
            json!({ "kind": "piece", "body": { "code": "C-1", "name": "Island", "job": "J-7", "mix": "Face mix",
                "length_mm": 1800, "width_mm": 600, "thickness_mm": 40, "finish": "honed" } }),
            json!({ "kind": "pour", "pieces": ["C-1"], "done": "2025-02-04T09:00:00-06:00",
                "body": { "mix": "Face mix", "batch": "B-1" } }),
            json!({ "kind": "grit_pass", "pieces": ["C-1"], "done": "2025-03-04T08:00:00-06:00", "body": pass(100) }),
        ]);
        bench
    }

    fn shop(&self) -> PathBuf {
        self.all.path().join("shop")
    }

    fn home(&self, name: &str) -> PathBuf {
        self.all.path().join(name)
    }

    fn desk(&self, home: &str) -> Desk {
        Desk::new(self.home(home), clock_at(NOW))
    }

    /// The owner's desk with the shop open.
    fn open(&self) -> Desk {
        let desk = self.desk("owner");
        desk.open_shop(&self.shop()).expect("opened");
        desk
    }

    fn setup(&self, home: &str) -> Setup {
        Setup { home: self.home(home), clock: clock_at(NOW), lang: None, units: None }
    }

    /// Entries written by another process of the owner's home.
    fn add(&self, entries: &[Value]) {
        let mut session = Session::open(&self.setup("owner"), &self.shop()).expect("opened");
        session.add(json!(entries).to_string().as_bytes(), "test").expect("added");
    }
}

/// A wet pass with a resin pad, cut out.
fn pass(grit: u32) -> Value {
    json!({ "region": "face", "grit": grit, "scale": "pad", "bond": "resin", "wet": true, "result": "cut_out" })
}

/// The form of a step, filled in.
fn step(kind: &str, piece: &str, values: Value) -> StepDraft {
    StepDraft {
        kind: kind.into(),
        pieces: vec![piece.into()],
        done: None,
        person: None,
        values: serde_json::from_value(values).expect("an object"),
        confirmed: Vec::new(),
        note: None,
    }
}

/// The piece C-1 in the day's list, and its group.
fn listed(desk: &Desk, find: Option<&str>) -> Option<(DayState, DayPiece)> {
    let groups = desk.day(find).expect("a day").groups.into_iter();
    let mut all = groups.flat_map(|group| group.pieces.into_iter().map(move |piece| (group.state, piece)));
    all.find(|(_, piece)| piece.code == "C-1")
}

/// Every line of every log in a folder.
fn lines(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    let mut open = vec![folder.join("logs")];
    while let Some(dir) = open.pop() {
        for entry in std::fs::read_dir(dir).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                open.push(path);
            } else {
                let text = std::fs::read_to_string(&path).expect("a log");
                found.extend(text.lines().map(str::to_owned));
            }
        }
    }
    found
}
