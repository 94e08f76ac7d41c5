//! `pass-unfinished`

use super::{grit_fact, passes, region_fact, regions, size_um};
use crate::body::surface::{Bond, GritPass, PassResult};
use crate::rules::prelude::*;
use crate::rules::sealing::is_first_coat;

pub(crate) static RULE: Rule = Rule {
    code: "pass-unfinished",
    title: text(
        "A pass that still shows scratches, or does not cut, is finished before the next grit",
        "Una pasada con rayas, o que no corta, se termina antes del grano siguiente",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "The next grit rounds old scratches over instead of taking them out; they come up again in low light when the face is sealed. A tool that does not cut on hard concrete is glazed: it rubs, heats and polishes the scratches in.",
        "El grano siguiente redondea las rayas viejas en vez de borrarlas; vuelven a verse a contraluz con la cara sellada. Un útil que no corta en hormigón duro está embotado: frota, calienta y pule las rayas.",
    ),
    remedy: text(
        "Go on with the same grit until the old scratches are gone and it has cut out. A glazed tool: dress it on a soft abrasive block, or change to a softer bond.",
        "Seguir con el mismo grano hasta que desaparezcan las rayas viejas y se agote. Útil embotado: avivarlo en un bloque abrasivo blando o pasar a una liga más blanda.",
    ),
    looks: &[Look::Step(&[Kind::GritPass, Kind::SealCoat, Kind::Densify], judge)],
};

const ENDED: Text = text("ended", "acabó");
const PASS: Text = text("pass", "pasada");
const NEXT: Text = text("next", "siguiente");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if subject.kind == Kind::GritPass {
        let next = subject.read(view::grit_pass);
        return next.and_then(|next| left_behind(past, subject.region, next)).into_iter().collect();
    }
    if subject.kind == Kind::SealCoat && !is_first_coat(past, subject) {
        return Vec::new();
    }
    regions(past, subject.region).into_iter().filter_map(|region| covered(past, region)).collect()
}

/// The last pass over a region, if it did not finish.
fn unfinished<'a>(
    past: &Past<'_, 'a>,
    region: Option<Region>,
) -> Option<(&'a Step, &'a GritPass, Vec<Fact>)> {
    let (step, pass) = passes(past, region).last().copied()?;
    let unfinished = match pass.result {
        PassResult::ScratchesLeft | PassResult::NotCutting => true,
        // The next grits take metal chatter out; on any other bond the pass goes on.
        PassResult::Chatter => !matches!(pass.bond, Bond::Metal | Bond::CupWheel),
        // Torn grains are another rule's business.
        PassResult::CutOut | PassResult::Plucking => false,
    };
    let mut facts = vec![grit_fact(PASS, pass), word(ENDED, pass.result.label())];
    facts.extend(region_fact(region));
    unfinished.then_some((step, pass, facts))
}

fn left_behind(past: &Past<'_, '_>, region: Option<Region>, next: &GritPass) -> Option<Hit> {
    let (step, pass, mut facts) = unfinished(past, region)?;
    facts.push(grit_fact(NEXT, next));
    match (size_um(pass), size_um(next)) {
        (Some(from), Some(to)) => (to * limits::SAME_GRIT.value < from).then(|| Hit::violated([step], facts)),
        _ => Some(Hit::cannot_tell([step], facts)),
    }
}

fn covered(past: &Past<'_, '_>, region: Region) -> Option<Hit> {
    let (step, _, facts) = unfinished(past, Some(region))?;
    Some(Hit::violated([step], facts))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn ended(grit: u32, result: &str) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let hash = bench.step(100.0, "grit_pass", with(pass(grit), json!({ "result": result })));
        (bench, hash)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut again, _) = ended(100, "scratches_left");
        again.step(101.0, "grit_pass", pass(100));
        again.step(102.0, "grit_pass", pass(200));
        again.step(140.0, "seal_coat", coat(1));
        again.expect_clear(&RULE);
        let (mut coarser, _) = ended(100, "not_cutting");
        coarser.step(101.0, "grit_pass", pass(50));
        coarser.expect_clear(&RULE);
        let mut metal_chatter = Bench::poured();
        metal_chatter.step(100.0, "grit_pass", with(metal(20), json!({ "result": "chatter" })));
        metal_chatter.step(101.0, "grit_pass", pass(50));
        metal_chatter.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for result in ["scratches_left", "not_cutting", "chatter"] {
            let (mut bench, first) = ended(100, result);
            let next = bench.step(101.0, "grit_pass", pass(200));
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[first, next]]);
        }
        let (mut coated, first) = ended(200, "scratches_left");
        let coat_at = coated.step(140.0, "seal_coat", coat(1));
        coated.step(142.0, "seal_coat", coat(2));
        coated.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[first, coat_at]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut bench, first) = ended(100, "scratches_left");
        let odd = bench.step(101.0, "grit_pass", with(pass(9000), json!({ "scale": "cami" })));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[first, odd]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = ended(100, "scratches_left");
        bench.step(101.0, "grit_pass", pass(200));
        bench.expect_accepted(&RULE);
    }

    /// 110 after 100 is the same grit (ratio 1.10), 111 is a finer one.
    #[test]
    fn both_sides_of_the_same_grit() {
        for (grit, clear) in [(110, true), (112, false)] {
            let (mut bench, _) = ended(100, "scratches_left");
            bench.step(101.0, "grit_pass", pass(grit));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{grit}");
        }
    }

    #[test]
    fn regions_stand_alone_and_a_planned_pass_is_told() {
        let (bench, _) = ended(100, "scratches_left");
        let edge = with(pass(200), json!({ "region": "edge" }));
        assert_eq!(bench.gate(&RULE, 101.0, "grit_pass", &edge), None);
        assert_eq!(bench.gate(&RULE, 101.0, "grit_pass", &pass(200)).unwrap().state, GateState::Open);
    }
}
