//! The desk on a shop of 10,000 pieces and 100,000 entries: what a person waits for. Bound: the 95th percentile of
//! the commonest touches below 100 ms; the first day from a warm projection before anything is folded.
//!
//! Yardstick: none but the bound. Wall time is what a person waits, with the disk in it; CPU time is what a busy
//! machine does not spoil.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use trowelogue_api::dto::{DayState, StepDraft};
use trowelogue_api::{Clock, Desk};
use trowelogue_testkit::crowd;
use trowelogue_testkit::yard::Outcome;

use crate::figure::cpu;

const PIECES: usize = 10_000;
const AT_WORK: usize = 400;
/// Touches of each kind.
const TOUCHES: usize = 40;

pub(crate) fn run() {
    if let Err(error) = measured() {
        println!("desk: {error}");
    }
}

/// A shop of so many years, made once.
fn place() -> Outcome<PathBuf> {
    let place = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("long-years-{PIECES}-{AT_WORK}"));
    if !place.join("whole").exists() {
        if place.exists() {
            std::fs::remove_dir_all(&place)?;
        }
        crowd::long_years(&place.join("home"), &place.join("shop"), PIECES, AT_WORK)?;
        std::fs::write(place.join("whole"), "")?;
    }
    Ok(place)
}

fn measured() -> Outcome<()> {
    let place = place()?;
    let new = || Desk::new(place.join("home"), Clock::System);
    println!("desk: {PIECES} pieces, {AT_WORK} of them at work");
    println!("{:<44} {:>9} {:>9} {:>9} {:>9}", "touch (ms)", "wall p50", "wall p95", "cpu p50", "cpu p95");
    let mut kept = Vec::new();
    show("first day of a warm start", 5, |_| {
        let desk = new();
        desk.start();
        let day = desk.day(None);
        // Kept until the end: ending a desk is not part of it.
        kept.push(desk);
        day.map(drop)
    });
    show("the same, then the whole shop read and folded", 3, |_| {
        let desk = new();
        desk.start();
        let whole = desk.folder();
        kept.push(desk);
        whole.map(drop)
    });
    drop(kept);
    touches(&new())
}

fn touches(desk: &Desk) -> Outcome<()> {
    desk.start();
    desk.folder()?;
    let day = desk.day(None)?;
    let at_work: Vec<String> = day
        .groups
        .iter()
        .filter(|group| group.state != DayState::Done)
        .flat_map(|group| group.pieces.iter().map(|piece| piece.id.clone()))
        .collect();
    let piece = |turn: usize| at_work[turn * 7 % at_work.len()].clone();
    show("day", TOUCHES, |_| desk.day(None).map(drop));
    show("find by code", TOUCHES, |turn| desk.day(Some(&format!("P-{:05}", turn * 211))).map(drop));
    show("find by a word", TOUCHES, |turn| desk.day(Some(&format!("terrace {}", turn * 3))).map(drop));
    show("piece", TOUCHES, |turn| desk.piece(&piece(turn)).map(drop));
    show("form, grit pass", TOUCHES, |turn| desk.form("grit_pass", &[piece(turn)]).map(drop));
    show("form, coat", TOUCHES, |turn| desk.form("seal_coat", &[piece(turn)]).map(drop));
    show("try a touch, grit pass", TOUCHES, |turn| desk.try_step(&grit(&piece(turn), turn)).map(drop));
    show("keep a draft", TOUCHES, |turn| desk.keep_draft(&grit(&piece(turn), turn)));
    let mut written = Vec::new();
    show("log, grit pass", TOUCHES, |turn| {
        let logged = desk.log(&grit(&piece(turn), turn))?;
        written.extend(logged.hashes);
        Ok(())
    });
    show("strike", TOUCHES, |turn| desk.strike(&written[turn], "not done").map(drop));
    Ok(())
}

fn grit(piece: &str, turn: usize) -> StepDraft {
    let values = json!({ "region": "face", "grit": "200", "scale": "pad", "bond": "resin", "wet": true,
        "result": "cut_out", "notes": format!("turn {turn}") });
    let values = match values {
        Value::Object(map) => map.into_iter().collect(),
        _ => Default::default(),
    };
    StepDraft {
        kind: "grit_pass".into(),
        pieces: vec![piece.into()],
        done: None,
        person: None,
        values,
        confirmed: Vec::new(),
        note: None,
    }
}

/// Does it so many times and prints the middle and the 95th percentile.
fn show(what: &str, times: usize, mut touch: impl FnMut(usize) -> trowelogue_api::Result<()>) {
    let (mut wall, mut spent) = (Vec::new(), Vec::new());
    for turn in 0..times {
        let (began, before) = (Instant::now(), cpu());
        if let Err(error) = touch(turn) {
            println!("{what}: {}", error.message);
            return;
        }
        wall.push(began.elapsed());
        spent.push(cpu().saturating_sub(before));
    }
    let [a, b] = [&mut wall, &mut spent].map(|it| {
        it.sort();
        [at(it, 50), at(it, 95)]
    });
    println!("{what:<44} {:>9.1} {:>9.1} {:>9.1} {:>9.1}", a[0], a[1], b[0], b[1]);
}

/// The percentile of sorted durations, in milliseconds.
fn at(sorted: &[Duration], percent: usize) -> f64 {
    let place = (sorted.len() * percent).div_ceil(100).saturating_sub(1);
    sorted.get(place).map_or(0.0, |it| it.as_secs_f64() * 1000.0)
}
