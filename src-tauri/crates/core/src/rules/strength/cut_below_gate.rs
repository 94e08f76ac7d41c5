//! `cut-below-gate`

use super::evidence::Evidence;
use super::{Asked, Standing, against, has_glass};
use crate::body::setup::Aggregate;
use crate::rules::grinding::{is_cut, size_um};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "cut-below-gate",
    title: text(
        "The first cut waits for the strength of its gate",
        "El primer corte espera la resistencia de su umbral",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Below the gate the paste does not hold its grains: diamonds tear them out, loose grains score the face like grit 10, and under about 2,000 psi the paste itself is torn. The pits show in the sealed face for good.",
        "Por debajo del umbral la pasta no sujeta los granos: el diamante los arranca, los granos sueltos rayan la cara como un grano 10 y, bajo unos 14 MPa, se desgarra la propia pasta. Los huecos se ven en la cara sellada para siempre.",
    ),
    remedy: text(
        "Wait, or warm the piece within the limits of heat curing. Before cutting, record a break, a value of the mix's own curve, or a trial grind at the planned grit that shaves the grains and pulls none.",
        "Esperar, o templar la pieza dentro de los límites del curado con calor. Antes de cortar, registrar una rotura, un valor de la curva de la mezcla o una prueba de desbaste con el grano previsto que corte los granos sin arrancar ninguno.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let pass = subject.read(view::grit_pass);
    let cut_before = past.all(view::grit_pass).any(|(step, it)| is_cut(it) && covers(step, subject.region));
    if pass.is_some_and(|it| !is_cut(it)) || cut_before {
        return Vec::new();
    }
    let gate = gate_of(past.case);
    let asked = Asked {
        gate_mpa: gate.value,
        grit_um: Some(pass.and_then(size_um).unwrap_or(0.0)),
        planned: subject.step.is_none(),
        vein: false,
    };
    let mut evidence = against(past, subject.at, &asked);
    if let Some(vein) = vein_gate(past.case) {
        let vein = against(past, subject.at, &Asked { gate_mpa: vein.value, vein: true, ..asked });
        // The weaker mix governs.
        if vein.standing > evidence.standing {
            evidence = vein;
            evidence.facts.push(word(text("of", "de"), text("the vein or inlay", "la veta o incrustación")));
        }
    }
    hit(evidence, gate).into_iter().collect()
}

fn hit(evidence: Evidence<'_>, gate: limits::Limit) -> Option<Hit> {
    let Evidence { standing, steps, mut facts, sure_at } = evidence;
    facts.push(gate.fact());
    match standing {
        Standing::Enough => None,
        Standing::Short => Some(Hit::violated(steps, facts).until(sure_at)),
        Standing::Unknown if steps.is_empty() => Some(Hit::cannot_tell(steps, facts).holding()),
        Standing::Unknown => Some(Hit::cannot_tell(steps, facts)),
    }
}

/// The gate of a piece's main mix.
pub(super) fn gate_of(case: &Case<'_>) -> limits::Limit {
    if has_glass(case) { limits::GLASS_GATE } else { limits::PLAIN_GATE }
}

fn vein_gate(case: &Case<'_>) -> Option<limits::Limit> {
    let mix = case.shop.mixes.get(&case.facts()?.vein_mix?)?.now();
    let glass = mix.aggregates.contains(&Aggregate::Glass);
    Some(if glass { limits::GLASS_GATE } else { limits::PLAIN_GATE })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn break_of(mpa: f64) -> serde_json::Value {
        json!({ "method": "cylinder", "result_mpa": mpa })
    }

    #[test]
    pub(crate) fn clear() {
        let mut at_gate = Bench::poured();
        at_gate.pour_step(48.0, "strength", break_of(27.58));
        at_gate.step(49.0, "grit_pass", pass(50));
        at_gate.expect_clear(&RULE);
        let mut by_trial = Bench::poured();
        by_trial.step(
            30.0,
            "strength",
            json!({ "method": "trial_grind", "trial": "shaved", "trial_grit": 50 }),
        );
        by_trial.step(31.0, "grit_pass", pass(50));
        by_trial.expect_clear(&RULE);
        let mut by_hand = Bench::poured();
        by_hand.step(20.0, "grit_pass", hand_paper(600));
        by_hand.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let tested = bench.pour_step(24.0, "strength", break_of(27.57));
        let cut = bench.step(25.0, "grit_pass", pass(50));
        bench.step(26.0, "grit_pass", pass(100));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[tested, cut]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut nothing = Bench::poured();
        let cut = nothing.step(40.0, "grit_pass", pass(50));
        nothing.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cut]]);
        let mut age_only = Bench::poured();
        let age = age_only.step(39.0, "strength", json!({ "method": "age_history", "age_h": 39 }));
        let cut = age_only.step(40.0, "grit_pass", pass(50));
        age_only.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[age, cut]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.pour_step(24.0, "strength", break_of(20.0));
        bench.step(25.0, "grit_pass", pass(50));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_cube_reads_higher_than_a_cylinder() {
        // 34.4 MPa / 1.25 = 27.52 MPa, under the gate; 34.5 / 1.25 = 27.6 MPa, over it.
        for (cube, clear) in [(34.4, false), (34.5, true)] {
            let mut bench = Bench::poured();
            bench.pour_step(48.0, "strength", json!({ "method": "cube", "result_mpa": cube }));
            bench.step(49.0, "grit_pass", pass(50));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{cube}");
        }
    }

    #[test]
    fn glass_needs_more() {
        let mut bench = Bench::with_piece(json!({ "finish": "glass" })).pour();
        bench.pour_step(48.0, "strength", break_of(34.4));
        bench.step(49.0, "grit_pass", pass(20));
        bench.expect_violated(&RULE);
    }

    #[test]
    fn a_trial_overtakes_an_older_break_and_must_be_as_coarse() {
        let mut bench = Bench::poured();
        bench.pour_step(24.0, "strength", break_of(20.0));
        bench.step(47.0, "strength", json!({ "method": "trial_grind", "trial": "shaved", "trial_grit": 50 }));
        bench.step(48.0, "grit_pass", pass(50));
        bench.expect_clear(&RULE);
        let mut finer = Bench::poured();
        finer.step(
            47.0,
            "strength",
            json!({ "method": "trial_grind", "trial": "shaved", "trial_grit": 200 }),
        );
        finer.step(48.0, "grit_pass", pass(50));
        finer.expect_cannot_tell(&RULE);
        let mut pulled = Bench::poured();
        pulled.step(
            47.0,
            "strength",
            json!({ "method": "trial_grind", "trial": "pulled", "trial_grit": 50 }),
        );
        pulled.step(48.0, "grit_pass", pass(50));
        pulled.expect_violated(&RULE);
    }

    #[test]
    fn rebound_counts_on_thick_members_only() {
        for (thickness, clear) in [(99.0, false), (100.0, true)] {
            let mut bench = Bench::with_piece(json!({ "thickness_mm": thickness })).pour();
            bench.step(48.0, "strength", json!({ "method": "rebound", "result_mpa": 30 }));
            bench.step(49.0, "grit_pass", pass(50));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{thickness}");
        }
    }

    #[test]
    fn the_weaker_mix_governs_a_vein() {
        let vein = |bench: Bench| {
            let mut bench = bench;
            bench.pour_step(48.0, "strength", break_of(40.0));
            bench
        };
        let facts = json!({ "vein_mix": id("vein mix") });
        let mut unknown = vein(Bench::with_piece(facts.clone()).pour());
        unknown.step(49.0, "grit_pass", pass(50));
        unknown.expect_cannot_tell(&RULE);
        let mut weak = vein(Bench::with_piece(facts).pour());
        weak.pour_step(48.5, "strength", json!({ "method": "cylinder", "result_mpa": 20, "vein": true }));
        weak.step(49.0, "grit_pass", pass(50));
        weak.expect_violated(&RULE);
    }

    #[test]
    fn the_gate_waits_for_evidence_and_names_the_hour_of_the_curve() {
        let mut bench = Bench::poured();
        let plan = pass(50);
        assert_eq!(bench.gate(&RULE, 30.0, "grit_pass", &plan).map(|it| it.state), Some(GateState::Blocked));
        bench.curve_of_the_mix();
        // The piece sits at 20 °C: equivalent age is age. The test curve reaches 27.579 MPa near 4.3 days.
        bench.pour_step(0.5, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        bench.pour_step(24.0, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        let gate = bench.gate(&RULE, 30.0, "grit_pass", &plan).unwrap();
        let GateState::Until(opens) = gate.state else { panic!("{gate:?}") };
        let hours = hours_between(at(0.0), opens);
        assert!((100.0..112.0).contains(&hours), "{hours}");
        bench.pour_step(120.0, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        assert_eq!(bench.gate(&RULE, 121.0, "grit_pass", &plan), None);
    }
}
