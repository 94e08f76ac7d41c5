//! `deep-cut-too-late`

use super::known;
use crate::body::casting::TrialResult;
use crate::rules::finding::FactValue;
use crate::rules::grinding::{cuts, is_cut, is_deep};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "deep-cut-too-late",
    title: text(
        "A deep face is opened before the concrete is as hard as granite",
        "Una cara profunda se abre antes de que el hormigón sea duro como granito",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Above about 10,000 psi taking off 3 to 6 mm is like grinding granite: hours instead of minutes, worn and glazed metal, heat in the face. The window for an easy start closes by itself.",
        "Por encima de unos 69 MPa quitar de 3 a 6 mm es como desbastar granito: horas en lugar de minutos, metal gastado y embotado, calor en la cara. El plazo para empezar con facilidad se cierra solo.",
    ),
    remedy: text(
        "Open the face while it is above its gate and below this strength. Where the window has closed: softer-bonded metal, more water, slow speed, and a price that knows it.",
        "Abrir la cara cuando ya pasó su umbral y aún no llega a esta resistencia. Si el plazo se cerró: metal de liga más blanda, más agua, velocidad lenta y un precio que lo tenga en cuenta.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const CLOSES: Text = text("window closes", "el plazo se cierra");

/// At the first cut of a deep face.
fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let cut = subject.read(view::grit_pass).is_none_or(is_cut);
    let deep = is_deep(past, subject.region) == Some(true);
    if !cut || !deep || !cuts(past, subject.region).is_empty() {
        return Vec::new();
    }
    let planned = subject.step.is_none();
    let hard = limits::GRANITE_HARD;
    let Some(known) = known(past, subject.at, planned, hard.value) else {
        return untold(past).into_iter().collect();
    };
    let mut facts = known.facts;
    facts.push(hard.fact());
    if known.mpa >= hard.value {
        return vec![Hit::violated(known.steps, facts)];
    }
    // Said before the window closes, and only then.
    let closing = known.reached_at.filter(|closes| planned && *closes > subject.at);
    let told = closing.map(|closes| {
        facts.push(Fact::new(CLOSES, FactValue::When(closes)));
        Hit::violated(known.steps, facts).weighing(Severity::Note)
    });
    told.into_iter().collect()
}

/// No strength is known. A trial grind that cut says enough, and so does a mix that never gets that hard.
fn untold(past: &Past<'_, '_>) -> Option<Hit> {
    let aim = past.case.mix().and_then(|mix| mix.aim_mpa);
    let tried = past.all(view::strength).any(|(_, it)| it.trial == Some(TrialResult::Shaved));
    if tried || aim.is_some_and(|mpa| mpa < limits::GRANITE_HARD.value) {
        return None;
    }
    let facts = vec![missing(text("strength", "resistencia")), limits::GRANITE_HARD.fact()];
    Some(Hit::cannot_tell([], facts).weighing(Severity::Note))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn deep() -> Bench {
        Bench::with_piece(json!({ "finish": "aggregate" })).pour()
    }

    fn broken(mpa: f64) -> (Bench, crate::id::Hash) {
        let mut bench = deep();
        let tested = bench.pour_step(600.0, "strength", json!({ "method": "cylinder", "result_mpa": mpa }));
        (bench, tested)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut soft, _) = broken(68.9);
        soft.step(601.0, "grit_pass", metal(20));
        soft.expect_clear(&RULE);
        let mut tried = deep();
        let shaved = json!({ "method": "trial_grind", "trial": "shaved", "trial_grit": 20 });
        tried.step(600.0, "strength", shaved);
        tried.step(601.0, "grit_pass", metal(20));
        tried.expect_clear(&RULE);
        let mut mild = deep();
        mild.object("mix", "mix", json!({ "name": "Mix", "aggregates": ["basalt"], "aim_mpa": 50 }));
        mild.step(601.0, "grit_pass", metal(20));
        mild.expect_clear(&RULE);
        let mut shallow = Bench::poured();
        shallow.step(601.0, "grit_pass", pass(50));
        shallow.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut bench, tested) = broken(69.0);
        let cut = bench.step(601.0, "grit_pass", metal(20));
        bench.step(602.0, "grit_pass", metal(50));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[tested, cut]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = deep();
        let cut = bench.step(601.0, "grit_pass", metal(20));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[cut]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = broken(80.0);
        bench.step(601.0, "grit_pass", metal(20));
        bench.expect_accepted(&RULE);
    }

    /// The curve of the hard mix passes 68.9 MPa at about seven days of 20 °C.
    #[test]
    fn the_closing_of_the_window_is_said_before() {
        let mut bench = deep();
        bench.curve_of_a_hard_mix();
        bench.pour_step(0.5, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        bench.pour_step(48.0, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        let gate = bench.gate(&RULE, 49.0, "grit_pass", &metal(20)).unwrap();
        assert_eq!((gate.state, gate.severity), (GateState::Open, Severity::Note));
        let closes = gate.facts.iter().find(|it| it.name == CLOSES).unwrap();
        let FactValue::When(closes) = closes.value else { panic!("{closes:?}") };
        let days = hours_between(at(0.0), closes) / 24.0;
        assert!((5.5..8.5).contains(&days), "{days}");
        bench.step(49.0, "grit_pass", metal(20));
        bench.expect_clear(&RULE);
    }
}
