//! Labels and values as a ledger, and panels.

use trowelogue_core::drawing::Tone;

use super::flow::{Composer, Region};
use super::paragraph::Para;
use super::slab::{Slab, beside};
use crate::model::Fact;
use crate::scene::{Item, Role};
use crate::text::Span;
use crate::theme::{LABEL, TABLE};

/// Space between the columns of a ledger, in points.
const GUTTER: f64 = 18.0;
/// Space above and below a line of a ledger, in points.
const PAD: f64 = 2.2;
/// Space between a label and its value, in points.
const LABEL_GAP: f64 = 6.0;
/// Space between the edge of a panel and its text, in points.
const PANEL_PAD: f64 = 9.0;

impl Composer {
    /// Labels and values in `columns` columns, read down each; labels take `tab` points.
    pub(crate) fn ledger(&mut self, facts: &[Fact], columns: usize, tab: f64, before: f64) {
        if facts.is_empty() {
            return;
        }
        let regions = super::figure::grid(columns, self.region, GUTTER);
        let share = facts.len().div_ceil(columns);
        let parent = self.tree.add(self.parent, Role::List);
        let outer = std::mem::replace(&mut self.parent, parent);
        let set = facts.chunks(share).zip(regions);
        let set = set.map(|(part, region)| self.column(region, |c| c.entries(part, tab))).collect();
        self.parent = outer;
        self.push_beside(set, before);
    }

    fn entries(&mut self, facts: &[Fact], tab: f64) {
        let Region { x, width } = self.region;
        for fact in facts {
            let item = self.tree.add(self.parent, Role::ListItem);
            let label = self.tree.add(item, Role::ListLabel);
            let body = self.tree.add(item, Role::ListBody);
            let set = |words: &str, style, x, width, node| {
                Para::new(vec![Span::new(words, style)]).set(&self.shaper, x, width, Some(node))
            };
            let names = set(&fact.label, LABEL, x, tab - LABEL_GAP, label);
            let values = set(&fact.value, TABLE, x + tab, width - tab, body);
            let lines = beside(vec![names, values], self.frame.height() / 2.0);
            let last = lines.len() - 1;
            for (at, line) in lines.into_iter().enumerate() {
                let strip = ruled(line, at == 0, at == last, x, width);
                self.push(vec![strip]);
            }
        }
    }

    /// What `set` sets, on a tinted ground with a bar at its left edge.
    pub(crate) fn panel(&mut self, tint: Tone, bar: Option<Tone>, before: f64, set: impl FnOnce(&mut Self)) {
        let outer = self.region;
        let inner = Region { x: outer.x + PANEL_PAD, width: outer.width - 2.0 * PANEL_PAD };
        let mut slabs = self.column(inner, set);
        let last = slabs.len().saturating_sub(1);
        for (at, slab) in slabs.iter_mut().enumerate() {
            let top = if at == 0 { PANEL_PAD } else { slab.before };
            let foot = if at == last { PANEL_PAD } else { 0.0 };
            let height = top + slab.height + foot;
            let mut ground = Slab { height, keep: slab.keep, ..Slab::default() };
            ground.items.push(Item::area(outer.x, 0.0, outer.width, height, tint));
            ground.items.extend(bar.map(|tone| Item::area(outer.x, 0.0, 3.0, height, tone)));
            ground.absorb(std::mem::take(slab), top);
            ground.height = height;
            *slab = ground;
        }
        if let Some(first) = slabs.first_mut() {
            first.before = before;
        }
        self.together(slabs);
    }
}

/// A line of a ledger with its space and, after the last line of an entry, a fine rule.
fn ruled(line: Slab, first: bool, last: bool, x: f64, width: f64) -> Slab {
    let top = if first { PAD } else { line.before };
    let mut strip = Slab { height: top + line.height + if last { PAD } else { 0.0 }, ..Slab::default() };
    let height = strip.height;
    strip.absorb(line, top);
    strip.height = height;
    strip.keep = !last;
    if last {
        strip.items.push(Item::rule((x, height), (x + width, height), Tone::DryConcrete, 0.4));
    }
    strip
}
