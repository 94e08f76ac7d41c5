//! What is recorded, for other programs: everything as JSON, the steps as a table, what is due as a calendar.

use std::path::Path;

use serde_json::Value;
use trowelogue_core::text::{Text, text};
use trowelogue_papers::cells::{self, Cell, Table};

use crate::dto::report::{PieceRow, Show, StepRow};
use crate::papers::Maker;
use crate::reading::About;
use crate::say::fill;
use crate::session::Session;
use crate::{Result, keep};

const WRITTEN: Text = text("Written: {path} ({bytes} bytes).", "Escrito: {path} ({bytes} bytes).");

/// A form of export.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExportForm {
    /// One row for each step of each piece (RFC 4180).
    Csv,
    /// All that `show --json` gives.
    Json,
    /// Reminders of what is due (RFC 5545).
    Ics,
}

/// What was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Exported {
    /// The file.
    pub path: String,
    /// Bytes.
    pub bytes: u64,
    /// All of it in a sentence.
    pub say: String,
}

/// Columns of the table of steps. More may follow; none is renamed or moved.
const COLUMNS: [&str; 24] = [
    "piece",
    "piece_id",
    "piece_name",
    "job",
    "client",
    "kind",
    "title",
    "done",
    "until",
    "wrote",
    "late",
    "person",
    "device",
    "device_id",
    "seq",
    "status",
    "open",
    "region",
    "place",
    "values",
    "notes",
    "photos",
    "body",
    "hash",
];

impl Session {
    /// Writes what is recorded of the pieces asked for to `out`, in a form other programs read.
    ///
    /// # Errors
    /// There is no such piece or job; the folder cannot be read; `out` cannot be written.
    pub fn export(&mut self, form: ExportForm, about: &About, out: &Path) -> Result<Exported> {
        let bytes = match form {
            ExportForm::Csv => cells::write(&table(&self.show(about)?)),
            ExportForm::Json => {
                // Answers are plain data: turning them into JSON cannot fail.
                let mut text = serde_json::to_vec(&self.show(about)?).unwrap_or_default();
                text.push(b'\n');
                text
            }
            ExportForm::Ics => {
                let pieces = self.pieces_about(about)?;
                Maker::unillustrated(self.shop(), self.voice, self.now()).calendar(&pieces)
            }
        };
        keep::replace(out, &bytes, self.voice.lang)?;
        let path = out.display().to_string();
        let say = fill(WRITTEN, self.voice.lang, &[("path", &path), ("bytes", &bytes.len())]);
        Ok(Exported { path, bytes: bytes.len() as u64, say })
    }
}

fn table(show: &Show) -> Table {
    let rows = show.pieces.iter().flat_map(|piece| piece.steps.iter().map(|step| row(show, piece, step)));
    Table { head: COLUMNS.to_vec(), rows: rows.collect() }
}

fn row(show: &Show, piece: &PieceRow, step: &StepRow) -> Vec<Cell> {
    let job = show.jobs.iter().find(|it| Some(&it.id) == piece.job.as_ref());
    let word = |name: &str| Cell::maybe(step.body.get(name).and_then(Value::as_str));
    let photos = step.body.get("photos").and_then(Value::as_array).map_or(0, Vec::len);
    let values = step.shown.facts.iter().map(|it| format!("{}: {}", it.label, it.value));
    let body = if step.body.is_null() { String::new() } else { step.body.to_string() };
    vec![
        Cell::text(&piece.code),
        Cell::text(&piece.id),
        Cell::text(&piece.name),
        Cell::maybe(job.map(|it| it.code.as_str())),
        Cell::maybe(job.and_then(|it| it.client.as_deref())),
        Cell::text(&step.kind),
        Cell::text(&step.shown.title),
        Cell::text(&step.done),
        Cell::maybe(step.until.as_deref()),
        Cell::text(&step.wrote),
        Cell::Flag(step.late),
        Cell::text(&step.person_name),
        Cell::text(&step.shown.device),
        Cell::text(&step.device),
        Cell::Count(step.seq),
        Cell::text(step.status),
        Cell::Flag(step.open),
        word("region"),
        word("place"),
        Cell::text(values.collect::<Vec<_>>().join("; ")),
        word("notes"),
        Cell::Count(photos as u64),
        Cell::text(body),
        Cell::text(&step.hash),
    ]
}
