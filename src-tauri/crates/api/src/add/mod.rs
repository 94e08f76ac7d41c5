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

use trowelogue_core::text::{Text, text};

use crate::dto::report::Written;
use crate::keep::Me;
use crate::session::Session;
use crate::{ApiError, Result, faults};

pub(crate) const NOTHING: Text = text("Nothing was written.", "No se escribió nada.");

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
        self.joined()?;
        let given = parse::parse(bytes, self.voice.lang)
            .map_err(|error| mark(error, source, &self.voice.say(NOTHING)))?;
        let mut reader = Reader::new(self);
        let mut drafts = Vec::with_capacity(given.len());
        for one in given {
            let line = one.line;
            let draft = reader.draft(one.map);
            drafts.push(draft.map_err(|error| mark(error.line(line), source, &self.voice.say(NOTHING)))?);
        }
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

fn mark(error: ApiError, source: &str, kept: &str) -> ApiError {
    let error = if error.file.is_none() { error.file(source) } else { error };
    if error.kept.is_none() { error.kept(kept) } else { error }
}
