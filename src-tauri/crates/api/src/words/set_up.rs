//! The words of the pages on which a shop is set up.

use trowelogue_core::text::{Text, text};

/// In the order of the screens.
pub(super) const SET_UP: &[(&str, Text)] = &[
    // What the shop keeps
    ("shelves.title", text("Stock and books", "Existencias y libros")),
    ("shelves.devices", text("Devices", "Aparatos")),
    (
        "shelves.devices.about",
        text(
            "Who may write in this shop, and on which device.",
            "Quién puede anotar en este taller, y en qué aparato.",
        ),
    ),
    ("shelves.rules", text("Shop settings", "Ajustes del taller")),
    (
        "shelves.rules.about",
        text(
            "Zone, limits, warranty and the address on papers.",
            "Zona, límites, garantía y la dirección de los documentos.",
        ),
    ),
    ("shelves.device", text("This device", "Este aparato")),
    (
        "shelves.device.about",
        text("Language, units, sheet, light and passphrase.", "Idioma, unidades, hoja, luz y contraseña."),
    ),
    ("shelf.add", text("Add: {one}", "Añadir: {one}")),
    ("shelf.find", text("Find in: {title}", "Buscar en: {title}")),
    ("shelf.empty", text("Nothing here yet.", "Aquí todavía no hay nada.")),
    ("shelf.nothing", text("Nothing found for “{find}”.", "No se encontró nada para «{find}».")),
    ("object.new", text("New: {one}", "Nuevo: {one}")),
    ("object.change", text("Change: {one}", "Cambiar: {one}")),
    ("object.right", text("Put right: {one}", "Corregir: {one}")),
    (
        "object.change_say",
        text(
            "What was recorded before stays readable; the new version holds from now on.",
            "Lo anotado antes sigue legible; la versión nueva vale desde ahora.",
        ),
    ),
    ("object.do_change", text("Change", "Cambiar")),
    ("object.copy", text("Another like it", "Otro igual")),
    ("object.copy_route", text("Copy and edit", "Copiar y editar")),
    ("object.course", text("Its course", "Su recorrido")),
    ("object.facts", text("Recorded", "Anotado")),
    ("object.limits", text("Limits", "Límites")),
    (
        "object.limits_say",
        text(
            "What the data sheet says holds before what is usual for the class.",
            "Lo que dice la ficha técnica vale antes que lo habitual de la clase.",
        ),
    ),
    ("object.hazards", text("Hazards", "Peligros")),
    ("object.lots", text("Lots", "Lotes")),
    ("object.no_lots", text("No lot of it was used yet.", "Aún no se usó ningún lote.")),
    ("object.stages", text("Stages", "Etapas")),
    ("object.belongs", text("Belongs to it", "Le pertenece")),
    ("object.history", text("History", "Historial")),
    ("object.series", text("How many alike, numbered in a row", "Cuántas iguales, numeradas en serie")),
    ("records.row", text("{label} {n}", "{label} {n}")),
    ("records.add", text("Add one", "Añadir")),
    ("records.add_one", text("Add one: {label}", "Añadir: {label}")),
    ("records.drop", text("Take out", "Quitar")),
    ("records.drop_one", text("Take out: {label} {n}", "Quitar: {label} {n}")),
    (
        "field.none_yet",
        text(
            "There is nothing to choose yet; it can be added later.",
            "Aún no hay nada que elegir; se puede añadir después.",
        ),
    ),
    // Finish routes
    ("route.new", text("A route of the shop's own", "Una ruta propia del taller")),
    ("route.name", text("Name", "Nombre")),
    ("route.about", text("What to know before it is chosen", "Qué saber antes de elegirla")),
    ("route.finishes", text("The usual route for these finishes", "La ruta habitual para estos acabados")),
    ("route.version", text("Version {version}", "Versión {version}")),
    (
        "route.keeps",
        text(
            "Pieces that follow this route keep the version they chose.",
            "Las piezas que siguen esta ruta conservan la versión que eligieron.",
        ),
    ),
    ("route.up", text("Earlier: {stage}", "Antes: {stage}")),
    ("route.down", text("Later: {stage}", "Después: {stage}")),
    ("route.out", text("Take out: {stage}", "Quitar: {stage}")),
    ("route.take_out", text("Take out", "Quitar")),
    ("route.edit", text("Edit: {stage}", "Editar: {stage}")),
    ("route.wait", text("Hours to wait before it", "Horas de espera antes")),
    ("route.coats", text("Number of coats", "Número de manos")),
    ("route.when", text("Is it always done?", "¿Se hace siempre?")),
    ("route.always", text("Always", "Siempre")),
    ("route.optional", text("If wanted", "Si se quiere")),
    ("route.values", text("What it proposes", "Qué propone")),
    ("route.add", text("Add a stage", "Añadir una etapa")),
    // Passphrase
    ("pass.title", text("Passphrase of the folder", "Contraseña de la carpeta")),
    (
        "pass.none",
        text(
            "The folder has none: whoever has the folder can read it.",
            "La carpeta no tiene: quien tenga la carpeta puede leerla.",
        ),
    ),
    (
        "pass.told",
        text(
            "Set. What is written in the folder is encrypted; this device knows the passphrase.",
            "Fijada. Lo que se escribe en la carpeta va cifrado; este aparato conoce la contraseña.",
        ),
    ),
    (
        "pass.not_told",
        text(
            "The folder is encrypted, and this device was not told the passphrase.",
            "La carpeta está cifrada y este aparato no conoce la contraseña.",
        ),
    ),
    (
        "pass.warn",
        text(
            "If it is lost, nobody can read the folder on a device that was not told. Write it on paper first.",
            "Si se pierde, nadie podrá leer la carpeta en un aparato que no la conozca. Escríbala antes en papel.",
        ),
    ),
    ("pass.new", text("New passphrase", "Contraseña nueva")),
    ("pass.tell", text("The passphrase", "La contraseña")),
    ("pass.set", text("Set it", "Fijarla")),
    ("pass.change", text("Change it", "Cambiarla")),
    ("pass.give", text("Read the folder with it", "Leer la carpeta con ella")),
    ("pass.read", text("The folder can be read here now.", "La carpeta ya se puede leer aquí.")),
    ("pass.show", text("Show what is typed", "Mostrar lo escrito")),
    ("recovery.note_title", text("Recovery words", "Palabras de recuperación")),
    (
        "recovery.note",
        text(
            "They were shown once, when the shop was founded, and stand nowhere but on your paper. They put another device in the place of a lost owner's device.",
            "Se mostraron una vez, al fundar el taller, y no están más que en su papel. Ponen otro aparato en el lugar del de un dueño que se perdió.",
        ),
    ),
    ("shop.mark", text("Fingerprint of the shop", "Huella del taller")),
];
