//! Slabs: strips of a page that no page break cuts.

use std::rc::Rc;

use super::core::Core;
use super::table::RowParts;
use crate::scene::{Ink, Item};

/// A strip, its items placed relative to the left edge of the text area and to its own upper edge.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Slab {
    /// Height in points.
    pub(crate) height: f64,
    /// Space above it; dropped where it begins a page.
    pub(crate) before: f64,
    /// What stands in it, in reading order.
    pub(crate) items: Vec<Item>,
    /// It stays on one page with the next one.
    pub(crate) keep: bool,
    /// It begins a page.
    pub(crate) new_page: bool,
    /// What is repeated above it where it begins a page: the header row of its table.
    pub(crate) header: Option<Rc<Slab>>,
    /// Headings in it: level, words, distance from the upper edge.
    pub(crate) marks: Vec<(u8, String, f64)>,
    /// How it is cut where a page ends; none for a strip that stays whole.
    pub(crate) split: Option<Rc<Split>>,
    /// Where it does not fit, it goes to the top of the next page, and what follows fills this one.
    pub(crate) float: bool,
}

/// Whether any word drawn on these strips is such a one.
pub(crate) fn shows(slabs: &[Slab], such: impl Fn(&str) -> bool) -> bool {
    let drawn = slabs.iter().flat_map(|slab| &slab.items);
    let mut words = drawn.filter_map(|item| match &item.ink {
        Ink::Text { word, .. } => Some(&word.text),
        _ => None,
    });
    words.any(|word| such(word))
}

/// What can be cut at the end of a page.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Split {
    /// A row of a table, between its lines.
    Row(RowParts),
    /// A core, between its layers.
    Core(Core),
}

impl Split {
    /// The part that fits into so much height, and the rest; `None` where nothing worth it does.
    pub(crate) fn cut(&self, room: f64) -> Option<(Slab, Slab)> {
        match self {
            Self::Row(row) => row.cut(room),
            Self::Core(core) => core.cut(room),
        }
    }
}

impl Slab {
    /// Height with the space above.
    pub(crate) fn full(&self) -> f64 {
        self.before + self.height
    }

    /// Takes over the content of another strip, moved down.
    pub(crate) fn absorb(&mut self, other: Self, down: f64) {
        self.items.extend(other.items.into_iter().map(|item| item.moved(0.0, down)));
        self.marks.extend(other.marks.into_iter().map(|(level, words, y)| (level, words, y + down)));
        self.height = self.height.max(down + other.height);
    }
}

/// One strip made of several, one below the other. The space above the first becomes the space above it.
pub(crate) fn stack(slabs: Vec<Slab>) -> Slab {
    let mut whole = Slab::default();
    let mut down = 0.0;
    for (at, slab) in slabs.into_iter().enumerate() {
        if at == 0 {
            whole.before = slab.before;
            whole.new_page = slab.new_page;
            whole.header.clone_from(&slab.header);
        } else {
            down += slab.before;
        }
        let height = slab.height;
        whole.keep = slab.keep;
        whole.absorb(slab, down);
        down += height;
    }
    whole.height = whole.height.max(down);
    whole
}

/// Columns side by side as one strip if that is no higher than `limit`; else one below the other, each in its
/// own place, so that nothing is cut.
pub(crate) fn beside(columns: Vec<Vec<Slab>>, limit: f64) -> Vec<Slab> {
    let height = |column: &Vec<Slab>| column.iter().map(Slab::full).sum::<f64>();
    if columns.iter().map(height).fold(0.0, f64::max) > limit {
        return columns.into_iter().flatten().collect();
    }
    let mut whole = Slab::default();
    for column in columns {
        let column = stack(column);
        whole.before = whole.before.max(column.before);
        whole.absorb(column, 0.0);
    }
    vec![whole]
}
