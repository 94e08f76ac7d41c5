//! Errors: on standard error, in plain words or, with `--json`, as the contract's object; and the exit code.

use std::io::Write as _;
use std::process::ExitCode;

use clap::error::ErrorKind;
use trowelogue_api::{ApiError, ErrorCode, Text, text};

use crate::args::{Global, Lang};

const WHERE_FILE: Text = text("  in: {}", "  en: {}");
const WHERE_LINE: Text = text(", line {}", ", línea {}");
const FIELD: Text = text("  field: {}", "  campo: {}");
const KEPT: Text = text("  kept: {}", "  se conservó: {}");
const REMEDY: Text = text("  to do: {}", "  qué hacer: {}");

/// Tells an error and gives its exit code.
pub(crate) fn tell(error: &ApiError, global: &Global) -> ExitCode {
    let said = if global.json { as_json(error) } else { as_words(error, global.lang) };
    // With standard error closed there is nobody to tell.
    let _ = writeln!(std::io::stderr(), "{said}");
    ExitCode::from(error.code.exit())
}

fn as_json(error: &ApiError) -> String {
    serde_json::json!({ "error": error }).to_string()
}

fn as_words(error: &ApiError, lang: Option<Lang>) -> String {
    let lang = match lang {
        Some(Lang::Es) => trowelogue_api::dto::Lang::Es,
        _ => trowelogue_api::dto::Lang::En,
    };
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
    let asked_for = matches!(
        error.kind(),
        ErrorKind::DisplayHelp
            | ErrorKind::DisplayVersion
            | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
    );
    let json = std::env::args_os().any(|word| word == "--json");
    if json && !asked_for {
        let words = error.render().to_string();
        let mut lines = words.lines().filter(|line| !line.trim().is_empty());
        let first = lines.next().unwrap_or_default();
        let message = first.strip_prefix("error: ").unwrap_or(first).trim();
        let remedy = "See `trowelogue --help`, or the command's own --help.";
        let _ = writeln!(
            std::io::stderr(),
            "{}",
            as_json(&ApiError::new(ErrorCode::Usage, message).remedy(remedy))
        );
    } else {
        let _ = error.print();
    }
    let help = matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
    if help { ExitCode::SUCCESS } else { ExitCode::from(ErrorCode::Usage.exit()) }
}
