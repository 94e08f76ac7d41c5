//! Whether the files hold: every signature, chain, seal, header and photo.

use std::collections::BTreeSet;

use trowelogue_core::id::Hash;
use trowelogue_core::shop::Step;
use trowelogue_journal::{self as journal, Break, Expected, Note, Report};

use crate::dto::report::{BreakRow, NoteRow, Verify};
use crate::session::Session;
use crate::{Result, faults};

impl Session {
    /// Checks everything in the folder.
    ///
    /// # Errors
    /// The folder cannot be read.
    pub fn verify(&mut self) -> Result<Verify> {
        let expected = self.expected();
        let lang = self.voice.lang;
        let report = match &mut self.link {
            Some(link) => link.verify(&expected),
            None => journal::verify_folder(&self.folder, &expected),
        };
        let Report { breaks, notes } = report.map_err(|error| faults::journal(&error, lang))?;
        Ok(Verify {
            health: super::health(self, &notes, &breaks),
            breaks: breaks.iter().map(|it| self.break_row(it)).collect(),
            notes: notes.iter().map(|it| self.note_row(it)).collect(),
            entries: self.shop().steps.len(),
        })
    }

    fn expected(&self) -> Expected {
        let shop = self.shop();
        Expected {
            photos: photos(&shop.steps),
            erased: shop.erased.clone(),
            passphrase: shop.passphrase.is_some(),
        }
    }

    /// What the folder still shows of what should not be readable any more; nothing for a home that only looks.
    pub(crate) fn exposed(&self) -> Vec<Note> {
        let expected = Expected { photos: BTreeSet::new(), ..self.expected() };
        self.link.as_ref().map(|link| link.exposed(&expected)).unwrap_or_default()
    }

    pub(crate) fn break_row(&self, it: &Break) -> BreakRow {
        BreakRow {
            file: it.file.clone(),
            line: it.line,
            kind: it.kind.code(),
            text: self.voice.say(it.kind.text()),
        }
    }

    pub(crate) fn note_row(&self, it: &Note) -> NoteRow {
        NoteRow {
            kind: it.kind.code(),
            file: it.file.clone(),
            line: it.line,
            device: it.device.map(|id| id.to_string()),
            range: it.range,
            text: self.voice.say(it.kind.text()),
        }
    }
}

/// Every photo named in a body.
pub(crate) fn photos(steps: &[Step]) -> BTreeSet<Hash> {
    let named = steps.iter().filter_map(|step| step.common());
    named.flat_map(|common| common.photos.iter().map(|photo| photo.hash)).collect()
}
