//! The dates that count: a core laid on its side, a seam where each begins.

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::{Lang, Text};

use super::fit::Fit;
use super::words;
use crate::font::Face;
use crate::layout::{Composer, Para, Region, Slab, grid, ring};
use crate::model::{CareGroup, Dated, Fact};
use crate::scene::{Ink, Item, Pen, Role};
use crate::text::{Span, Style};
use crate::theme::{BODY, LABEL, MM, SMALL, TABLE};

/// Height of the lying core, in points.
const CORE: f64 = 15.0;
/// Space between two dates.
const GUTTER: f64 = 12.0;
/// How far the words stand in from their seam.
const INSET: f64 = 6.0;
/// A day.
const DAY: Style = Style::new(Face::Semibold, 12.5, 15.0);

/// What stands under a seam.
struct Entry {
    label: Text,
    /// The day; none: not recorded.
    date: Option<Dated>,
}

/// Sets the dates.
pub(super) fn set(c: &mut Composer, group: &CareGroup, fit: Fit, lang: Lang) {
    let dates = &group.dates;
    let entry = |label, date: &Option<Dated>| Entry { label, date: date.clone() };
    let first = [
        entry(words::FIRST_WATER, &dates.first_water),
        entry(words::FULL_USE, &dates.full_use),
        entry(words::RENEWAL, &dates.renewal),
        entry(words::WARRANTY_END, &dates.warranty_end),
    ];
    let mut core = lying_core(c.region.width);
    core.before = 5.0;
    c.push(vec![core]);
    c.within(Role::List, |c| row(c, &first, lang));
    let said = |date: &Option<Dated>| match date {
        Some(date) => format!("{} ({})", date.day, date.basis),
        None => words::NO_DATE.get(lang).to_owned(),
    };
    let mut more = vec![
        Fact::new(words::LIGHT_USE.get(lang), said(&dates.light_use)),
        Fact::new(words::FIRST_TEST.get(lang), said(&dates.first_test)),
    ];
    let width = c.region.width / 2.0 - 48.0 * MM;
    let handed_over = group.handed_over.iter().map(|it| fit.words(c, it, TABLE, width));
    more.extend(handed_over.map(|it| Fact::new(words::HANDED_OVER.get(lang), it)));
    c.ledger(&more, 2, 38.0 * MM, 7.0);
    c.text(words::FIRST_DAYS_RULE.get(lang), BODY, 7.0);
}

/// Dates side by side, each under its seam.
fn row(c: &mut Composer, entries: &[Entry], lang: Lang) {
    let regions = grid(entries.len(), c.region, GUTTER);
    let mut columns = Vec::new();
    for (entry, region) in entries.iter().zip(regions) {
        let inner = Region { x: region.x + INSET, width: region.width - INSET };
        columns.push(c.column(inner, |c| one(c, entry, lang)));
    }
    c.push_beside(columns, 0.0);
}

fn one(c: &mut Composer, entry: &Entry, lang: Lang) {
    let item = c.tree.add(c.parent, Role::ListItem);
    let label = c.tree.add(item, Role::ListLabel);
    let body = c.tree.add(item, Role::ListBody);
    let Region { x, width } = c.region;
    let line = |words: &str, style: Style| Para::new(vec![Span::new(words, style)]);
    let mut slabs = line(entry.label.get(lang), LABEL).before(3.0).set(&c.shaper, x, width, Some(label));
    let mut below = Vec::new();
    match &entry.date {
        Some(date) => {
            // A day stands large, the hour beside it does not.
            let (day, hour) = date.day.split_once(", ").unwrap_or((&date.day, ""));
            let mut spans = vec![Span::new(day, DAY)];
            if !hour.is_empty() {
                spans.push(Span::new(format!(", {hour}"), TABLE));
            }
            below.push(Para::new(spans));
            below.push(line(&date.basis, SMALL));
        }
        None => below.push(line(words::NO_DATE.get(lang), TABLE)),
    }
    slabs.extend(below.iter().flat_map(|para| para.set(&c.shaper, x, width, Some(body))));
    c.push(slabs);
}

/// Four lengths of a core, wet to sealed, with their seams. It is a picture of order, not of time.
fn lying_core(width: f64) -> Slab {
    let share = (width - 3.0 * GUTTER) / 4.0 + GUTTER;
    let tones = [Tone::WetConcrete, Tone::DryConcrete, Tone::PaleGlass, Tone::Slurry];
    let mut slab = Slab { height: CORE + 6.0, ..Slab::default() };
    for (n, tone) in tones.into_iter().enumerate() {
        let left = n as f64 * share;
        let length = if n == 3 { width - left } else { share };
        slab.items.push(Item::area(left, 0.0, length, CORE, tone));
        slab.items.push(grains(left, length, n));
    }
    let frame = vec![(0.0, 0.0), (width, 0.0), (width, CORE), (0.0, CORE)];
    let stroke = Some(Pen { tone: Tone::WetConcrete, width: 0.6, dash: None });
    let ink = Ink::Path { rings: vec![frame], holes: false, closed: true, fill: None, stroke };
    slab.items.push(Item { node: None, ink });
    for n in 0..4 {
        let x = n as f64 * share;
        slab.items.push(Item::rule((x, 0.0), (x, CORE + 6.0), Tone::Ink, 1.1));
    }
    slab.keep = true;
    slab
}

/// Grains in a length of the core: fewer and smaller to the right, where the face is finished.
fn grains(left: f64, length: f64, n: usize) -> Item {
    let tone = [Tone::Stone, Tone::Stone, Tone::Glass, Tone::Stone][n];
    let count = [16, 12, 7, 4][n];
    let rings = (0..count).map(|k| {
        // Golden-ratio steps scatter evenly without chance.
        let across = (f64::from(k) * 0.618_034 + n as f64 * 0.37).fract();
        let down = (f64::from(k) * 0.754_878 + 0.2).fract();
        let radius = 0.6 + 0.9 * (f64::from(k) * 0.569_84).fract();
        let at = (left + 3.0 + across * (length - 6.0), 2.6 + down * (CORE - 5.2));
        ring(at, radius, 6, f64::from(k) * 47.0)
    });
    let ink =
        Ink::Path { rings: rings.collect(), holes: false, closed: true, fill: Some(tone), stroke: None };
    Item { node: None, ink }
}
