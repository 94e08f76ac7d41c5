//! `written-late`

use crate::body::Group;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "written-late",
    title: text("Work is written down while it is fresh", "El trabajo se anota mientras está fresco"),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Record,
    why: text(
        "What is written from memory is worth less in a dispute: readings and times of day are the first to go.",
        "Lo escrito de memoria vale menos en un litigio: lecturas y horas son lo primero que se pierde.",
    ),
    remedy: text(
        "Leave it as it is; the delay is shown. Add a note on what it rests on, such as a notebook or a photo.",
        "Dejarlo como está; el retraso se muestra. Añadir una nota sobre en qué se apoya, como un cuaderno o una foto.",
    ),
    looks: &[Look::Piece(check)],
};

fn check(case: &Case<'_>) -> Vec<Hit> {
    let work = |step: &&&Step| {
        step.kind.is_some_and(|kind| matches!(kind.group(), Group::Before | Group::Work | Group::After))
    };
    case.history.iter().filter(work).filter_map(|step| late(case, step)).collect()
}

/// A correction is judged by the first version: putting something right later is no delay.
fn late(case: &Case<'_>, step: &Step) -> Option<Hit> {
    let first = step.corrects.and_then(|hash| case.shop.step(&hash)).unwrap_or(step);
    if !first.late {
        return None;
    }
    let hours = hours_between(first.done.finish(), first.wrote);
    let limit = Applied::setting(case.shop.settings.late_after_h, &limits::LATE_AFTER);
    let mut facts = vec![number(text("written down after", "anotado tras"), hours, Dimension::Hour)];
    facts.extend(limit.facts(text("counts as late after", "cuenta como tarde tras"), Dimension::Hour));
    Some(Hit::violated([step], facts))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.written(100.0, 124.0, "rinse", rinse());
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let late = bench.written(100.0, 124.1, "rinse", rinse());
        bench.expect(&RULE, Verdict::Violated, Severity::Note, &[&[late]]);
    }

    /// Every entry carries both times: there is nothing that could be missing.
    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        bench.written(100.0, 200.0, "rinse", rinse());
        assert!(bench.findings(&RULE).iter().all(|it| it.verdict == Verdict::Violated));
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.written(100.0, 200.0, "rinse", rinse());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn the_shop_sets_its_own_limit_and_a_correction_is_no_delay() {
        let mut setting = Bench::poured();
        setting.settings(json!({ "late_after_h": 2 }));
        setting.written(100.0, 103.0, "rinse", rinse());
        setting.expect_violated(&RULE);
        let mut corrected = Bench::poured();
        let first = corrected.written(100.0, 100.5, "rinse", rinse());
        corrected.about(300.0, "correction", &[first], json!({ "why": "puddles", "body": rinse() }));
        corrected.expect_clear(&RULE);
    }
}
