//! Pages: puts slabs on them, repeats header rows, keeps together what belongs together.

use super::slab::Slab;
use crate::model::Paper;
use crate::scene::{Item, Mark, Page};
use crate::theme::MM;

/// A page and its text area, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Frame {
    /// Width and height of the sheet.
    pub(crate) size: (f64, f64),
    /// Left edge of the text area.
    pub(crate) left: f64,
    /// Right edge of the text area.
    pub(crate) right: f64,
    /// Upper edge of the text area.
    pub(crate) top: f64,
    /// Lower edge of the text area.
    pub(crate) bottom: f64,
}

impl Frame {
    /// The grid of every paper on a sheet: a wide left margin for the mould strip, the text area, a foot.
    pub(crate) fn of(paper: Paper) -> Self {
        let (width, height) = match paper {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        };
        Self {
            size: (width * MM, height * MM),
            left: 21.0 * MM,
            right: (width - 14.0) * MM,
            top: 21.0 * MM,
            bottom: (height - 20.0) * MM,
        }
    }

    /// Width of the text area.
    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height of the text area.
    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }
}

/// Draws what every page carries: number of the page, from 1, and number of pages.
pub(crate) type Furniture<'a> = dyn Fn(usize, usize) -> Vec<Item> + 'a;

/// Puts strips on pages. Gives the pages and where the headings came to stand.
pub(crate) fn paginate(slabs: Vec<Slab>, frame: &Frame, furniture: &Furniture) -> (Vec<Page>, Vec<Mark>) {
    let mut stacker = Stacker { height: frame.height(), pages: vec![Vec::new()], down: 0.0 };
    let mut rest = slabs;
    while !rest.is_empty() {
        let chain = rest.iter().position(|slab| !slab.keep).map_or(rest.len(), |last| last + 1);
        let tail = rest.split_off(chain);
        stacker.place(std::mem::replace(&mut rest, tail));
    }
    let total = stacker.pages.len();
    let mut marks = Vec::new();
    let pages = stacker.pages.into_iter().enumerate();
    let pages = pages.map(|(number, placed)| {
        let mut items = furniture(number + 1, total);
        for (y, slab) in placed {
            let top = frame.top + y;
            marks.extend(slab.marks.into_iter().map(|(level, title, down)| Mark {
                title,
                level,
                page: number,
                y: top + down,
            }));
            items.extend(slab.items.into_iter().map(|item| item.moved(frame.left, top)));
        }
        Page { size: frame.size, items }
    });
    (pages.collect(), marks)
}

struct Stacker {
    height: f64,
    pages: Vec<Vec<(f64, Slab)>>,
    down: f64,
}

impl Stacker {
    /// Places strips that belong together: here, on the next page, or, if no page holds them, as they come.
    fn place(&mut self, chain: Vec<Slab>) {
        let total: f64 = chain.iter().map(Slab::full).sum();
        let header = chain.first().and_then(|slab| slab.header.as_ref()).map_or(0.0, |head| head.height);
        let first = chain.first().map_or(0.0, |slab| slab.before);
        let begins = chain.first().is_some_and(|slab| slab.new_page) && self.down > 0.0;
        let fits_here = self.down + total <= self.height + EPSILON;
        let fits_a_page = total - first + header <= self.height + EPSILON;
        if begins || (!fits_here && fits_a_page && self.down > 0.0) {
            self.next_page();
        }
        for slab in chain {
            self.put(slab);
        }
    }

    fn put(&mut self, slab: Slab) {
        let beginning = self.down == 0.0;
        let full = if beginning { slab.height } else { slab.full() };
        if !beginning && self.down + full > self.height + EPSILON {
            self.next_page();
        }
        if self.down == 0.0
            && self.pages.len() > 1
            && let Some(header) = slab.header.clone()
        {
            let again = (*header).clone();
            let items = again.items.into_iter().map(Item::artifact).collect();
            self.push(Slab { items, marks: Vec::new(), ..again });
        }
        self.push(slab);
    }

    fn push(&mut self, slab: Slab) {
        if self.down > 0.0 {
            self.down += slab.before;
        }
        let y = self.down;
        self.down += slab.height;
        if let Some(page) = self.pages.last_mut() {
            page.push((y, slab));
        }
    }

    fn next_page(&mut self) {
        self.pages.push(Vec::new());
        self.down = 0.0;
    }
}

/// Rounding of sums of heights, in points.
const EPSILON: f64 = 1e-6;
