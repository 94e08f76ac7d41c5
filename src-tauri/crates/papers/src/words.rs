//! The words the papers add, in both languages, each in one place.

use trowelogue_core::text::{Lang, Text, text};

use crate::model::{Severity, Standing, StepStatus};

pub(crate) const SEAL: Text = text(
    "Digests of every page, font, image and attachment of this paper, signed by the device that issued it.",
    "Huellas de cada página, fuente, imagen y anexo de este documento, firmadas por el dispositivo que lo emitió.",
);
pub(crate) const RECORD: Text = text("Process record", "Registro del proceso");
pub(crate) const JOB: Text = text("job", "obra");
pub(crate) const CLIENT: Text = text("client", "cliente");
pub(crate) const SITE: Text = text("site", "lugar");
pub(crate) const VERDICT: Text = text("What the record shows", "Lo que muestra el registro");
pub(crate) const NEVER: Text = text("Never recorded", "Nunca registrado");
pub(crate) const SUMMARY: Text = text("Summary", "Resumen");
pub(crate) const COURSE: Text = text("The course of the piece", "El curso de la pieza");
pub(crate) const CORE: Text = text(
    "Read it as a core in its box: the newest layer lies at the top left, the oldest at the bottom right.",
    "Se lee como un testigo en su caja: la capa más nueva está arriba a la izquierda, la más antigua abajo a la derecha.",
);
pub(crate) const MORE: Text =
    text("More of them stand in the table of steps.", "Los demás están en la tabla de pasos.");
pub(crate) const CHARTS: Text = text("Strength, climate, places", "Resistencia, clima, lugares");
pub(crate) const STEPS: Text = text("Every step", "Todos los pasos");
pub(crate) const FINDINGS: Text = text("Findings", "Hallazgos");
pub(crate) const EXCEPTIONS: Text = text("Exceptions accepted", "Excepciones aceptadas");
pub(crate) const CORRECTIONS: Text = text("Corrections and strikes", "Correcciones y tachaduras");
pub(crate) const PRODUCTS: Text = text("Products, lots and limits", "Productos, lotes y límites");
pub(crate) const DEVICES: Text = text("Devices and signatures", "Dispositivos y firmas");
pub(crate) const PHOTOS: Text = text("Photos", "Fotos");
pub(crate) const GLOSSARY: Text = text("Words of the trade", "Palabras del oficio");
pub(crate) const BASIS_LIST: Text = text("Rules and their basis", "Reglas y su base");
pub(crate) const INSIDE: Text = text("Carried inside this file", "Contenido dentro de este archivo");

pub(crate) const WHEN: Text = text("when", "cuándo");
pub(crate) const STEP: Text = text("step", "paso");
pub(crate) const RECORDED: Text = text("recorded", "registrado");
pub(crate) const FINDING: Text = text("finding", "hallazgo");
pub(crate) const EXPLAINED: Text = text("what it means, and what to do", "qué significa y qué hacer");
pub(crate) const WHY: Text = text("why", "por qué");
pub(crate) const REMEDY: Text = text("what to do", "qué hacer");
pub(crate) const CODE: Text = text("code", "código");
pub(crate) const BASIS: Text = text("basis", "base");
pub(crate) const CLEARS: Text = text("clears", "se libera");
pub(crate) const ENTRIES: Text = text("entries", "entradas");
pub(crate) const TIMES: Text = text("times", "veces");
pub(crate) const RULE: Text = text("rule", "regla");
pub(crate) const ACCEPTED_BY: Text = text("accepted by", "aceptada por");
pub(crate) const REASON: Text = text("reason", "motivo");
pub(crate) const CORRECTED: Text = text("corrected", "corregido");
pub(crate) const FIRST_VERSION: Text = text("first version", "primera versión");
pub(crate) const NEW_VERSION: Text = text("new version", "nueva versión");
pub(crate) const STRUCK_OUT: Text = text("struck; no new version", "tachado; sin nueva versión");
pub(crate) const PRODUCT: Text = text("product", "producto");
pub(crate) const USED_FOR: Text = text("used for", "usado para");
pub(crate) const LOTS: Text = text("lots", "lotes");
pub(crate) const LIMITS: Text = text("limits applied", "límites aplicados");
pub(crate) const NO_LOT: Text = text("no lot recorded", "sin lote registrado");
pub(crate) const DEVICE: Text = text("device", "dispositivo");
pub(crate) const ID: Text = text("id", "id");
pub(crate) const STATUS: Text = text("status", "estado");
pub(crate) const TERM: Text = text("word", "palabra");
pub(crate) const MEANING: Text = text("meaning", "significado");
pub(crate) const LATE: Text = text("written late:", "escrito tarde:");
pub(crate) const ENTRY: Text = text("entry", "entrada");
pub(crate) const NOTE_LABEL: Text = text("note", "nota");
pub(crate) const FILE: Text = text("file", "archivo");
pub(crate) const NO_PHOTO: Text = text("The photo file is missing.", "Falta el archivo de la foto.");
pub(crate) const NO_STEPS: Text =
    text("No step is recorded for this piece.", "No hay ningún paso registrado para esta pieza.");
pub(crate) const NO_FINDINGS: Text = text(
    "No rule found anything in what is recorded. What was never recorded cannot be found.",
    "Ninguna regla halló nada en lo registrado. Lo que nunca se registró no puede hallarse.",
);
pub(crate) const LEGAL: Text = text(
    "Not legal advice. This paper shows what was recorded and what was not; it does not say that anything is \
     safe. The products' technical and safety data sheets, local codes and licensed practice take precedence.",
    "No es asesoramiento legal. Este documento muestra lo que se registró y lo que no; no afirma que nada sea \
     seguro. Prevalecen las fichas técnicas y de seguridad de los productos, las normas locales y la práctica \
     profesional autorizada.",
);
pub(crate) const REPLACED: Text = text(
    "A character this type family lacks is shown by its Unicode number, as [U+6F22].",
    "Un carácter que falta en esta tipografía se muestra con su número Unicode, como [U+6F22].",
);
pub(crate) const QR_ALT: Text = text("QR code with the id of the piece:", "Código QR con el id de la pieza:");

/// The word of a weight.
pub(crate) const fn severity(severity: Severity) -> Text {
    match severity {
        Severity::Stop => text("stop", "alto"),
        Severity::Caution => text("caution", "precaución"),
        Severity::Note => text("note", "nota"),
    }
}

/// The word of where a finding stands.
pub(crate) const fn standing(standing: Standing) -> Text {
    match standing {
        Standing::Stands => text("stands", "vigente"),
        Standing::Accepted => text("accepted", "aceptado"),
        Standing::Waiting => text("waiting", "en espera"),
    }
}

/// The word of what an entry counts for; none where it simply counts.
pub(crate) const fn status(status: StepStatus) -> Option<Text> {
    match status {
        StepStatus::Counts => None,
        StepStatus::Replaced => Some(text("replaced by a correction", "sustituido por una corrección")),
        StepStatus::Struck => Some(text("struck", "tachado")),
        StepStatus::Apart => Some(text("apart: device not accepted", "aparte: dispositivo no aceptado")),
        StepStatus::Open => {
            Some(text("one of several versions, not settled", "una de varias versiones, sin resolver"))
        }
        StepStatus::Waiting => {
            Some(text("waits for an entry it refers to", "espera una entrada a la que se refiere"))
        }
    }
}

/// `Page 3 of 12`.
pub(crate) fn page(number: usize, total: usize, lang: Lang) -> String {
    match lang {
        Lang::En => format!("Page {number} of {total}"),
        Lang::Es => format!("Página {number} de {total}"),
    }
}

/// `2 stops stand`.
pub(crate) fn standing_count(count: usize, weight: Severity, lang: Lang) -> String {
    let (one, many) = match weight {
        Severity::Stop => (text("1 stop stands", "1 alto vigente"), text("stops stand", "altos vigentes")),
        Severity::Caution => (
            text("1 caution stands", "1 precaución vigente"),
            text("cautions stand", "precauciones vigentes"),
        ),
        Severity::Note => (text("1 note stands", "1 nota vigente"), text("notes stand", "notas vigentes")),
    };
    match count {
        0 if weight == Severity::Stop => text("No stop stands", "Ningún alto vigente").get(lang).to_owned(),
        1 => one.get(lang).to_owned(),
        n => format!("{n} {}", many.get(lang)),
    }
}

/// `1 finding is accepted by exception`.
pub(crate) fn accepted_count(count: usize, lang: Lang) -> String {
    match (count, lang) {
        (1, Lang::En) => "1 finding is accepted by exception".into(),
        (n, Lang::En) => format!("{n} findings are accepted by exception"),
        (1, Lang::Es) => "1 hallazgo está aceptado por excepción".into(),
        (n, Lang::Es) => format!("{n} hallazgos están aceptados por excepción"),
    }
}
