//! `fill-not-repassed`

use super::{fills_opened, passes, region_fact, regions};
use crate::body::surface::FillMethod;
use crate::rules::prelude::*;
use crate::rules::sealing::is_first_coat;

pub(crate) static RULE: Rule = Rule {
    code: "fill-not-repassed",
    title: text(
        "A filled face is passed again with the last or the next grit",
        "Una cara rellenada se repasa con el último grano o el siguiente",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A fill stands proud or sinks, and a film of it lies over the stone. Sealed like that it shows as rings and cloudy patches, and a sealer bonds to the film, not to the face.",
        "Un relleno sobresale o se hunde, y deja un velo sobre la piedra. Sellado así se ven cercos y zonas turbias, y el sellador agarra al velo, no a la cara.",
    ),
    remedy: text(
        "Once it is hard, pass over it with the grit that came last, or the next one, until the film is gone. Backfill of an open texture is struck off instead.",
        "Una vez duro, repasar con el último grano o el siguiente hasta que desaparezca el velo. El relleno de una textura abierta se enrasa.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat, Kind::Densify], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if subject.kind == Kind::SealCoat && !is_first_coat(past, subject) {
        return Vec::new();
    }
    let named = subject.region.is_some();
    let mut regions = regions(past, subject.region);
    if !named {
        regions.extend(past.all(view::fill).filter_map(|(step, _)| region_of(step)));
        regions.sort_unstable();
        regions.dedup();
    }
    regions.into_iter().filter_map(|region| left(past, region)).collect()
}

fn left(past: &Past<'_, '_>, region: Region) -> Option<Hit> {
    let (step, fill) = past.all(view::fill).rfind(|(step, _)| covers(step, Some(region)))?;
    if fill.method == FillMethod::Backfill || !passes(&past.after(step), Some(region)).is_empty() {
        return None;
    }
    let mut facts = vec![missing(text("pass over the fill", "pasada sobre el relleno"))];
    facts.extend(region_fact(Some(region)));
    match fills_opened(&past.before(step), Some(fill)) {
        Some(true) => Some(Hit::violated([step], facts)),
        Some(false) => None,
        None => Some(Hit::cannot_tell([step], vec![missing(text("finish", "acabado"))])),
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn filled(facts: serde_json::Value, more: serde_json::Value) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::with_piece(facts).pour();
        bench.step(99.0, "grit_pass", pass(200));
        let hash = bench.step(100.0, "fill", with(cement_fill(), more));
        (bench, hash)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut again, _) = filled(json!({}), json!({}));
        again.step(124.0, "grit_pass", pass(200));
        again.step(160.0, "seal_coat", coat(1));
        again.expect_clear(&RULE);
        let (mut struck_off, _) = filled(json!({}), json!({ "method": "backfill" }));
        struck_off.step(160.0, "seal_coat", coat(1));
        struck_off.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for kind in ["seal_coat", "densify"] {
            let (mut bench, fill) = filled(json!({}), json!({}));
            let dense =
                json!({ "product": id("densifier"), "lot": "D-1", "dwell_min": 30, "residue_off": "yes" });
            let coated = bench.step(160.0, kind, if kind == "densify" { dense } else { coat(1) });
            bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[fill, coated]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut bench, fill) = filled(json!({ "finish": null }), json!({}));
        let coated = bench.step(160.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[fill, coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = filled(json!({}), json!({}));
        bench.step(160.0, "seal_coat", coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn each_region_by_itself_and_a_planned_coat_is_told() {
        let (mut bench, _) = filled(json!({}), json!({}));
        bench.step(124.0, "grit_pass", with(pass(200), json!({ "region": "edge" })));
        assert_eq!(bench.bare_gate(&RULE, 160.0, "seal_coat").unwrap().state, GateState::Open);
        bench.step(125.0, "grit_pass", pass(200));
        assert_eq!(bench.bare_gate(&RULE, 160.0, "seal_coat"), None);
    }
}
