//! `glass-without-pozzolan`

use crate::body::setup::{Aggregate, Mix};
use crate::rules::prelude::*;
use crate::rules::strength::has_glass;
use crate::shop::Versions;

pub(crate) static RULE: Rule = Rule {
    code: "glass-without-pozzolan",
    title: text(
        "Glass goes into a mix with a stated dose of pozzolan",
        "El vidrio va en una mezcla con una dosis indicada de puzolana",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "The alkalis of cement attack glass and the gel swells (alkali-silica reaction): pop-outs, map cracking and white spots after months, sooner where it is wet. A pozzolan in the right dose binds the alkalis first.",
        "Los álcalis del cemento atacan el vidrio y el gel se hincha (reacción álcali-sílice): saltados, cuarteado y manchas blancas al cabo de meses, antes donde hay humedad. La puzolana en su dosis fija antes los álcalis.",
    ),
    remedy: text(
        "State kind and dose of the pozzolan for the mix or the pour, as tested with this glass and cement. For a piece already cast without: keep it dry, seal all sides, and tell the client.",
        "Indicar clase y dosis de puzolana en la mezcla o el vertido, según ensayo con ese vidrio y cemento. En una pieza ya vertida sin ella: mantenerla seca, sellar todas las caras y avisar al cliente.",
    ),
    looks: &[Look::Step(&[Kind::Pour], judge)],
};

const DOSE: Text = text("pozzolan by mass of cement", "puzolana sobre la masa de cemento");
const OF: Text = text("of", "de");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let case = past.case;
    let pour = subject.read(view::pour);
    let mix = pour.map(|pour| pour.mix).and_then(|id| case.shop.mixes.get(&id)).map(Versions::now);
    let mix = mix.or_else(|| case.mix());
    let glass = pour.is_some_and(|it| it.glass_pct.is_some_and(|pct| pct > 0.0)) || mix.is_some_and(of_glass);
    let mut hits = Vec::new();
    if glass || has_glass(case) {
        let dose = pour.and_then(|it| it.pozzolan_pct).or_else(|| mix?.pozzolan_pct);
        hits.extend(undosed(dose, text("the mix", "la mezcla")));
    }
    let vein = case.facts().and_then(|it| it.vein_mix).and_then(|id| case.shop.mixes.get(&id));
    if let Some(vein) = vein.map(Versions::now).filter(|it| of_glass(it)) {
        hits.extend(undosed(vein.pozzolan_pct, text("the vein or inlay", "la veta o incrustación")));
    }
    hits
}

fn of_glass(mix: &Mix) -> bool {
    mix.aggregates.contains(&Aggregate::Glass) || mix.glass_pct.is_some_and(|pct| pct > 0.0)
}

fn undosed(dose: Option<f64>, of: Text) -> Option<Hit> {
    match dose {
        Some(pct) if pct > 0.0 => None,
        Some(pct) => Some(Hit::violated([], vec![number(DOSE, pct, Dimension::Percent), word(OF, of)])),
        None => Some(Hit::cannot_tell([], vec![missing(DOSE), word(OF, of)])),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn glass_mix(name: &str, pozzolan_pct: Option<f64>) -> Bench {
        let mut bench = Bench::with_piece(json!({ "vein_mix": id("vein mix") }));
        let mix = json!({ "name": "Glass", "aggregates": ["glass"], "pozzolan_pct": pozzolan_pct });
        bench.object("mix", name, mix);
        bench
    }

    #[test]
    pub(crate) fn clear() {
        glass_mix("mix", Some(15.0)).pour().expect_clear(&RULE);
        glass_mix("mix", None).pour_with(json!({ "pozzolan_pct": 15 })).expect_clear(&RULE);
        Bench::poured().expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for name in ["mix", "vein mix"] {
            let bench = glass_mix(name, Some(0.0)).pour();
            let poured = bench.last();
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[poured]]);
        }
        let none = glass_mix("mix", Some(15.0)).pour_with(json!({ "pozzolan_pct": 0 }));
        none.expect_violated(&RULE);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let bench = glass_mix("mix", None).pour();
        let poured = bench.last();
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[poured]]);
    }

    #[test]
    pub(crate) fn excepted() {
        glass_mix("mix", None).pour().expect_accepted(&RULE);
    }

    #[test]
    fn it_is_told_before_the_pour() {
        let gate = glass_mix("mix", None).bare_gate(&RULE, 0.0, "pour").unwrap();
        assert_eq!(gate.state, GateState::Open);
    }
}
