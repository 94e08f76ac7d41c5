//! Papers of a shop that records what nobody expects: names without a place to break, scripts the type family lacks,
//! 400 steps, 60 photos; and a piece of which next to nothing is recorded.

use std::path::Path;

use serde_json::{Value, json};
use trowelogue_api::Session;
use trowelogue_api::dto::{PaperKind, PaperSize};

use crate::places;
use crate::reader::{Paper, squeezed, tools};
use crate::shop::{Desk, Variant};

const STEPS: usize = 400;
const PHOTOS: usize = 60;
const ARABIC: &str = "طاولة المطبخ";
const HEBREW: &str = "שולחן";
const CHINESE: &str = "厨房台面";
const COMBINING: &str = "Pin\u{303}ata e\u{301}te\u{301}";
const EMOJI: &str = "\u{1F6E0} bench";

fn long() -> String {
    "Betonküchenarbeitsplattenversiegelung".repeat(4)
}

/// A shop with one piece of everything, and one of nothing.
fn shop() -> Desk {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path().join("shop");
    let desk = Desk { place, folder };
    let founded =
        Session::found(&desk.setup(Variant::FIRST), &desk.folder, &format!("{HEBREW} {EMOJI}"), &long());
    let mut session = founded.unwrap().session;
    let mut entries = vec![
        json!({ "kind": "client", "body": { "name": format!("{ARABIC} {CHINESE}") } }),
        json!({ "kind": "job", "body": { "code": "J-1", "name": format!("{COMBINING} {}", long()),
            "client": format!("{ARABIC} {CHINESE}"), "site": long() } }),
        json!({ "kind": "piece", "body": { "code": "C-1", "name": format!("{EMOJI} {CHINESE} {}", long()), "job": "J-1" } }),
        json!({ "kind": "piece", "body": { "code": "C-2", "name": "x" } }),
    ];
    let texts = [ARABIC, HEBREW, CHINESE, COMBINING, EMOJI];
    entries.extend((0..STEPS).map(|at| {
        let text = format!("entry{at}x {} {}", texts[at % texts.len()], long());
        json!({ "kind": "note", "pieces": ["C-1"], "body": { "text": text } })
    }));
    add(&mut session, entries);
    photos(&mut session);
    desk
}

fn add(session: &mut Session, entries: Vec<Value>) {
    let lines = entries.into_iter().enumerate().map(|(at, mut entry)| {
        entry["done"] =
            json!(format!("2025-03-{:02}T{:02}:{:02}:00-06:00", 1 + at / 400, at / 60 % 24, at % 60));
        entry.to_string()
    });
    session.add(lines.collect::<Vec<_>>().join("\n").as_bytes(), "test").unwrap();
}

fn photos(session: &mut Session) {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-logs/demo-shop/photos");
    let file = files(&demo).into_iter().next().unwrap();
    let photo = std::fs::read(file).unwrap();
    for at in 0..PHOTOS {
        let note = json!({ "kind": "note", "pieces": ["C-1"], "done": format!("2025-04-01T10:{at:02}:00-06:00"),
            "body": { "text": format!("photo{at}x") } });
        session.add_with_photos(note.to_string().as_bytes(), "test", std::slice::from_ref(&photo)).unwrap();
    }
}

fn files(dir: &Path) -> Vec<std::path::PathBuf> {
    let items = std::fs::read_dir(dir).into_iter().flatten().flatten().map(|it| it.path());
    items.flat_map(|path| if path.is_dir() { files(&path) } else { vec![path] }).collect()
}

#[test]
fn nothing_is_cut_lost_or_laid_over_another_whatever_is_recorded() {
    if !tools() {
        return;
    }
    let desk = shop();
    let mut session = desk.open(Variant::FIRST);
    for paper in [PaperSize::A4, PaperSize::Letter] {
        let variant = Variant { paper, ..Variant::FIRST };
        for (kind, piece) in [
            (PaperKind::Record, "C-1"),
            (PaperKind::Care, "C-1"),
            (PaperKind::Record, "C-2"),
            (PaperKind::Care, "C-2"),
        ] {
            let made = desk.make(&mut session, kind, piece, variant);
            places::measure(&made);
            if kind == PaperKind::Record && piece == "C-1" {
                whole(&made);
            }
        }
    }
}

/// Every note is there, each character drawn or named by its number, and the paper says what the numbers are.
fn whole(paper: &Paper) {
    let read = paper.read();
    let text = read.flowing();
    let marks =
        |words: &str| -> String { words.chars().map(|c| format!("[U+{:04X}]", u32::from(c))).collect() };
    for (words, shown) in [
        (ARABIC, ARABIC.split(' ').map(marks).collect::<String>()),
        (HEBREW, marks(HEBREW)),
        (CHINESE, marks(CHINESE)),
        (EMOJI, format!("{}bench", marks("\u{1F6E0}"))),
        (COMBINING, squeezed("Piñata été")),
    ] {
        let found = text.matches(&shown).count() + text.matches(&squeezed(words)).count();
        assert!(found >= STEPS / 5, "{words}: {found} times");
    }
    let told = |page: &String| squeezed(page).contains(&squeezed("is shown by its Unicode number"));
    assert!(read.pages.iter().all(told), "every page says what the numbers are");
    for at in 0..STEPS {
        assert!(text.contains(&format!("entry{at}x")), "note {at}");
    }
    for at in 0..PHOTOS {
        assert!(text.contains(&format!("photo{at}x")), "photo {at}");
    }
}
