//! The papers of a piece: care sheet, process record, labels; and its dates and steps for other programs.
//!
//! Three layers, each knowing only the one below: documents say what stands where, the layout turns it into a
//! display list of placed glyphs and shapes with roles, the writer turns the list into a file. Fonts are inside;
//! the date and every id are passed in, so the same input gives the same bytes.

pub mod calendar;
mod care;
pub mod cells;
mod error;
mod font;
mod furniture;
mod jpeg;
mod labels;
mod layout;
pub mod model;
mod pdf;
mod photo;
mod record;
mod scene;
pub mod seal;
mod sheet;
mod text;
mod theme;
mod words;

pub use error::PaperError;

// The sample data of the tests names this crate as those outside it do.
#[cfg(test)]
extern crate self as trowelogue_papers;
#[cfg(test)]
#[path = "../tests/sample/mod.rs"]
mod sample;

use model::{CareSheet, Labels, Options, ProcessRecord};

/// Makes a care sheet: PDF/A-3a, PDF/UA-1, two pages for each group of pieces.
pub fn care_sheet(sheet: &CareSheet, options: &Options) -> Result<Vec<u8>, PaperError> {
    care::make(sheet, options, pdf::Claim::AccessibleArchive)
}

/// Makes labels, several to a sheet: PDF/A-3a, PDF/UA-1.
///
/// # Errors
/// There is no label; the file cannot be assembled.
pub fn labels(labels: &Labels, options: &Options) -> Result<Vec<u8>, PaperError> {
    labels::make(labels, options, pdf::Claim::AccessibleArchive)
}

/// Makes a process record: PDF/A-3a, PDF/UA-1, with the entries it was made from inside, sealed but not signed.
pub fn process_record(record: &ProcessRecord, options: &Options) -> Result<Vec<u8>, PaperError> {
    record::make(record, options, pdf::Claim::AccessibleArchive, None)
}

/// The same, its seal signed by the device that issues it.
pub fn signed_record(
    record: &ProcessRecord,
    options: &Options,
    signer: &dyn seal::Signer,
) -> Result<Vec<u8>, PaperError> {
    record::make(record, options, pdf::Claim::AccessibleArchive, Some(signer))
}
