//! Photos taken in with a form and not in the record yet: `waiting/<shop>/` in the home.
//!
//! A photo is on this device's disk, as the camera wrote it, before anyone says it was taken in. What the record
//! gets, upright and bounded in size, is made from it on the side. A photo goes by the SHA-256 of what the camera
//! wrote until then; entries name the SHA-256 of what was made. Nothing here is ever published.

use std::path::PathBuf;
use std::time::{Duration, SystemTime};

use serde::{Deserialize, Serialize};
use trowelogue_core::id::Hash;
use trowelogue_core::text::{Lang, Text, text};

use crate::keep::{Keep, replace};
use crate::{Result, faults, photo};

/// As the camera wrote it.
const RAW: &str = "raw";
/// As the record gets it.
const READY: &str = "jpg";
/// Why it cannot be made ready.
const REFUSED: &str = "refused";
/// The step it belongs to, where that was logged before it was ready.
const STEP: &str = "step";
/// Photos of forms nobody finished go after this time.
const KEPT: Duration = Duration::from_secs(30 * 24 * 3600);

const BROKEN: Text = text(
    "A photo could not be read when it was made smaller. What the camera wrote is kept in {file}.",
    "Una foto no se pudo leer al reducirla. Lo que escribió la cámara se conserva en {file}.",
);

/// The photos of one shop that are not in the record yet.
#[derive(Debug, Clone)]
pub(crate) struct Darkroom {
    dir: PathBuf,
}

/// How far a photo is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Held {
    /// On disk, as the camera wrote it.
    Raw,
    /// Ready for the record.
    Ready(Vec<u8>),
    /// It cannot be read; why.
    Refused(String),
    /// Not here.
    Unknown,
}

/// Which step a photo belongs to that was not ready when the step was logged: the first one of this device after
/// `after` with this kind and these pieces. Written before the step, so that a crash between the two loses nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Belongs {
    /// Number of this device's newest entry before the step.
    pub after: u64,
    /// Kind of the step.
    pub kind: String,
    /// Its pieces, by id.
    pub pieces: Vec<String>,
}

impl Darkroom {
    pub(crate) fn of(keep: &Keep, shop: &str) -> Self {
        Self { dir: keep.dir().join("waiting").join(shop) }
    }

    /// Puts a photo on disk as the camera wrote it; gives the name it goes by.
    pub(crate) fn take(&self, bytes: &[u8], lang: Lang) -> Result<Hash> {
        let id = Hash::of(&[bytes]);
        if self.held(&id) == Held::Unknown {
            replace(&self.path(&id, RAW), bytes, lang)?;
        }
        Ok(id)
    }

    pub(crate) fn held(&self, id: &Hash) -> Held {
        if let Ok(bytes) = std::fs::read(self.path(id, READY)) {
            return Held::Ready(bytes);
        }
        if let Ok(why) = std::fs::read_to_string(self.path(id, REFUSED)) {
            return Held::Refused(why);
        }
        if self.path(id, RAW).is_file() { Held::Raw } else { Held::Unknown }
    }

    /// Makes a photo ready, or writes down why it cannot be; what the camera wrote goes only when it is.
    pub(crate) fn develop(&self, id: &Hash, keep_position: bool, lang: Lang) -> Result<()> {
        let raw = self.path(id, RAW);
        if self.held(id) != Held::Raw {
            return Ok(());
        }
        let bytes = std::fs::read(&raw).map_err(|error| faults::file(&raw, &error, lang))?;
        // The bytes come from outside: a decoder that gives up in the middle is a photo that cannot be read.
        let made = std::panic::catch_unwind(|| photo::ready(&bytes, keep_position));
        match made {
            Ok(Ok(made)) => {
                replace(&self.path(id, READY), &made, lang)?;
                // Left behind, it is found to be ready and never read again.
                drop(std::fs::remove_file(&raw));
                Ok(())
            }
            Ok(Err(_)) | Err(_) => {
                let why = crate::say::fill(BROKEN, lang, &[("file", &raw.display())]);
                replace(&self.path(id, REFUSED), why.as_bytes(), lang)
            }
        }
    }

    /// Photos that are still as the camera wrote them.
    pub(crate) fn raw(&self) -> Vec<Hash> {
        let all = self.named(RAW).into_iter();
        all.filter(|id| self.held(id) == Held::Raw).collect()
    }

    /// Why photos cannot be made ready, in words.
    pub(crate) fn refused(&self) -> Vec<String> {
        let all = self.named(REFUSED).into_iter();
        all.filter_map(|id| std::fs::read_to_string(self.path(&id, REFUSED)).ok()).collect()
    }

    /// Writes down which step photos belong to.
    pub(crate) fn belong(&self, ids: &[Hash], to: &Belongs, lang: Lang) -> Result<()> {
        let text = serde_json::to_string(to).unwrap_or_default();
        ids.iter().try_for_each(|id| replace(&self.path(id, STEP), text.as_bytes(), lang))
    }

    /// Takes that back: the step was not written.
    pub(crate) fn unbind(&self, ids: &[Hash]) {
        for id in ids {
            drop(std::fs::remove_file(self.path(id, STEP)));
        }
    }

    /// Photos that belong to a step, with the step.
    pub(crate) fn bound(&self) -> Vec<(Hash, Belongs)> {
        let read = |id: Hash| {
            let bytes = std::fs::read(self.path(&id, STEP)).ok()?;
            Some((id, serde_json::from_slice(&bytes).ok()?))
        };
        self.named(STEP).into_iter().filter_map(read).collect()
    }

    /// Drops a photo and everything about it.
    pub(crate) fn forget(&self, id: &Hash) {
        for ending in [STEP, READY, REFUSED, RAW] {
            drop(std::fs::remove_file(self.path(id, ending)));
        }
    }

    /// Drops photos of forms nobody finished. One that belongs to a step, or cannot be read, stays.
    pub(crate) fn clear_out(&self, now: SystemTime) {
        for ending in [RAW, READY] {
            for id in self.named(ending) {
                let path = self.path(&id, ending);
                let since = std::fs::metadata(&path).and_then(|it| it.modified());
                let age = since.ok().and_then(|since| now.duration_since(since).ok());
                let stays = self.path(&id, STEP).exists() || self.path(&id, REFUSED).exists();
                if !stays && age.is_some_and(|age| age > KEPT) {
                    self.forget(&id);
                }
            }
        }
    }

    fn named(&self, ending: &str) -> Vec<Hash> {
        let files = std::fs::read_dir(&self.dir).into_iter().flatten().flatten();
        let names = files.filter_map(|file| file.file_name().into_string().ok());
        let mut ids: Vec<Hash> =
            names.filter_map(|name| name.strip_suffix(ending)?.strip_suffix('.')?.parse().ok()).collect();
        ids.sort();
        ids
    }

    fn path(&self, id: &Hash, ending: &str) -> PathBuf {
        self.dir.join(format!("{id}.{ending}"))
    }
}
