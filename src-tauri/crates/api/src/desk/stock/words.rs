//! Words of the shelves.

use trowelogue_core::body::Kind;
use trowelogue_core::text::{Text, text};

pub(super) const NO_SHELF: Text =
    text("Nothing of this kind stands on a shelf.", "Nada de este tipo está en una estantería.");
pub(super) const UNREADABLE: Text = text(
    "It was written by a newer version or cannot be read here.",
    "Lo escribió una versión más nueva o no se puede leer aquí.",
);
pub(super) const SHIPPED: Text = text("shipped with the program", "viene con el programa");
pub(super) const OWN: Text =
    text("the shop's own, version {version}", "propia del taller, versión {version}");

/// What stands on a shelf.
pub(super) const fn shelf(kind: Kind) -> Text {
    match kind {
        Kind::Client => text("Clients", "Clientes"),
        Kind::Job => text("Jobs", "Trabajos"),
        Kind::Mix => text("Mixes", "Mezclas"),
        Kind::Product => text("Products and lots", "Productos y lotes"),
        Kind::Piece => text("Pieces", "Piezas"),
        Kind::Tool => text("Tools", "Herramientas"),
        Kind::Route => text("Finish routes", "Rutas de acabado"),
        Kind::Person => text("People", "Personas"),
        other => other.label(),
    }
}

/// What a shelf is for, in a sentence.
pub(super) const fn about(kind: Kind) -> Text {
    match kind {
        Kind::Client => text("Whom the work is for.", "Para quién es el trabajo."),
        Kind::Job => text(
            "The work for one client at one site, and the day it is handed over.",
            "El trabajo para un cliente en una obra, y el día de la entrega.",
        ),
        Kind::Mix => text(
            "What is poured, with the breaks of its specimens and their curve.",
            "Lo que se vierte, con las roturas de sus probetas y su curva.",
        ),
        Kind::Product => text(
            "Sealers, acids, fills and the rest, with the limits of their data sheets.",
            "Selladores, ácidos, rellenos y demás, con los límites de sus fichas técnicas.",
        ),
        Kind::Piece => text(
            "Every cast element with its size, cut-outs and edges.",
            "Cada elemento vertido con sus medidas, huecos y cantos.",
        ),
        Kind::Tool => text(
            "Grinders and polishers, with the vibration their makers declare.",
            "Amoladoras y pulidoras, con la vibración que declara el fabricante.",
        ),
        Kind::Route => text(
            "The stages from the mold to the sealed face. Copy one to make it the shop's own.",
            "Las etapas del molde a la cara sellada. Copie una para hacerla propia del taller.",
        ),
        Kind::Person => text("Who does the work.", "Quién hace el trabajo."),
        other => other.label(),
    }
}
