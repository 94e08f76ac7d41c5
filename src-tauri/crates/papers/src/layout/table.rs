//! Tables: header row repeated on each page, long rows cut between their lines where a page ends.

use std::rc::Rc;

use trowelogue_core::drawing::Tone;

use super::paragraph::{Align, Para};
use super::slab::{Slab, Split, stack};
use crate::scene::{Item, NodeId, Role, Scope, Tree};
use crate::text::{Shaper, Span};
use crate::theme::LABEL;

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Column {
    /// What it holds.
    pub(crate) title: String,
    /// Its width in points, gap included.
    pub(crate) width: f64,
    /// Where its lines stand.
    pub(crate) align: Align,
}

/// A cell: paragraphs one below the other.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Cell {
    /// The paragraphs.
    pub(crate) paras: Vec<Para>,
    /// It names its row.
    pub(crate) names_row: bool,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Row {
    /// As many cells as there are columns.
    pub(crate) cells: Vec<Cell>,
    /// Tint of its ground.
    pub(crate) tint: Option<Tone>,
    /// A bar at its left edge.
    pub(crate) bar: Option<Tone>,
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Table {
    /// The columns.
    pub(crate) columns: Vec<Column>,
    /// The rows.
    pub(crate) rows: Vec<Row>,
    /// Space above, in points.
    pub(crate) before: f64,
}

/// Space between columns, in points.
pub(crate) const GAP: f64 = 9.0;
/// Space above and below the text of a row, in points.
const PAD: f64 = 3.2;
/// Space kept free for the tint to the left and right of the text, in points.
const BLEED: f64 = 4.0;
/// A row lower than this is moved whole to the next page, in points.
const CUT_FROM: f64 = 100.0;
/// No part of a row is lower than this, in points.
const LEAST_PART: f64 = 33.0;

impl Cell {
    /// A cell of one paragraph.
    pub(crate) fn of(spans: Vec<Span>) -> Self {
        Self { paras: vec![Para::new(spans)], names_row: false }
    }

    /// A cell that names its row.
    pub(crate) fn naming(paras: Vec<Para>) -> Self {
        Self { paras, names_row: true }
    }
}

impl Table {
    /// Sets the table into strips, one for each row.
    pub(crate) fn set(&self, shaper: &Shaper, tree: &mut Tree, node: NodeId, x: f64) -> Vec<Slab> {
        let mut head = self.head(shaper, tree, node, x);
        head.before = self.before;
        let shared = Rc::new(Slab { before: 0.0, ..head.clone() });
        let mut slabs = vec![head];
        for (at, row) in self.rows.iter().enumerate() {
            let mut slab = self.row(shaper, tree, node, x, row);
            slab.header = Some(Rc::clone(&shared));
            // A short last row never stands alone on a page.
            slab.keep = self.rows.len() - at == 2 && slab.height < CUT_FROM;
            slabs.push(slab);
        }
        slabs
    }

    fn width(&self) -> f64 {
        self.columns.iter().map(|column| column.width).sum()
    }

    fn head(&self, shaper: &Shaper, tree: &mut Tree, node: NodeId, x: f64) -> Slab {
        let row = tree.add(node, Role::Row);
        let mut columns = Vec::new();
        let mut left = x;
        for column in &self.columns {
            let cell = tree.add(row, Role::Header(Scope::Column));
            let para = Para { align: column.align, ..Para::new(vec![Span::new(&column.title, LABEL)]) };
            columns.push(para.set(shaper, left, column.width - GAP, Some(cell)));
            left += column.width;
        }
        let mut slab = stack(super::beside(columns, f64::MAX));
        slab.height += 2.0;
        let y = slab.height;
        slab.items.push(Item::rule((x, y), (x + self.width(), y), Tone::WetConcrete, 0.9));
        slab.keep = true;
        slab
    }

    fn row(&self, shaper: &Shaper, tree: &mut Tree, node: NodeId, x: f64, row: &Row) -> Slab {
        let row_node = tree.add(node, Role::Row);
        let mut cells = Vec::new();
        let mut left = x;
        for (column, cell) in self.columns.iter().zip(&row.cells) {
            cells.push(set_cell(shaper, tree, row_node, cell, (left, column.width - GAP), column.align));
            left += column.width;
        }
        RowParts { cells, x, width: self.width(), tint: row.tint, bar: row.bar }.slab(true)
    }
}

/// A row or a part of one: its cells as lines, and what it is dressed in.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RowParts {
    cells: Vec<Vec<Slab>>,
    x: f64,
    width: f64,
    tint: Option<Tone>,
    bar: Option<Tone>,
}

impl RowParts {
    /// Cells side by side with ground, bar and, at the end of the row, a rule.
    fn slab(self, last: bool) -> Slab {
        let cells = self.cells.iter().map(|cell| stack(cell.clone()));
        let part = cells.fold(Slab::default(), |mut part, cell| {
            part.absorb(cell, 0.0);
            part
        });
        let (x, height) = (self.x, part.height + 2.0 * PAD);
        let mut items = Vec::new();
        if let Some(tone) = self.tint {
            items.push(Item::area(x - BLEED, 0.0, self.width + 2.0 * BLEED, height, tone));
        }
        if let Some(tone) = self.bar {
            items.push(Item::area(x - BLEED - 2.0, 0.0, 2.0, height, tone));
        }
        let mut slab = Slab { height, items, ..Slab::default() };
        slab.absorb(part, PAD);
        slab.height = height;
        if last {
            slab.items.push(Item::rule((x, height), (x + self.width, height), Tone::DryConcrete, 0.4));
        }
        slab.split = Some(Rc::new(Split::Row(self)));
        slab
    }

    /// Cuts the row between lines: something of every cell stays above, and at least two lines go below.
    pub(crate) fn cut(&self, room: f64) -> Option<(Slab, Slab)> {
        let height = self.cells.iter().map(|cell| height(cell)).fold(0.0, f64::max);
        let mut room = room - 2.0 * PAD;
        if height < CUT_FROM || room < LEAST_PART {
            return None;
        }
        // Where one line alone would go below, one more goes with it.
        if height - room < LEAST_PART {
            room = height - LEAST_PART;
        }
        let fitting: Vec<usize> = self.cells.iter().map(|cell| fitting(cell, room)).collect();
        let starved = self.cells.iter().zip(&fitting).any(|(cell, count)| *count == 0 && !cell.is_empty());
        let whole = self.cells.iter().zip(&fitting).all(|(cell, count)| *count == cell.len());
        if starved || whole {
            return None;
        }
        let part = |of: fn(&[Slab], usize) -> &[Slab]| Self {
            cells: self.cells.iter().zip(&fitting).map(|(cell, at)| of(cell, *at).to_vec()).collect(),
            ..self.clone()
        };
        let (mut above, below) = (part(|cell, at| &cell[..at]), part(|cell, at| &cell[at..]));
        for last in above.cells.iter_mut().filter_map(|cell| cell.last_mut()) {
            last.keep = false;
        }
        Some((above.slab(false), below.slab(true)))
    }
}

/// Height of lines one below the other, without the space above the first.
fn height(lines: &[Slab]) -> f64 {
    let before = lines.first().map_or(0.0, |first| first.before);
    lines.iter().map(Slab::full).sum::<f64>() - before
}

/// How many lines fit, none of which has to stay with the one after it.
fn fitting(lines: &[Slab], room: f64) -> usize {
    let mut count = (0..=lines.len()).rev().find(|count| height(&lines[..*count]) <= room).unwrap_or(0);
    while count > 0 && count < lines.len() && lines[count - 1].keep {
        count -= 1;
    }
    count
}

fn set_cell(
    shaper: &Shaper,
    tree: &mut Tree,
    row: NodeId,
    cell: &Cell,
    (x, width): (f64, f64),
    align: Align,
) -> Vec<Slab> {
    let role = if cell.names_row { Role::Header(Scope::Row) } else { Role::Cell };
    let node = tree.add(row, role);
    let alone = cell.paras.len() == 1;
    let mut slabs = Vec::new();
    for para in &cell.paras {
        let leaf = if alone { node } else { tree.add(node, Role::Paragraph) };
        let para = Para { align, ..para.clone() };
        slabs.extend(para.set(shaper, x, width, Some(leaf)));
    }
    slabs
}
