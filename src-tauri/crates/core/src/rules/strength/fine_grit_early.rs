//! `fine-grit-early`

use super::{Asked, Standing, against};
use crate::body::casting::{Strength, StrengthMethod, TrialResult};
use crate::body::surface::GritScale;
use crate::rules::grinding::{cuts, is_cut, is_deep, region_fact, size_um};
use crate::rules::prelude::*;
use crate::sums::grit::Grit;

pub(crate) static RULE: Rule = Rule {
    code: "fine-grit-early",
    title: text(
        "A deep face opened early waits before grit 100 and finer",
        "Una cara profunda abierta pronto espera antes del grano 100 y más fino",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "At about 4,000 psi the paste stands coarse metal, but not the many fine diamonds of 100 and up: they work the sand loose beside the stone, and the pits show polished all round.",
        "Con unos 28 MPa la pasta aguanta el metal grueso, pero no los muchos diamantes finos del 100 en adelante: sueltan la arena junto a la piedra, y los huecos se ven con el contorno pulido.",
    ),
    remedy: text(
        "Fill now, wait a day or two, warm the piece within the limits of heat curing, and aim for 7,000 psi. Or grind a trial patch at the planned grit: if it pulls nothing, go on, and record it.",
        "Rellenar ahora, esperar uno o dos días, templar la pieza dentro de los límites del curado con calor y buscar 48 MPa. O desbastar una prueba con el grano previsto: si no arranca nada, seguir, y registrarla.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

/// Judged once per region: at the first fine pass over a face that was opened coarse.
fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass).filter(|pass| is_cut(pass)) else { return Vec::new() };
    if !size_um(pass).is_some_and(is_fine) || is_deep(past, subject.region) != Some(true) {
        return Vec::new();
    }
    let before = cuts(past, subject.region);
    let Some((opened, _)) = before.first() else { return Vec::new() };
    if before.iter().any(|(_, it)| size_um(it).is_some_and(is_fine)) {
        return Vec::new();
    }
    let planned = subject.step.is_none();
    let gate = limits::FINE_GATE;
    let asked = Asked { gate_mpa: gate.value, grit_um: None, planned, vein: false };
    let evidence = against(past, subject.at, &asked);
    if evidence.standing == Standing::Enough {
        return Vec::new();
    }
    let mut facts = evidence.facts;
    facts.push(gate.fact());
    facts.extend(region_fact(subject.region));
    let hit = match patch(past, opened) {
        Some((_, TrialResult::Shaved)) => return Vec::new(),
        Some((step, TrialResult::Pulled)) => {
            facts.push(word(text("trial patch", "prueba de desbaste"), TrialResult::Pulled.label()));
            Hit::violated(evidence.steps.into_iter().chain([step]), facts)
        }
        None if evidence.standing == Standing::Short => {
            Hit::violated(evidence.steps, facts).until(evidence.sure_at)
        }
        None => Hit::cannot_tell(evidence.steps, facts),
    };
    vec![hit]
}

fn is_fine(size_um: f64) -> bool {
    size_um <= limits::FINE_PASS_UM.value
}

/// The newest trial patch that answers for fine grits: ground at one, or after the face was opened. What
/// opened it with a coarse grit says nothing here.
fn patch<'a>(past: &Past<'_, 'a>, opened: &Step) -> Option<(&'a Step, TrialResult)> {
    let fine = |it: &Strength| {
        let tried = it.trial_grit.map(|number| Grit { number, scale: GritScale::Pad }.particle_um());
        tried.is_some_and(|size| size.is_ok_and(is_fine))
    };
    let trials = past.all(view::strength).filter(|(_, it)| it.method == StrengthMethod::TrialGrind);
    let answering = trials
        .filter(|(step, it)| fine(it) || (it.trial_grit.is_none() && step.done.start > opened.done.start));
    answering.filter_map(|(step, it)| Some((step, it.trial?))).next_back()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    /// Opened with metal at hour 96, at a break of so many MPa.
    fn opened(mpa: f64) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::with_piece(json!({ "finish": "aggregate" })).pour();
        let tested = bench.pour_step(95.0, "strength", json!({ "method": "cylinder", "result_mpa": mpa }));
        bench.step(96.0, "grit_pass", metal(20));
        bench.step(97.0, "grit_pass", metal(50));
        (bench, tested)
    }

    fn trial(grit: u32, result: &str) -> serde_json::Value {
        json!({ "method": "trial_grind", "trial": result, "trial_grit": grit })
    }

    #[test]
    pub(crate) fn clear() {
        let (mut strong, _) = opened(48.27);
        strong.step(98.0, "grit_pass", pass(100));
        strong.expect_clear(&RULE);
        let (mut tried, _) = opened(30.0);
        tried.step(97.5, "strength", trial(100, "shaved"));
        tried.step(98.0, "grit_pass", pass(100));
        tried.expect_clear(&RULE);
        let mut shallow = Bench::poured();
        shallow.pour_step(95.0, "strength", json!({ "method": "cylinder", "result_mpa": 30 }));
        shallow.step(96.0, "grit_pass", pass(50));
        shallow.step(97.0, "grit_pass", pass(100));
        shallow.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut bench, tested) = opened(48.2);
        let fine = bench.step(98.0, "grit_pass", pass(100));
        bench.step(99.0, "grit_pass", pass(200));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[tested, fine]]);
        let (mut pulled, tested) = opened(30.0);
        let tried = pulled.step(97.5, "strength", trial(100, "pulled"));
        let fine = pulled.step(98.0, "grit_pass", pass(100));
        pulled.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[tested, tried, fine]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::with_piece(json!({ "finish": "glass" })).pour();
        let tried = bench.step(95.0, "strength", trial(20, "shaved"));
        bench.step(96.0, "grit_pass", metal(20));
        let fine = bench.step(98.0, "grit_pass", pass(100));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[tried, fine]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = opened(30.0);
        bench.step(98.0, "grit_pass", pass(100));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn stone_that_shows_makes_a_face_deep() {
        let mut bench = Bench::poured();
        bench.pour_step(95.0, "strength", json!({ "method": "cylinder", "result_mpa": 30 }));
        bench.step(96.0, "grit_pass", with(pass(50), json!({ "exposure": "small_stone" })));
        bench.step(97.0, "grit_pass", pass(100));
        bench.expect_violated(&RULE);
    }

    /// A grit of 150 µm is fine (pad 100), one of 167 µm (pad 90) is not yet.
    #[test]
    fn both_sides_of_grit_100() {
        for (grit, clear) in [(90, true), (100, false)] {
            let (mut bench, _) = opened(30.0);
            bench.step(98.0, "grit_pass", pass(grit));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{grit}");
        }
    }

    #[test]
    fn a_planned_fine_pass_is_told_with_the_hour_of_the_curve() {
        let (bench, _) = opened(30.0);
        assert_eq!(bench.gate(&RULE, 98.0, "grit_pass", &pass(100)).unwrap().state, GateState::Open);
        assert_eq!(bench.gate(&RULE, 98.0, "grit_pass", &metal(50)), None);
    }
}
