//! What the window works with: the desk of one home. It keeps the settings of the device and gives the words.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::dto::{Lang, PaperSize, Settings, Standing, Start, Theme, UnitsChoice, Words};
use crate::{ApiError, ErrorCode, Result, words};

/// The file in the home that holds the settings of this device.
const SETTINGS: &str = "settings.json";

/// The desk of one home. Its calls may wait for a disk; a window makes them off its main thread.
#[derive(Debug)]
pub struct Desk {
    home: PathBuf,
}

impl Desk {
    /// The desk of the home in `home`, which is made if it is not there.
    ///
    /// # Errors
    /// When the folder cannot be made.
    pub fn open(home: impl Into<PathBuf>) -> Result<Self> {
        let home = home.into();
        fs::create_dir_all(&home)
            .map_err(|error| failed("This device's own folder cannot be made", &home, &error))?;
        Ok(Self { home })
    }

    /// The folder of this device's own data.
    pub fn home(&self) -> &Path {
        &self.home
    }

    /// What the window shows first.
    ///
    /// # Errors
    /// When the settings cannot be read.
    pub fn start(&self) -> Result<Start> {
        Ok(Start {
            standing: Standing::None,
            shop: None,
            known: Vec::new(),
            settings: self.settings()?,
            version: env!("CARGO_PKG_VERSION").to_owned(),
        })
    }

    /// The words of the window's controls, in `lang` or in the language of this device.
    ///
    /// # Errors
    /// When the settings cannot be read.
    pub fn words(&self, lang: Option<Lang>) -> Result<Words> {
        let lang = lang.map_or_else(|| self.settings().map(|settings| settings.lang), Ok)?;
        Ok(Words { lang, words: words::of(lang.into()) })
    }

    /// The settings of this device; defaults where none were kept.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn settings(&self) -> Result<Settings> {
        let path = self.home.join(SETTINGS);
        let text = match fs::read(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(defaults()),
            Err(error) => return Err(failed("The settings cannot be read", &path, &error)),
        };
        serde_json::from_slice(&text).map_err(|error| {
            ApiError::new(ErrorCode::Damaged, format!("The settings cannot be understood: {error}"))
                .file(&path)
                .kept("Nothing that was logged is affected.")
                .remedy("Remove the file; the settings then start afresh.")
        })
    }

    /// Keeps the settings of this device, on disk before it returns.
    ///
    /// # Errors
    /// When they cannot be written; the former ones are then still there.
    pub fn set_settings(&self, settings: Settings) -> Result<Settings> {
        let kept = Settings { people: Vec::new(), ..settings };
        let path = self.home.join(SETTINGS);
        let text = serde_json::to_vec_pretty(&kept).map_err(|error| {
            ApiError::new(ErrorCode::BadInput, format!("The settings cannot be written: {error}"))
        })?;
        replace(&path, &text).map_err(|error| {
            failed("The settings cannot be written", &path, &error)
                .kept("The former settings are still there.")
        })?;
        Ok(kept)
    }
}

const fn defaults() -> Settings {
    Settings {
        lang: Lang::En,
        units: UnitsChoice::Si,
        paper: PaperSize::A4,
        theme: Theme::System,
        person: None,
        people: Vec::new(),
    }
}

/// A crash leaves the old file or the new one, never half of either.
fn replace(path: &Path, text: &[u8]) -> io::Result<()> {
    let fresh = path.with_extension("new");
    let mut file = File::create(&fresh)?;
    file.write_all(text)?;
    file.sync_all()?;
    fs::rename(&fresh, path)
}

fn failed(what: &str, path: &Path, error: &io::Error) -> ApiError {
    let code = match error.kind() {
        io::ErrorKind::ReadOnlyFilesystem | io::ErrorKind::PermissionDenied => ErrorCode::ReadOnly,
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => ErrorCode::DiskFull,
        _ => ErrorCode::Io,
    };
    ApiError::new(code, format!("{what}: {error}.")).file(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_home_starts_with_the_defaults_and_no_shop() {
        let home = tempfile::tempdir().expect("a folder");
        let start = Desk::open(home.path().join("deep/home")).expect("opened").start().expect("an answer");
        assert_eq!(start.standing, Standing::None);
        assert_eq!(start.settings, defaults());
    }

    #[test]
    fn settings_are_there_again_after_the_desk_was_closed() {
        let home = tempfile::tempdir().expect("a folder");
        let desk = Desk::open(home.path()).expect("opened");
        let wanted = Settings { lang: Lang::Es, theme: Theme::Dark, ..defaults() };
        assert_eq!(desk.set_settings(wanted.clone()).expect("kept"), wanted);
        let again = Desk::open(home.path()).expect("opened");
        assert_eq!(again.settings().expect("read"), wanted);
        assert_eq!(again.words(None).expect("words").words["places.day"], "Hoy");
        assert_eq!(again.words(Some(Lang::En)).expect("words").words["places.day"], "Today");
    }

    #[test]
    fn damaged_settings_are_named_and_left_as_they_are() {
        let home = tempfile::tempdir().expect("a folder");
        fs::write(home.path().join(SETTINGS), "{").expect("written");
        let error = Desk::open(home.path()).expect("opened").start().expect_err("refused");
        assert_eq!(error.code, ErrorCode::Damaged);
        assert!(error.file.is_some_and(|file| file.ends_with(SETTINGS)));
        assert_eq!(fs::read_to_string(home.path().join(SETTINGS)).expect("read"), "{");
    }
}
