//! Commands that cannot be understood: what the reader of the arguments found, in words of both languages.

use std::ffi::OsString;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use trowelogue_api::dto::Lang;
use trowelogue_api::{ApiError, ErrorCode, Text, text};

/// Every such error has this code.
pub(super) const CODE: ErrorCode = ErrorCode::Usage;

const NO_COMMAND: Text = text("There is no command {}.", "No existe la orden {}.");
const NO_OPTION: Text = text("{} is not understood here.", "{} no se entiende aquí.");
const NO_VALUE: Text = text("{} needs a value.", "{} necesita un valor.");
const BAD_VALUE: Text = text("{} cannot be taken for {}.", "{} no vale para {}.");
const MISSING: Text = text("Missing: {}.", "Falta: {}.");
const NO_SUBCOMMAND: Text = text("A command is missing.", "Falta la orden.");
const CONFLICT: Text = text("{} and {} do not go together.", "{} y {} no van juntos.");
const NOT_UTF8: Text = text("An argument is not UTF-8 text.", "Un argumento no es texto UTF-8.");
const OTHER: Text = text("The command cannot be understood: {}.", "No se entiende la orden: {}.");
const ONE_OF: Text = text("Give one of: {}.", "Indique uno de: {}.");
const MEANT: Text = text("Perhaps {} was meant.", "Quizá se quiso decir {}.");

/// What stands in the arguments about the form of the answer; they could not be read as a whole.
pub(super) fn form_asked_for(words: impl Iterator<Item = OsString>) -> (bool, Lang) {
    let words: Vec<OsString> = words.collect();
    let json = words.iter().any(|word| word == "--json");
    let apart = words.windows(2).any(|pair| pair[0] == "--lang" && pair[1] == "es");
    let spanish = apart || words.iter().any(|word| word == "--lang=es");
    (json, if spanish { Lang::Es } else { Lang::En })
}

/// The error of the boundary for what the reader of the arguments found.
pub(super) fn refused(error: &clap::Error, lang: Lang) -> ApiError {
    let told = ApiError::new(CODE, sentence(error, lang));
    let argument = context(error, ContextKind::InvalidArg);
    let told = match argument {
        Some(argument) => told.field(argument),
        None => told,
    };
    match remedy(error, lang) {
        Some(remedy) => told.remedy(remedy),
        None => told,
    }
}

fn sentence(error: &clap::Error, lang: Lang) -> String {
    let quoted = |kind| context(error, kind).map(|it| format!("{it:?}")).unwrap_or_default();
    let argument = context(error, ContextKind::InvalidArg).unwrap_or_default();
    match error.kind() {
        ErrorKind::InvalidSubcommand => say(NO_COMMAND, lang, &[&quoted(ContextKind::InvalidSubcommand)]),
        ErrorKind::UnknownArgument => say(NO_OPTION, lang, &[&quoted(ContextKind::InvalidArg)]),
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => {
            match context(error, ContextKind::InvalidValue).filter(|value| !value.is_empty()) {
                Some(value) => say(BAD_VALUE, lang, &[&format!("{value:?}"), &argument]),
                None => say(NO_VALUE, lang, &[&argument]),
            }
        }
        ErrorKind::MissingRequiredArgument => say(MISSING, lang, &[&argument]),
        ErrorKind::MissingSubcommand => say(NO_SUBCOMMAND, lang, &[]),
        ErrorKind::ArgumentConflict => {
            let prior = context(error, ContextKind::PriorArg).unwrap_or_default();
            say(CONFLICT, lang, &[&argument, &prior])
        }
        ErrorKind::InvalidUtf8 => say(NOT_UTF8, lang, &[]),
        kind => say(OTHER, lang, &[&kind.to_string()]),
    }
}

fn remedy(error: &clap::Error, lang: Lang) -> Option<String> {
    let named = |kind, words| context(error, kind).map(|it| say(words, lang, &[&it]));
    named(ContextKind::ValidValue, ONE_OF)
        .or_else(|| named(ContextKind::SuggestedSubcommand, MEANT))
        .or_else(|| named(ContextKind::SuggestedArg, MEANT))
}

fn context(error: &clap::Error, kind: ContextKind) -> Option<String> {
    match error.get(kind)? {
        ContextValue::String(word) => Some(word.clone()),
        ContextValue::Strings(words) if words.is_empty() => None,
        ContextValue::Strings(words) => Some(words.join(", ")),
        other => Some(other.to_string()),
    }
}

fn say(words: Text, lang: Lang, values: &[&str]) -> String {
    crate::print::say(words, lang, values)
}
