//! What the folder still shows of what should not be readable any more: bodies and photos that stand there plain
//! although the shop has a passphrase, and bodies that were erased but are held by a log nobody rewrote yet.
//!
//! Every file is looked at as it stands, not as this home may see it: what matters is what others can read.

use std::path::Path;

use trowelogue_core::body::Kind;
use trowelogue_core::id::Hash;

use super::{Expected, Shop};
use crate::disk::Disk;
use crate::fault::{Note, NoteKind};
use crate::gather::{self, PieceKind};
use crate::line::{NO_BODY, Raw};
use crate::scan::list;
use crate::sight::stays_readable;
use crate::wire::{self, Signed};

/// The most photos that are named one by one.
const MOST_PHOTOS: usize = 100;
/// How an encrypted body begins.
const SEALED: &str = "{\"x\":\"";

impl Shop {
    /// What the folder still shows; nothing where it is out of reach.
    pub fn exposed(&self, expected: &Expected) -> Vec<Note> {
        exposed(self.home.disk.as_ref(), &self.folder, expected)
    }
}

/// One note for each file and reason; the line is the first of its kind.
pub(super) fn exposed(disk: &dyn Disk, folder: &Path, expected: &Expected) -> Vec<Note> {
    if !expected.passphrase && expected.erased.is_empty() {
        return Vec::new();
    }
    let logs = list::list(disk, folder, "logs").map(|(files, _)| files).unwrap_or_default();
    let mut notes: Vec<Note> =
        logs.iter().flat_map(|file| in_log(disk, &file.path, &file.name, expected)).collect();
    if expected.passphrase {
        let photos = list::list(disk, folder, "photos").map(|(files, _)| files).unwrap_or_default();
        let plain = photos.into_iter().filter(|file| file.name.ends_with(".jpg"));
        notes.extend(plain.take(MOST_PHOTOS).map(|file| Note::of_file(NoteKind::StillPlain, &file.name)));
    }
    notes
}

fn in_log(disk: &dyn Disk, path: &Path, name: &str, expected: &Expected) -> Vec<Note> {
    let Ok(gathered) = disk.read(path).and_then(|source| gather::gather(source, true)) else {
        return Vec::new();
    };
    let mut notes: Vec<Note> = Vec::new();
    for piece in gathered.pieces.iter().filter(|piece| piece.kind == PieceKind::Whole) {
        let text = std::str::from_utf8(&gathered.bytes[piece.range.clone()]).ok();
        let shown = text.and_then(Raw::split).and_then(|raw| shown(&raw, expected));
        if let Some(kind) = shown
            && !notes.iter().any(|note| note.kind == kind)
        {
            notes.push(Note::of_line(kind, name, piece.number));
        }
    }
    notes
}

/// Whether a line shows a body it should not.
fn shown(raw: &Raw<'_>, expected: &Expected) -> Option<NoteKind> {
    if raw.body == NO_BODY {
        return None;
    }
    let hash: Hash = raw.hash();
    if expected.erased.contains(&hash) {
        return Some(NoteKind::ErasedStillShown);
    }
    if !expected.passphrase || raw.body.starts_with(SEALED) {
        return None;
    }
    match wire::parse(raw.entry).ok()? {
        Signed::Entry(entry) if Kind::parse(&entry.kind).is_some_and(stays_readable) => None,
        Signed::Entry(_) => Some(NoteKind::StillPlain),
        Signed::Header(_) | Signed::Seal(_) => None,
    }
}
