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
    let mut stacker = Stacker::new(frame.height());
    let mut rest = slabs;
    while !rest.is_empty() {
        let chain = rest.iter().position(|slab| !slab.keep).map_or(rest.len(), |last| last + 1);
        let tail = rest.split_off(chain);
        stacker.place(std::mem::replace(&mut rest, tail));
    }
    stacker.land();
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
    /// Nothing of the running text stands on the page yet.
    fresh: bool,
    /// Strips that wait for the top of the next page.
    floats: Vec<Slab>,
}

impl Stacker {
    fn new(height: f64) -> Self {
        Self { height, pages: vec![Vec::new()], down: 0.0, fresh: true, floats: Vec::new() }
    }

    /// Places strips that belong together: here, cut at the end of the page, on the next page, or, if no page
    /// holds them, as they come.
    fn place(&mut self, mut chain: Vec<Slab>) {
        // A new part begins after the pictures of the part before it.
        if chain.iter().any(|slab| !slab.float && !slab.marks.is_empty()) {
            self.land();
        }
        let total: f64 = chain.iter().map(Slab::full).sum();
        let header = chain.first().and_then(|slab| slab.header.as_ref()).map_or(0.0, |head| head.height);
        let first = chain.first().map_or(0.0, |slab| slab.before);
        if chain.first().is_some_and(|slab| slab.new_page) && self.down > 0.0 {
            self.next_page();
        }
        // A header row that is repeated here takes room too.
        let repeated = if self.fresh && self.pages.len() > 1 { header } else { 0.0 };
        let fits_here = self.down + repeated + total <= self.height + EPSILON;
        if let [slab] = &chain[..]
            && slab.float
            && !fits_here
            && !self.fresh
        {
            return self.floats.extend(chain);
        }
        if let Some((upper, lower)) = self.cut(&chain).filter(|_| !fits_here) {
            chain.pop();
            chain.into_iter().chain([upper]).for_each(|slab| self.put(slab));
            self.next_page();
            return self.place(vec![lower]);
        }
        let fits_a_page = total - first + header <= self.height + EPSILON;
        let can_be_cut = chain.last().is_some_and(|slab| slab.split.is_some());
        if !fits_here && (fits_a_page || can_be_cut) && self.down > 0.0 {
            // What waited may have taken the top of that page, so it is looked at again there.
            self.next_page();
            return self.place(chain);
        }
        for slab in chain {
            self.put(slab);
        }
    }

    /// Cuts the last strip of a chain so that its upper part ends the page.
    fn cut(&self, chain: &[Slab]) -> Option<(Slab, Slab)> {
        let last = chain.last()?;
        let above: f64 = chain[..chain.len() - 1].iter().map(Slab::full).sum();
        let before = if self.down + above == 0.0 { 0.0 } else { last.before };
        let header = last.header.as_ref().filter(|_| self.fresh && self.pages.len() > 1);
        let taken = above + before + header.map_or(0.0, |head| head.height);
        let (mut upper, mut lower) = last.split.as_ref()?.cut(self.height - self.down - taken)?;
        upper.before = last.before;
        upper.header.clone_from(&last.header);
        lower.header.clone_from(&last.header);
        lower.keep = last.keep;
        Some((upper, lower))
    }

    fn put(&mut self, slab: Slab) {
        let beginning = self.down == 0.0;
        let full = if beginning { slab.height } else { slab.full() };
        if !beginning && self.down + full > self.height + EPSILON {
            self.next_page();
        }
        if self.fresh
            && self.pages.len() > 1
            && let Some(header) = slab.header.clone()
        {
            let again = (*header).clone();
            let items = again.items.into_iter().map(Item::artifact).collect();
            let before = if self.down > 0.0 { slab.before.max(FLOAT_GAP) } else { 0.0 };
            self.push(Slab { items, marks: Vec::new(), before, ..again });
        }
        self.push(slab);
        self.fresh = false;
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

    /// Begins a page with the strips that waited for it, as many as fit.
    fn next_page(&mut self) {
        self.pages.push(Vec::new());
        self.down = 0.0;
        self.fresh = true;
        let mut waiting = std::mem::take(&mut self.floats).into_iter();
        for slab in waiting.by_ref() {
            if self.down > 0.0 && self.down + slab.full() > self.height + EPSILON {
                self.floats.push(slab);
                break;
            }
            self.push(slab);
        }
        self.floats.extend(waiting);
    }

    /// Brings down what still waits when the text is at its end.
    fn land(&mut self) {
        while !self.floats.is_empty() {
            self.next_page();
        }
    }
}

/// Space between a strip that went to the top of a page and the table that goes on below it, in points.
const FLOAT_GAP: f64 = 14.0;
/// Rounding of sums of heights, in points.
const EPSILON: f64 = 1e-6;
