//! Errors of the crates below, as errors of the boundary: the one place that gives them code, words and remedy.

use trowelogue_core::text::{Lang, Text, text};
use trowelogue_journal::shopfile::ShopFault;
use trowelogue_journal::veil::Shut;
use trowelogue_journal::{Error as Journal, VaultFault};

use crate::say::fill;
use crate::{ApiError, ErrorCode};

/// What the system itself says stands as it says it.
pub(crate) const REFUSED: Text = text("The system refused it: {why}.", "El sistema lo rechazó: {why}.");
const NOTHING: Text = text("Nothing was written.", "No se escribió nada.");

/// A failure of the journal, in words.
pub(crate) fn journal(error: &Journal, lang: Lang) -> ApiError {
    let (code, message) = sentence(error, lang);
    let mut mapped = ApiError::new(code, message).kept(NOTHING.get(lang));
    if let Some(remedy) = remedy(error) {
        mapped = mapped.remedy(remedy.get(lang));
    }
    match error.path() {
        Some(path) => mapped.file(path),
        None => mapped,
    }
}

fn sentence(error: &Journal, lang: Lang) -> (ErrorCode, String) {
    let said = |words: Text| fill(words, lang, &[]);
    match error {
        Journal::FolderMissing { .. } => (
            ErrorCode::FolderMissing,
            said(text(
                "The folder is not there, or cannot be reached.",
                "La carpeta no está o no se puede alcanzar.",
            )),
        ),
        Journal::NotAShop { .. } => (
            ErrorCode::FolderMissing,
            said(text(
                "This is no shop folder: it has no shop.json.",
                "Esta no es la carpeta de un taller: no tiene shop.json.",
            )),
        ),
        Journal::NotAFolder { .. } => (
            ErrorCode::FolderMissing,
            said(text("This is a file, not a folder.", "Esto es un archivo, no una carpeta.")),
        ),
        Journal::ShopFile { fault, .. } => (ErrorCode::Damaged, shop_file(fault, lang)),
        Journal::NewerFormat { format, .. } => (ErrorCode::NewerFormat, newer(*format, lang)),
        Journal::AlreadyAShop { .. } => (
            ErrorCode::BadInput,
            said(text("The folder already holds a shop.", "La carpeta ya contiene un taller.")),
        ),
        Journal::NotJoined { .. } => (
            ErrorCode::NotJoined,
            said(text(
                "This device has not joined the shop in this folder.",
                "Este dispositivo no se ha unido al taller de esta carpeta.",
            )),
        ),
        Journal::BoundElsewhere { bound, .. } => (
            ErrorCode::NotJoined,
            fill(
                text(
                    "This device uses the shop at {path}; here is another copy of it.",
                    "Este dispositivo usa el taller en {path}; aquí hay otra copia.",
                ),
                lang,
                &[("path", &bound.display())],
            ),
        ),
        _ => harder(error, lang),
    }
}

fn shop_file(fault: &ShopFault, lang: Lang) -> String {
    match fault {
        ShopFault::Signature | ShopFault::Id => fill(
            text(
                "shop.json was changed: it is not what the shop's founder signed.",
                "shop.json fue cambiado: no es lo que firmó quien fundó el taller.",
            ),
            lang,
            &[],
        ),
        ShopFault::Form(why) => {
            fill(text("shop.json is damaged: {why}.", "shop.json está dañado: {why}."), lang, &[("why", why)])
        }
        ShopFault::Newer(format) => newer(*format, lang),
    }
}

fn newer(format: u32, lang: Lang) -> String {
    let words = text(
        "The folder has format {format}; this version reads format 1.",
        "La carpeta tiene el formato {format}; esta versión lee el formato 1.",
    );
    fill(words, lang, &[("format", &format)])
}

fn harder(error: &Journal, lang: Lang) -> (ErrorCode, String) {
    let said = |words: Text| fill(words, lang, &[]);
    match error {
        Journal::HomeBehind { .. } => (
            ErrorCode::HomeBehind,
            said(text(
                "The folder holds entries of this device that its own data lacks: it was lost, set back or copied.",
                "La carpeta contiene entradas de este dispositivo que faltan en sus datos: se perdieron, se restauraron o se copiaron.",
            )),
        ),
        Journal::JournalDamaged { .. } => (
            ErrorCode::HomeBehind,
            said(text(
                "The private journal of this device is damaged.",
                "El diario privado de este dispositivo está dañado.",
            )),
        ),
        Journal::HomeDamaged { .. } => (
            ErrorCode::Damaged,
            said(text(
                "A file of this device's data is damaged.",
                "Un archivo de los datos de este dispositivo está dañado.",
            )),
        ),
        Journal::Locked { .. } => (
            ErrorCode::Locked,
            said(text(
                "Another process of this device is writing and did not finish.",
                "Otro proceso de este dispositivo está escribiendo y no ha terminado.",
            )),
        ),
        Journal::TooLong { number, bytes, room } => (
            ErrorCode::TooLong,
            fill(
                text(
                    "Entry {number} needs {bytes} bytes; a line has room for {room}.",
                    "La entrada {number} necesita {bytes} bytes; en una línea caben {room}.",
                ),
                lang,
                &[("number", number), ("bytes", bytes), ("room", room)],
            ),
        ),
        Journal::BatchTooLong { bytes, room } => (
            ErrorCode::TooLong,
            fill(
                text(
                    "The batch needs {bytes} bytes; at most {room} are written at once.",
                    "El lote necesita {bytes} bytes; se escriben {room} de una vez como máximo.",
                ),
                lang,
                &[("bytes", bytes), ("room", room)],
            ),
        ),
        Journal::BadInput(words) => (ErrorCode::BadInput, words.clone()),
        Journal::ReadOnly { .. } => (
            ErrorCode::ReadOnly,
            said(text(
                "It cannot be written there: the medium is read-only, or access is refused.",
                "No se puede escribir ahí: el medio es de solo lectura o se niega el acceso.",
            )),
        ),
        Journal::DiskFull { .. } => {
            (ErrorCode::DiskFull, said(text("The disk is full.", "El disco está lleno.")))
        }
        Journal::Passphrase(Shut::Wrong) => (
            ErrorCode::BadInput,
            said(text("The passphrase is not the one that was set.", "La contraseña no es la que se fijó.")),
        ),
        Journal::Passphrase(Shut::Form) => (
            ErrorCode::Damaged,
            said(text(
                "The entry that sets the passphrase cannot be read.",
                "No se puede leer la entrada que fija la contraseña.",
            )),
        ),
        Journal::KeyStore(VaultFault::None) => (
            ErrorCode::Usage,
            said(text(
                "The key of this device is in the system's key store, which this program or this home does not use.",
                "La clave de este dispositivo está en el almacén de claves del sistema, que este programa o estos datos no usan.",
            )),
        ),
        Journal::KeyStore(VaultFault::Silent(why)) => (
            ErrorCode::Io,
            fill(
                text(
                    "The system's key store does not answer: {why}.",
                    "El almacén de claves del sistema no responde: {why}.",
                ),
                lang,
                &[("why", &why.trim_end_matches('.'))],
            ),
        ),
        Journal::KeyStore(VaultFault::Lost) => (
            ErrorCode::Damaged,
            said(text(
                "The system's key store does not hold the key of this device.",
                "El almacén de claves del sistema no contiene la clave de este dispositivo.",
            )),
        ),
        Journal::Io { source, .. } => (ErrorCode::Io, fill(REFUSED, lang, &[("why", source)])),
        _ => (ErrorCode::Io, fill(REFUSED, lang, &[("why", error)])),
    }
}

fn remedy(error: &Journal) -> Option<Text> {
    Some(match error {
        Journal::FolderMissing { .. } => text(
            "Check the path, connect the drive or the share, or found a shop with `trowelogue new`.",
            "Compruebe la ruta, conecte la unidad o la red, o funde un taller con `trowelogue new`.",
        ),
        Journal::NotAShop { .. } | Journal::NotAFolder { .. } => text(
            "Name the folder with shop.json in it, or found a shop with `trowelogue new`.",
            "Indique la carpeta que contiene shop.json o funde un taller con `trowelogue new`.",
        ),
        Journal::NotJoined { .. } => text(
            "Join it with `trowelogue join FOLDER --person NAME`; an owner then accepts this device.",
            "Únase con `trowelogue join CARPETA --person NOMBRE`; después un dueño acepta este dispositivo.",
        ),
        Journal::BoundElsewhere { .. } => text(
            "Work in that folder; this one can be read.",
            "Trabaje en aquella carpeta; esta se puede leer.",
        ),
        Journal::HomeBehind { .. } | Journal::JournalDamaged { .. } => text(
            "Join again with `trowelogue join FOLDER --person NAME`: the device goes on as a new one, and an owner accepts it.",
            "Vuelva a unirse con `trowelogue join CARPETA --person NOMBRE`: el dispositivo sigue como uno nuevo y un dueño lo acepta.",
        ),
        Journal::HomeDamaged { .. } | Journal::ShopFile { .. } => {
            text("Put the file back from a copy.", "Restaure el archivo desde una copia.")
        }
        Journal::NewerFormat { .. } => text("Install a newer version.", "Instale una versión más nueva."),
        Journal::AlreadyAShop { .. } => text(
            "Join it with `trowelogue join`, or name an empty folder.",
            "Únase con `trowelogue join` o indique una carpeta vacía.",
        ),
        Journal::Locked { .. } => text(
            "Try again; end the other process if it hangs.",
            "Inténtelo otra vez; termine el otro proceso si está colgado.",
        ),
        Journal::TooLong { .. } => text("Shorten its texts.", "Acorte los textos."),
        Journal::BatchTooLong { .. } => text("Split the batch.", "Divida el lote."),
        Journal::ReadOnly { .. } => {
            text("Allow writing there, or use another folder.", "Permita escribir ahí o use otra carpeta.")
        }
        Journal::KeyStore(_) => text(
            "Unlock the key store and try again. Without it: go on in another home, as a new device.",
            "Desbloquee el almacén de claves e inténtelo otra vez. Sin él: siga con otros datos, como dispositivo nuevo.",
        ),
        Journal::DiskFull { .. } => text("Make room on the disk.", "Libere espacio en el disco."),
        _ => return None,
    })
}

/// A failure of a file that is written whole: this device's own small files, a paper.
pub(crate) fn file(path: &std::path::Path, error: &std::io::Error, lang: Lang) -> ApiError {
    use std::io::ErrorKind as Kind;
    let (code, words) = match error.kind() {
        Kind::StorageFull | Kind::QuotaExceeded | Kind::FileTooLarge => {
            (ErrorCode::DiskFull, text("The disk is full.", "El disco está lleno."))
        }
        Kind::ReadOnlyFilesystem | Kind::PermissionDenied => (
            ErrorCode::ReadOnly,
            text(
                "It cannot be written there: the medium is read-only, or access is refused.",
                "No se puede escribir ahí: el medio es de solo lectura o se niega el acceso.",
            ),
        ),
        Kind::NotFound => (
            ErrorCode::FolderMissing,
            text("The file or folder is not there.", "El archivo o la carpeta no está."),
        ),
        Kind::NotADirectory | Kind::AlreadyExists => (
            ErrorCode::FolderMissing,
            text(
                "A part of the path is a file, not a folder.",
                "Una parte de la ruta es un archivo, no una carpeta.",
            ),
        ),
        Kind::IsADirectory => (
            ErrorCode::Io,
            text("A folder stands in the place of the file.", "Hay una carpeta en el lugar del archivo."),
        ),
        _ => return ApiError::new(ErrorCode::Io, fill(REFUSED, lang, &[("why", error)])).file(path),
    };
    let elsewhere = text("Make room there, or name another place.", "Haga sitio ahí o indique otro lugar.");
    ApiError::new(code, words.get(lang)).file(path).remedy(elsewhere.get(lang))
}
