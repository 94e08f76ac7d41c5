//! `sample-late`

use super::samples;
use crate::rules::finding::FactValue;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "sample-late",
    title: text(
        "The sample is agreed before the face is changed beyond return",
        "La muestra se acuerda antes de cambiar la cara sin vuelta atrás",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "What a wash, a color or the first pass takes off cannot be put back. Without a sample agreed before, nobody can say later whether the face is as ordered, and the shop argues from memory.",
        "Lo que quita un lavado, un color o la primera pasada no vuelve. Sin una muestra acordada antes nadie puede decir luego si la cara es la pedida, y el taller discute de memoria.",
    ),
    remedy: text(
        "Show control samples, light, middle and dark, at a stated distance and light; write down what is inherent; have them agreed and signed for the piece or the job before going on.",
        "Enseñar muestras de control, clara, media y oscura, a distancia y con luz fijadas; anotar lo inherente; acordarlas y firmarlas para la pieza o el trabajo antes de seguir.",
    ),
    looks: &[Look::Step(CHANGING, judge)],
};

const CHANGING: &[Kind] = &[Kind::AcidWash, Kind::Colour, Kind::GritPass];
const AGREED: Text = text("sample agreed", "muestra acordada");

/// Judged once, at the first step that changes the face.
fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let witness = past.case.facts().is_some_and(|it| it.witness_of.is_some());
    if witness || past.has(CHANGING) || !samples(past, subject.at).is_empty() {
        return Vec::new();
    }
    let newest = past.case.history.last().map_or(subject.at, |step| step.done.start);
    let later = samples(past, newest).into_iter().map(|(step, _)| step.done.start).min();
    vec![match later {
        Some(when) => Hit::violated([], vec![Fact::new(AGREED, FactValue::When(when))]),
        None => Hit::cannot_tell([], vec![missing(AGREED)]),
    }]
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn agreed() -> serde_json::Value {
        json!({ "samples": ["light", "middle", "dark"], "agreed_by": "Client" })
    }

    #[test]
    pub(crate) fn clear() {
        let mut own = Bench::poured();
        own.step(100.0, "sample_agreed", agreed());
        own.step(100.0, "acid_wash", wash());
        own.expect_clear(&RULE);
        let mut of_job = Bench::poured();
        of_job.job_step(-100.0, "sample_agreed", agreed());
        of_job.step(100.0, "grit_pass", pass(50));
        of_job.expect_clear(&RULE);
        let mut untouched = Bench::poured();
        untouched.step(100.0, "clean", json!({ "agent": "water" }));
        untouched.expect_clear(&RULE);
        let mut witness = Bench::with_piece(json!({ "witness_of": id("pour") })).pour();
        witness.step(100.0, "grit_pass", pass(50));
        witness.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let washed = bench.step(100.0, "acid_wash", wash());
        bench.step(100.1, "sample_agreed", agreed());
        bench.step(101.0, "grit_pass", pass(400));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[washed]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let ground = bench.step(100.0, "grit_pass", pass(50));
        bench.step(101.0, "grit_pass", pass(100));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", pass(50));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn the_first_change_is_told_before_it_is_made() {
        let bench = Bench::poured();
        let gate = bench.bare_gate(&RULE, 100.0, "acid_wash").unwrap();
        assert_eq!((gate.state, gate.severity), (GateState::Open, Severity::Caution));
    }
}
