//! Layout: turns headings, paragraphs, tables and figures into a display list.
//!
//! Everything is first set into slabs, strips that no page break may cut; then the slabs are put on pages.

mod facts;
mod figure;
mod flow;
mod pages;
mod paragraph;
mod qr;
mod slab;
mod table;
#[cfg(test)]
mod tests;

pub(crate) use figure::{FigureBox, as_one, grid};
pub(crate) use flow::{Composer, Region};
pub(crate) use pages::{Frame, paginate};
pub(crate) use paragraph::{Align, Mark, Para, ring};
pub(crate) use qr::code as qr_code;
pub(crate) use slab::{Slab, beside};
pub(crate) use table::{Cell, Column, Row, Table};
