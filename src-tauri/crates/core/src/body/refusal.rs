//! Why an entered body is refused, in words of both languages.

use crate::text::{Lang, Text, text};
use crate::units::BadUnit;

/// Why a body is refused, and at which field.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {}", why.say(Lang::En))]
pub struct FieldError {
    /// Path of the field inside the body, such as `air_c` or `cut_outs[0].x_mm`.
    pub field: String,
    /// What is wrong with it.
    pub why: Refusal,
}

/// What is wrong with a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// It must be given.
    Missing,
    /// The kind has no such field; these are the ones it has.
    NoSuchField {
        /// The kind, as written.
        kind: &'static str,
        /// The fields of the kind, with commas between.
        fields: String,
    },
    /// A value with a unit that cannot be taken.
    Unit(BadUnit),
    /// The text has more than this many bytes.
    TooLong(usize),
    /// The text holds a NUL character.
    Nul,
    /// Not finite, or larger than anything on a job.
    Absurd,
    /// Outside what a field of this name can have.
    OutOfRange {
        /// The number as read.
        value: String,
        /// The smallest and the largest it can be.
        between: (String, String),
    },
    /// Not one of a closed list.
    NoSuchChoice {
        /// What was read.
        found: String,
        /// The choices, with commas between.
        choices: String,
    },
    /// A value of another sort.
    WrongSort {
        /// What was read.
        found: String,
        /// The sort that fits.
        wanted: Text,
    },
    /// Anything else the reader of the value says.
    Other(String),
}

impl Refusal {
    /// Takes the reader's own message apart.
    pub(crate) fn of_reader(message: &str) -> Self {
        if message.starts_with("missing field") {
            return Self::Missing;
        }
        let choice = message.strip_prefix("unknown variant ").and_then(|rest| rest.split_once(", expected "));
        if let Some((found, wanted)) = choice {
            let choices = wanted.trim_start_matches("one of ").replace('`', "");
            return Self::NoSuchChoice { found: found.replace('`', ""), choices };
        }
        let sort = ["invalid type: ", "invalid value: "].iter().find_map(|head| message.strip_prefix(head));
        match sort.and_then(|rest| rest.rsplit_once(", expected ")) {
            Some((found, wanted)) => Self::WrongSort { found: found.into(), wanted: sort_wanted(wanted) },
            None => Self::Other(message.into()),
        }
    }

    /// The refusal as one sentence.
    pub fn say(&self, lang: Lang) -> String {
        let fixed = |words: Text| words.get(lang).to_owned();
        match self {
            Self::Missing => fixed(text("It must be given.", "Debe indicarse.")),
            Self::NoSuchField { kind, fields } => match lang {
                Lang::En => format!("A {kind} has no field of this name; it has: {fields}."),
                Lang::Es => format!("Un {kind} no tiene un campo con ese nombre; tiene: {fields}."),
            },
            Self::Unit(bad) => sentence(&bad.say(lang)),
            Self::TooLong(most) => match lang {
                Lang::En => format!("The text is longer than {most} bytes."),
                Lang::Es => format!("El texto tiene más de {most} bytes."),
            },
            Self::Nul => fixed(text("The text holds a NUL character.", "El texto contiene un carácter NUL.")),
            Self::Absurd => fixed(text(
                "This is not a number a job can have.",
                "Este no es un número que pueda darse en un trabajo.",
            )),
            Self::OutOfRange { value, between: (low, high) } => match lang {
                Lang::En => format!("{value} lies outside {low} to {high}."),
                Lang::Es => format!("{value} queda fuera de {low} a {high}."),
            },
            Self::NoSuchChoice { found, choices } => match lang {
                Lang::En => format!("{found:?} is none of the choices: {choices}."),
                Lang::Es => format!("{found:?} no es ninguna de las opciones: {choices}."),
            },
            Self::WrongSort { found, wanted } => match lang {
                Lang::En => format!("It must be {}, not {found}.", wanted.en),
                Lang::Es => format!("Debe ser {}, no {found}.", wanted.es),
            },
            Self::Other(why) => match lang {
                Lang::En => format!("It cannot be read: {why}."),
                Lang::Es => format!("No se puede leer: {why}."),
            },
        }
    }
}

/// What the reader of a type expects, in words.
fn sort_wanted(wanted: &str) -> Text {
    const NUMBERS: [&str; 9] = ["f64", "f32", "u8", "u16", "u32", "u64", "usize", "i32", "i64"];
    match wanted {
        "a boolean" => text("true or false", "true o false"),
        "a sequence" => text("a list", "una lista"),
        "a string" | "a borrowed string" => text("a text", "un texto"),
        it if NUMBERS.contains(&it) => text("a number", "un número"),
        it if it.starts_with("struct") || it.contains("map") => {
            text("an object with fields", "un objeto con campos")
        }
        _ => text("another sort of value", "otro tipo de valor"),
    }
}

/// A phrase as a sentence: a capital first, a full stop last.
fn sentence(phrase: &str) -> String {
    let mut letters = phrase.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_readers_messages_become_sentences() {
        for (message, en, es) in [
            (
                "unknown variant `silicous`, expected one of `siliceous`, `basalt`",
                "\"silicous\" is none of the choices: siliceous, basalt.",
                "\"silicous\" no es ninguna de las opciones: siliceous, basalt.",
            ),
            (
                "invalid type: string \"x\", expected f64",
                "It must be a number, not string \"x\".",
                "Debe ser un número, no string \"x\".",
            ),
            ("missing field `air_c`", "It must be given.", "Debe indicarse."),
            (
                "premature end of input",
                "It cannot be read: premature end of input.",
                "No se puede leer: premature end of input.",
            ),
        ] {
            let refusal = Refusal::of_reader(message);
            assert_eq!((refusal.say(Lang::En), refusal.say(Lang::Es)), (en.into(), es.into()));
        }
    }

    #[test]
    fn a_phrase_becomes_a_sentence() {
        assert_eq!(sentence("unknown unit \"x\""), "Unknown unit \"x\".");
        assert_eq!(sentence("¿qué?"), "¿qué?.");
    }
}
