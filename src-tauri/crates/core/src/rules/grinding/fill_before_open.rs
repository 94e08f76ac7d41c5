//! `fill-before-open`

use super::{fills_opened, passes, region_fact};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "fill-before-open",
    title: text("Voids are filled after the face is opened", "Los huecos se rellenan con la cara ya abierta"),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Grinding opens more bug holes and takes off the fill laid before it: the work is done twice, and thin fill over closed holes breaks out under the sealer.",
        "El desbaste abre más coqueras y se lleva el relleno puesto antes: el trabajo se hace dos veces, y el relleno fino sobre huecos cerrados salta bajo el sellador.",
    ),
    remedy: text(
        "Open the face first, clean the holes out, then fill. Backfill of an open texture as cast is in order.",
        "Abrir primero la cara, limpiar los huecos y después rellenar. El relleno de una textura abierta tal como sale del molde vale.",
    ),
    looks: &[Look::Step(&[Kind::Fill], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let stripped = past.all(view::strip).any(|(step, _)| covers(step, subject.region));
    if stripped || !passes(past, subject.region).is_empty() {
        return Vec::new();
    }
    let mut facts = vec![missing(Kind::GritPass.label())];
    facts.extend(region_fact(subject.region));
    match fills_opened(past, subject.read(view::fill)) {
        Some(true) => vec![Hit::violated([], facts)],
        Some(false) => Vec::new(),
        None => vec![Hit::cannot_tell([], vec![missing(text("finish", "acabado"))])],
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    #[test]
    pub(crate) fn clear() {
        let mut opened = Bench::poured();
        opened.step(100.0, "grit_pass", pass(50));
        opened.step(101.0, "fill", cement_fill());
        opened.expect_clear(&RULE);
        let mut backfill = Bench::poured();
        backfill.step(100.0, "fill", with(cement_fill(), json!({ "method": "backfill" })));
        backfill.expect_clear(&RULE);
        let mut as_cast = Bench::with_piece(json!({ "finish": "as_cast" })).pour();
        as_cast.step(100.0, "fill", cement_fill());
        as_cast.expect_clear(&RULE);
        let mut repair = Bench::poured();
        repair.step(100.0, "seal_coat", with(coat(1), json!({ "region": "face" })));
        repair.step(9000.0, "fill", with(cement_fill(), json!({ "method": "spot", "region": "edge" })));
        repair.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let filled = bench.step(100.0, "fill", cement_fill());
        bench.step(130.0, "grit_pass", pass(50));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[filled]]);
        let mut edge = Bench::poured();
        edge.step(99.0, "grit_pass", pass(50));
        let filled = edge.step(100.0, "fill", with(cement_fill(), json!({ "region": "edge" })));
        edge.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[filled]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::with_piece(json!({ "finish": null })).pour();
        let filled = bench.step(100.0, "fill", cement_fill());
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[filled]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "fill", cement_fill());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_fill_of_a_closed_face_is_told() {
        assert_eq!(Bench::poured().bare_gate(&RULE, 100.0, "fill").unwrap().state, GateState::Open);
    }
}
