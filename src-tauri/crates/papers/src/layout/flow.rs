//! The composer: documents hand it headings, paragraphs, tables and figures; it sets them into slabs and keeps
//! the tree of what everything means.

use std::rc::Rc;

use trowelogue_core::drawing::Tone;

use super::pages::Frame;
use super::paragraph::Para;
use super::slab::{Slab, beside, shows, stack};
use super::table::Table;
use crate::PaperError;
use crate::jpeg::Jpeg;
use crate::scene::{Item, NodeId, Role, Tree};
use crate::text::{Shaper, Span, Style};

/// A column of the text area: distance from its left edge, and width, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Region {
    /// Distance from the left edge of the text area.
    pub(crate) x: f64,
    /// Width.
    pub(crate) width: f64,
}

/// Sets a document.
pub(crate) struct Composer {
    /// Shapes the text.
    pub(crate) shaper: Shaper,
    /// The page and its grid.
    pub(crate) frame: Frame,
    /// What everything means.
    pub(crate) tree: Tree,
    /// Pictures used.
    pub(crate) images: Vec<Rc<Jpeg>>,
    /// Where new strips stand.
    pub(crate) region: Region,
    /// What new parts belong to.
    pub(crate) parent: NodeId,
    slabs: Vec<Slab>,
    fault: Option<PaperError>,
}

impl Composer {
    /// Begins an empty document on a page.
    pub(crate) fn new(frame: Frame) -> Self {
        let region = Region { x: 0.0, width: frame.width() };
        Self {
            shaper: Shaper::default(),
            frame,
            tree: Tree::default(),
            images: Vec::new(),
            region,
            parent: Tree::ROOT,
            slabs: Vec::new(),
            fault: None,
        }
    }

    /// Sets a part of the document as a unit of the tree.
    pub(crate) fn within<T>(&mut self, role: Role, set: impl FnOnce(&mut Self) -> T) -> T {
        let outer = self.parent;
        self.parent = self.tree.add(outer, role);
        let result = set(self);
        self.parent = outer;
        result
    }

    /// Sets a part into a column and hands back its strips instead of adding them.
    pub(crate) fn column(&mut self, region: Region, set: impl FnOnce(&mut Self)) -> Vec<Slab> {
        let slabs = std::mem::take(&mut self.slabs);
        let outer = std::mem::replace(&mut self.region, region);
        set(self);
        self.region = outer;
        std::mem::replace(&mut self.slabs, slabs)
    }

    /// Sets something to see how it comes out, and leaves no trace of it.
    pub(crate) fn tried<T>(&mut self, set: impl FnOnce(&mut Self) -> T) -> T {
        let mut trial = Self::new(self.frame);
        // What was shaped is kept: it is shaped again for good.
        std::mem::swap(&mut trial.shaper, &mut self.shaper);
        trial.region = self.region;
        let result = set(&mut trial);
        std::mem::swap(&mut trial.shaper, &mut self.shaper);
        result
    }

    /// Whether any word set so far is such a one.
    pub(crate) fn shows(&self, such: impl Fn(&str) -> bool) -> bool {
        shows(&self.slabs, such)
    }

    /// Adds strips.
    pub(crate) fn push(&mut self, slabs: Vec<Slab>) {
        self.slabs.extend(slabs);
    }

    /// Adds columns side by side.
    pub(crate) fn push_beside(&mut self, columns: Vec<Vec<Slab>>, before: f64) {
        let mut slabs = beside(columns, self.frame.height());
        if let Some(first) = slabs.first_mut() {
            first.before = before;
        }
        self.push(slabs);
    }

    /// The next strip begins a page.
    pub(crate) fn page_break(&mut self) {
        self.slabs.push(Slab { new_page: true, keep: true, ..Slab::default() });
    }

    /// A line across the column.
    pub(crate) fn rule(&mut self, before: f64, tone: Tone, width: f64) {
        let Region { x, width: length } = self.region;
        let item = Item::rule((x, width / 2.0), (x + length, width / 2.0), tone, width);
        self.slabs.push(Slab { height: width, before, items: vec![item], keep: true, ..Slab::default() });
    }

    /// A paragraph that is a part of its own.
    pub(crate) fn para(&mut self, para: &Para) {
        let node = self.tree.add(self.parent, Role::Paragraph);
        let slabs = para.set(&self.shaper, self.region.x, self.region.width, Some(node));
        self.push(slabs);
    }

    /// A paragraph in one style.
    pub(crate) fn text(&mut self, words: &str, style: Style, before: f64) {
        self.para(&Para::new(vec![Span::new(words, style)]).before(before));
    }

    /// A heading. It stays with what follows, and stands in the outline.
    pub(crate) fn heading(&mut self, level: u8, words: &str, style: Style, before: f64) {
        let node = self.tree.add(self.parent, Role::Heading(level));
        let para = Para::new(vec![Span::new(words, style)]).before(before);
        let lines = para.set(&self.shaper, self.region.x, self.region.width, Some(node));
        // A name as long as a page may be cut; any heading worth the name stays whole.
        let whole = lines.iter().map(Slab::full).sum::<f64>() <= self.frame.height() / 2.0;
        let mut lines = if whole { vec![stack(lines)] } else { lines };
        if let Some(first) = lines.first_mut() {
            first.marks.push((level, words.to_owned(), 0.0));
        }
        if let Some(last) = lines.last_mut() {
            last.keep = true;
        }
        self.push(lines);
    }

    /// A list, each entry with its mark.
    pub(crate) fn list(&mut self, entries: &[Para]) {
        self.within(Role::List, |c| {
            for entry in entries {
                let item = c.tree.add(c.parent, Role::ListItem);
                let body = c.tree.add(item, Role::ListBody);
                let slabs = entry.set(&c.shaper, c.region.x, c.region.width, Some(body));
                c.push(slabs);
            }
        });
    }

    /// A table.
    pub(crate) fn table(&mut self, table: &Table) {
        let node = self.tree.add(self.parent, Role::Table);
        let slabs = table.set(&self.shaper, &mut self.tree, node, self.region.x);
        self.push(slabs);
    }

    /// Strips become one strip, if they fit on a page together.
    pub(crate) fn together(&mut self, slabs: Vec<Slab>) {
        let height: f64 = slabs.iter().map(Slab::full).sum();
        if height <= self.frame.height() {
            self.slabs.push(stack(slabs));
        } else {
            self.push(slabs);
        }
    }

    /// What `set` sets, as one strip that goes to the next page where it does not fit.
    pub(crate) fn float(&mut self, set: impl FnOnce(&mut Self)) {
        let slabs = self.column(self.region, set);
        let height: f64 = slabs.iter().map(Slab::full).sum();
        if height <= self.frame.height() {
            self.slabs.push(Slab { float: true, keep: false, ..stack(slabs) });
        } else {
            self.push(slabs);
        }
    }

    /// Remembers the first fault; the document is refused at the end.
    pub(crate) fn refuse(&mut self, fault: PaperError) {
        self.fault.get_or_insert(fault);
    }

    /// The strips set, unless something was refused.
    pub(crate) fn finish(&mut self) -> Result<Vec<Slab>, PaperError> {
        match self.fault.take() {
            Some(fault) => Err(fault),
            None => Ok(std::mem::take(&mut self.slabs)),
        }
    }
}
