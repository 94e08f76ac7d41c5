//! Tables: header row repeated on each page, rows not cut unless higher than a page.

use std::rc::Rc;

use trowelogue_core::drawing::Tone;

use super::paragraph::{Align, Para};
use super::slab::{Slab, stack};
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
    /// Sets the table into strips, at most `limit` points high with the header row.
    pub(crate) fn set(
        &self,
        shaper: &Shaper,
        tree: &mut Tree,
        node: NodeId,
        x: f64,
        limit: f64,
    ) -> Vec<Slab> {
        let mut head = self.head(shaper, tree, node, x);
        head.before = self.before;
        let shared = Rc::new(Slab { before: 0.0, ..head.clone() });
        let room = limit - head.height;
        let mut slabs = vec![head];
        for (at, row) in self.rows.iter().enumerate() {
            let mut parts = self.row(shaper, tree, node, x, row, room);
            let short = self.rows.len() - at == 2 && parts.len() == 1;
            for part in &mut parts {
                part.header = Some(Rc::clone(&shared));
                // The last row never stands alone on a page.
                part.keep = short;
            }
            slabs.append(&mut parts);
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

    fn row(&self, shaper: &Shaper, tree: &mut Tree, node: NodeId, x: f64, row: &Row, room: f64) -> Vec<Slab> {
        let row_node = tree.add(node, Role::Row);
        let mut cells = Vec::new();
        let mut left = x;
        for (column, cell) in self.columns.iter().zip(&row.cells) {
            cells.push(set_cell(shaper, tree, row_node, cell, (left, column.width - GAP), column.align));
            left += column.width;
        }
        let parts = cut(cells, room - 2.0 * PAD);
        parts.into_iter().map(|part| self.dress(part, row, x)).collect()
    }

    /// Adds ground, bar and rule to a row or a part of one.
    fn dress(&self, part: Slab, row: &Row, x: f64) -> Slab {
        let height = part.height + 2.0 * PAD;
        let mut items = Vec::new();
        if let Some(tone) = row.tint {
            items.push(Item::area(x - BLEED, 0.0, self.width() + 2.0 * BLEED - GAP, height, tone));
        }
        if let Some(tone) = row.bar {
            items.push(Item::area(x - BLEED - 2.0, 0.0, 2.0, height, tone));
        }
        let mut slab = Slab { height, items, ..Slab::default() };
        slab.absorb(part, PAD);
        slab.height = height;
        slab.items.push(Item::rule((x, height), (x + self.width(), height), Tone::DryConcrete, 0.4));
        slab
    }
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

/// Puts cells side by side; cells higher than `room` are cut between lines into several strips.
fn cut(cells: Vec<Vec<Slab>>, room: f64) -> Vec<Slab> {
    let mut rest: Vec<_> = cells.into_iter().map(|cell| cell.into_iter().peekable()).collect();
    let mut parts = Vec::new();
    while rest.iter_mut().any(|cell| cell.peek().is_some()) {
        let mut part = Slab::default();
        for cell in &mut rest {
            let mut down = 0.0;
            while let Some(line) = cell.next_if(|line| down == 0.0 || down + line.full() <= room) {
                let before = if down == 0.0 { 0.0 } else { line.before };
                let height = line.height;
                part.absorb(line, down + before);
                down += before + height;
            }
        }
        parts.push(part);
    }
    if parts.is_empty() {
        parts.push(Slab::default());
    }
    parts
}
