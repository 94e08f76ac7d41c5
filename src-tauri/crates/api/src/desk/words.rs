//! Sentences of the desk.

use trowelogue_core::body::Group;
use trowelogue_core::text::{Text, text};

pub(super) const NO_SHOP: Text = text("No shop is open.", "No hay ningún taller abierto.");
pub(super) const OPEN_ONE: Text =
    text("Open the folder of a shop, or found one.", "Abra la carpeta de un taller o funde uno.");
pub(super) const WRITTEN: Text = text("On disk here and in the folder.", "En disco aquí y en la carpeta.");
pub(super) const RECOVERED: Text = text(
    "This device is an owner of the shop now. Retired: {device}.",
    "Este dispositivo es ahora dueño del taller. Retirado: {device}.",
);
pub(super) const NO_ENTRY: Text =
    text("There is no entry {hash} here.", "No hay ninguna entrada {hash} aquí.");
pub(super) const WAITS: Text = text("waiting", "en espera");
pub(super) const STRUCK: Text = text("struck by {who}: {why}", "anulada por {who}: {why}");
pub(super) const RETIRED: Text =
    text("written after its device was retired", "escrita después de retirar su dispositivo");
pub(super) const NEWER: Text =
    text("written by a newer version; carried along", "escrita por una versión más nueva; se conserva");
pub(super) const CORRECTED: Text = text("corrected: {why}", "corregida: {why}");
pub(super) const ACCEPTED_BY: Text = text("{who}: {why}", "{who}: {why}");
pub(super) const DONE: Text = text("done", "hecho");
pub(super) const NOTE: Text = text("note", "nota");
pub(super) const ROUTE: Text = text("route", "ruta de acabado");
pub(super) const NO_FOLDER: Text = text(
    "The folder is out of reach. What is logged is kept on this device and goes to the folder later.",
    "No se puede alcanzar la carpeta. Lo anotado queda en este dispositivo y pasa a la carpeta después.",
);
pub(super) const POLLED: Text = text(
    "The system reports no changes in the folder ({why}); it is looked through every other second.",
    "El sistema no avisa de cambios en la carpeta ({why}); se revisa cada dos segundos.",
);
pub(super) const BREAKS: Text = text(
    "{count} faults in the files of the folder. See the folder page.",
    "{count} fallos en los archivos de la carpeta. Vea la página de la carpeta.",
);
pub(super) const NO_INDEX: Text = text(
    "The search index of this device could not be written: {why}. Nothing of the record is in it.",
    "No se pudo escribir el índice de búsqueda de este dispositivo: {why}. No contiene nada del registro.",
);

/// The word for where a kind of step belongs.
pub(super) const fn group(group: Group) -> Text {
    match group {
        Group::Setup => text("set-up", "preparación"),
        Group::Before => text("before the pour", "antes del vertido"),
        Group::Work => text("work", "trabajo"),
        Group::After => text("after the work", "después del trabajo"),
        Group::Record => text("record", "registro"),
    }
}
