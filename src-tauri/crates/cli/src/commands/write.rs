//! Commands that write: found, join, recover, add, import.

use std::io::{BufRead as _, Read as _};
use std::path::{Path, PathBuf};

use serde_json::json;
use trowelogue_api::dto::report::Written;
use trowelogue_api::{
    ApiError, ErrorCode, ImportAsk, KeyHolder, Result, Session, Text, key_at, key_store_answers, move_key,
    text,
};

use super::Desk;
use crate::args::ImportCommand;
use crate::print::{self, Out};

/// The most bytes an input may have.
const INPUT_MAX: u64 = 64 * 1024 * 1024;

const STANDARD_INPUT: Text = text("standard input", "entrada estándar");
const UNREADABLE: Text = text("The file cannot be read: {}.", "No se puede leer el archivo: {}.");
const NO_FILE: Text = text("The file is not there.", "El archivo no está.");
const A_FOLDER: Text = text("This is a folder, not a file.", "Esto es una carpeta, no un archivo.");
const NAME_IT: Text = text(
    "Name the file with the entries, or - for standard input.",
    "Indique el archivo con las entradas, o - para la entrada estándar.",
);
const TOLD: Text =
    text("This device knows the passphrase now.", "Este dispositivo conoce ahora la contraseña.");
const TOO_MUCH: Text =
    text("The input has more than 64 MiB. Split it.", "La entrada tiene más de 64 MiB. Divídala.");

impl Desk {
    pub(super) fn found(&self, folder: &Path, shop: &str, person: &str, out: &mut Out) -> Result<u8> {
        let founded = Session::found(&self.setup, folder, shop, person)?;
        let show = founded.session.show(&trowelogue_api::About::default())?;
        let device = show.devices.first().map(|it| it.id.clone()).unwrap_or_default();
        let answer = json!({ "shop": show.shop.id, "device": device, "recovery_key": founded.recovery });
        self.answer(&answer, out, |out| {
            print::founded(&show.shop, &device, &founded.recovery, self.lang(), out);
        })
    }

    pub(super) fn join(&self, folder: &Path, person: &str, out: &mut Out) -> Result<u8> {
        let joined = Session::join(&self.setup, folder, person)?;
        let answer = json!({
            "shop": joined.session.shop_id(),
            "device": joined.device,
            "fingerprint": joined.fingerprint,
            "already": joined.already,
        });
        self.answer(&answer, out, |out| print::joined(&joined, folder, self.lang(), out))
    }

    /// Does `work`, and moves the key of this device into the key store where that was asked for. A key store that
    /// does not answer is refused before anything is written.
    pub(super) fn with_key(&self, in_store: bool, work: impl FnOnce() -> Result<u8>) -> Result<u8> {
        if in_store {
            key_store_answers(&self.setup)?;
        }
        let code = work()?;
        if in_store {
            move_key(&self.setup, KeyHolder::Store)?;
        }
        Ok(code)
    }

    /// Says where the key of this device stands, after moving it where that was asked for.
    pub(super) fn key(&self, into_store: bool, into_file: bool, out: &mut Out) -> Result<u8> {
        let at = match (into_store, into_file) {
            (true, _) => move_key(&self.setup, KeyHolder::Store)?,
            (_, true) => move_key(&self.setup, KeyHolder::File)?,
            _ => key_at(&self.setup)?,
        };
        self.answer(&json!({ "key": at.place }), out, |out| out.line(&at.say))
    }

    /// The recovery code as it was given.
    pub(super) fn code(&self, given: Option<String>, file: Option<&Path>) -> Result<String> {
        match given {
            Some(code) => Ok(code),
            None => Ok(self.text_file(file.unwrap_or(Path::new("-")))?.0),
        }
    }

    pub(super) fn recover(&self, folder: &Path, code: &str, person: &str, out: &mut Out) -> Result<u8> {
        let recovered = Session::recover(&self.setup, folder, code, person)?;
        let answer = json!({
            "shop": recovered.session.shop_id(),
            "device": recovered.device,
            "fingerprint": recovered.fingerprint,
            "retired": recovered.retired,
            "hash": recovered.written.entries.first().map(|it| &it.hash),
        });
        self.answer(&answer, out, |out| print::recovered(&recovered, self.lang(), out))?;
        if !self.json {
            recovered.written.remarks.iter().for_each(|remark| print::remark(remark));
        }
        Ok(0)
    }

    pub(super) fn add(&self, folder: &Path, file: &Path, photos: &[PathBuf], out: &mut Out) -> Result<u8> {
        let (bytes, source) = self.input(file)?;
        let photos: Vec<Vec<u8>> =
            photos.iter().map(|photo| Ok(self.input(photo)?.0)).collect::<Result<_>>()?;
        let written = self.open(folder)?.add_with_photos(&bytes, &source, &photos)?;
        self.written(&written, out)
    }

    /// Sets the passphrase, or tells it to this device. It is read from standard input, so that no list of
    /// processes and no history of the shell shows it.
    pub(super) fn passphrase(&self, folder: &Path, set: bool, out: &mut Out) -> Result<u8> {
        let mut said = String::new();
        std::io::stdin().lock().take(INPUT_MAX).read_line(&mut said).map_err(|error| {
            let words = UNREADABLE.get(self.lang().into()).replace("{}", &error.to_string());
            ApiError::new(ErrorCode::BadInput, words).file(STANDARD_INPUT.get(self.lang().into()))
        })?;
        let mut session = self.open(folder)?;
        if set {
            let written = session.set_passphrase(&said)?;
            return self.written(&written, out);
        }
        session.tell_passphrase(&said)?;
        self.answer(&json!({ "told": true }), out, |out| out.line(TOLD.get(self.lang().into())))
    }

    pub(super) fn import(&self, what: ImportCommand, out: &mut Out) -> Result<u8> {
        let ImportCommand::Temperatures {
            folder,
            file,
            pour,
            of,
            logger,
            delimiter,
            decimal,
            unit,
            zone,
            date_order,
            time_column,
            temperature_column,
        } = what;
        let (bytes, source) = self.input(&file)?;
        let ask = ImportAsk {
            pour,
            of,
            logger,
            delimiter,
            decimal,
            unit,
            zone,
            date_order,
            time_column,
            temperature_column,
        };
        let written = self.open(&folder)?.import_temperatures(&bytes, &source, &ask)?;
        self.written(&written, out)
    }

    /// Prints the hashes, a line each; what else there is to say goes to standard error.
    pub(super) fn written(&self, written: &Written, out: &mut Out) -> Result<u8> {
        self.answer(&written.entries, out, |out| {
            written.entries.iter().for_each(|entry| out.line(&entry.hash));
        })?;
        if !self.json {
            written.remarks.iter().for_each(|remark| print::remark(remark));
        }
        Ok(0)
    }

    /// Reads a file, or standard input for `-`; gives what it is called too.
    pub(super) fn input(&self, file: &Path) -> Result<(Vec<u8>, String)> {
        let lang = self.lang().into();
        let standard = file == Path::new("-");
        let source = if standard { STANDARD_INPUT.get(lang).to_owned() } else { file.display().to_string() };
        let mut bytes = Vec::new();
        let read = if standard {
            std::io::stdin().lock().take(INPUT_MAX + 1).read_to_end(&mut bytes)
        } else {
            std::fs::File::open(file).and_then(|opened| opened.take(INPUT_MAX + 1).read_to_end(&mut bytes))
        };
        read.map_err(|error| {
            let words = match error.kind() {
                std::io::ErrorKind::NotFound => NO_FILE.get(lang).to_owned(),
                std::io::ErrorKind::IsADirectory => A_FOLDER.get(lang).to_owned(),
                _ => UNREADABLE.get(lang).replace("{}", &error.to_string()),
            };
            ApiError::new(ErrorCode::BadInput, words).file(&source).remedy(NAME_IT.get(lang))
        })?;
        if bytes.len() as u64 > INPUT_MAX {
            return Err(ApiError::new(ErrorCode::TooLong, TOO_MUCH.get(lang)).file(&source));
        }
        Ok((bytes, source))
    }

    /// Reads a text file.
    pub(super) fn text_file(&self, file: &Path) -> Result<(String, String)> {
        const NOT_TEXT: Text = text("The file is not UTF-8 text.", "El archivo no es texto UTF-8.");
        let (bytes, source) = self.input(file)?;
        let words = || NOT_TEXT.get(self.lang().into());
        let read = String::from_utf8(bytes)
            .map_err(|_| ApiError::new(ErrorCode::BadInput, words()).file(&source))?;
        Ok((read, source))
    }
}
