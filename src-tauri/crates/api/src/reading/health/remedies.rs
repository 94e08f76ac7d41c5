//! What to do about each fault and each thing to know of a folder.

use trowelogue_core::text::{Text, text};
use trowelogue_journal::{BreakKind, NoteKind};

use crate::dto::Severity;

pub(super) const PHOTOS_DO: Text = text(
    "They are on the way, or on the device that took them: open the app there with the folder in reach. The entries that name them stay whole.",
    "Están en camino o en el dispositivo que las tomó: abra ahí la aplicación con la carpeta al alcance. Las entradas que las nombran siguen enteras.",
);
const GIVE_BACK: Text = text(
    "That device mends its log when it next opens the folder. If it never comes back: trowelogue restore FOLDER.",
    "Ese dispositivo repara su registro cuando abra la carpeta. Si no vuelve nunca: trowelogue restore CARPETA.",
);
const ENCRYPT: Text = text(
    "Open the folder on the devices these belong to, and tell them the passphrase. Files of a device that never comes back: take them out by hand.",
    "Abra la carpeta en los dispositivos a los que pertenecen e indíqueles la contraseña. Los archivos de un dispositivo que no vuelve: retírelos a mano.",
);
const TAKE_OUT: Text = text(
    "Open the folder on the devices these belong to. Copies nobody writes: take them out by hand.",
    "Abra la carpeta en los dispositivos a los que pertenecen. Las copias que nadie escribe: retírelas a mano.",
);

/// What to do about a fault.
pub(super) const fn break_remedy(kind: BreakKind) -> Text {
    use BreakKind as B;
    match kind {
        B::PhotoMissing | B::PhotoWrong => PHOTOS_DO,
        B::FileTooShortOfKnown | B::SegmentMissing | B::SequenceGap | B::TornTail => text(
            "Nothing that was ever here is lost: the file is written again from the device it belongs to, once that opens the folder. If it stays, look whether the program that carries the folder keeps older versions.",
            "Nada de lo que estuvo aquí se pierde: el archivo se vuelve a escribir desde su dispositivo cuando abra la carpeta. Si sigue así, mire si el programa que lleva la carpeta guarda versiones antiguas.",
        ),
        B::ForeignShop => text(
            "A log of another shop lies in this folder. Give each shop a folder of its own and move the file there.",
            "En esta carpeta hay un registro de otro taller. Dé a cada taller su carpeta y mueva ahí el archivo.",
        ),
        B::ShopFileBad => text(
            "Put shop.json back from a copy of the folder. Until then each device goes by the one it joined with.",
            "Restaure shop.json desde una copia de la carpeta. Hasta entonces cada dispositivo usa el de su unión.",
        ),
        _ => text(
            "Somebody or something changed this file. Every whole entry still counts. Put the file back from a copy, or let the device it belongs to open the folder.",
            "Alguien o algo cambió este archivo. Toda entrada entera sigue contando. Restaure el archivo desde una copia o deje que su dispositivo abra la carpeta.",
        ),
    }
}

/// How much a note weighs, and what to do about it.
pub(super) const fn note_remedy(kind: NoteKind) -> (Severity, Text) {
    use NoteKind as N;
    const NOTHING: Text = text("Nothing needs to be done.", "No hay que hacer nada.");
    const WAIT: Text = text(
        "Wait, or open the app on that device with the folder in reach; what is missing comes by itself.",
        "Espere o abra la aplicación en ese dispositivo con la carpeta al alcance; lo que falta llega solo.",
    );
    match kind {
        N::Gap | N::BehindNeighbours | N::NotHereYet | N::PendingTail | N::NoHeader => {
            (Severity::Caution, WAIT)
        }
        N::NewerVersion => (
            Severity::Caution,
            text("Install the newer version to read it.", "Instale la versión más nueva para leerlo."),
        ),
        N::BodyLocked => (
            Severity::Caution,
            text(
                "Tell this device the passphrase, on the page Shop.",
                "Indique la contraseña en la página Taller.",
            ),
        ),
        N::Unreadable => (
            Severity::Caution,
            text(
                "Allow reading the file, or look whether the disk is failing. Keep a copy of the folder.",
                "Permita leer el archivo o mire si falla el disco. Guarde una copia de la carpeta.",
            ),
        ),
        N::TooManyFaults => (
            Severity::Caution,
            text("Put the file back from a copy.", "Restaure el archivo desde una copia."),
        ),
        N::WentBackwards => (Severity::Caution, GIVE_BACK),
        N::StillPlain => (Severity::Caution, ENCRYPT),
        N::ErasedStillShown => (Severity::Caution, TAKE_OUT),
        N::CopyAddsLines | N::CopyAddsNothing | N::StrayFile | N::FolderRebuilt | N::NotInFolder => {
            (Severity::Note, NOTHING)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fault_and_note_says_what_to_do_in_both_languages() {
        let of_breaks = BreakKind::ALL.iter().map(|kind| break_remedy(*kind));
        let of_notes = NoteKind::ALL.iter().map(|kind| note_remedy(*kind).1);
        for remedy in of_breaks.chain(of_notes) {
            assert!(
                remedy.en.ends_with('.') && remedy.es.ends_with('.') && remedy.en != remedy.es,
                "{remedy:?}"
            );
        }
    }
}
