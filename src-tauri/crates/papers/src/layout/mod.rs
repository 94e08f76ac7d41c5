//! Layout: turns headings, paragraphs, tables and figures into a display list.
//!
//! Everything is first set into slabs, strips that no page break may cut; then the slabs are put on pages.

mod figure;
mod flow;
mod pages;
mod paragraph;
mod qr;
mod slab;
mod table;
#[cfg(test)]
mod tests;

pub(crate) use figure::FigureBox;
pub(crate) use flow::{Composer, Region};
pub(crate) use pages::{Frame, Furniture, paginate};
pub(crate) use paragraph::{Align, Para};
pub(crate) use slab::{Slab, beside, stack};
pub(crate) use table::{Cell, Column, Row, Table};
