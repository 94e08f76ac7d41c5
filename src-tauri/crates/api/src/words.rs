//! The words of the window's own controls, in every language. Names of steps, rules and facts are declared
//! beside the things they name; the window knows keys only.
//!
//! `{name}` is filled in by the window; a counted word has two keys, `.one` and `.other`.

mod set_up;

use std::collections::BTreeMap;

use trowelogue_core::text::{Lang, Text, text};

/// Every key the window uses, in the order of the screens.
pub(crate) const UI: &[(&str, Text)] = &[
    // Places
    ("places.label", text("Places", "Lugares")),
    ("places.skip", text("Straight to the page", "Ir directo a la página")),
    ("places.day", text("Today", "Hoy")),
    ("places.piece", text("The piece", "La pieza")),
    ("places.back", text("Back", "Atrás")),
    ("places.folder", text("Folder", "Carpeta")),
    ("places.shop", text("Shop", "Taller")),
    // The day
    ("day.find", text("Find a piece, a job, a lot", "Buscar pieza, obra o lote")),
    ("day.trouble", text("In trouble", "Con problemas")),
    ("day.running", text("Running", "En marcha")),
    ("day.ready", text("Ready", "Listas")),
    ("day.waiting", text("Waiting", "En espera")),
    ("day.done", text("Handed over", "Entregadas")),
    ("day.due", text("due {when}", "para el {when}")),
    ("day.log", text("Log: {step}, {code}", "Anotar: {step}, {code}")),
    ("day.stops.one", text("{n} stop", "{n} alto")),
    ("day.stops.other", text("{n} stops", "{n} altos")),
    ("day.cautions.one", text("{n} caution", "{n} advertencia")),
    ("day.cautions.other", text("{n} cautions", "{n} advertencias")),
    (
        "day.not_in_folder.one",
        text(
            "{n} entry is kept here, but not yet in the folder",
            "{n} anotación está guardada aquí, pero aún no en la carpeta",
        ),
    ),
    (
        "day.not_in_folder.other",
        text(
            "{n} entries are kept here, but not yet in the folder",
            "{n} anotaciones están guardadas aquí, pero aún no en la carpeta",
        ),
    ),
    ("day.apart.one", text("{n} device waits to be accepted", "{n} aparato espera ser aceptado")),
    ("day.apart.other", text("{n} devices wait to be accepted", "{n} aparatos esperan ser aceptados")),
    (
        "day.draft",
        text(
            "Not yet written down: {step}, {codes} ({when})",
            "Sin anotar todavía: {step}, {codes} ({when})",
        ),
    ),
    ("day.beside.one", text("{n} finding about people and days", "{n} hallazgo sobre personas y días")),
    ("day.beside.other", text("{n} findings about people and days", "{n} hallazgos sobre personas y días")),
    ("beside.title", text("People and days", "Personas y días")),
    (
        "beside.say",
        text(
            "What stands about the work of a day or of the record as a whole, the newest first.",
            "Lo que consta sobre el trabajo de un día o del registro en su conjunto, lo más reciente primero.",
        ),
    ),
    ("beside.none", text("Nothing stands.", "No consta nada.")),
    ("beside.more", text("Show {n} more", "Mostrar {n} más")),
    ("day.scan", text("Read the code on a label", "Leer el código de una etiqueta")),
    ("day.narrow", text("Show only some", "Mostrar solo algunas")),
    ("day.by_person", text("Worked on by", "Trabajadas por")),
    ("day.by_job", text("Job", "Obra")),
    ("day.by_place", text("Where they are", "Dónde están")),
    ("day.none_such", text("No piece is like that.", "Ninguna pieza es así.")),
    ("day.empty", text("No pieces yet.", "Todavía no hay piezas.")),
    ("day.first", text("Set up the first piece", "Preparar la primera pieza")),
    ("day.nothing_found", text("Nothing found for “{find}”.", "No se encontró nada para «{find}».")),
    // Clocks
    ("clock.title", text("Clocks", "Relojes")),
    ("clock.more", text("Show {n} more", "Mostrar {n} más")),
    ("clock.latest", text("at the latest by {when}", "a más tardar el {when}")),
    (
        "clock.ask",
        text(
            "Shall this device call when a clock is over, even behind another window?",
            "¿Debe avisar este aparato al cumplirse un tiempo, aunque haya otra ventana delante?",
        ),
    ),
    ("clock.call", text("Yes, call", "Sí, avisar")),
    ("clock.quiet", text("No, only show", "No, solo mostrar")),
    (
        "clock.calls",
        text("This device calls when a clock is over", "Este aparato avisa al cumplirse un tiempo"),
    ),
    ("clock.silent", text("This device only shows its clocks", "Este aparato solo muestra sus relojes")),
    ("clock.will_call", text("This is how a clock will call.", "Así avisará un reloj.")),
    ("clock.shown_here", text("The clocks are shown here.", "Los relojes se muestran aquí.")),
    ("clock.over", text("time is up", "tiempo cumplido")),
    ("clock.seconds", text("{m}:{s} min", "{m}:{s} min")),
    ("clock.minutes", text("{m} min", "{m} min")),
    ("clock.hours", text("{h} h {m} min", "{h} h {m} min")),
    ("clock.days", text("{d} d {h} h", "{d} d {h} h")),
    ("clock.until", text("until {when}", "hasta {when}")),
    // A piece
    ("piece.now", text("What may be done now", "Qué se puede hacer ahora")),
    ("piece.log", text("Log: {step}", "Anotar: {step}")),
    ("piece.log_option", text("Or first: {step}", "O antes: {step}")),
    ("piece.other_step", text("Log another step", "Anotar otro paso")),
    ("piece.conditions", text("Air and surface", "Aire y superficie")),
    ("piece.map", text("Map of the piece", "Mapa de la pieza")),
    ("piece.charts", text("Charts", "Gráficas")),
    ("map.point", text("Touch the plan to mark a place", "Toque la planta para marcar un lugar")),
    (
        "map.how",
        text(
            "Touch the place to mark a fill, a chip or a photo there. Left and front are as you stand at the piece.",
            "Toque el lugar para marcar ahí un relleno, un desconchón o una foto. Izquierda y frente, tal como se está ante la pieza.",
        ),
    ),
    ("map.what", text("What is there?", "¿Qué hay ahí?")),
    ("map.fill", text("Fill", "Relleno")),
    ("map.chip", text("Chip or flaw", "Desconchón o defecto")),
    ("map.photo", text("Photo", "Foto")),
    ("map.claim", text("Claim", "Reclamación")),
    ("piece.course", text("Course", "Recorrido")),
    ("piece.findings.one", text("{n} finding stands", "{n} observación en pie")),
    ("piece.findings.other", text("{n} findings stand", "{n} observaciones en pie")),
    ("piece.papers", text("Papers", "Documentos")),
    ("piece.make_papers", text("Make papers", "Hacer documentos")),
    ("piece.history", text("History", "Historial")),
    ("piece.facts", text("The piece", "La pieza")),
    ("state.trouble", text("In trouble.", "Con problemas.")),
    ("state.running", text("Running.", "En marcha.")),
    ("state.ready", text("Ready.", "Lista.")),
    ("state.waiting", text("Waiting.", "En espera.")),
    ("state.done", text("Handed over.", "Entregada.")),
    (
        "course.read",
        text(
            "The pour is at the bottom, now is above; broken lines are planned.",
            "El colado está abajo, lo actual arriba; las líneas cortadas son lo previsto.",
        ),
    ),
    // Findings
    ("finding.do", text("What to do:", "Qué hacer:")),
    ("finding.from", text("From:", "Desde:")),
    ("finding.basis", text("Basis:", "Fundamento:")),
    ("finding.show", text("Show the entry", "Ver la anotación")),
    ("finding.except", text("Answer for it", "Responder por ello")),
    (
        "except.say",
        text(
            "The finding stays readable. It is then shown as accepted, with your name and reason, on screen and on paper.",
            "La observación sigue legible. Se muestra como aceptada, con su nombre y motivo, en pantalla y en papel.",
        ),
    ),
    ("except.confirm", text("I answer for it", "Respondo por ello")),
    // History
    ("history.also", text("Also on {codes}", "También en {codes}")),
    ("history.device", text("Written on {device}", "Anotado en {device}")),
    ("history.in_folder", text("in the folder", "en la carpeta")),
    ("history.not_in_folder", text("not yet in the folder", "aún no en la carpeta")),
    ("history.mark", text("Entry mark", "Marca de la anotación")),
    ("history.changed", text("What the correction changed", "Qué cambió la corrección")),
    ("history.what", text("What", "Qué")),
    ("history.was", text("Before", "Antes")),
    ("history.is", text("Now", "Ahora")),
    ("history.nothing", text("nothing", "nada")),
    ("photo.take", text("Take a photo", "Hacer una foto")),
    ("photo.pick", text("Photo from a file", "Foto de un archivo")),
    ("photo.coming", text("The photo is being kept …", "Guardando la foto…")),
    ("photo.drop", text("Take off", "Quitar")),
    ("photo.number", text("Photo {n}", "Foto {n}")),
    ("photo.drop_number", text("Take off photo {n}", "Quitar la foto {n}")),
    ("photo.of", text("Photo of: {step}", "Foto de: {step}")),
    ("photo.open", text("Show large: {what}", "Ver grande: {what}")),
    ("photo.close", text("Close the photo", "Cerrar la foto")),
    ("places_on.point", text("Touch the place on the plan", "Toque el lugar en la planta")),
    ("places_on.by_name", text("Choose a place by its name", "Elegir un lugar por su nombre")),
    ("places_on.left", text("from the left", "desde la izquierda")),
    ("places_on.front", text("from the front", "desde el frente")),
    ("places_on.drop_number", text("Take off place {n}", "Quitar el lugar {n}")),
    ("places_on.lines", text("Places, one a line", "Lugares, uno por línea")),
    ("history.correct", text("Correct", "Corregir")),
    ("history.strike", text("Strike", "Tachar")),
    ("strike.title", text("Strike: {step}", "Tachar: {step}")),
    (
        "strike.say",
        text(
            "The entry stays readable for ever, but counts no longer. Why?",
            "La anotación queda legible para siempre, pero ya no cuenta. ¿Por qué?",
        ),
    ),
    ("strike.wrong_piece", text("Wrong piece", "Pieza equivocada")),
    ("strike.wrong_step", text("Wrong step", "Paso equivocado")),
    ("strike.not_done", text("Was not done", "No se hizo")),
    ("strike.confirm", text("Strike it", "Tacharla")),
    ("correct.title", text("What was wrong?", "¿Qué estaba mal?")),
    (
        "correct.say",
        text("The first version stays readable for ever.", "La primera versión queda legible para siempre."),
    ),
    ("correct.mistyped", text("Mistyped", "Error al anotar")),
    ("correct.forgotten", text("Something was missing", "Faltaba algo")),
    ("why.reason", text("Reason", "Motivo")),
    ("why.own", text("In your own words", "Con sus palabras")),
    ("why.leave", text("Leave it", "Dejarlo")),
    // Logging a step
    ("step.write", text("Write it down", "Anotar")),
    ("step.correct", text("Correct it", "Corregir")),
    ("step.more", text("More to note ({n})", "Más datos ({n})")),
    ("step.also", text("Done on these pieces too", "Hecho también en estas piezas")),
    ("step.join_all", text("All {n} of them", "Las {n}")),
    ("step.others", text("Other pieces of the job or the pour", "Otras piezas de la obra o del vertido")),
    (
        "step.others_what",
        text(
            "The route does not expect this step on them now. What stands then is shown below.",
            "La ruta no espera ahora este paso en ellas. Lo que quede en pie se muestra abajo.",
        ),
    ),
    (
        "step.nothing",
        text("Nothing stands against it that was not there before.", "Nada nuevo en su contra."),
    ),
    ("step.of_no_piece", text("About the shop", "Del taller")),
    ("step.other_piece", text("Another piece", "Otra pieza")),
    ("step.late", text("It will be marked as late:", "Se marcará como tardía:")),
    ("step.take_over", text("Take it over", "Usar este valor")),
    ("step.safety", text("Before the work", "Antes del trabajo")),
    ("step.confirmed", text("Confirmed", "Confirmado")),
    ("step.would_stand", text("If you write this down, this stands:", "Si lo anota, queda en pie:")),
    (
        "step.from_draft",
        text("Half filled in earlier, not yet written down.", "Empezado antes, sin anotar todavía."),
    ),
    ("step.drop_draft", text("Throw it away", "Descartar")),
    ("field.must", text("needed", "necesario")),
    ("field.optional", text("if you like", "si quiere")),
    ("field.less", text("{label}: less", "{label}: menos")),
    ("field.more", text("{label}: more", "{label}: más")),
    ("field.other", text("{label}: other", "{label}: otro")),
    ("field.other_short", text("other", "otro")),
    ("when.done", text("When was it done?", "¿Cuándo se hizo?")),
    ("when.now", text("Just now", "Ahora mismo")),
    ("when.earlier", text("Earlier", "Antes")),
    ("when.at", text("Day and time, by the shop's clock", "Día y hora del taller")),
    ("said.undo", text("Take it back", "Deshacer")),
    ("said.undone", text("taken back at once", "deshecho al momento")),
    ("said.ok", text("All right", "Bien")),
    ("said.close", text("Close this note", "Cerrar este aviso")),
    // Papers
    ("papers.title", text("Papers", "Documentos")),
    ("papers.lang", text("Language", "Idioma")),
    ("papers.size", text("Sheet", "Hoja")),
    ("papers.units", text("Units", "Unidades")),
    ("papers.record", text("Process record", "Registro del proceso")),
    (
        "papers.record.for",
        text(
            "For the warranty file: what was done, when and by whom, with its findings. It carries its entries and a seal.",
            "Para el archivo de garantía: qué se hizo, cuándo y quién, con sus observaciones. Lleva sus anotaciones y un sello.",
        ),
    ),
    ("papers.record.make", text("Make the process record", "Hacer el registro del proceso")),
    ("papers.care", text("Care sheet", "Hoja de cuidados")),
    (
        "papers.care.for",
        text(
            "For the client: first days with dates, daily care, what never to do.",
            "Para el cliente: primeros días con fechas, cuidado diario, qué no hacer nunca.",
        ),
    ),
    ("papers.care.make", text("Make the care sheet", "Hacer la hoja de cuidados")),
    ("papers.labels", text("Label", "Etiqueta")),
    (
        "papers.labels.for",
        text(
            "To stick on the piece: code, place and weight, and a QR code a phone reads at arm's length.",
            "Para pegar en la pieza: código, lugar y peso, y un código QR que un teléfono lee a un brazo de distancia.",
        ),
    ),
    ("papers.labels.make", text("Make the label", "Hacer la etiqueta")),
    ("papers.open", text("Open", "Abrir")),
    ("papers.copy", text("Keep a copy elsewhere", "Guardar una copia")),
    ("papers.saved", text("Copied to {path}", "Copiado en {path}")),
    // The folder
    ("folder.title", text("The folder", "La carpeta")),
    (
        "folder.not_in_folder.one",
        text("{n} entry is not yet in the folder.", "{n} anotación aún no está en la carpeta."),
    ),
    (
        "folder.not_in_folder.other",
        text("{n} entries are not yet in the folder.", "{n} anotaciones aún no están en la carpeta."),
    ),
    (
        "folder.waiting.one",
        text("{n} entry waits for one it refers to.", "{n} anotación espera otra a la que se refiere."),
    ),
    (
        "folder.waiting.other",
        text("{n} entries wait for one they refer to.", "{n} anotaciones esperan otra a la que se refieren."),
    ),
    (
        "folder.newer.one",
        text("{n} entry was written by a newer version.", "{n} anotación es de una versión más nueva."),
    ),
    (
        "folder.newer.other",
        text("{n} entries were written by a newer version.", "{n} anotaciones son de una versión más nueva."),
    ),
    ("folder.entries.one", text("{n} entry", "{n} anotación")),
    ("folder.entries.other", text("{n} entries", "{n} anotaciones")),
    ("folder.last_look", text("Last looked at {when}", "Revisada {when}")),
    ("folder.devices", text("Devices", "Aparatos")),
    ("folder.matters", text("What to know and to do", "Qué saber y qué hacer")),
    ("folder.again", text("Look again", "Mirar otra vez")),
    ("folder.counts", text("This one counts: {entry}", "Esta cuenta: {entry}")),
    (
        "folder.settle_say",
        text(
            "The other entries of the same number stay readable, but count no longer. Why this one?",
            "Las otras entradas con el mismo número quedan legibles, pero ya no cuentan. ¿Por qué esta?",
        ),
    ),
    ("folder.settle_copy", text("The other device is a copy", "El otro aparato es una copia")),
    ("folder.settle_old", text("The other comes from an old state", "La otra viene de un estado antiguo")),
    ("folder.settle_do", text("Let it count", "Que cuente")),
    ("folder.check", text("Check the whole record", "Revisar todo el registro")),
    (
        "folder.check_what",
        text(
            "Checks every line, chain and signature in the folder.",
            "Revisa cada línea, cadena y firma de la carpeta.",
        ),
    ),
    ("folder.check_now", text("Check now", "Revisar ahora")),
    ("folder.digest", text("Mark of the recorded state:", "Marca del estado registrado:")),
    ("device.this", text("this device", "este aparato")),
    ("device.owner", text("owner", "dueño")),
    ("device.entries.one", text("{n} entry", "{n} anotación")),
    ("device.entries.other", text("{n} entries", "{n} anotaciones")),
    ("device.fingerprint", text("Fingerprint of the device", "Huella del aparato")),
    (
        "device.compare",
        text(
            "Compare the fingerprint with the one on that device. Its entries count once you accept it.",
            "Compare la huella con la de ese aparato. Sus anotaciones cuentan cuando lo acepte.",
        ),
    ),
    ("device.accept", text("Accept this device", "Aceptar este aparato")),
    ("device.make_owner", text("Make it an owner's device", "Hacerlo aparato de un dueño")),
    ("device.make_crew", text("Make it a crew device", "Hacerlo aparato de la cuadrilla")),
    ("device.retire", text("Retire this device", "Retirar este aparato")),
    (
        "device.retire_what",
        text(
            "What it wrote up to now keeps counting. What it writes from now on never counts.",
            "Lo anotado hasta ahora sigue contando. Lo que anote desde ahora nunca contará.",
        ),
    ),
    ("device.retire_sure", text("Retire {name}", "Retirar {name}")),
    // The shop and its settings
    ("shop.title", text("Shop and device", "Taller y aparato")),
    ("shop.name", text("Shop", "Taller")),
    ("shop.folder", text("Folder", "Carpeta")),
    ("shop.version", text("Version", "Versión")),
    ("shop.person", text("Who is logging here?", "¿Quién anota aquí?")),
    ("shop.lang", text("Language", "Idioma")),
    ("shop.units", text("Units", "Unidades")),
    ("shop.paper", text("Sheet", "Hoja")),
    ("shop.theme", text("Light", "Luz")),
    ("theme.system", text("As the device", "Como el aparato")),
    ("theme.light", text("Sun", "Sol")),
    ("theme.dark", text("Dark", "Oscuro")),
    ("lang.en", text("English", "English")),
    ("lang.es", text("Español", "Español")),
    ("units.si", text("Metric", "Métricas")),
    ("units.us", text("US", "EE. UU.")),
    ("paper.a4", text("A4", "A4")),
    ("paper.letter", text("US Letter", "Carta")),
    (
        "standing.apart",
        text(
            "This device waits to be accepted by an owner. What you log is kept, and counts from then. Fingerprint: {fingerprint}",
            "Este aparato espera que un dueño lo acepte. Lo que anote se guarda y cuenta desde entonces. Huella: {fingerprint}",
        ),
    ),
    (
        "standing.reader",
        text(
            "You are reading this shop; nothing can be written from here.",
            "Está leyendo este taller; desde aquí no se anota nada.",
        ),
    ),
    // Opening, founding, joining
    (
        "welcome.lead",
        text(
            "The log of a piece, from mould to handover.",
            "El diario de una pieza, del molde a la entrega.",
        ),
    ),
    (
        "welcome.folder",
        text(
            "Everything lives in one folder that belongs to you. Any device that has the folder has the whole record.",
            "Todo está en una carpeta que es suya. El aparato que tiene la carpeta tiene todo el registro.",
        ),
    ),
    ("open.title", text("Open, found or join a shop", "Abrir, fundar o unirse a un taller")),
    ("open.choose", text("Choose the folder", "Elegir la carpeta")),
    ("open.path", text("Or write where it is", "O escriba dónde está")),
    ("open.open", text("Open", "Abrir")),
    (
        "join.title",
        text(
            "The folder holds a shop: become a device of it",
            "La carpeta tiene un taller: ser un aparato suyo",
        ),
    ),
    ("found.title", text("No shop yet: found one there", "Aún no hay taller: fundar uno ahí")),
    ("open.away", text("out of reach", "fuera de alcance")),
    ("open.shop", text("Name of the shop", "Nombre del taller")),
    ("open.person", text("Your name", "Su nombre")),
    ("found.do", text("Found this shop", "Fundar este taller")),
    ("join.do", text("Join this shop", "Unirse a este taller")),
    (
        "join.said",
        text(
            "Joined. Show this fingerprint to an owner: {fingerprint}",
            "Unido. Muestre esta huella a un dueño: {fingerprint}",
        ),
    ),
    ("recover.title", text("Founding device lost?", "¿Perdió el dispositivo fundador?")),
    (
        "recover.what",
        text(
            "With the code on the recovery sheet this device becomes an owner, and the founding device is retired.",
            "Con el código de la hoja de recuperación este aparato pasa a ser dueño y se retira el dispositivo fundador.",
        ),
    ),
    ("recover.code", text("Recovery code", "Código de recuperación")),
    ("recover.do", text("Recover this shop", "Recuperar este taller")),
    ("recovery.title", text("Write this down on paper", "Escríbalo en papel")),
    (
        "recovery.what",
        text(
            "If this device is lost, these words put another in its place. They are shown once and kept nowhere.",
            "Si este aparato se pierde, estas palabras ponen otro en su lugar. Se muestran una vez y no se guardan.",
        ),
    ),
    ("recovery.written", text("I have written it down", "Ya lo escribí")),
    // Errors
    ("error.line", text("{file}, line {line}", "{file}, línea {line}")),
];

/// Every key with its words.
fn all() -> impl Iterator<Item = &'static (&'static str, Text)> {
    UI.iter().chain(set_up::SET_UP)
}

/// All words of the window in `lang`, by key.
pub(crate) fn of(lang: Lang) -> BTreeMap<String, String> {
    all().map(|(key, text)| ((*key).to_owned(), text.get(lang).to_owned())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn blanks(text: &str) -> Vec<&str> {
        let mut found: Vec<&str> =
            text.split('{').skip(1).filter_map(|rest| rest.split('}').next()).collect();
        found.sort_unstable();
        found
    }

    #[test]
    fn no_key_stands_twice() {
        assert_eq!(of(Lang::En).len(), all().count());
    }

    #[test]
    fn both_languages_fill_in_the_same_blanks() {
        for (key, text) in all() {
            assert_eq!(blanks(text.en), blanks(text.es), "{key}");
            assert!(!text.en.is_empty() && !text.es.is_empty(), "{key}");
        }
    }
}
