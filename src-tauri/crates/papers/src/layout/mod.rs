//! Layout: turns headings, paragraphs, tables and figures into a display list.
//!
//! Everything is first set into slabs, strips of a page; then the slabs are put on pages. A page break cuts a slab
//! only where the slab says how: a long row between its lines, a core between its layers.

mod core;
mod facts;
mod figure;
mod flow;
#[cfg(test)]
mod hostile;
mod pages;
mod paragraph;
mod pictured;
mod qr;
mod slab;
mod table;
#[cfg(test)]
mod tests;

pub(crate) use figure::{FigureBox, as_one, grid};
pub(crate) use flow::{Composer, Region};
pub(crate) use pages::{Frame, paginate};
pub(crate) use paragraph::{Align, Mark, Para, clamped, one_line, ring};
pub(crate) use pictured::{Beside, Pictured};
pub(crate) use qr::code as qr_code;
pub(crate) use slab::{Slab, beside, shows, stack};
pub(crate) use table::{Cell, Column, Row, Table};
