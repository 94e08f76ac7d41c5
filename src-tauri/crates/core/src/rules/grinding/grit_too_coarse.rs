//! `grit-too-coarse`

use super::{grit_fact, passes, region_fact, size_um};
use crate::body::surface::{Bond, GritPass, PassResult};
use crate::rules::prelude::*;
use crate::rules::strength::{Asked, Standing, against};

pub(crate) static RULE: Rule = Rule {
    code: "grit-too-coarse",
    title: text(
        "The ladder starts at the coarsest grit the exposure needs, not coarser",
        "La escalera empieza en el grano más grueso que pide la exposición, no más",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Metal 10 to 20 is for deep work on hard concrete. Elsewhere it cuts deeper than the finish, leaves chatter that takes the whole ladder to remove, and soft concrete wears it away in no time.",
        "El metal 10 a 20 es para trabajo profundo en hormigón duro. En otro caso corta más hondo que el acabado, deja marcas que piden la escalera entera, y el hormigón blando lo gasta enseguida.",
    ),
    remedy: text(
        "Start finer: resin 50 or 100 for fine sand, metal 20 for stone, metal 10 only on very hard concrete. A trial patch shows what is enough.",
        "Empezar más fino: resina 50 o 100 para arena fina, metal 20 para piedra, metal 10 solo en hormigón muy duro. Una prueba enseña lo que basta.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const GRIT: Text = text("grit", "grano");
const FINISH: Text = text("finish", "acabado");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass) else { return Vec::new() };
    let Some(size) = size_um(pass).filter(|size| is_coarse(pass, *size)) else { return Vec::new() };
    let before = passes(past, subject.region);
    // Scores of torn grains, damage, and what was coarse already are taken out with what it takes.
    let mending = pass.rework == Some(true) || before.iter().any(|(_, it)| it.result == PassResult::Plucking);
    let as_coarse = |it: &GritPass| size_um(it).is_some_and(|other| other * limits::SAME_GRIT.value >= size);
    if mending || before.iter().any(|(_, it)| as_coarse(it)) {
        return Vec::new();
    }
    let mut facts = vec![grit_fact(GRIT, pass)];
    facts.extend(region_fact(subject.region));
    let finish = past.case.finish();
    facts.push(finish.map_or(missing(FINISH), |it| word(FINISH, it.label())));
    let hit = match super::is_deep(past, subject.region) {
        Some(true) if size > limits::VERY_COARSE_UM.value => for_hard_only(past, subject, size, facts),
        Some(true) => None,
        Some(false) => Some(Hit::violated([], facts)),
        None => Some(Hit::cannot_tell([], facts)),
    };
    hit.into_iter().collect()
}

fn is_coarse(pass: &GritPass, size_um: f64) -> bool {
    matches!(pass.bond, Bond::Metal | Bond::CupWheel) && size_um >= limits::COARSE_METAL_UM.value
}

/// Coarser than 20 on a deep face: very hard concrete only.
fn for_hard_only(past: &Past<'_, '_>, subject: &Subject<'_>, size: f64, mut facts: Vec<Fact>) -> Option<Hit> {
    let gate = limits::FINE_GATE;
    let planned = subject.step.is_none();
    let asked = Asked { gate_mpa: gate.value, grit_um: Some(size), planned, vein: false };
    let evidence = against(past, subject.at, &asked);
    facts.extend(evidence.facts);
    facts.push(number(text("very hard from", "muy duro desde"), gate.value, Dimension::Megapascal));
    match evidence.standing {
        Standing::Enough => None,
        Standing::Short => Some(Hit::violated(evidence.steps, facts).until(evidence.sure_at)),
        Standing::Unknown => Some(Hit::cannot_tell(evidence.steps, facts)),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn of_finish(finish: Option<&str>) -> Bench {
        Bench::with_piece(json!({ "finish": finish })).pour()
    }

    #[test]
    pub(crate) fn clear() {
        let mut stone = of_finish(Some("aggregate"));
        stone.step(100.0, "grit_pass", metal(20));
        stone.expect_clear(&RULE);
        let mut sand = of_finish(Some("salt_pepper"));
        sand.step(100.0, "grit_pass", metal(50));
        sand.expect_clear(&RULE);
        let mut mending = of_finish(Some("salt_pepper"));
        mending.step(100.0, "grit_pass", with(metal(20), json!({ "rework": true })));
        mending.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = of_finish(Some("salt_pepper"));
        let cut = bench.step(100.0, "grit_pass", metal(20));
        bench.step(101.0, "grit_pass", metal(20));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[cut]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut no_finish = of_finish(None);
        let cut = no_finish.step(100.0, "grit_pass", metal(20));
        no_finish.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cut]]);
        let mut no_strength = of_finish(Some("aggregate"));
        let cut = no_strength.step(100.0, "grit_pass", metal(10));
        no_strength.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cut]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = of_finish(Some("salt_pepper"));
        bench.step(100.0, "grit_pass", metal(10));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn metal_10_asks_for_very_hard_concrete() {
        for (mpa, clear) in [(48.2, false), (48.3, true)] {
            let mut bench = of_finish(Some("aggregate"));
            bench.pour_step(90.0, "strength", json!({ "method": "cylinder", "result_mpa": mpa }));
            bench.step(100.0, "grit_pass", metal(10));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{mpa}");
        }
    }

    /// Pad 21 is 714 µm, pad 22 is 682: the first is coarse, the second is not.
    #[test]
    fn both_sides_of_coarse_and_a_planned_pass() {
        let bench = of_finish(Some("honed"));
        assert_eq!(bench.gate(&RULE, 100.0, "grit_pass", &metal(21)).unwrap().state, GateState::Open);
        assert_eq!(bench.gate(&RULE, 100.0, "grit_pass", &metal(22)), None);
    }
}
