//! `written-late`

use crate::body::Group;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "written-late",
    title: text("Steps are written down when they are done", "Los pasos se anotan cuando se hacen"),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Record,
    why: text(
        "What is written down days later comes from memory. It counts, but years later it weighs less than what was written at the piece.",
        "Lo que se anota días después sale de la memoria. Cuenta, pero años más tarde pesa menos que lo anotado junto a la pieza.",
    ),
    remedy: text(
        "Nothing to mend: the record shows both times. A photo or reading from the day itself helps; add it as a note.",
        "No hay nada que arreglar: el registro muestra ambas horas. Ayuda una foto o lectura de ese día; añádala como nota.",
    ),
    looks: &[Look::Piece(check)],
};

const AFTER: Text = text("written after", "anotado después de");
const LIMIT: Text = text("counts as late after", "cuenta como tardío después de");

fn check(case: &Case<'_>) -> Vec<Hit> {
    let limit = Applied::setting(case.shop.settings.late_after_h, &limits::LATE_AFTER);
    let work = |step: &&&Step| step.kind.is_some_and(|kind| matches!(kind.group(), Group::Before | Group::Work | Group::After));
    let late = case.history.iter().filter(work).filter(|step| step.late);
    late.map(|step| {
        let hours = hours_between(step.done.finish(), step.wrote);
        let mut facts = vec![number(AFTER, hours, Dimension::Hour)];
        facts.extend(limit.facts(LIMIT, Dimension::Hour));
        Hit::violated([*step], facts)
    })
    .collect()
}
