//! Whether a process record is as it was issued: its seal, the entries in it, and, with the folder at hand,
//! whether those entries stand in the shop's logs.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::Read;
use std::path::Path;

use trowelogue_core::id::Hash;
use trowelogue_core::shop::{DeviceStatus, Shop};
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_journal::excerpt::{Checked, check_lines};
use trowelogue_journal::keys::PublicKey;
use trowelogue_papers::seal::{self, Difference, Sealed, Signer};

use super::anew::{self, Anew};
use super::lines;
use crate::dto::report::{BreakRow, NoteRow, Verify};
use crate::say::fill;
use crate::session::{Session, Setup};
use crate::{ApiError, ErrorCode, Result};

const NO_PDF: Text =
    text("This file is no PDF, or it is damaged.", "Este archivo no es un PDF o está dañado.");
const TOO_LARGE: Text = text("The file is larger than {most} MiB.", "El archivo tiene más de {most} MiB.");
const NO_FILE: Text = text("The file is not there.", "El archivo no está.");
const NO_SEAL: Text = text(
    "This file carries no seal: it is no process record made with this tool, or its seal was taken out.",
    "Este archivo no lleva sello: no es un registro de proceso hecho con esta herramienta o se le quitó el sello.",
);
const CHANGED: Text = text("{part} is not as it was sealed", "{part} no está como se selló");
const MISSING: Text = text("{part} is missing", "falta {part}");
const ADDED: Text = text("{part} was not there when it was sealed", "{part} no estaba cuando se selló");
const STORED: Text = text(
    "every part is as it was sealed, but the file was stored anew or something was added after its end",
    "cada parte está como se selló, pero el archivo se guardó de nuevo o se añadió algo tras su final",
);
const BAD_SIGNATURE: Text = text(
    "the seal is not signed by the device it names",
    "el sello no está firmado por el dispositivo que nombra",
);
const UNSIGNED: Text = text(
    "an unsigned copy: no device vouches for this file; the entries in it are still signed one by one",
    "copia sin firmar: ningún dispositivo responde por este archivo; sus entradas siguen firmadas una a una",
);
const BAD_ENTRY: Text =
    text("the line is not as its device signed it", "la línea no está como la firmó su dispositivo");
const NO_ENTRIES: Text =
    text("the entries it was made from are not in it", "no contiene las entradas de las que se hizo");
const FOREIGN: Text =
    text("the entry does not stand in the shop's logs", "la entrada no figura en los registros del taller");
const NOT_COMPARED: Text = text(
    "not compared with the shop's logs, since no folder was given",
    "sin comparar con los registros del taller, porque no se indicó la carpeta",
);
const NOT_ACCEPTED: Text = text(
    "the device that sealed it is not accepted in this shop",
    "el dispositivo que lo selló no está aceptado en este taller",
);

const OTHER_VERSION: Text = text(
    "the pages were not made anew: the paper was made with {tool}, and only that version makes the same pages",
    "las páginas no se hicieron de nuevo: el documento se hizo con {tool} y solo esa versión hace las mismas páginas",
);
const LACKING: Text = text(
    "{file} is missing or cannot be read: the pages cannot be compared with the entries inside",
    "{file} falta o no se puede leer: las páginas no se pueden comparar con las entradas que contiene",
);
const BEYOND: Text = text(
    "the pages were not compared with the entries inside: {parts} rest on entries that may not be carried in it",
    "las páginas no se compararon con las entradas que contiene: {parts} se basan en entradas que no puede llevar",
);
const NOT_MADE: Text =
    text("the pages could not be made anew: {why}", "las páginas no se pudieron hacer de nuevo: {why}");
const COMPARED: Text = text(
    "every page was made anew from the entries inside and is the same",
    "cada página se hizo de nuevo con las entradas que contiene y es igual",
);
const PHOTOS_UNSEEN: Text = text(
    "every page was made anew from the entries inside and is the same; photos were taken as they are in it, since no folder was given",
    "cada página se hizo de nuevo con las entradas que contiene y es igual; las fotos se tomaron como están en él, porque no se indicó la carpeta",
);
const STATED: Text = text(
    "some of it stands in no entry inside, and the seal alone vouches for it: {what}",
    "una parte no figura en ninguna entrada que contiene y solo la respalda el sello: {what}",
);
const PRICED: Text = text("changes without their price", "cambios sin su precio");
const LENT: Text = text("breaks of other pours of the mix", "roturas de otros vertidos de la mezcla");
const WORDS_DIFFER: Text = text(
    "page {page} differs from what the entries say: it reads “{stands}”, the entries say “{says}”",
    "la página {page} difiere de lo que dicen las entradas: se lee «{stands}», las entradas dicen «{says}»",
);
const PART_DIFFERS: Text =
    text("{part} differs from what the entries say", "{part} difiere de lo que dicen las entradas");
const UNTOLD: Text = text(
    "the shop's logs hold {count} entries about the piece, written before the paper was issued, that are not in it",
    "los registros del taller tienen {count} entradas sobre la pieza, escritas antes de emitirse el documento, que no están en él",
);

/// The device of a session as the one who signs papers.
pub(super) struct Hand<'a>(pub(super) &'a trowelogue_journal::Shop);

impl Signer for Hand<'_> {
    fn device(&self) -> String {
        self.0.device().to_string()
    }

    fn key(&self) -> String {
        self.0.public_key().to_string()
    }

    fn sign(&self, message: &[u8]) -> Option<String> {
        self.0.sign(seal::CONTEXT, message)
    }
}

/// Checks a process record by itself, and against a shop's folder where one is given.
///
/// # Errors
/// The file cannot be read, is no PDF, or carries no seal; the folder cannot be read.
pub fn verify_paper(setup: &Setup, file: &Path, folder: Option<&Path>) -> Result<Verify> {
    let lang = setup.language().into();
    let bytes = read(file).map_err(|error| unread(file, &error, lang))?;
    let sealed = seal::look(&bytes).map_err(|_| refused(file, NO_PDF.get(lang).to_owned()))?;
    let sealed = sealed.ok_or_else(|| refused(file, NO_SEAL.get(lang).to_owned()))?;
    let session = folder.map(|folder| Session::open(setup, folder)).transpose()?;
    let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut proof = Proof { name, lang, breaks: Vec::new(), notes: Vec::new(), entries: 0 };
    proof.parts(&sealed);
    let signed = proof.signature(&sealed);
    let held = proof.entries(&sealed);
    proof.anew(&bytes, &sealed, session.as_ref());
    match session {
        Some(session) => proof.belongs(session.shop(), &sealed, signed, &held),
        None => proof.note("not_compared", NOT_COMPARED),
    }
    Ok(Verify { health: Vec::new(), breaks: proof.breaks, notes: proof.notes, entries: proof.entries })
}

/// The bytes of a paper; a file far larger than any paper is not read to its end.
fn read(file: &Path) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let read = File::open(file)?.take(seal::LARGEST as u64 + 1).read_to_end(&mut bytes)?;
    if read > seal::LARGEST {
        return Err(std::io::Error::new(std::io::ErrorKind::FileTooLarge, seal::too_large()));
    }
    Ok(bytes)
}

/// What the system says of a file it does not give.
fn unread(file: &Path, error: &std::io::Error, lang: Lang) -> ApiError {
    match error.kind() {
        std::io::ErrorKind::NotFound => refused(file, NO_FILE.get(lang).to_owned()),
        std::io::ErrorKind::FileTooLarge => {
            refused(file, fill(TOO_LARGE, lang, &[("most", &(seal::LARGEST >> 20))]))
        }
        _ => refused(file, fill(crate::faults::REFUSED, lang, &[("why", error)])),
    }
}

fn refused(file: &Path, message: String) -> ApiError {
    ApiError::new(ErrorCode::BadInput, message).file(file)
}

/// What is found on the way.
struct Proof {
    name: String,
    lang: Lang,
    breaks: Vec<BreakRow>,
    notes: Vec<NoteRow>,
    entries: usize,
}

impl Proof {
    fn broken(&mut self, file: Option<&str>, line: Option<u64>, kind: &'static str, text: String) {
        let file = file.map_or_else(|| self.name.clone(), |inside| format!("{}/{inside}", self.name));
        self.breaks.push(BreakRow { file, line, kind, text });
    }

    fn note(&mut self, kind: &'static str, words: Text) {
        self.noted(kind, words.get(self.lang).to_owned());
    }

    fn noted(&mut self, kind: &'static str, text: String) {
        self.notes.push(NoteRow {
            kind,
            file: Some(self.name.clone()),
            line: None,
            device: None,
            range: None,
            text,
        });
    }

    fn parts(&mut self, sealed: &Sealed) {
        for difference in &sealed.differences {
            let (kind, words, part) = match difference {
                Difference::Changed(part) => ("part_changed", CHANGED, part.as_str()),
                Difference::Missing(part) => ("part_missing", MISSING, part.as_str()),
                Difference::Added(part) => ("part_added", ADDED, part.as_str()),
                Difference::Stored => ("stored_anew", STORED, ""),
            };
            self.broken(None, None, kind, fill(words, self.lang, &[("part", &part)]));
        }
    }

    /// Whether the seal is signed, and well.
    fn signature(&mut self, sealed: &Sealed) -> bool {
        let Some(signature) = &sealed.signature else {
            self.note("unsigned_copy", UNSIGNED);
            return false;
        };
        let key = sealed.key.as_deref().and_then(PublicKey::parse);
        let own = key.filter(|key| sealed.device.as_deref() == Some(&key.device().to_string()));
        let good = own.is_some_and(|key| key.verify(seal::CONTEXT, &sealed.message, signature));
        if !good {
            self.broken(Some(seal::NAME), None, "seal_signature", BAD_SIGNATURE.get(self.lang).to_owned());
        }
        good
    }

    /// The entries inside that are as signed.
    fn entries(&mut self, sealed: &Sealed) -> BTreeSet<Hash> {
        let Some(bytes) = sealed.attachments.get(lines::NAME) else {
            self.broken(Some(lines::NAME), None, "entries_missing", NO_ENTRIES.get(self.lang).to_owned());
            return BTreeSet::new();
        };
        let text = String::from_utf8_lossy(bytes);
        let mut held = BTreeSet::new();
        for (number, checked) in (1..).zip(check_lines(text.lines())) {
            match checked {
                Checked::Entry(record) => {
                    held.insert(record.hash);
                }
                Checked::Broken => {
                    let text = BAD_ENTRY.get(self.lang).to_owned();
                    self.broken(Some(lines::NAME), Some(number), "entry_signature", text);
                }
                Checked::Header(..) | Checked::Seal(_) => {}
            }
        }
        self.entries = held.len();
        held
    }

    /// Whether the pages are those that the entries inside make.
    fn anew(&mut self, file: &[u8], sealed: &Sealed, session: Option<&Session>) {
        let lang = self.lang;
        match anew::compare(file, sealed, session) {
            Anew::OtherVersion(tool) => {
                self.noted("other_version", fill(OTHER_VERSION, lang, &[("tool", &tool)]));
            }
            Anew::Lacking(inside) => {
                self.broken(Some(inside), None, "cannot_compare", fill(LACKING, lang, &[("file", &inside)]));
            }
            Anew::Beyond(parts) => {
                self.noted("beyond_entries", fill(BEYOND, lang, &[("parts", &parts.join(", "))]));
            }
            Anew::Failed(why) => {
                self.broken(None, None, "cannot_compare", fill(NOT_MADE, lang, &[("why", &why)]));
            }
            Anew::Made(differences) if differences.is_empty() => {
                self.note("made_anew", if session.is_some() { COMPARED } else { PHOTOS_UNSEEN });
            }
            Anew::Made(differences) => differences.iter().for_each(|it| self.differs(it)),
        }
        self.stated(&anew::stated(sealed));
    }

    fn differs(&mut self, difference: &anew::Difference) {
        let text = match difference {
            anew::Difference::Words(page, stands, says) => {
                fill(WORDS_DIFFER, self.lang, &[("page", page), ("stands", stands), ("says", says)])
            }
            anew::Difference::Part(part) => fill(PART_DIFFERS, self.lang, &[("part", part)]),
        };
        self.broken(None, None, "differs_from_entries", text);
    }

    /// What only the seal vouches for.
    fn stated(&mut self, (priced, lent): &(bool, bool)) {
        let what = [(PRICED, *priced), (LENT, *lent)];
        let what: Vec<&str> =
            what.iter().filter(|(_, it)| *it).map(|(words, _)| words.get(self.lang)).collect();
        if !what.is_empty() {
            self.noted("stated", fill(STATED, self.lang, &[("what", &what.join(", "))]));
        }
    }

    /// Whether entries and device are those of the shop.
    fn belongs(&mut self, shop: &Shop, sealed: &Sealed, signed: bool, held: &BTreeSet<Hash>) {
        for hash in held.iter().filter(|hash| shop.step(hash).is_none()) {
            let text = format!("{} ({hash})", FOREIGN.get(self.lang));
            self.broken(Some(lines::NAME), None, "entry_unknown", text);
        }
        let untold = untold(shop, sealed, held);
        if untold > 0 {
            self.noted("entries_untold", fill(UNTOLD, self.lang, &[("count", &untold)]));
        }
        let device = sealed.device.as_deref().and_then(|id| id.parse().ok());
        let known = device.and_then(|id| shop.devices.get(&id));
        if signed && known.is_none_or(|it| it.status == DeviceStatus::Apart) {
            self.note("device_apart", NOT_ACCEPTED);
        }
    }
}

/// How many entries about the piece, older than the paper, it could have carried and does not.
fn untold(shop: &Shop, sealed: &Sealed, held: &BTreeSet<Hash>) -> usize {
    let Some(piece) = anew::piece(sealed) else { return 0 };
    let Ok(issued) = trowelogue_core::moment::parse(&sealed.issued) else { return 0 };
    let of_piece = shop.steps_of(piece).filter(|step| super::may_stand(step) && step.wrote <= issued);
    of_piece.filter(|step| !held.contains(&step.hash)).count()
}
