//! `ammonia-too-strong`

use crate::body::surface::{Neutralise, Neutraliser};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "ammonia-too-strong",
    title: text(
        "Neutralize with household ammonia 10:1, never with the strong grade",
        "Neutralizar con amoníaco doméstico 10:1, nunca con el concentrado",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Household ammonia holds 5 to 10 %. The 26 to 30 % grade gives off a choking gas, burns eyes and lungs, and heats and spits where it meets acid; what stays of it in the face reacts with silicates and sealers.",
        "El amoníaco doméstico tiene del 5 al 10 %. El del 26 al 30 % desprende un gas asfixiante, quema ojos y pulmones y se calienta y salpica al tocar ácido; lo que queda en la cara reacciona con silicatos y selladores.",
    ),
    remedy: text(
        "Use household ammonia, ten parts of water to one, or bicarbonate, after the first rinse. Read the strength off the label and record it. The safety data sheet governs.",
        "Usar amoníaco doméstico, diez partes de agua por una, o bicarbonato, tras el primer enjuague. Leer la concentración en la etiqueta y registrarla. Manda la ficha de datos de seguridad.",
    ),
    looks: &[Look::Step(&[Kind::Neutralise], judge)],
};

const STRENGTH: Text = text("ammonia in the bottle", "amoníaco en el envase");
/// Volumes are measured with a jug.
const ROUNDING: f64 = 0.99;

fn judge(_: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let neutralised = subject.read(view::neutralise).filter(|it| it.agent == Neutraliser::Ammonia);
    neutralised.and_then(hit).into_iter().collect()
}

fn hit(it: &Neutralise) -> Option<Hit> {
    let ratio =
        said(text("water to ammonia", "agua a amoníaco"), &format!("{}:{}", it.water_parts, it.agent_parts));
    let strong_mix = it.water_parts < it.agent_parts * limits::AMMONIA_RATIO.value * ROUNDING;
    let bottle =
        it.concentrate_pct.map_or(missing(STRENGTH), |pct| number(STRENGTH, pct, Dimension::Percent));
    let facts = vec![bottle, limits::HOUSEHOLD_AMMONIA.fact(), ratio, limits::AMMONIA_RATIO.fact()];
    match it.concentrate_pct {
        Some(pct) if pct > limits::HOUSEHOLD_AMMONIA.value => Some(Hit::violated([], facts)),
        _ if strong_mix => Some(Hit::violated([], facts).weighing(Severity::Caution)),
        Some(_) => None,
        None => Some(Hit::cannot_tell([], facts)),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn with_ammonia(more: serde_json::Value) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let done = bench.step(100.0, "neutralise", with(neutralise(), more));
        (bench, done)
    }

    #[test]
    pub(crate) fn clear() {
        with_ammonia(json!({ "concentrate_pct": 10 })).0.expect_clear(&RULE);
        with_ammonia(json!({ "agent": "bicarbonate", "concentrate_pct": null, "water_parts": 4 }))
            .0
            .expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for pct in [10.1, 28.0] {
            let (bench, done) = with_ammonia(json!({ "concentrate_pct": pct }));
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[done]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (bench, done) = with_ammonia(json!({ "concentrate_pct": null }));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[done]]);
    }

    #[test]
    pub(crate) fn excepted() {
        with_ammonia(json!({ "concentrate_pct": 28 })).0.expect_accepted(&RULE);
    }

    #[test]
    fn a_stronger_mix_of_household_ammonia_is_a_caution() {
        let (bench, done) = with_ammonia(json!({ "water_parts": 9.8 }));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[done]]);
        with_ammonia(json!({ "water_parts": 9.9 })).0.expect_clear(&RULE);
    }

    #[test]
    fn the_strong_grade_is_stopped_before_it_is_poured() {
        let strong = with(neutralise(), json!({ "concentrate_pct": 28 }));
        let gate = Bench::poured().gate(&RULE, 100.0, "neutralise", &strong).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
