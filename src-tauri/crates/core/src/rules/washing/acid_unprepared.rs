//! `acid-unprepared`

use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "acid-unprepared",
    title: text(
        "Before acid: a trial spot, a wetted face, metal masked",
        "Antes del ácido: prueba en zona oculta, cara mojada, metal protegido",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "On a dry face the acid is drawn in and bites where it lands: runs and blotches stay. Only a trial spot shows how much cream this wash takes from this mix, and bare metal is eaten before the paste is.",
        "En una cara seca el ácido se absorbe y muerde donde cae: quedan churretes y manchas. Solo una prueba en zona oculta dice cuánta pasta quita este lavado a esta mezcla, y el metal desnudo se come antes que la pasta.",
    ),
    remedy: text(
        "Try the wash on a spot that will not show and look at it rinsed. Then mask metal, soak the face, and never let the acid dry on it. Record all three.",
        "Probar el lavado donde no se vea y mirarlo enjuagado. Después proteger el metal, empapar la cara y no dejar secar el ácido. Registrar las tres cosas.",
    ),
    looks: &[Look::Step(&[Kind::AcidWash], judge)],
};

const TRIAL: Text = text("trial spot good", "prueba en zona oculta conforme");
const WETTED: Text = text("face pre-wetted", "cara mojada antes");
const MASKED: Text = text("metal masked", "metal protegido");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let wash = subject.read(view::acid_wash);
    let spot = past.all(view::trial_spot).rfind(|(_, it)| it.of.starts_with("acid"));
    let tried = spot.map(|(_, it)| it.good).or(wash.and_then(|it| it.trial_spot));
    let mut asked = vec![(TRIAL, tried)];
    if let Some(wash) = wash {
        asked.push((WETTED, wash.pre_wetted));
        // Known metal, and metal nobody looked for, are another rule's business.
        let near = past.case.facts().and_then(|it| it.metal_near);
        let bare = wash.metal_masked == Some(Answer::No);
        asked.extend(
            (bare && matches!(near, None | Some(Answer::NotLooked))).then_some((MASKED, wash.metal_masked)),
        );
    }
    let trial = spot.filter(|(_, it)| it.good != Answer::Yes).map(|(step, _)| step);
    Hit::of_answers(trial, &asked).into_iter().collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn washed_with(more: serde_json::Value) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let washed = bench.step(100.0, "acid_wash", with(wash(), more));
        (bench, washed)
    }

    #[test]
    pub(crate) fn clear() {
        washed_with(json!({})).0.expect_clear(&RULE);
        let mut by_entry = Bench::poured();
        by_entry.step(99.0, "trial_spot", json!({ "of": "acid_wash", "good": "yes" }));
        by_entry.step(100.0, "acid_wash", with(wash(), json!({ "trial_spot": "no" })));
        by_entry.expect_clear(&RULE);
        let mut no_metal = Bench::with_piece(json!({ "metal_near": "no" })).pour();
        no_metal.step(100.0, "acid_wash", with(wash(), json!({ "metal_masked": "no" })));
        no_metal.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for field in ["trial_spot", "pre_wetted", "metal_masked"] {
            let (bench, washed) = washed_with(json!({ field: "no" }));
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[washed]]);
        }
        let mut bad_spot = Bench::poured();
        let spot = bad_spot.step(99.0, "trial_spot", json!({ "of": "acid_wash", "good": "no" }));
        let washed = bad_spot.step(100.0, "acid_wash", wash());
        bad_spot.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[spot, washed]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for field in ["trial_spot", "pre_wetted"] {
            let (bench, washed) = washed_with(json!({ field: "not_looked" }));
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[washed]]);
            let (bench, _) = washed_with(json!({ field: null }));
            bench.expect_cannot_tell(&RULE);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        washed_with(json!({ "pre_wetted": "no" })).0.expect_accepted(&RULE);
    }

    #[test]
    fn before_a_wash_the_trial_spot_is_asked_for() {
        let mut bench = Bench::poured();
        let gate = bench.bare_gate(&RULE, 100.0, "acid_wash").unwrap();
        assert_eq!((gate.state, gate.verdict), (GateState::Open, Verdict::CannotTell));
        bench.step(99.0, "trial_spot", json!({ "of": "acid_wash", "good": "yes" }));
        assert_eq!(bench.bare_gate(&RULE, 100.0, "acid_wash"), None);
    }
}
