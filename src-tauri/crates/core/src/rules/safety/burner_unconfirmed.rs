//! `burner-unconfirmed`

use super::confirm::unconfirmed;
use crate::body::after::SafetyTopic;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "burner-unconfirmed",
    title: text(
        "An unvented burner runs only with ventilation and a carbon monoxide alarm",
        "Un quemador sin salida de humos solo con ventilación y alarma de monóxido",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "Its fumes stay in the room. Carbon monoxide has no smell and puts people to sleep before they notice; carbon dioxide carbonates a fresh face, which then dusts and takes no sealer.",
        "Sus humos quedan en el local. El monóxido de carbono no huele y adormece antes de que nadie lo note; el dióxido carbonata la cara fresca, que luego suelta polvo y no admite sellador.",
    ),
    remedy: text(
        "Confirm fresh air and a tested alarm by name, or warm with electric heat, hot water or a burner vented to the open. Record what the heat comes from.",
        "Confirmar con nombre aire fresco y alarma probada, o calentar con electricidad, agua caliente o un quemador con salida de humos. Registrar de dónde viene el calor.",
    ),
    looks: &[Look::Step(&[Kind::InitialCure], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    unconfirmed(SafetyTopic::Burner, past, subject)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn cure(source: Option<&str>) -> serde_json::Value {
        match source {
            Some(source) => json!({ "method": "heat", "heat_source": source }),
            None => json!({ "method": "heat" }),
        }
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.pour_step(2.0, "initial_cure", cure(Some("electric")));
        bench.pour_step(3.0, "initial_cure", json!({ "method": "covered" }));
        bench.confirm(30.0, &["burner"]);
        bench.pour_step(30.0, "initial_cure", cure(Some("unvented_burner")));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let cured = bench.pour_step(2.0, "initial_cure", cure(Some("unvented_burner")));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[cured]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let cured = bench.pour_step(2.0, "initial_cure", cure(None));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cured]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.pour_step(2.0, "initial_cure", cure(Some("unvented_burner")));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_cure_asks() {
        let gate = Bench::poured().gate(&RULE, 2.0, "initial_cure", &cure(Some("unvented_burner"))).unwrap();
        assert_eq!(gate.state, GateState::Confirm);
    }
}
