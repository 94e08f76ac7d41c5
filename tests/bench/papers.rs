//! A care sheet of two pages, and a process record of some forty tagged pages with 24 photos, each made in a process of
//! its own that has the shop open. Bounds: 0.05 CPU seconds for the sheet; 1.1 CPU seconds and 100 MB for the record.
//!
//! Yardstick: a general typesetter (`typst`, in the environment `TROWELOGUE_TYPESETTER` names) setting like documents,
//! see `typeset.py`. Without it the figures stand alone.

use std::error::Error;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::json;
use trowelogue_api::dto::{Lang, PaperAsk, PaperKind, PaperSize, UnitsChoice};
use trowelogue_api::{Clock, Session, Setup};
use trowelogue_testkit::demo::photo;
use trowelogue_testkit::trowelogue_core::moment::parse;

use crate::figure::{ROUNDS, cpu, show_taken};

/// The word that makes this program one of the processes.
pub(crate) const MAKE: &str = "make-paper";

type Outcome<T> = Result<T, Box<dyn Error>>;

const STEPS: usize = 130;
const PHOTOS: usize = 24;

pub(crate) fn run() {
    if let Err(error) = measured() {
        println!("papers: {error}");
    }
}

fn measured() -> Outcome<()> {
    let place = tempfile::tempdir()?;
    prepare(place.path())?;
    let typesetter = std::env::var_os("TROWELOGUE_TYPESETTER").map(PathBuf::from);
    println!("papers: {STEPS} steps, {PHOTOS} photos of 1600 pixels; most memory held");
    for (kind, what) in [
        ("sheet", "care sheet, 2 pages (a general typesetter)"),
        ("record", "process record (a general typesetter)"),
    ] {
        let ours = quickest(|| {
            Command::new(std::env::current_exe()?).args([MAKE, kind]).arg(place.path()).output()
        })?;
        let theirs = typesetter.as_deref().map(|python| quickest(|| typeset(python, kind, place.path())));
        show_taken(what, ours, theirs.transpose()?);
    }
    println!("papers: the record has {} bytes", fs::metadata(place.path().join("record.pdf"))?.len());
    Ok(())
}

fn typeset(python: &Path, kind: &str, place: &Path) -> std::io::Result<std::process::Output> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("bench/typeset.py");
    let out = place.join(format!("typeset-{kind}.pdf"));
    Command::new(python).arg(script).arg(kind).arg(place.join("photos")).arg(out).output()
}

/// The fewest CPU seconds of some runs, and the most memory held in that one: a process prints both.
fn quickest(run: impl Fn() -> std::io::Result<std::process::Output>) -> Outcome<(f64, u64)> {
    let mut best: Option<(f64, u64)> = None;
    for _ in 0..ROUNDS {
        let output = run()?;
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        let fault = || format!("{said}{}", String::from_utf8_lossy(&output.stderr));
        let (seconds, kib) = said.trim().split_once(' ').ok_or_else(fault)?;
        let taken: (f64, u64) = (seconds.parse()?, kib.parse()?);
        best = best.filter(|it| it.0 <= taken.0).or(Some(taken));
    }
    best.ok_or_else(|| "no round".into())
}

/// Makes one paper and prints what that took.
pub(crate) fn make(kind: &str, place: &str) {
    match made(kind, Path::new(place)) {
        Ok((seconds, kib)) => println!("{seconds:.4} {kib}"),
        Err(error) => println!("{error}"),
    }
}

fn made(kind: &str, place: &Path) -> Outcome<(f64, u64)> {
    let mut session = Session::open(&setup(place)?, &place.join("shop"))?;
    let ask = PaperAsk {
        kind: if kind == "sheet" { PaperKind::Care } else { PaperKind::Record },
        piece: Some("C-1".into()),
        job: None,
        lang: Lang::En,
        paper: PaperSize::A4,
        units: UnitsChoice::Si,
    };
    let before = cpu();
    session.write_paper(&ask, &place.join(format!("{kind}.pdf")))?;
    let spent = cpu().saturating_sub(before);
    Ok((spent.as_secs_f64(), most_memory()?))
}

/// The most memory this process has held, in KiB.
fn most_memory() -> Outcome<u64> {
    let status = fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).ok_or("no VmHWM")?;
    Ok(line.trim().trim_end_matches(" kB").parse()?)
}

fn setup(place: &Path) -> Outcome<Setup> {
    let clock = Clock::At(parse("2026-03-04T10:20:00-06:00")?);
    Ok(Setup { home: place.join("home"), clock, lang: None, units: None })
}

/// A shop with one piece, its passes and its photos; the photos beside it for the typesetter.
fn prepare(place: &Path) -> Outcome<()> {
    let mut session = Session::found(&setup(place)?, &place.join("shop"), "Alder Row", "Ines")?.session;
    let mut entries = vec![
        json!({ "kind": "mix", "body": { "name": "Face mix", "aggregates": ["siliceous"] } }),
        json!({ "kind": "job", "body": { "code": "J-1", "name": "Kitchen" } }),
        json!({ "kind": "piece", "body": { "code": "C-1", "name": "Island", "job": "J-1", "mix": "Face mix",
            "length_mm": 1800, "width_mm": 600, "thickness_mm": 40, "finish": "honed" } }),
        json!({ "kind": "pour", "pieces": ["C-1"], "body": { "mix": "Face mix", "batch": "B-1" } }),
    ];
    let pass = |at: usize| {
        json!({ "kind": "grit_pass", "pieces": ["C-1"], "body": { "region": "face",
        "grit": 50 << (at % 5), "scale": "pad", "bond": "resin", "wet": true, "result": "cut_out", "power": "electric",
        "rcd": "yes", "dust": "water", "notes": format!("pass {at}: the left edge needs a second look") } })
    };
    entries.extend((0..STEPS).map(pass));
    let dated = entries.into_iter().enumerate().map(|(at, mut entry)| {
        let (day, hour, minute) = (1 + at / 60, 8 + at % 60 / 6, at % 6 * 10);
        entry["done"] = json!(format!("2025-03-{day:02}T{hour:02}:{minute:02}:00-06:00"));
        entry.to_string()
    });
    session.add(dated.collect::<Vec<_>>().join("\n").as_bytes(), "bench")?;
    let pictures = place.join("photos");
    fs::create_dir_all(&pictures)?;
    for at in 0..PHOTOS {
        let picture = photo::large(&format!("C-{at}"));
        fs::write(pictures.join(format!("{at:02}.jpg")), &picture)?;
        let note = json!({ "kind": "note", "pieces": ["C-1"], "done": format!("2025-04-01T10:{at:02}:00-06:00"),
            "body": { "text": format!("photo {at}") } });
        session.add_with_photos(note.to_string().as_bytes(), "bench", &[picture])?;
    }
    Ok(())
}
