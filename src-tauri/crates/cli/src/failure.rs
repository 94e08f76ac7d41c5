//! Errors: on standard error, in plain words or, with `--json`, as the contract's object; and the exit code.

mod usage;

use std::io::Write as _;
use std::process::ExitCode;

use clap::error::ErrorKind;
use trowelogue_api::dto::Lang;
use trowelogue_api::{ApiError, Text, text};

const WHERE_FILE: Text = text("  in: {}", "  en: {}");
const WHERE_LINE: Text = text(", line {}", ", línea {}");
const FIELD: Text = text("  field: {}", "  campo: {}");
const KEPT: Text = text("  kept: {}", "  se conservó: {}");
const REMEDY: Text = text("  to do: {}", "  qué hacer: {}");
const NOTHING: Text = text("Nothing was written.", "No se escribió nada.");
const SEE_HELP: Text = text(
    "See `trowelogue --help`, or the command's own --help.",
    "Vea `trowelogue --help` o el --help de la orden.",
);

/// Tells an error and gives its exit code.
pub(crate) fn tell(error: ApiError, json: bool, lang: Lang) -> ExitCode {
    let error = complete(error, lang);
    let said = if json { serde_json::json!({ "error": error }).to_string() } else { as_words(&error, lang) };
    // With standard error closed there is nobody to tell.
    let _ = writeln!(std::io::stderr(), "{said}");
    ExitCode::from(error.code.exit())
}

/// Every error says what was kept and what to do; a command that failed has written nothing unless it says so.
fn complete(error: ApiError, lang: Lang) -> ApiError {
    let error = if error.kept.is_none() { error.kept(NOTHING.get(lang.into())) } else { error };
    if error.remedy.is_none() { error.remedy(SEE_HELP.get(lang.into())) } else { error }
}

fn as_words(error: &ApiError, lang: Lang) -> String {
    let say = |words: Text, value: &str| words.get(lang.into()).replace("{}", value);
    let mut lines = vec![error.message.clone()];
    if let Some(file) = &error.file {
        let line = error.line.map(|line| say(WHERE_LINE, &line.to_string())).unwrap_or_default();
        lines.push(say(WHERE_FILE, file) + &line);
    }
    for (words, value) in [(FIELD, &error.field), (KEPT, &error.kept), (REMEDY, &error.remedy)] {
        lines.extend(value.as_ref().map(|value| say(words, value)));
    }
    lines.join("\n")
}

/// A command that was not called as it has to be; help and version are no errors.
pub(crate) fn usage(error: &clap::Error) -> ExitCode {
    let help = matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
    if help || error.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        let _ = error.print();
        return if help { ExitCode::SUCCESS } else { ExitCode::from(usage::CODE.exit()) };
    }
    let (json, lang) = usage::form_asked_for(std::env::args_os());
    tell(usage::refused(error, lang), json, lang)
}
