//! `grit-step`

use super::{grit_fact, grit_of, passes};
use crate::body::surface::{GritPass, PassResult};
use crate::rules::prelude::*;
use crate::sums::grit::{LARGEST_RATIO, Step as Size, step as step_between};

pub(crate) static RULE: Rule = Rule {
    code: "grit-step",
    title: text(
        "No grit step is greater than the ladder allows",
        "Ningún paso de grano es mayor de lo que admite la escalera",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A grit takes out the scratches of one about twice as coarse, two and a half times at most. Skipped, the old scratches stay and show from 400 on, when it costs the whole ladder to reach them.",
        "Un grano borra las rayas de otro como el doble de grueso, dos veces y media como mucho. Si se salta, las rayas viejas quedan y se ven desde el 400, cuando alcanzarlas cuesta la escalera entera.",
    ),
    remedy: text(
        "Put in the grit between, or go back to the one that made the scratches and mark the pass as rework. Going back is in order at a change of bond, after a fill, or as rework.",
        "Intercalar el grano que falta o volver al que hizo las rayas y marcar la pasada como repaso. Volver atrás vale al cambiar de aglomerante, tras un relleno o como repaso.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(pass) = subject.read(view::grit_pass) else { return Vec::new() };
    let fresh = past.all(view::strip).rfind(|(step, _)| covers(step, subject.region));
    let past = fresh.map_or(*past, |(step, _)| past.after(step));
    let Some(&(before, last)) = passes(&past, subject.region).last() else { return Vec::new() };
    let facts = |ratio: Option<f64>| {
        let mut facts = vec![grit_fact(text("from", "de"), last), grit_fact(text("to", "a"), pass)];
        facts.extend(super::region_fact(subject.region));
        facts.push(ratio.map_or(missing(RATIO), |ratio| count(RATIO, ratio, 2)));
        facts.push(count(text("largest step", "paso mayor"), LARGEST_RATIO, 1));
        facts
    };
    let Ok((ratio, step)) = step_between(grit_of(last), grit_of(pass)) else {
        return vec![Hit::cannot_tell([before], facts(None))];
    };
    let same = ratio * limits::SAME_GRIT.value >= 1.0;
    let breach = match step {
        Size::Skip => true,
        Size::Backwards => !same && !may_go_back(&past, subject, before, last, pass),
        Size::Usual | Size::Large => false,
    };
    if breach { vec![Hit::violated([before], facts(Some(ratio)))] } else { Vec::new() }
}

const RATIO: Text = text("size ratio", "razón de tamaños");

/// A change of bond, a fill in between, rework, or a pass that asked for it.
fn may_go_back(
    past: &Past<'_, '_>,
    subject: &Subject<'_>,
    before: &Step,
    last: &GritPass,
    pass: &GritPass,
) -> bool {
    let filled = past.after(before).all(view::fill).any(|(step, _)| covers(step, subject.region));
    let asked = matches!(
        last.result,
        PassResult::Plucking | PassResult::ScratchesLeft | PassResult::Chatter | PassResult::NotCutting
    );
    pass.rework == Some(true) || last.bond != pass.bond || filled || asked
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        for (hours, grit) in [(100.0, 50), (101.0, 100), (102.0, 200), (103.0, 400), (104.0, 800)] {
            bench.step(hours, "grit_pass", pass(grit));
        }
        // The edge runs its own ladder.
        bench.step(105.0, "grit_pass", with(pass(50), json!({ "region": "edge" })));
        bench.expect_clear(&RULE);
        // Metal 20 to 50 is two and a half times: the largest step there is.
        let mut largest = Bench::poured();
        largest.step(100.0, "grit_pass", metal(20));
        largest.step(101.0, "grit_pass", metal(50));
        largest.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let coarse = bench.step(100.0, "grit_pass", pass(100));
        let fine = bench.step(101.0, "grit_pass", pass(400));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[coarse, fine]]);
        let mut back = Bench::poured();
        let fine = back.step(100.0, "grit_pass", pass(400));
        let coarse = back.step(101.0, "grit_pass", pass(200));
        back.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[fine, coarse]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let coarse = bench.step(100.0, "grit_pass", pass(200));
        let odd = bench.step(101.0, "grit_pass", with(pass(9000), json!({ "scale": "cami" })));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coarse, odd]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", pass(100));
        bench.step(101.0, "grit_pass", pass(400));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn one_number_on_two_scales_is_two_sizes() {
        // FEPA P400 is 35.0 µm, CAMI 600 is 16.0 µm (published tables): ratio 2.19. From CAMI 240, 53.0 µm, to
        // CAMI 600 it is 3.3.
        for (from, clear) in [
            (with(pass(400), json!({ "scale": "p" })), true),
            (with(pass(240), json!({ "scale": "cami" })), false),
        ] {
            let mut bench = Bench::poured();
            bench.step(100.0, "grit_pass", from);
            bench.step(101.0, "grit_pass", with(pass(600), json!({ "scale": "cami" })));
            assert_eq!(bench.findings(&RULE).is_empty(), clear);
        }
    }

    #[test]
    fn back_after_a_fill_at_a_change_of_bond_or_as_rework() {
        let mut filled = Bench::poured();
        filled.step(100.0, "grit_pass", pass(200));
        filled.step(101.0, "fill", cement_fill());
        filled.step(126.0, "grit_pass", pass(100));
        filled.expect_clear(&RULE);
        let mut bond = Bench::poured();
        bond.step(100.0, "grit_pass", metal(120));
        bond.step(101.0, "grit_pass", pass(50));
        bond.expect_clear(&RULE);
        let mut rework = Bench::poured();
        rework.step(100.0, "grit_pass", pass(400));
        rework.step(101.0, "grit_pass", with(pass(200), json!({ "rework": true })));
        rework.expect_clear(&RULE);
    }

    #[test]
    fn a_planned_skip_is_told_before_it_is_done() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", pass(100));
        let gate = bench.gate(&RULE, 101.0, "grit_pass", &pass(400)).unwrap();
        assert_eq!((gate.state, gate.severity), (GateState::Open, Severity::Caution));
        assert_eq!(bench.gate(&RULE, 101.0, "grit_pass", &pass(200)), None);
    }
}
