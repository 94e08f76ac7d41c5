//! Appending entries from JSON: an object, an array or JSON Lines, all or nothing.
//!
//! Invariant: nothing is written before every entry of the batch has been read, its names resolved and its body
//! held to its kind.

mod body;
mod book;
mod check;
mod entry;
mod parse;

pub(crate) use book::Book;
pub(crate) use check::untouchable;
pub(crate) use entry::Reader;

use serde_json::{Map, Value, json};
use trowelogue_core::id::Hash;
use trowelogue_core::text::{Lang, Text, text};

use crate::dto::report::Written;
use crate::keep::Me;
use crate::session::Session;
use crate::{ApiError, Result, faults};

pub(crate) const NOTHING: Text = text("Nothing was written.", "No se escribió nada.");

const MEND: Text = text(
    "Correct the entry and add the whole batch again.",
    "Corrija la entrada y vuelva a añadir el lote entero.",
);

const ONE_ENTRY: Text = text(
    "Photos go with one entry; the input has several.",
    "Las fotos acompañan a una sola entrada; hay varias.",
);

const WHO: Text = text(
    "Nobody is known to log on this device; name a person.",
    "No se sabe quién anota en este dispositivo; indique una persona.",
);

impl Session {
    /// Appends the entries in `bytes`; `source` is what the input is called in errors.
    ///
    /// # Errors
    /// The first entry that cannot be taken, with its line and field; nothing is written then.
    pub fn add(&mut self, bytes: &[u8], source: &str) -> Result<Written> {
        self.add_with_photos(bytes, source, &[])
    }

    /// Appends the one entry in `bytes` with photos: each a file as a camera or a phone wrote it. Photos are made
    /// ready first (turned upright, bounded in size, without the place they were taken at unless the shop keeps
    /// it), then put into the folder, then named in the entry.
    ///
    /// # Errors
    /// A photo that cannot be read, photos with more than one entry, or an entry that cannot be taken; nothing
    /// is written then.
    pub fn add_with_photos(&mut self, bytes: &[u8], source: &str, photos: &[Vec<u8>]) -> Result<Written> {
        self.joined()?;
        let lang = self.voice.lang;
        let mut given = parse::parse(bytes, lang).map_err(|error| mark(error, source, lang))?;
        let ready = self.ready_photos(photos)?;
        match given.as_mut_slice() {
            [one] => name_photos(&mut one.map, &ready),
            _ if ready.is_empty() => {}
            _ => {
                return Err(
                    ApiError::bad_input("photo", self.voice.say(ONE_ENTRY)).kept(self.voice.say(NOTHING))
                );
            }
        }
        let mut reader = Reader::new(self);
        let mut drafts = Vec::with_capacity(given.len());
        for one in given {
            let line = one.line;
            let draft = reader.draft(one.map);
            drafts.push(draft.map_err(|error| mark(error.line(line), source, lang))?);
        }
        self.put_photos(&ready)?;
        self.append(drafts)
    }

    /// Who logs on this device.
    pub(crate) fn me(&self) -> Result<Me> {
        self.keep.me(self.shop().id).ok_or_else(|| ApiError::bad_input("person", self.voice.say(WHO)))
    }

    /// Refuses to write where this home has not joined.
    pub(crate) fn joined(&self) -> Result<()> {
        if self.link.is_some() {
            return Ok(());
        }
        let shop = Some(self.shop().id);
        let error = trowelogue_journal::Error::NotJoined { path: self.folder.clone(), shop };
        Err(faults::journal(&error, self.voice.lang))
    }
}

/// Adds photos to those an entry names already.
fn name_photos(entry: &mut Map<String, Value>, photos: &[Vec<u8>]) {
    if photos.is_empty() {
        return;
    }
    let body = entry.entry("body").or_insert_with(|| json!({}));
    // A body of another type is refused where bodies are read.
    let Some(body) = body.as_object_mut() else { return };
    let names = photos.iter().map(|photo| json!({ "hash": Hash::of(&[photo]) }));
    if let Some(list) = body.entry("photos").or_insert_with(|| json!([])).as_array_mut() {
        list.extend(names);
    }
}

/// Says of a refused batch where it came from, what was kept and what to do.
fn mark(error: ApiError, source: &str, lang: Lang) -> ApiError {
    let error = if error.file.is_none() { error.file(source) } else { error };
    let error = if error.kept.is_none() { error.kept(NOTHING.get(lang)) } else { error };
    if error.remedy.is_none() { error.remedy(MEND.get(lang)) } else { error }
}
