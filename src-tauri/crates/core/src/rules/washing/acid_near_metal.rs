//! `acid-near-metal`

use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "acid-near-metal",
    title: text(
        "Acid near galvanized, aluminum or stainless parts only where they are masked",
        "Ácido cerca de galvanizado, aluminio o inoxidable solo con el metal protegido",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Acid eats zinc and aluminum and sets hydrogen free, which burns; the chloride of hydrochloric acid pits stainless steel and stays. Rust and white bloom come out beside inserts and drains months later.",
        "El ácido come el zinc y el aluminio y desprende hidrógeno, que arde; el cloruro del ácido clorhídrico pica el inoxidable y se queda. Meses después asoman óxido y manchas blancas junto a insertos y desagües.",
    ),
    remedy: text(
        "Mask every metal part, keep the wash off it, air the room, rinse at once. Or clean without acid. Record whether metal is near.",
        "Proteger toda pieza metálica, no mojarla con el lavado, ventilar y enjuagar enseguida. O limpiar sin ácido. Registrar si hay metal cerca.",
    ),
    looks: &[Look::Step(&[Kind::AcidWash], judge)],
};

const NEAR: Text = text("metal in or near the piece", "metal en la pieza o cerca");
const MASKED: Text = text("metal masked", "metal protegido");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let near = past.case.facts().and_then(|it| it.metal_near);
    let masked = subject.read(view::acid_wash).and_then(|it| it.metal_masked);
    if near == Some(Answer::No) || masked == Some(Answer::Yes) {
        return Vec::new();
    }
    let facts = vec![answer(NEAR, near), answer(MASKED, masked)];
    let bare = near == Some(Answer::Yes) && masked == Some(Answer::No);
    vec![if bare { Hit::violated([], facts) } else { Hit::cannot_tell([], facts) }]
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn washed(facts: serde_json::Value, masked: Option<&str>) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::with_piece(facts).pour();
        let washed = bench.step(100.0, "acid_wash", with(wash(), json!({ "metal_masked": masked })));
        (bench, washed)
    }

    #[test]
    pub(crate) fn clear() {
        washed(json!({ "metal_near": "no" }), None).0.expect_clear(&RULE);
        washed(json!({ "metal_near": "yes" }), Some("yes")).0.expect_clear(&RULE);
        washed(json!({}), Some("yes")).0.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (bench, wash) = washed(json!({ "metal_near": "yes" }), Some("no"));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[wash]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        for (near, masked) in [(Some("yes"), None), (Some("not_looked"), Some("no")), (None, None)] {
            let (bench, wash) = washed(json!({ "metal_near": near }), masked);
            bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[wash]]);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        washed(json!({ "metal_near": "yes" }), Some("no")).0.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_wash_near_metal_is_told() {
        let bench = Bench::with_piece(json!({ "metal_near": "yes" })).pour();
        assert_eq!(bench.bare_gate(&RULE, 100.0, "acid_wash").unwrap().state, GateState::Open);
        let masked = bench.gate(&RULE, 100.0, "acid_wash", &wash());
        assert_eq!(masked, None);
    }
}
