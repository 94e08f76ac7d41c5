//! Words with a small drawing beside them, and cells that stand in a row.

use trowelogue_core::drawing::Drawing;

use super::figure::{FigureBox, draw};
use super::flow::{Composer, Region};
use super::paragraph::Para;
use super::slab::{Slab, stack};
use crate::scene::{Item, Role};

/// How words stand beside their drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Beside {
    /// Side of the square the drawing stands in, in points.
    pub(crate) side: f64,
    /// Space between drawing and words.
    pub(crate) gap: f64,
    /// Space above each entry but the first.
    pub(crate) before: f64,
}

/// A drawing and what it stands for.
pub(crate) struct Pictured {
    /// The drawing; it says nothing the words do not say.
    pub(crate) drawing: Drawing,
    /// The words.
    pub(crate) words: Vec<Para>,
}

impl Composer {
    /// A list whose entries carry a drawing each.
    pub(crate) fn pictured_list(&mut self, entries: Vec<Pictured>, how: Beside) {
        self.within(Role::List, |c| {
            for (at, entry) in entries.into_iter().enumerate() {
                let item = c.tree.add(c.parent, Role::ListItem);
                let body = c.tree.add(item, Role::ListBody);
                let mut slab = c.pictured(&entry, how, body);
                slab.before = if at == 0 { 0.0 } else { how.before };
                c.push(vec![slab]);
            }
        });
    }

    /// Drawing and words in one strip, the lower of the two in the middle of the other.
    fn pictured(&self, entry: &Pictured, how: Beside, node: usize) -> Slab {
        let Region { x, width } = self.region;
        let room = FigureBox { width: how.side, height: how.side };
        let drawn = draw(&self.shaper, &entry.drawing, x, room, node);
        let inset = how.side + how.gap;
        let set = |para: &Para| para.set(&self.shaper, x + inset, (width - inset).max(1.0), Some(node));
        let mut words = stack(entry.words.iter().flat_map(set).collect());
        words.before = 0.0;
        let height = drawn.height.max(words.height);
        let mut strip = Slab { height, ..Slab::default() };
        let down = (height - drawn.height) / 2.0;
        strip.items.extend(drawn.items.into_iter().map(|item| Item::artifact(item).moved(0.0, down)));
        let down = (height - words.height) / 2.0;
        strip.absorb(words, down);
        strip.height = height;
        strip
    }
}
