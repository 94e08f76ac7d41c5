//! How a care sheet is made to fit: two pages for one piece, whatever the shop wrote.
//!
//! The sheet is tried from the roomiest form to the tightest: first the picture gives way, then the size of free
//! words, then their number of lines.

use crate::layout::{Composer, Slab, clamped, stack};
use crate::text::Style;
use crate::theme::{BODY, MM, SMALL, TABLE};

/// A form of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fit {
    /// Height of the picture of the piece, in points.
    pub(super) picture: f64,
    /// Type of what the shop wrote.
    pub(super) free: Style,
    /// Lines that what the shop wrote may take.
    pub(super) lines: usize,
    /// Space between sections, in points.
    pub(super) gap: f64,
}

const fn fit(picture_mm: f64, free: Style, lines: usize, gap: f64) -> Fit {
    Fit { picture: picture_mm * MM, free, lines, gap }
}

/// From the roomiest to the tightest.
const FORMS: [Fit; 8] = [
    fit(62.0, BODY, 12, 15.0),
    fit(54.0, BODY, 12, 13.0),
    fit(46.0, BODY, 10, 12.0),
    fit(38.0, TABLE, 8, 11.0),
    fit(30.0, TABLE, 5, 10.0),
    fit(24.0, TABLE, 3, 9.0),
    fit(20.0, SMALL, 2, 8.0),
    fit(16.0, SMALL, 1, 6.0),
];

/// Space that is added between sections at most, where a page would end early.
const MOST_AIR: f64 = 22.0;

impl Fit {
    /// What the shop wrote, as much of it as this form has room for.
    pub(super) fn words(self, c: &Composer, words: &str, style: Style, width: f64) -> String {
        clamped(&c.shaper, words, style, width, self.lines)
    }
}

/// Whether a word is the end of something that was cut short.
pub(super) fn is_cut(word: &str) -> bool {
    word.ends_with('…')
}

/// Sets a page in the roomiest form it fits in; its sections share what room is left.
pub(super) fn page(c: &mut Composer, set: &dyn Fn(&mut Composer, Fit) -> Vec<Vec<Slab>>) {
    let room = c.frame.height();
    let fits = |c: &mut Composer, fit: Fit| c.tried(|c| height(&set(c, fit), fit)) <= room;
    let chosen = FORMS.into_iter().find(|fit| fits(c, *fit)).unwrap_or(FORMS[FORMS.len() - 1]);
    let sections = set(c, chosen);
    let left = room - height(&sections, chosen);
    let gaps = sections.len().saturating_sub(1).max(1) as f64;
    let gap = chosen.gap + (left / gaps).clamp(0.0, MOST_AIR);
    for (at, section) in sections.into_iter().enumerate() {
        let mut slabs = section;
        if let Some(first) = slabs.first_mut() {
            first.before = if at == 0 { 0.0 } else { gap };
        }
        c.push(slabs);
    }
}

fn height(sections: &[Vec<Slab>], fit: Fit) -> f64 {
    let one = |slabs: &Vec<Slab>| stack(slabs.clone()).height;
    let gaps = fit.gap * sections.len().saturating_sub(1) as f64;
    sections.iter().map(one).sum::<f64>() + gaps
}
