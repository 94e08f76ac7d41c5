//! What every page carries: the mould strip, the running head, the foot with page x of y.

use trowelogue_core::drawing::Tone;

use crate::layout::{Align, Frame, one_line, ring};
use crate::scene::{Ink, Item, Pen};
use crate::text::Shaper;
use crate::theme::{MM, SMALL};

/// The words of head and foot.
pub(crate) struct Words {
    /// Left in the head from the second page on: what paper, about what.
    pub(crate) head: String,
    /// Right in the head: who issues it.
    pub(crate) shop: String,
    /// Left in the foot: when and by what it was issued.
    pub(crate) foot: String,
    /// `Page {n} of {total}`.
    pub(crate) page: fn(usize, usize, trowelogue_core::text::Lang) -> String,
    /// Language of the page number.
    pub(crate) lang: trowelogue_core::text::Lang,
    /// Second line of the foot: what a replaced character means.
    pub(crate) note: Option<String>,
}

/// The items of one page.
pub(crate) fn draw(frame: &Frame, shaper: &Shaper, words: &Words, page: usize, total: usize) -> Vec<Item> {
    let mut items = mould(frame, page, total);
    let (left, right) = (frame.left, frame.width() * 0.7);
    let head = frame.top - 9.0 * MM;
    if page > 1 {
        items.extend(line(shaper, &words.head, Align::Left, (left, head), right));
        items.push(Item::rule((left, head + 13.0), (frame.right, head + 13.0), Tone::DryConcrete, 0.4));
    }
    let shop = (frame.left + frame.width() * 0.72, head);
    items.extend(line(shaper, &words.shop, Align::Right, shop, frame.width() * 0.28));
    let foot = frame.bottom + 4.5 * MM;
    items.push(Item::rule((left, foot), (frame.right, foot), Tone::DryConcrete, 0.4));
    items.extend(line(shaper, &words.foot, Align::Left, (left, foot + 3.0), right));
    let number = (words.page)(page, total, words.lang);
    let place = (frame.left + frame.width() * 0.75, foot + 3.0);
    items.extend(line(shaper, &number, Align::Right, place, frame.width() * 0.25));
    if let Some(note) = &words.note {
        items.extend(line(shaper, note, Align::Left, (left, foot + 13.0), frame.width()));
    }
    items
}

fn line(shaper: &Shaper, words: &str, align: Align, at: (f64, f64), width: f64) -> Vec<Item> {
    let slab = one_line(shaper, words, SMALL, align, (at.0, width), None);
    slab.items.into_iter().map(|item| item.moved(0.0, at.1)).collect()
}

/// The strip at the left edge: a mould that fills from the bottom, a layer for every page. The layer of this
/// page is still wet.
fn mould(frame: &Frame, page: usize, total: usize) -> Vec<Item> {
    let (left, width) = (8.5 * MM, 4.0 * MM);
    let (top, bottom) = (frame.top, frame.bottom);
    let layer = (bottom - top) / total as f64;
    let wet_top = bottom - layer * page as f64;
    let dry_top = wet_top + layer;
    let mut items = Vec::new();
    if page > 1 {
        items.push(Item::area(left, dry_top, width, bottom - dry_top, Tone::Slurry));
    }
    items.push(Item::area(left, wet_top, width, layer, Tone::DryConcrete));
    items.extend(grains(left, wet_top, width, bottom - wet_top, page as u32));
    let mould = vec![(left, top), (left, bottom), (left + width, bottom), (left + width, top)];
    let stroke = Some(Pen { tone: Tone::WetConcrete, width: 0.7, dash: None });
    let ink = Ink::Path { rings: vec![mould], holes: false, closed: false, fill: None, stroke };
    items.push(Item { node: None, ink });
    items
}

/// Grains scattered over an area, the same for the same page: the larger ones lie lower.
fn grains(left: f64, top: f64, width: f64, height: f64, seed: u32) -> Vec<Item> {
    let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(97);
    let mut next = || {
        // Numerical Recipes' linear congruential generator: enough for a scatter.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 8) / f64::from(1_u32 << 24)
    };
    let count = (height / 14.0).ceil() as usize;
    let mut scatter = |tone: Tone, scale: f64| {
        let mut rings = Vec::new();
        for _ in 0..count {
            let depth = next();
            let radius = (0.35 + 0.75 * depth) * scale;
            let x = left + radius + next() * (width - 2.0 * radius);
            let y = top + radius + depth * (height - 2.0 * radius).max(0.0);
            rings.push(ring((x, y), radius, 5, next() * 72.0));
        }
        let ink = Ink::Path { rings, holes: false, closed: true, fill: Some(tone), stroke: None };
        Item { node: None, ink }
    };
    vec![scatter(Tone::Stone, 1.5), scatter(Tone::WetConcrete, 0.9), scatter(Tone::Paper, 0.7)]
}
