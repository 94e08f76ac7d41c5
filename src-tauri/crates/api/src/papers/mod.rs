//! The papers of a piece, made from what is recorded.
//!
//! A paper adds no entry. It carries the exact lines it was made from; lines of other clients' pieces, cost and
//! internal notes are never among them.

mod anew;
mod care;
mod due;
mod labels;
mod lines;
mod making;
mod parts;
mod pictures;
mod proof;
mod record;
mod reminders;
mod steps;
#[cfg(test)]
mod tests;

pub use proof::verify_paper;

use std::path::Path;

use trowelogue_core::body::{Body, Kind};
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::Moment;
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_papers::{self as made, PaperError};

use self::making::{Carried, Making};
use crate::dto::{PaperAsk, PaperKind, PaperMade, PaperSize};
use crate::format::Voice;
use crate::say::fill;
use crate::session::Session;
use crate::{ApiError, ErrorCode, Result, keep};

const MADE: Text = text("Written: {path} ({bytes} bytes).", "Escrito: {path} ({bytes} bytes).");
const OF_ONE: Text =
    text("A process record is of one piece; name it.", "El registro de proceso es de una pieza; indíquela.");
const NO_PIECE: Text = text("The job has no piece.", "El trabajo no tiene ninguna pieza.");
const FAILED: Text = text("The paper could not be made: {why}.", "No se pudo preparar el documento: {why}.");

/// What makes a paper, and the version of its rules and words. Only the same makes the same pages.
pub(crate) const TOOL: &str = concat!("Trowelogue ", env!("CARGO_PKG_VERSION"));
pub(crate) const CATALOGUE: &str = env!("CARGO_PKG_VERSION");

/// What every part of a paper is made with.
pub(crate) struct Maker<'a> {
    /// What it is made from.
    pub shop: &'a Shop,
    /// The file of a photo, where it is at hand.
    pub photo: &'a dyn Fn(&Hash) -> Option<Vec<u8>>,
    /// The reader of the paper.
    pub voice: Voice,
    /// The moment of issue.
    pub now: Moment,
}

impl<'a> Maker<'a> {
    /// A maker of parts that show no photo.
    pub(crate) fn unillustrated(shop: &'a Shop, voice: Voice, now: Moment) -> Self {
        Self { shop, photo: &|_| None, voice, now }
    }
}

impl Session {
    /// Makes a paper and writes it to `out`.
    ///
    /// # Errors
    /// There is no such piece or job; the folder cannot be read; `out` cannot be written.
    pub fn write_paper(&mut self, ask: &PaperAsk, out: &Path) -> Result<PaperMade> {
        let bytes = self.paper(ask)?;
        keep::replace(out, &bytes, self.voice.lang)?;
        let path = out.display().to_string();
        let say = fill(MADE, ask.lang.into(), &[("path", &path), ("bytes", &bytes.len())]);
        let name = out.file_name().unwrap_or_default().to_string_lossy().into_owned();
        Ok(PaperMade { path, name, bytes: bytes.len() as u64, sealed: self.seals(ask), say })
    }

    /// Makes a paper.
    pub(crate) fn paper(&mut self, ask: &PaperAsk) -> Result<Vec<u8>> {
        let pieces = self.pieces_of_paper(ask)?;
        let now = self.now();
        let voice = Voice { lang: ask.lang.into(), system: ask.units.into(), zone: self.voice.zone };
        let options = made::model::Options { lang: voice.lang, paper: sheet(ask.paper) };
        match (ask.kind, &pieces[..]) {
            (PaperKind::Record, [piece]) => self.record_of(*piece, voice, now, ask.paper, &options),
            (PaperKind::Record, _) => Err(ApiError::bad_input("piece", OF_ONE.get(voice.lang))),
            (PaperKind::Care, _) => {
                let photo = |hash: &Hash| self.photo(hash);
                let maker = Maker { shop: self.shop(), photo: &photo, voice, now };
                let made = made::care_sheet(&maker.care(&pieces), &options);
                made.map_err(|error| failed(&error, voice.lang))
            }
            (PaperKind::Labels, _) => {
                let photo = |hash: &Hash| self.photo(hash);
                let maker = Maker { shop: self.shop(), photo: &photo, voice, now };
                let made = made::labels(&maker.labels(&pieces), &options);
                made.map_err(|error| failed(&error, voice.lang))
            }
        }
    }

    /// The process record of a piece, with the lines it is made from inside.
    fn record_of(
        &mut self,
        piece: ObjectId,
        voice: Voice,
        now: Moment,
        paper: PaperSize,
        options: &made::model::Options,
    ) -> Result<Vec<u8>> {
        let (lines, choice) = self.lines_of(piece)?;
        let photo = |hash: &Hash| self.photo(hash);
        let maker = Maker { shop: self.shop(), photo: &photo, voice, now };
        let mut record = maker.record(piece, Vec::new());
        let mut making = Making::new(self.shop(), &self.view.merged, piece, &voice, paper, &choice);
        making.compare(&record, &Carried { shop: &lines.shop, lines: &lines.lines }, now, &photo);
        record.attachments = lines.attachments(voice.lang);
        record.attachments.push(making.attachment(voice.lang));
        let made = match &self.link {
            Some(link) => made::signed_record(&record, options, &proof::Hand(link)),
            None => made::process_record(&record, options),
        };
        made.map_err(|error| failed(&error, voice.lang))
    }

    /// Whether a paper is issued with this device's signature.
    fn seals(&self, ask: &PaperAsk) -> bool {
        ask.kind == PaperKind::Record && self.link.is_some()
    }

    fn pieces_of_paper(&self, ask: &PaperAsk) -> Result<Vec<ObjectId>> {
        let about = crate::About { piece: ask.piece.clone(), job: ask.job.clone() };
        if about == crate::About::default() {
            return Err(ApiError::bad_input("piece", OF_ONE.get(ask.lang.into())));
        }
        let pieces = self.pieces_about(&about)?;
        if pieces.is_empty() {
            Err(ApiError::bad_input("job", NO_PIECE.get(ask.lang.into())))
        } else {
            Ok(pieces)
        }
    }
}

fn sheet(size: PaperSize) -> made::model::Paper {
    match size {
        PaperSize::A4 => made::model::Paper::A4,
        PaperSize::Letter => made::model::Paper::Letter,
    }
}

fn failed(error: &PaperError, lang: Lang) -> ApiError {
    ApiError::new(ErrorCode::Io, fill(FAILED, lang, &[("why", error)]))
}

/// Whether an entry may stand in a paper: no cost, nothing internal.
pub(crate) fn may_stand(step: &Step) -> bool {
    match step.body() {
        Some(Body::Note(note)) => note.internal != Some(true),
        _ => step.kind != Some(Kind::Quote),
    }
}

/// The first characters of a hash: enough to find it, few enough to read.
pub(crate) fn short(hash: &Hash) -> String {
    hash.to_string()[..12].to_owned()
}
