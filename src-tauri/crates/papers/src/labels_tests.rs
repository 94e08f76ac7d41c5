//! A code is read back from the page as it is drawn; nothing leaves its label.

use super::*;
use crate::sample;
use crate::scene::Ink;

fn label(n: usize) -> Label {
    Label {
        id: format!("01954a2e-7c00-7000-8000-{n:012x}"),
        code: format!("C-{n:03}"),
        name: Some("Kitchen counter, left of the stove".into()),
        job: Some("Larch Lane kitchen".into()),
        place: Some("12 Larch Lane".into()),
        lift: Some(Lift { mass: "118 kg".into(), persons: 5, limit: "25 kg".into() }),
    }
}

fn labels(count: usize) -> Labels {
    Labels { imprint: sample::imprint(), labels: (1..=count).map(label).collect() }
}

/// The page in grey, so many pixels to the point: white, with what is filled in ink drawn on it.
fn drawn(scene: &Scene, page: usize, scale: f64) -> (usize, usize, Vec<u8>) {
    let size = scene.pages[page].size;
    let (width, height) = ((size.0 * scale) as usize, (size.1 * scale) as usize);
    let mut pixels = vec![255_u8; width * height];
    for item in &scene.pages[page].items {
        let Ink::Path { rings, fill: Some(Tone::Ink), .. } = &item.ink else { continue };
        for ring in rings {
            let (left, right) = (ring[0].0.min(ring[2].0), ring[0].0.max(ring[2].0));
            let (top, bottom) = (ring[0].1.min(ring[2].1), ring[0].1.max(ring[2].1));
            let at = |n: f64| (n * scale).round() as usize;
            for y in at(top)..at(bottom) {
                pixels[y * width + at(left)..y * width + at(right)].fill(0);
            }
        }
    }
    (width, height, pixels)
}

/// What a general reader of codes finds on each label of a page, as a phone sees one label at a time.
fn read(scene: &Scene, page: usize, frame: &Frame) -> Vec<String> {
    let scale = 4.0;
    let (width, _, pixels) = drawn(scene, page, scale);
    let (wide, high) = (frame.width() / 2.0, row_height(frame));
    let cells = (0..GRID.0 * GRID.1).map(|n| ((n % GRID.0) as f64 * wide, (n / GRID.0) as f64 * high));
    let px = |points: f64| (points * scale) as usize;
    let found = cells.filter_map(|(x, y)| {
        let (left, top) = (px(frame.left + x), px(frame.top + y));
        let at = |x: usize, y: usize| pixels[(top + y) * width + left + x];
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(px(wide), px(high), at);
        let grids = picture.detect_grids();
        assert!(grids.len() <= 1, "one code to a label");
        grids.first().map(|grid| grid.decode().expect("a whole code").1)
    });
    found.collect()
}

#[test]
fn every_code_reads_back_as_the_id_of_its_piece() {
    for paper in [Paper::A4, Paper::Letter] {
        let scene = scene(&labels(11), &Options { paper, ..Options::default() }).unwrap();
        assert_eq!(scene.pages.len(), 2, "eight to a sheet");
        let wanted: Vec<String> = (1..=11).map(|n| label(n).id).collect();
        let frame = frame(paper);
        assert_eq!([read(&scene, 0, &frame), read(&scene, 1, &frame)].concat(), wanted, "{paper:?}");
    }
}

#[test]
fn the_code_is_54_millimetres_wide_and_has_its_quiet_zone() {
    let scene = scene(&labels(1), &Options::default()).unwrap();
    let dark = scene.pages[0]
        .items
        .iter()
        .filter(|item| matches!(&item.ink, Ink::Path { fill: Some(Tone::Ink), .. }) && item.node.is_some());
    let (left, right) =
        dark.map(Item::bounds).fold((f64::MAX, 0.0_f64), |at, b| (at.0.min(b.0), at.1.max(b.2)));
    // Version 3 holds 42 bytes at level M: 29 modules, and four of quiet zone on each side (ISO/IEC 18004).
    let modules = (right - left) / MM / (54.0 / 37.0);
    assert!((modules - 29.0).abs() < 0.01, "{modules}");
}

#[test]
fn whatever_a_label_says_stays_on_it() {
    let mut hostile = labels(9);
    for (n, label) in hostile.labels.iter_mut().enumerate() {
        label.code = "C-very-long-code-without-a-break".repeat(1 + n);
        label.name = Some("Übergrößenträger 漢字 ".repeat(30));
        label.job = Some("W".repeat(300));
        label.place = Some("a street with a long name ".repeat(20));
        label.lift = (n % 2 == 0).then(|| Lift {
            mass: "1,234.5 kg".into(),
            persons: 50,
            limit: "24.95 kg (55.00 lb)".into(),
        });
    }
    for paper in [Paper::A4, Paper::Letter] {
        for lang in [Lang::En, Lang::Es] {
            let scene = scene(&hostile, &Options { paper, lang }).unwrap();
            let frame = frame(paper);
            let (wide, high) = (frame.width() / 2.0, row_height(&frame));
            for item in scene.pages.iter().flat_map(|page| &page.items).filter(|item| item.node.is_some()) {
                let (left, top, right, bottom) = item.bounds();
                let column = ((left - frame.left) / wide).floor();
                let row = ((top - frame.top) / high).floor();
                let (x, y) = (frame.left + column * wide, frame.top + row * high);
                assert!(left >= x && right <= x + wide && top >= y && bottom <= y + high, "{item:?}");
            }
        }
    }
}

#[test]
fn labels_of_nothing_are_refused() {
    assert_eq!(make(&labels(0), &Options::default(), Claim::AccessibleArchive), Err(PaperError::NoPiece));
}
