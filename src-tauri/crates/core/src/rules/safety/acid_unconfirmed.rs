//! `acid-unconfirmed`

use super::confirm::unconfirmed;
use crate::body::after::SafetyTopic;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "acid-unconfirmed",
    title: text(
        "Before the first acid or ammonia of a shift its cautions are confirmed",
        "Antes del primer ácido o amoníaco del turno se confirman sus precauciones",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "Water poured into concentrate boils and spits. Acid and ammonia burn eyes and lungs; a splash in the eye is a matter of seconds to the eyewash. Acid straight into ammonia gives heat and a thick fume.",
        "El agua sobre el concentrado hierve y salpica. Ácido y amoníaco queman ojos y pulmones; con una salpicadura en el ojo cuentan los segundos hasta el lavaojos. Ácido directamente sobre amoníaco da calor y un humo espeso.",
    ),
    remedy: text(
        "Confirm it by name before you begin: concentrate into water, eyes and hands covered, ventilation, eyewash at hand, never one straight into the other. The safety data sheets govern.",
        "Confirmarlo con nombre antes de empezar: el concentrado al agua, ojos y manos protegidos, ventilación, lavaojos a mano, nunca uno directamente sobre el otro. Mandan las fichas de seguridad.",
    ),
    looks: &[Look::Step(&[Kind::AcidWash, Kind::Neutralise, Kind::Clean], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    unconfirmed(SafetyTopic::Acid, past, subject)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.confirm(100.0, &["acid"]);
        bench.step(100.0, "acid_wash", wash());
        bench.step(112.0, "neutralise", neutralise());
        bench.step(
            150.0,
            "neutralise",
            json!({ "agent": "bicarbonate", "water_parts": 10, "agent_parts": 1 }),
        );
        bench.step(150.0, "clean", json!({ "agent": "neutral_cleaner" }));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        bench.confirm(100.0, &["acid"]);
        let next_shift = bench.step(112.1, "acid_wash", wash());
        let cleaner = bench.step(150.0, "clean", json!({ "agent": "acid_cleaner" }));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[next_shift], &[cleaner]]);
        let mut too_late = Bench::poured();
        let washed = too_late.step(100.0, "acid_wash", wash());
        too_late.confirm(100.1, &["acid"]);
        too_late.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[washed]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let body = json!({ "agent": "water", "product": id("not in the shop") });
        let cleaned = bench.step(100.0, "clean", body);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cleaned]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_confirmation_is_the_persons_own_and_holds_for_the_shops_shift() {
        let mut other = Bench::poured();
        other.confirm_by("helper", 100.0, &["acid"]);
        other.step(100.5, "acid_wash", wash());
        other.expect_violated(&RULE);
        let mut short = Bench::poured();
        short.settings(json!({ "shift_h": 8 }));
        short.confirm(100.0, &["acid"]);
        short.step(108.0, "acid_wash", wash());
        short.expect_clear(&RULE);
        short.step(108.1, "acid_wash", wash());
        short.expect_violated(&RULE);
    }

    #[test]
    fn a_planned_wash_asks_and_its_date_stays() {
        let mut bench = Bench::poured();
        assert_eq!(bench.gate(&RULE, 101.0, "acid_wash", &wash()).unwrap().state, GateState::Confirm);
        assert_eq!(bench.bare_gate(&RULE, 101.0, "neutralise").unwrap().state, GateState::Confirm);
        bench.confirm(100.0, &["acid"]);
        assert_eq!(bench.gate(&RULE, 101.0, "acid_wash", &wash()), None);
    }
}
