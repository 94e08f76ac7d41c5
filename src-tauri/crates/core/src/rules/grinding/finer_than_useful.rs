//! `finer-than-useful`

use super::{grit_fact, passes, region_fact, regions, size_um};
use crate::body::setup::FinishKind;
use crate::body::surface::GritPass;
use crate::rules::prelude::*;
use crate::rules::sealing::is_first_coat;

pub(crate) static RULE: Rule = Rule {
    code: "finer-than-useful",
    title: text(
        "Finer than 400 to 800 brings nothing under a sealer",
        "Más fino de 400 a 800 no aporta nada bajo un sellador",
    ),
    severity: Severity::Note,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A sealer fills scratches that fine: the passes cost hours and cannot be seen, and a reactive sealer finds less and less to bite.",
        "Un sellador llena rayas tan finas: las pasadas cuestan horas y no se ven, y a uno reactivo le queda cada vez menos donde morder.",
    ),
    remedy: text(
        "End at 400, at 800 where gloss is wanted, and seal. A polished floor that is densified goes finer on purpose.",
        "Acabar en 400, en 800 si se busca brillo, y sellar. Un suelo pulido y densificado afina a propósito.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], sealed), Look::Plan(&[Kind::GritPass], planned)],
};

const LAST: Text = text("last grit", "último grano");

fn sealed(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if !is_first_coat(past, subject) || polished(past) {
        return Vec::new();
    }
    let fine = |region| {
        let (step, pass) = passes(past, Some(region)).last().copied()?;
        too_fine(pass, Some(region), &[step])
    };
    regions(past, subject.region).into_iter().filter_map(fine).collect()
}

fn planned(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let pass = subject.read(view::grit_pass).filter(|_| !polished(past));
    let fine = pass.filter(|pass| size_um(pass).is_some());
    fine.and_then(|pass| too_fine(pass, subject.region, &[])).into_iter().collect()
}

/// A floor, or a densified face: the polish itself is the finish.
fn polished(past: &Past<'_, '_>) -> bool {
    past.case.finish() == Some(FinishKind::Floor) || past.has(&[Kind::Densify])
}

fn too_fine(pass: &GritPass, region: Option<Region>, steps: &[&Step]) -> Option<Hit> {
    let mut facts = vec![grit_fact(LAST, pass)];
    facts.extend(region_fact(region));
    facts.push(limits::USELESS_UM.fact());
    match size_um(pass) {
        Some(size) => (size < limits::USELESS_UM.value).then(|| Hit::violated(steps.iter().copied(), facts)),
        None => Some(Hit::cannot_tell(steps.iter().copied(), facts)),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn ending(grit: u32) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let last = bench.step(100.0, "grit_pass", pass(grit));
        (bench, last)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut at_800, _) = ending(800);
        at_800.step(140.0, "seal_coat", film_coat(1));
        at_800.expect_clear(&RULE);
        let (mut floor, _) = ending(3000);
        let dense =
            json!({ "product": id("densifier"), "lot": "D-1", "dwell_min": 30, "residue_off": "yes" });
        floor.step(101.0, "densify", dense);
        floor.step(140.0, "seal_coat", film_coat(1));
        floor.expect_clear(&RULE);
        let (bare, _) = ending(3000);
        bare.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        // Pad 900 is about 16.7 µm.
        let (mut bench, last) = ending(900);
        let coated = bench.step(140.0, "seal_coat", film_coat(1));
        bench.step(142.0, "seal_coat", film_coat(2));
        bench.expect(&RULE, Verdict::Violated, Severity::Note, &[&[last, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let odd = bench.step(100.0, "grit_pass", with(pass(9000), json!({ "scale": "cami" })));
        let coated = bench.step(140.0, "seal_coat", film_coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[odd, coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = ending(1500);
        bench.step(140.0, "seal_coat", film_coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_pass_is_told_before_it_costs_anything() {
        let bench = Bench::poured();
        let gate = bench.gate(&RULE, 100.0, "grit_pass", &pass(1500)).unwrap();
        assert_eq!((gate.state, gate.severity), (GateState::Open, Severity::Note));
        assert_eq!(bench.gate(&RULE, 100.0, "grit_pass", &pass(800)), None);
    }
}
