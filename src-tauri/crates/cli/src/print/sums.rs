//! Prints the sums of `calc` for a person to read.

use trowelogue_api::Calculated;
use trowelogue_api::dto::Lang;

use super::{Out, words};

/// A sum: results, what it was given, basis, validity, notes.
pub(crate) fn calculated(done: &Calculated, lang: Lang, out: &mut Out) {
    done.results.iter().for_each(|it| out.line(&format!("{}: {}", it.label, it.value)));
    let given: Vec<String> = done.inputs.iter().map(|it| format!("{} {}", it.label, it.value)).collect();
    let lines = [
        (words::GIVEN, given.join("; ")),
        (words::BASIS, done.basis.clone()),
        (words::HOLDS, done.validity.clone()),
    ];
    for (label, value) in lines {
        out.line(&format!("    {}: {value}", label.get(lang.into())));
    }
    done.notes.iter().for_each(|note| out.line(&format!("    {note}")));
}
