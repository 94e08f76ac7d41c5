//! `brush-first-cut`

use super::{cuts, region_fact};
use crate::body::surface::Bond;
use crate::rules::prelude::*;
use crate::rules::strength::has_glass;

pub(crate) static RULE: Rule = Rule {
    code: "brush-first-cut",
    title: text(
        "A diamond brush does not open glass or deep work",
        "Un cepillo de diamante no abre vidrio ni trabajo profundo",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A brush follows the surface: it digs out the paste and rides over glass and stone. As a first cut it leaves them proud in a hollow face, and only cutting everything down again makes it flat.",
        "Un cepillo sigue la superficie: vacía la pasta y pasa por encima de vidrio y piedra. Como primer corte los deja salientes en una cara hundida, y solo rebajarlo todo de nuevo la aplana.",
    ),
    remedy: text(
        "Open the face with a rigid metal tool first; brushes come after, for texture or sheen. If a brush came first: go back to metal and mark the pass as rework.",
        "Abrir primero la cara con un útil metálico rígido; los cepillos van después, para textura o brillo. Si el cepillo fue primero: volver al metal y marcar la pasada como repaso.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let brush = subject.read(view::grit_pass).is_some_and(|pass| pass.bond == Bond::Brush);
    if !brush || !cuts(past, subject.region).is_empty() {
        return Vec::new();
    }
    let finish = past.case.finish();
    let name = text("finish", "acabado");
    let mut facts = vec![finish.map_or(missing(name), |it| word(name, it.label()))];
    facts.extend(region_fact(subject.region));
    match super::is_deep(past, subject.region) {
        _ if has_glass(past.case) => vec![Hit::violated([], facts)],
        Some(true) => vec![Hit::violated([], facts)],
        Some(false) => Vec::new(),
        None => vec![Hit::cannot_tell([], facts)],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn brush(grit: u32) -> serde_json::Value {
        with(pass(grit), json!({ "bond": "brush" }))
    }

    fn of_finish(finish: Option<&str>) -> Bench {
        Bench::with_piece(json!({ "finish": finish })).pour()
    }

    #[test]
    pub(crate) fn clear() {
        let mut after_metal = of_finish(Some("glass"));
        after_metal.step(100.0, "grit_pass", metal(20));
        after_metal.step(101.0, "grit_pass", brush(50));
        after_metal.expect_clear(&RULE);
        let mut texture = of_finish(Some("pressed"));
        texture.step(100.0, "grit_pass", brush(50));
        texture.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for finish in ["glass", "aggregate"] {
            let mut bench = of_finish(Some(finish));
            let cut = bench.step(100.0, "grit_pass", brush(50));
            bench.step(101.0, "grit_pass", brush(100));
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[cut]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = of_finish(None);
        let cut = bench.step(100.0, "grit_pass", brush(50));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cut]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = of_finish(Some("glass"));
        bench.step(100.0, "grit_pass", brush(50));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn another_region_opens_nothing_and_a_planned_brush_is_stopped() {
        let mut bench = of_finish(Some("aggregate"));
        bench.step(100.0, "grit_pass", with(metal(20), json!({ "region": "edge" })));
        let gate = bench.gate(&RULE, 101.0, "grit_pass", &brush(50)).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
