//! The words of the printed answers.

use trowelogue_api::{Text, text};

pub(super) const WHY: Text = text("why", "por qué");
pub(super) const BASIS: Text = text("basis", "base");
pub(super) const TO_DO: Text = text("to do", "qué hacer");
pub(super) const CLEARS: Text = text("clears", "se levanta");
pub(super) const ENTRY: Text = text("entry", "entrada");
pub(super) const ACCEPTED_BY: Text = text("accepted by {}: {}", "aceptado por {}: {}");
pub(super) const NO_FINDINGS: Text = text("Nothing found.", "Nada que señalar.");
pub(super) const STOPS: Text = text(
    "Stops that stand: {}. Cautions: {}. Notes: {}. Accepted: {}. Waiting: {}.",
    "Altos vigentes: {}. Precauciones: {}. Notas: {}. Aceptados: {}. En espera: {}.",
);
pub(super) const NO_PIECES: Text = text("No piece is recorded.", "No hay ninguna pieza registrada.");
pub(super) const WHOLE: Text = text("Nothing is broken. Entries: {}.", "No hay nada roto. Entradas: {}.");
pub(super) const BROKEN: Text =
    text("Breaks: {}. Every good entry still counts.", "Roturas: {}. Toda entrada buena sigue contando.");
pub(super) const BREAK: Text = text("break", "rotura");
pub(super) const NOTE: Text = text("note", "nota");
pub(super) const LINE: Text = text("line {}", "línea {}");
pub(super) const SAFETY: Text = text("safety", "seguridad");
pub(super) const SHOP: Text = text("Shop {} ({})", "Taller {} ({})");
pub(super) const PEOPLE: Text = text("People: {}", "Personas: {}");
pub(super) const DEVICES: Text = text("Devices:", "Dispositivos:");
pub(super) const DEVICE: Text = text("  {} {} · {} · up to no. {}", "  {} {} · {} · hasta el n.º {}");
pub(super) const JOB: Text = text("Job {} · {}", "Trabajo {} · {}");
pub(super) const APART: Text = text(
    "Entries that stand apart: {}. Waiting for another: {}.",
    "Entradas aparte: {}. En espera de otra: {}.",
);
pub(super) const ROUTE: Text = text("route {}", "ruta {}");
pub(super) const FINISHED: Text = text("handed over", "entregada");
pub(super) const SAYS_NOTE: Text = text("note: {}", "nota: {}");
pub(super) const FOUNDED: Text = text("Founded the shop {} ({}).", "Se fundó el taller {} ({}).");
pub(super) const THIS_DEVICE: Text = text("This device: {}", "Este dispositivo: {}");
pub(super) const RECOVERY: Text = text(
    "Recovery code: {}\nWrite it down and keep it apart: it replaces this device if it is lost. It is stored nowhere.",
    "Código de recuperación: {}\nAnótelo y guárdelo aparte: sustituye a este dispositivo si se pierde. No se guarda en ningún sitio.",
);
pub(super) const JOINED: Text = text("Joined the shop {}.", "Unido al taller {}.");
pub(super) const JOINED_BEFORE: Text =
    text("This device had joined the shop {} before.", "Este dispositivo ya se había unido al taller {}.");
pub(super) const RECOVERED: Text = text(
    "This device is an owner of the shop {} now. Retired: {}.",
    "Este dispositivo es ahora dueño del taller {}. Retirado: {}.",
);
pub(super) const FINGERPRINT: Text = text(
    "Shop: {} (compare it with the owner's device)",
    "Taller: {} (compárelo con el dispositivo del dueño)",
);
pub(super) const ACCEPT_WITH: Text = text(
    "Its entries stand apart until an owner accepts it:\n  trowelogue accept {} {}",
    "Sus entradas quedan aparte hasta que un dueño lo acepte:\n  trowelogue accept {} {}",
);
pub(super) const GIVEN: Text = text("given", "datos");
pub(super) const HOLDS: Text = text("holds for", "válido para");
