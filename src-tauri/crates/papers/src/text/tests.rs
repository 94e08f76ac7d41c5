//! What is shown, and where lines break.

use super::*;
use crate::font::Face;

const STYLE: Style = Style::new(Face::Regular, 10.0, 13.0);

fn lines(text: &str, width: f64) -> Vec<String> {
    let shaper = Shaper::default();
    let lines = break_lines(&shaper, &[Span::new(text, STYLE)], width);
    assert!(lines.iter().all(|line| line.width <= width + 1e-6), "{text}");
    lines.iter().map(shown).collect()
}

fn shown(line: &Line) -> String {
    let part = |piece: &Piece| {
        let glyphs = &piece.word.glyphs[piece.glyphs.0..piece.glyphs.1];
        let bytes = glyphs.iter().map(|g| &piece.word.text[g.bytes.0 as usize..g.bytes.1 as usize]);
        bytes.collect::<String>()
    };
    line.pieces.iter().map(part).collect()
}

#[test]
fn what_the_family_lacks_is_marked_and_nothing_is_dropped() {
    assert_eq!(showable("señor ≥ 20 °C", Face::Regular), "señor ≥ 20 °C");
    assert_eq!(showable("漢a", Face::Regular), "[U+6F22]a");
    assert_eq!(showable("a\u{202E}b\u{7}", Face::Regular), "a[U+202E]b[U+0007]");
    assert_eq!(showable("שא", Face::Italic), "[U+05E9][U+05D0]");
}

#[test]
fn no_line_is_wider_than_its_column_even_with_a_word_that_is() {
    for width in [12.0, 40.0, 120.0] {
        let text = "short pneumonoultramicroscopicsilicovolcanoconiosis, then 漢字漢字漢字 end";
        let back: String = lines(text, width).concat();
        assert_eq!(back.replace(' ', ""), showable(text, Face::Regular).replace(' ', ""));
    }
}

#[test]
fn a_value_stays_with_its_unit() {
    for width in 20..90 {
        let lines = lines("wait for 45 min at 20 °C", f64::from(width));
        if width > 35 {
            assert!(lines.iter().all(|line| !line.trim_end().ends_with("45")), "{lines:?}");
            assert!(lines.iter().all(|line| !line.trim_end().ends_with("20")), "{lines:?}");
        }
    }
}

#[test]
fn line_ends_in_the_text_are_kept() {
    assert_eq!(lines("one\ntwo\n\nthree", 300.0), ["one", "two", "", "three"]);
}

#[test]
fn the_pair_av_is_kerned() {
    let shaper = Shaper::default();
    let apart = shaper.word("A", STYLE).width + shaper.word("V", STYLE).width;
    assert!(shaper.word("AV", STYLE).width < apart);
}
