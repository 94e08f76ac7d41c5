//! Characters the family cannot show: each is replaced by a stated mark, never dropped.
//!
//! The mark is the Unicode number in brackets, `[U+6F22]`. It stands for letters of scripts the family lacks
//! (whose order stays that of the text), for control characters and for invisible characters that would
//! change how the text reads. What is drawn is what a reader extracts: nothing is hidden behind a mark.

use std::borrow::Cow;
use std::fmt::Write;

use crate::font::Face;

/// The text with every character the face cannot show replaced by its mark.
pub(crate) fn showable(text: &str, face: Face) -> Cow<'_, str> {
    if text.chars().all(|c| c == '\n' || shows(c, face)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\r' if chars.peek() == Some(&'\n') => {}
            '\n' | '\r' | '\u{2028}' | '\u{2029}' => out.push('\n'),
            '\t' => out.push(' '),
            _ if is_invisible_by_nature(c) => {}
            _ if shows(c, face) => out.push(c),
            _ => mark(c, &mut out),
        }
    }
    Cow::Owned(out)
}

/// Whether a text carries a mark.
pub(crate) fn has_mark(text: &str) -> bool {
    text.contains("[U+")
}

fn mark(c: char, out: &mut String) {
    // Writing to a string cannot fail.
    let _ = write!(out, "[U+{:04X}]", u32::from(c));
}

fn shows(c: char, face: Face) -> bool {
    !c.is_control() && !is_formatting(c) && !is_invisible_by_nature(c) && face.has(c)
}

/// Break hints and variation selectors: they have no shape of their own and say nothing.
fn is_invisible_by_nature(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{200B}' | '\u{2060}' | '\u{FE00}'..='\u{FE0F}')
}

/// Invisible characters that change the order or joining of what stands around them.
fn is_formatting(c: char) -> bool {
    matches!(c, '\u{200C}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2061}'..='\u{206F}' | '\u{FEFF}'
        | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E0FFF}')
}
