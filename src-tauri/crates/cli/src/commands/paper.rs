//! `record`, `care`, `labels` and `export`.

use std::path::Path;

use serde_json::json;
use trowelogue_api::dto::{self, PaperAsk, PaperKind};
use trowelogue_api::{ExportForm, Result, Text, text};

use super::Desk;
use crate::args::{self, OneAbout, Sheet};
use crate::print::Out;
use crate::progress::Progress;

const MAKING: Text = text("making the paper", "preparando el documento");

impl Desk {
    pub(super) fn record(&self, folder: &Path, piece: String, sheet: &Sheet, out: &mut Out) -> Result<u8> {
        self.paper(folder, PaperKind::Record, (Some(piece), None), sheet, out)
    }

    pub(super) fn care(&self, folder: &Path, about: OneAbout, sheet: &Sheet, out: &mut Out) -> Result<u8> {
        self.paper(folder, PaperKind::Care, (about.piece, about.job), sheet, out)
    }

    pub(super) fn labels(&self, folder: &Path, about: OneAbout, sheet: &Sheet, out: &mut Out) -> Result<u8> {
        self.paper(folder, PaperKind::Labels, (about.piece, about.job), sheet, out)
    }

    pub(super) fn export(
        &self,
        folder: &Path,
        form: args::ExportForm,
        about: args::About,
        path: &Path,
        out: &mut Out,
    ) -> Result<u8> {
        let form = match form {
            args::ExportForm::Csv => ExportForm::Csv,
            args::ExportForm::Json => ExportForm::Json,
            args::ExportForm::Ics => ExportForm::Ics,
        };
        let made = self.open(folder)?.export(form, &super::wanted(about), path)?;
        let answer = json!({ "path": made.path, "bytes": made.bytes });
        self.answer(&answer, out, |out| out.line(&made.say))
    }

    fn paper(
        &self,
        folder: &Path,
        kind: PaperKind,
        (piece, job): (Option<String>, Option<String>),
        sheet: &Sheet,
        out: &mut Out,
    ) -> Result<u8> {
        let mut session = self.open(folder)?;
        let paper = match sheet.paper {
            args::Paper::A4 => dto::PaperSize::A4,
            args::Paper::Letter => dto::PaperSize::Letter,
        };
        let ask = PaperAsk { kind, piece, job, lang: self.lang(), paper, units: session.units() };
        let made = {
            let _progress = Progress::start(MAKING.get(self.lang().into()));
            session.write_paper(&ask, &sheet.out)?
        };
        let answer = json!({
            "path": made.path, "bytes": made.bytes, "sealed": made.sealed,
        });
        self.answer(&answer, out, |out| out.line(&made.say))
    }
}
