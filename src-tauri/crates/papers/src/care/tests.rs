//! The care sheet keeps to two pages, nothing sticks out, and both pages are used.

use super::*;
use crate::layout::Frame;
use crate::model::{Dated, Fact, Paper};
use crate::sample;
use crate::scene::{Ink, Scene};

fn variants() -> Vec<Options> {
    let langs = [Lang::En, Lang::Es];
    langs
        .iter()
        .flat_map(|lang| [Paper::A4, Paper::Letter].map(|paper| Options { lang: *lang, paper }))
        .collect()
}

fn scene(care: &CareSheet, options: &Options) -> Scene {
    let mut c = compose(care, options).unwrap();
    let slabs = c.finish().unwrap();
    sheet::scene(c, slabs, &care.imprint, options, "title".into(), "subject".into())
}

fn hostile(handed_over: Option<String>) -> CareSheet {
    let mut care = sample::care();
    let group = &mut care.groups[0];
    let dated =
        || Some(Dated { day: "28 Sep 2022, 15:00".into(), basis: "a basis of many words ".repeat(2) });
    group.pieces[0].code = "C-014-very-long-code-without-a-place-to-break-it".repeat(4);
    group.pieces[0].name = Some("Übergrößenträger 漢字 ".repeat(40));
    group.pieces[0].client = "W".repeat(900);
    group.pieces[0].site = Some("a street with a long name ".repeat(30));
    group.pieces[0].facts = (0..9).map(|n| Fact::new(format!("label {n}"), "value ".repeat(60))).collect();
    group.sealing = (0..7).map(|n| Fact::new(format!("label {n}"), "value ".repeat(60))).collect();
    group.handed_over = handed_over;
    group.dates.first_water = dated();
    group.dates.renewal = dated();
    group.warranty = vec!["terms and conditions ".repeat(90); 8];
    group.food_contact = Some("declared in many words ".repeat(120));
    group.touch_up = Some("call, then call again ".repeat(80));
    group.left_with = vec!["a data sheet".into(); 60];
    care.imprint.contact = vec!["a line of an address".into(); 12];
    care
}

#[test]
fn one_piece_takes_two_pages_whatever_the_shop_wrote() {
    for options in variants() {
        for care in [sample::care(), hostile(None), hostile(Some("5 Oct 2022, to a person ".repeat(40)))] {
            let scene = scene(&care, &options);
            assert_eq!(scene.pages.len(), 2, "{options:?}");
            let frame = Frame::of(options.paper);
            for item in scene.pages.iter().flat_map(|page| &page.items).filter(|it| it.node.is_some()) {
                let (left, top, right, bottom) = item.bounds();
                // The space after the last word of a line is no ink.
                let space = match &item.ink {
                    Ink::Text { word, style, .. } => word.trailing * style.size,
                    _ => 0.0,
                };
                let across = left >= frame.left - 1.0 && right - space <= frame.right + 1.0;
                assert!(
                    across && top >= frame.top - 6.0 && bottom <= frame.bottom + 2.0,
                    "{options:?}: {item:?}"
                );
            }
        }
    }
}

/// Neither page of a usual sheet ends before nine tenths of its height.
#[test]
fn both_pages_are_used() {
    for options in variants() {
        let frame = Frame::of(options.paper);
        for page in scene(&sample::care(), &options).pages {
            let marked = page.items.iter().filter(|item| item.node.is_some());
            let lowest = marked.map(|item| item.bounds().3).fold(0.0, f64::max);
            assert!(
                frame.bottom - lowest < frame.height() / 10.0,
                "{options:?}: {lowest} of {}",
                frame.bottom
            );
        }
    }
}

#[test]
fn pieces_alike_share_a_group_and_each_keeps_its_code() {
    let mut care = sample::care();
    let piece = care.groups[0].pieces[0].clone();
    for n in 1..12 {
        let (code, id) = (format!("C-{n}"), format!("01954a2e-7c00-7000-8000-0000000000{n:02x}"));
        care.groups[0].pieces.push(crate::model::PieceCard { code, id, ..piece.clone() });
    }
    for options in variants() {
        let scene = scene(&care, &options);
        assert_eq!(scene.pages.len(), 2, "{options:?}");
        let alts = scene.tree.nodes().iter().filter_map(|node| node.alt.as_deref());
        let codes = alts.filter(|alt| alt.starts_with(crate::words::QR_ALT.get(options.lang))).count();
        assert_eq!(codes, 9, "as many as are pictured");
    }
}
