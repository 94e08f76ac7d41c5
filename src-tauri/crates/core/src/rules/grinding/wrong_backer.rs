//! `wrong-backer`

use super::{grit_fact, is_cut, power_of, region_fact, size_um};
use crate::body::setup::Power;
use crate::body::surface::{Backer, Bond, GritPass};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "wrong-backer",
    title: text(
        "Flexible backers on curves, rigid ones at the fine end of a flat",
        "Soportes flexibles en curvas, rígidos en los granos finos de un plano",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A rigid backer stands on its edge in a curve and cuts grooves. At the fine end of a flat a flexible one follows every dip, dishes soft spots, and the face looks wavy once it shines.",
        "Un soporte rígido se apoya de canto en una curva y abre surcos. En los granos finos de un plano uno flexible sigue cada hondonada, rehunde las zonas blandas y la cara se ve ondulada al brillar.",
    ),
    remedy: text(
        "Change the backer and go back to the grit that takes the marks out. Diamond brushes have no backer to choose.",
        "Cambiar el soporte y volver al grano que borre las marcas. Los cepillos de diamante no tienen soporte que elegir.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const BACKER: Text = text("backer", "soporte");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let pass = subject.read(view::grit_pass).filter(|pass| pass.bond != Bond::Brush);
    let Some((pass, backer)) = pass.and_then(|pass| Some((pass, pass.backer?))) else { return Vec::new() };
    let curved = is_curved(past.case, subject.region);
    let mut facts = vec![word(BACKER, backer.label()), grit_fact(text("grit", "grano"), pass)];
    facts.extend(region_fact(subject.region));
    match backer {
        Backer::Rigid if curved => vec![Hit::violated([], facts)],
        Backer::Flexible if !curved && by_machine(past.case, pass) => {
            facts.push(limits::FINE_END_UM.fact());
            match size_um(pass) {
                Some(size) if size <= limits::FINE_END_UM.value => vec![Hit::violated([], facts)],
                Some(_) => Vec::new(),
                None => vec![Hit::cannot_tell([], facts)],
            }
        }
        _ => Vec::new(),
    }
}

/// The inside of a basin, or a piece that is curved.
fn is_curved(case: &Case<'_>, region: Option<Region>) -> bool {
    region == Some(Region::Inside) || case.facts().is_some_and(|it| it.curved == Some(true))
}

/// A hand holds paper and pads on a flat well enough.
fn by_machine(case: &Case<'_>, pass: &GritPass) -> bool {
    is_cut(pass) && power_of(case, pass) != Some(Power::Hand)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn backed(grit: u32, backer: &str, more: serde_json::Value) -> serde_json::Value {
        with(with(pass(grit), json!({ "backer": backer })), more)
    }

    #[test]
    pub(crate) fn clear() {
        for body in [
            backed(400, "rigid", json!({})),
            backed(50, "flexible", json!({})),
            backed(400, "flexible", json!({ "region": "inside" })),
            backed(400, "flexible", json!({ "bond": "brush" })),
            backed(400, "rigid", json!({ "bond": "brush", "region": "inside" })),
            with(hand_paper(600), json!({ "backer": "flexible" })),
            pass(400),
        ] {
            let mut bench = Bench::poured();
            bench.step(100.0, "grit_pass", body);
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        let mut basin = Bench::poured();
        let cut = basin.step(100.0, "grit_pass", backed(100, "rigid", json!({ "region": "inside" })));
        basin.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[cut]]);
        let mut curve = Bench::with_piece(json!({ "curved": true })).pour();
        let cut = curve.step(100.0, "grit_pass", backed(100, "rigid", json!({})));
        curve.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[cut]]);
        let mut flat = Bench::poured();
        let cut = flat.step(100.0, "grit_pass", backed(400, "flexible", json!({})));
        flat.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[cut]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let cut = bench.step(100.0, "grit_pass", backed(9000, "flexible", json!({ "scale": "cami" })));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[cut]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "grit_pass", backed(800, "flexible", json!({})));
        bench.expect_accepted(&RULE);
    }

    /// Pad 375 is 40 µm, pad 370 is 40.5.
    #[test]
    fn both_sides_of_the_fine_end_and_a_planned_pass() {
        let bench = Bench::poured();
        assert!(bench.gate(&RULE, 100.0, "grit_pass", &backed(375, "flexible", json!({}))).is_some());
        assert_eq!(bench.gate(&RULE, 100.0, "grit_pass", &backed(370, "flexible", json!({}))), None);
    }
}
