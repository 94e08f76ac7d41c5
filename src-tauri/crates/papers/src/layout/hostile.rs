//! Content nobody wishes for: what cannot be broken, what runs the other way, far too much, and nothing at all.

use std::collections::BTreeMap;

use trowelogue_core::text::Lang;

use super::Frame;
use super::tests::{ink_box, scene, texts};
use crate::font::Face;
use crate::model::{Fact, Options, Paper, ProcessRecord};
use crate::sample;
use crate::scene::{Ink, Item, NodeId, Page, Role, Scene};
use crate::text::showable;

/// Names that a type family made for Latin letters may choke on.
const NAMES: [&str; 8] = [
    "طاولة المطبخ الكبيرة",
    "שולחן מטבח",
    "厨房台面混凝土浇筑工程第十四号",
    "e\u{301}a\u{308}n\u{303}g\u{30A}o\u{302}\u{301}",
    "\u{1F6E0}\u{FE0F} \u{1F468}\u{200D}\u{1F469}\u{200D}\u{1F467} \u{1F1E8}\u{1F1ED}",
    "\u{1}\u{7}\u{1B}[31m\u{7F}\u{9B}",
    "\u{202E}desrever\u{202C} \u{2066}isolated\u{2069} \u{FEFF}",
    "हिन्दी क्षेत्र ไทย 한국어",
];

fn unbroken() -> String {
    "Betonküchenarbeitsplattenversiegelungsnachweis".repeat(9)
}

/// Every text of a record hostile in its own way, with 400 steps and 60 photos.
fn everything() -> ProcessRecord {
    let mut record = sample::record(400);
    let mut names = NAMES.iter().cycle().map(|it| (*it).to_owned());
    let mut next = || names.next().unwrap_or_default();
    record.imprint.shop = next();
    record.piece.code = next();
    record.piece.name = Some(format!("{} {}", next(), unbroken()));
    record.piece.job = next();
    record.piece.client = format!("{} {}", next(), unbroken());
    record.piece.site = Some(next());
    record.summary.push(Fact::new(next(), unbroken()));
    record.never_recorded.push(unbroken());
    for (at, step) in record.steps.iter_mut().enumerate().filter(|(at, _)| at % 5 == 0) {
        step.what = format!("{} {at}", next());
        step.who = unbroken();
        step.device = next();
        step.region = Some(unbroken());
        step.values.push(Fact::new(unbroken(), next()));
        step.note = Some(format!("{}\n{}", next(), unbroken()));
    }
    for finding in &mut record.findings {
        finding.title = unbroken();
        finding.rule = unbroken();
        finding.entries = vec![next(), unbroken()];
    }
    record.corrections[0].before = vec![Fact::new(unbroken(), unbroken())];
    record.products[0].lots = (0..40).map(|n| format!("{n} {}", next())).collect();
    record.devices[0].name = unbroken();
    record.glossary[0].term = unbroken();
    let photo = record.photos[0].clone();
    record.photos = (0..60).map(|_| photo.clone()).collect();
    record.photos.iter_mut().for_each(|photo| photo.caption = format!("{} {}", next(), unbroken()));
    record
}

/// Nothing that may be left out is there.
fn nothing() -> ProcessRecord {
    let mut record = sample::record(1);
    record.piece.name = None;
    record.piece.site = None;
    record.piece.outline = None;
    record.piece.facts.clear();
    record.imprint.contact.clear();
    record.summary.clear();
    record.never_recorded.clear();
    record.column = None;
    record.charts.clear();
    record.map = None;
    record.steps.clear();
    record.findings.clear();
    record.exceptions.clear();
    record.corrections.clear();
    record.products.clear();
    record.devices.clear();
    record.photos.clear();
    record.glossary.clear();
    record.basis.clear();
    record
}

/// The drawn text, in order.
fn drawn(scene: &Scene) -> String {
    let text = |item: &Item| match &item.ink {
        Ink::Text { word, glyphs, .. } => word.glyphs[glyphs.0..glyphs.1]
            .iter()
            .map(|g| &word.text[g.bytes.0 as usize..g.bytes.1 as usize])
            .collect::<String>(),
        _ => String::new(),
    };
    let all: String = scene.pages.iter().flat_map(|page| page.items.iter().map(text)).collect();
    all.split_whitespace().collect()
}

fn stands(scene: &Scene, page: &Page, number: usize, frame: &Frame) {
    let boxes = texts(&page.items);
    for (at, a) in boxes.iter().enumerate() {
        let inside = a.0 >= frame.left - 0.1 && a.2 <= frame.right + 0.1 && a.1 > 0.0 && a.3 < frame.size.1;
        assert!(inside, "page {number}: {a:?} off the page");
        let meets = |b: &&(f64, f64, f64, f64)| {
            a.0 < b.2 - 0.1 && b.0 < a.2 - 0.1 && a.1 < b.3 - 0.1 && b.1 < a.3 - 0.1
        };
        let other = boxes[at + 1..].iter().find(meets);
        assert!(other.is_none(), "page {number}: {a:?} on {other:?}");
    }
    for item in page.items.iter().filter(|item| item.node.is_some()) {
        let (_, top, _, bottom) = item.bounds();
        assert!(top >= frame.top - 6.0 && bottom <= frame.bottom + 6.0, "page {number}: {item:?}");
    }
    cells(scene, page, number);
}

/// Each cell keeps to its column: it begins no further left than the column's head, and ends before the next one's.
fn cells(scene: &Scene, page: &Page, number: usize) {
    let tables = columns(scene);
    for item in page.items.iter().filter(|item| matches!(item.ink, Ink::Text { .. })) {
        let Some((table, column)) = item.node.and_then(|node| cell_of(scene, node)) else { continue };
        let lefts = &tables[&table];
        let (left, _, right, _) = ink_box(item);
        assert!(left >= lefts[column] - 0.1, "page {number}: {item:?} stands left of column {column}");
        let end = lefts.get(column + 1).copied().unwrap_or(f64::MAX);
        assert!(right <= end, "page {number}: {item:?} runs into column {}", column + 1);
    }
}

/// The left edges of the columns of every table, by the words that head them.
fn columns(scene: &Scene) -> BTreeMap<NodeId, Vec<f64>> {
    let mut lefts: BTreeMap<NodeId, Vec<f64>> = BTreeMap::new();
    for item in scene.pages.iter().flat_map(|page| &page.items) {
        let Some((table, column)) = item.node.and_then(|node| cell_of(scene, node)) else { continue };
        let edges = lefts.entry(table).or_default();
        if edges.len() <= column {
            edges.resize(column + 1, f64::MAX);
            edges[column] = item.bounds().0;
        }
    }
    lefts
}

/// The table a node stands in, and the number of its column there.
fn cell_of(scene: &Scene, mut node: NodeId) -> Option<(NodeId, usize)> {
    let nodes = scene.tree.nodes();
    loop {
        let parent = nodes[node].parent?;
        if nodes[parent].role == Role::Row {
            let column = nodes[parent].kids.iter().position(|kid| *kid == node)?;
            return Some((nodes[parent].parent?, column));
        }
        node = parent;
    }
}

#[test]
fn nothing_overflows_overlaps_or_leaves_its_cell() {
    for paper in [Paper::A4, Paper::Letter] {
        let frame = Frame::of(paper);
        for record in [everything(), nothing()] {
            let scene = scene(&record, Options { paper, ..Options::default() });
            for (number, page) in scene.pages.iter().enumerate() {
                stands(&scene, page, number + 1, &frame);
            }
        }
    }
}

#[test]
fn every_hostile_word_is_shown_or_stands_there_as_its_numbers() {
    let record = everything();
    let scene = scene(&record, Options::default());
    let text = drawn(&scene);
    let squeezed = |text: &str| showable(text, Face::Regular).split_whitespace().collect::<String>();
    for name in NAMES {
        assert!(text.contains(&squeezed(name)), "{name:?} as {}", squeezed(name));
    }
    assert!(text.contains("[U+0637]") && text.contains("[U+53A8]") && text.contains("[U+1F6E0]"), "marks");
    assert!(text.contains("[U+202E]desrever"), "what would turn the reading round is named");
    let note = crate::words::REPLACED.get(Lang::En).split_whitespace().collect::<String>();
    assert!(text.contains(&note), "the paper says what the marks are");
    let whole = text.matches("Betonküchenarbeitsplattenversiegelungsnachweis").count();
    // Long words are cut between lines, never shortened.
    assert!(whole >= 9 * 80, "{whole}");
}

#[test]
fn a_record_of_nothing_still_has_its_pages() {
    let scene = scene(&nothing(), Options::default());
    assert!(!scene.pages.is_empty());
    let said = crate::words::NO_STEPS.get(Lang::En).split_whitespace().collect::<String>();
    assert!(drawn(&scene).contains(&said));
}
