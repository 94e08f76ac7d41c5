//! Nothing sticks out of the page and no two texts stand on each other, whatever comes in.

use crate::layout::Frame;
use crate::model::{Options, Paper, ProcessRecord};
use crate::sample;
use crate::scene::{Ink, Item, Scene};

pub(super) fn scene(record: &ProcessRecord, options: Options) -> Scene {
    let mut c = crate::record::compose(record, &options);
    let slabs = c.finish().unwrap();
    crate::sheet::scene(c, slabs, &record.imprint, &options, "title".into(), "subject".into())
}

fn hostile() -> ProcessRecord {
    let mut record = sample::record(60);
    record.piece.code = "C-014-very-long-code-without-a-place-to-break-it".repeat(3);
    record.piece.name = Some("Übergrößenträger 漢字 ".repeat(40));
    record.piece.client = "W".repeat(900);
    record.steps[0].note = Some("word ".repeat(4000));
    record.steps[1].what = "x".repeat(300);
    record.steps[2].values[0].label = "a label that takes more than one line".repeat(4);
    record.findings[0].rule = "r".repeat(200);
    record.imprint.shop = "Shop ".repeat(60);
    record
}

pub(super) fn texts(items: &[Item]) -> Vec<(f64, f64, f64, f64)> {
    let inked = |item: &&Item| match &item.ink {
        Ink::Text { word, glyphs, .. } => !word.text.trim().is_empty() && glyphs.0 < glyphs.1,
        _ => false,
    };
    items.iter().filter(inked).map(ink_box).collect()
}

/// The box of the letters without the room for accents above capitals.
pub(super) fn ink_box(item: &Item) -> (f64, f64, f64, f64) {
    let (left, top, right, bottom) = item.bounds();
    let trailing = match &item.ink {
        Ink::Text { word, style, .. } => word.trailing * style.size,
        _ => 0.0,
    };
    let slack = (bottom - top) * 0.2;
    (left, top + slack, right - trailing, bottom - slack / 2.0)
}

#[test]
fn every_text_stands_inside_the_page_and_off_every_other() {
    for paper in [Paper::A4, Paper::Letter] {
        let frame = Frame::of(paper);
        for record in [sample::record(40), hostile()] {
            let scene = scene(&record, Options { paper, ..Options::default() });
            for (number, page) in scene.pages.iter().enumerate() {
                let boxes = texts(&page.items);
                for (at, a) in boxes.iter().enumerate() {
                    let inside = a.0 >= frame.left - 0.1 && a.2 <= frame.right + 0.1;
                    assert!(inside && a.1 > 0.0 && a.3 < frame.size.1, "page {number}: {a:?}");
                    let meets = |b: &&(f64, f64, f64, f64)| {
                        a.0 < b.2 - 0.1 && b.0 < a.2 - 0.1 && a.1 < b.3 - 0.1 && b.1 < a.3 - 0.1
                    };
                    let other = boxes[at + 1..].iter().find(meets);
                    assert!(other.is_none(), "page {number}: {a:?} on {other:?}");
                }
            }
        }
    }
}

#[test]
fn body_text_never_runs_into_the_foot() {
    let frame = Frame::of(Paper::A4);
    for page in scene(&hostile(), Options::default()).pages {
        for item in page.items.iter().filter(|item| item.node.is_some()) {
            let (_, top, _, bottom) = item.bounds();
            assert!(top >= frame.top - 6.0 && bottom <= frame.bottom + 6.0, "{item:?}");
        }
    }
}

#[test]
fn the_header_row_is_repeated_and_read_once() {
    let scene = scene(&sample::record(60), Options::default());
    let is_head = |item: &&Item| matches!(&item.ink, Ink::Text { word, style, .. } if style.caps && word.text.trim() == "recorded");
    let heads: Vec<_> = scene.pages.iter().flat_map(|page| page.items.iter().filter(is_head)).collect();
    assert!(heads.len() > 3, "{}", heads.len());
    assert_eq!(heads.iter().filter(|item| item.node.is_some()).count(), 1);
}

/// A page is well filled: only the last, and one before a part that cannot be cut, may end early.
#[test]
fn pages_are_filled_down_to_their_foot() {
    let frame = Frame::of(Paper::A4);
    let pages = scene(&sample::record(60), Options::default()).pages;
    let lowest = |items: &[Item]| {
        items.iter().filter(|item| item.node.is_some()).map(|item| item.bounds().3).fold(0.0, f64::max)
    };
    let early: Vec<f64> = pages[..pages.len() - 2]
        .iter()
        .map(|page| frame.bottom - lowest(&page.items))
        .filter(|left| *left > frame.height() / 4.0)
        .collect();
    assert!(early.is_empty(), "points left empty: {early:?}");
}

/// A row that is cut keeps every line, each once, and none of them alone.
#[test]
fn a_long_row_is_cut_between_its_lines() {
    let mut record = sample::record(3);
    record.steps[1].values =
        (0..90).map(|n| crate::model::Fact::new(format!("l{n}"), format!("value{n}"))).collect();
    let scene = scene(&record, Options::default());
    let is_value =
        |item: &&Item| matches!(&item.ink, Ink::Text { word, .. } if word.text.trim().starts_with("value"));
    let on_page: Vec<usize> = scene
        .pages
        .iter()
        .map(|page| page.items.iter().filter(is_value).count())
        .filter(|n| *n > 0)
        .collect();
    assert!(on_page.len() > 1, "{on_page:?}");
    assert_eq!(on_page.iter().sum::<usize>(), 90);
    assert!(on_page.iter().all(|count| *count > 1), "{on_page:?}");
}

#[test]
fn a_core_of_many_layers_goes_on_over_pages_and_keeps_all_its_words() {
    let scene = scene(&sample::record(400), Options::default());
    let is_layer = |item: &&Item| matches!(&item.ink, Ink::Text { word, style, .. } if (style.leading - 9.6).abs() < 1e-9 && word.text.trim() == "Layer");
    let layers: usize = scene.pages.iter().map(|page| page.items.iter().filter(is_layer).count()).sum();
    assert_eq!(layers, 400);
}
