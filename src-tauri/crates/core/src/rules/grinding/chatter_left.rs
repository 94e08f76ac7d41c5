//! `chatter-left`

use super::{grit_fact, passes, region_fact, regions, size_um};
use crate::body::surface::{Bond, GritPass, GritScale, PassResult};
use crate::rules::prelude::*;
use crate::rules::sealing::is_first_coat;
use crate::sums::grit::Grit;

pub(crate) static RULE: Rule = Rule {
    code: "chatter-left",
    title: text(
        "A route does not end with metal chatter that was not ground out",
        "Una ruta no acaba con marcas de metal sin borrar",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Metal bonds leave chatter up to about 1.6 mm deep. Nothing but 50, 100 and 200 in turn takes it out; under a sealer it comes up as a pattern in low light, and then everything has to be ground again.",
        "Las ligas metálicas dejan marcas de vibración de hasta 1,6 mm. Solo las borran 50, 100 y 200 por turno; bajo un sellador aparecen como un dibujo a contraluz, y entonces hay que desbastar todo de nuevo.",
    ),
    remedy: text(
        "Grind 50, 100 and 200 in turn with hybrid or resin, each until it has cut out, and look at the wet face in low light before sealing.",
        "Pasar 50, 100 y 200 por turno con híbrida o resina, cada uno hasta agotarse, y mirar la cara mojada a contraluz antes de sellar.",
    ),
    looks: &[Look::Step(ENDING, judge)],
};

/// Steps that end the grinding of a face.
const ENDING: &[Kind] = &[Kind::SealCoat, Kind::Handover];
const LAST_METAL: Text = text("last metal pass", "última pasada de metal");
const LACKING: Text = text("not ground out with", "sin borrar con");
/// What takes chatter out, in turn.
const RUNGS: [f64; 3] = [50.0, 100.0, 200.0];
/// A grit stands in for a rung within half a step of the ladder.
const SAME_RUNG: f64 = std::f64::consts::SQRT_2;

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.kind == Kind::SealCoat;
    if coat && !is_first_coat(past, subject) {
        return Vec::new();
    }
    let sealed = |region| past.all(view::seal_coat).any(|(step, _)| covers(step, Some(region)));
    let regions = regions(past, subject.region).into_iter().filter(|region| coat || !sealed(*region));
    regions.filter_map(|region| left(past, region)).collect()
}

fn left(past: &Past<'_, '_>, region: Region) -> Option<Hit> {
    let passes = passes(past, Some(region));
    let metal = |pass: &GritPass| matches!(pass.bond, Bond::Metal | Bond::CupWheel);
    let at = passes.iter().rposition(|(_, pass)| metal(pass))?;
    let (step, last) = passes[at];
    let after = &passes[at + 1..];
    let mut facts = vec![grit_fact(LAST_METAL, last)];
    facts.extend(region_fact(Some(region)));
    let finished = after.iter().filter(|(_, pass)| pass.result == PassResult::CutOut);
    let sizes: Option<Vec<f64>> = finished.map(|(_, pass)| size_um(pass)).collect();
    let (Some(from), Some(sizes)) = (size_um(last), sizes) else {
        facts.push(missing(text("size of the grit", "tamaño del grano")));
        return Some(Hit::cannot_tell([step], facts));
    };
    let lacking = lacking(last, from, &sizes);
    facts.extend(lacking.iter().map(|rung| count(LACKING, *rung, 0)));
    (!lacking.is_empty()).then(|| Hit::violated([step], facts))
}

/// The rungs still missing: each one finer than the metal where chatter was seen; else the last of them.
fn lacking(metal: &GritPass, from_um: f64, sizes: &[f64]) -> Vec<f64> {
    let honed = sizes.iter().any(|size| *size <= limits::HONED_UM.value);
    if metal.result != PassResult::Chatter {
        return if honed { Vec::new() } else { vec![RUNGS[2]] };
    }
    let met = |rung_um: f64| sizes.iter().any(|size| (size / rung_um).max(rung_um / size) <= SAME_RUNG);
    let rung_um = |rung: f64| Grit { number: rung, scale: GritScale::Pad }.particle_um().unwrap_or(0.0);
    let finer = RUNGS.into_iter().filter(|rung| rung_um(*rung) * limits::SAME_GRIT.value < from_um);
    finer.filter(|rung| !met(rung_um(*rung))).collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn chatter(grit: u32) -> serde_json::Value {
        with(metal(grit), json!({ "result": "chatter" }))
    }

    fn ground(passes: &[serde_json::Value]) -> (Bench, Vec<crate::id::Hash>) {
        let mut bench = Bench::poured();
        let hours = (0u32..).map(|at| 100.0 + f64::from(at));
        let hashes =
            passes.iter().zip(hours).map(|(body, at)| bench.step(at, "grit_pass", body.clone())).collect();
        (bench, hashes)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut full, _) = ground(&[chatter(20), pass(50), pass(100), pass(200)]);
        full.step(140.0, "seal_coat", coat(1));
        full.expect_clear(&RULE);
        let (mut unseen, _) = ground(&[metal(50), pass(100), pass(200)]);
        unseen.step(140.0, "seal_coat", coat(1));
        unseen.expect_clear(&RULE);
        let (mut open, _) = ground(&[chatter(20)]);
        open.step(140.0, "dry", json!({ "at": "rack" }));
        open.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut skipped, ground_at) = ground(&[chatter(20), pass(50), pass(200)]);
        let coated = skipped.step(140.0, "seal_coat", coat(1));
        skipped.step(142.0, "seal_coat", coat(2));
        skipped.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[ground_at[0], coated]]);
        let (mut raw, ground_at) = ground(&[metal(20), metal(50)]);
        let given = raw.step(140.0, "handover", json!({ "received_by": "Client", "care_sheet": "1" }));
        raw.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[ground_at[1], given]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut bench, ground_at) = ground(&[metal(50), with(pass(9000), json!({ "scale": "cami" }))]);
        let coated = bench.step(140.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ground_at[0], coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = ground(&[metal(20)]);
        bench.step(140.0, "seal_coat", coat(1));
        bench.expect_accepted(&RULE);
    }

    /// Pad 200 is 75 µm, pad 187 is 80.2: the first has honed, the second has not.
    #[test]
    fn both_sides_of_honed() {
        for (grit, clear) in [(200, true), (187, false)] {
            let (mut bench, _) = ground(&[metal(50), pass(100), pass(grit)]);
            bench.step(140.0, "seal_coat", coat(1));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{grit}");
        }
    }

    #[test]
    fn a_planned_coat_is_told() {
        let (bench, _) = ground(&[metal(20)]);
        assert!(bench.gate(&RULE, 140.0, "seal_coat", &coat(1)).is_some());
        assert!(bench.bare_gate(&RULE, 140.0, "seal_coat").is_some());
    }
}
