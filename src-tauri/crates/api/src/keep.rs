//! What this home keeps beside its journals: settings, who logs here, drafts of steps, papers made.
//!
//! Small JSON files, each replaced whole: written beside, brought to the medium, renamed. A damaged one is as
//! good as none; nothing of the record is in them.

use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use trowelogue_core::id::{ObjectId, ShopId};

use crate::dto::{Lang, PaperSize, Theme, UnitsChoice};
use crate::{Result, faults};

/// Who logs on this device, in one shop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Me {
    /// The person.
    pub id: ObjectId,
    /// The name, for as long as the person's own entry does not count.
    pub name: String,
}

/// Settings of the home.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Prefs {
    /// Language.
    pub lang: Option<Lang>,
    /// Units; none: those of the shop.
    pub units: Option<UnitsChoice>,
    /// Paper.
    pub paper: PaperSize,
    /// Light or dark.
    pub theme: Theme,
    /// The folder opened last.
    pub folder: Option<PathBuf>,
    /// Who logs here, by shop.
    pub people: BTreeMap<String, Me>,
}

/// The small files of a home.
#[derive(Debug, Clone)]
pub(crate) struct Keep {
    dir: PathBuf,
}

impl Keep {
    pub(crate) fn new(dir: PathBuf) -> Self {
        Self { dir }
    }

    pub(crate) fn dir(&self) -> &Path {
        &self.dir
    }

    /// The settings; the defaults where none were kept.
    pub(crate) fn prefs(&self) -> Prefs {
        self.read("settings.json").unwrap_or_default()
    }

    pub(crate) fn set_prefs(&self, prefs: &Prefs) -> Result<()> {
        self.write("settings.json", prefs)
    }

    pub(crate) fn me(&self, shop: ShopId) -> Option<Me> {
        self.prefs().people.remove(&shop.to_string())
    }

    pub(crate) fn set_me(&self, shop: ShopId, me: Me) -> Result<()> {
        let mut prefs = self.prefs();
        prefs.people.insert(shop.to_string(), me);
        self.set_prefs(&prefs)
    }

    /// Where papers go.
    pub(crate) fn papers(&self) -> PathBuf {
        self.dir.join("papers")
    }

    /// Reads a small file; none where it is missing or damaged.
    pub(crate) fn read<T: DeserializeOwned>(&self, name: &str) -> Option<T> {
        let bytes = std::fs::read(self.dir.join(name)).ok()?;
        serde_json::from_slice(&bytes).ok()
    }

    /// Replaces a small file.
    pub(crate) fn write<T: Serialize>(&self, name: &str, value: &T) -> Result<()> {
        let text = serde_json::to_string_pretty(value).unwrap_or_default();
        replace(&self.dir.join(name), text.as_bytes(), trowelogue_core::text::Lang::En)
    }
}

/// Brings a directory's names to the medium, where the system has a way to.
#[cfg(unix)]
fn settle(dir: &Path) -> std::io::Result<()> {
    std::fs::File::open(dir)?.sync_all()
}

#[cfg(not(unix))]
fn settle(_: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Puts `bytes` at `path`: whole, or not at all. What fails is said in `lang`.
pub(crate) fn replace(path: &Path, bytes: &[u8], lang: trowelogue_core::text::Lang) -> Result<()> {
    let failed = |error: std::io::Error| faults::file(path, &error, lang);
    // A bare name stands in the current directory.
    let dir = path.parent().filter(|dir| !dir.as_os_str().is_empty()).unwrap_or(Path::new("."));
    std::fs::create_dir_all(dir).map_err(failed)?;
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{}.new", std::process::id()));
    let fresh = dir.join(name);
    let written = std::fs::File::create(&fresh).and_then(|mut file| {
        file.write_all(bytes)?;
        file.sync_all()?;
        std::fs::rename(&fresh, path)?;
        settle(dir)
    });
    written.inspect_err(|_| drop(std::fs::remove_file(&fresh))).map_err(failed)
}
