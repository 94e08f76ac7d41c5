//! `solvent-unconfirmed`

use super::confirm::unconfirmed;
use crate::body::after::SafetyTopic;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "solvent-unconfirmed",
    title: text(
        "Before the first solvent of a shift: no ignition, ventilation, rags put away",
        "Antes del primer disolvente del turno: sin ignición, ventilación, trapos recogidos",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Sheet,
    why: text(
        "Solvent vapour creeps along the floor to a heater or a switch and burns back to the piece. Rags with drying oils warm up by themselves and catch fire in the night.",
        "El vapor de disolvente corre por el suelo hasta una estufa o un interruptor y arde de vuelta a la pieza. Los trapos con aceites secantes se calientan solos y prenden por la noche.",
    ),
    remedy: text(
        "Confirm it by name before you begin: no flame, spark, heater or pilot light, ventilation on, rags with drying oils wet in a closed metal bin. The safety data sheet governs.",
        "Confirmarlo con nombre antes de empezar: sin llama, chispa, estufa ni piloto, ventilación en marcha, trapos con aceites secantes mojados en recipiente metálico cerrado. Manda la ficha de seguridad.",
    ),
    looks: &[Look::Step(&[Kind::Clean, Kind::Colour, Kind::Fill, Kind::Densify, Kind::SealCoat], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    unconfirmed(SafetyTopic::Solvent, past, subject)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn repellent() -> (Bench, serde_json::Value) {
        let mut bench = Bench::poured();
        bench.product("repellent", json!({ "class": "silane_repellent" }));
        (bench, with(coat(1), json!({ "product": id("repellent") })))
    }

    #[test]
    pub(crate) fn clear() {
        let (mut bench, body) = repellent();
        bench.confirm(99.0, &["solvent"]);
        bench.step(100.0, "seal_coat", body);
        bench.step(130.0, "seal_coat", coat(2));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut bench, body) = repellent();
        let cleaned = bench.step(99.0, "clean", json!({ "agent": "solvent" }));
        let coated = bench.step(100.0, "seal_coat", body);
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[cleaned], &[coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let body = with(coat(1), json!({ "product": id("not in the shop") }));
        let coated = bench.step(100.0, "seal_coat", body);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, body) = repellent();
        bench.step(100.0, "seal_coat", body);
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn the_label_of_the_product_beats_the_usual_one_of_its_class() {
        let (mut water, body) = repellent();
        water.product("repellent", json!({ "class": "silane_repellent", "hazards": ["GHS07"] }));
        water.step(100.0, "seal_coat", body);
        water.expect_clear(&RULE);
        let (bench, body) = repellent();
        assert_eq!(bench.gate(&RULE, 100.0, "seal_coat", &body).unwrap().state, GateState::Confirm);
    }
}
