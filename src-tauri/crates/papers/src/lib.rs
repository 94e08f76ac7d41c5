//! The papers of a piece: care sheet, process record.
//!
//! Three layers, each knowing only the one below: documents say what stands where, the layout turns it into a
//! display list of placed glyphs and shapes with roles, the writer turns the list into a file. Fonts are inside;
//! the date and every id are passed in, so the same input gives the same bytes.

mod error;
mod font;
mod jpeg;
mod layout;
pub mod model;
mod pdf;
mod scene;
mod text;
mod theme;

pub use error::PaperError;

use model::{CareSheet, Options, ProcessRecord, Signer};

/// Makes a care sheet: PDF/A-3a, PDF/UA-1, two pages for each group of pieces.
///
/// Without a signer the seal is marked "unsigned copy".
pub fn care_sheet(sheet: &CareSheet, options: &Options, signer: Option<&Signer>) -> Result<Vec<u8>, PaperError> {
    let _ = (options, signer);
    sheet.groups.first().ok_or(PaperError::NoPiece).and(Err(PaperError::Assembly("not built".into())))
}

/// Makes a process record: PDF/A-3a, PDF/UA-1, with the entries it was made from inside.
///
/// Without a signer the seal is marked "unsigned copy".
pub fn process_record(
    record: &ProcessRecord,
    options: &Options,
    signer: Option<&Signer>,
) -> Result<Vec<u8>, PaperError> {
    let _ = (record, options, signer);
    Err(PaperError::Assembly("not built".into()))
}
