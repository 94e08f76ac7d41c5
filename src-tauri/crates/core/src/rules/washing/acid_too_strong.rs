//! `acid-too-strong`

use crate::body::setup::{Product, SheetKind};
use crate::body::surface::{Acid, AcidWash};
use crate::rules::prelude::*;
use crate::sums::chemistry::Agent;
use crate::sums::wash::diluted_mol_per_l;

pub(crate) static RULE: Rule = Rule {
    code: "acid-too-strong",
    title: text(
        "The acid is no stronger than the route allows",
        "El ácido no es más fuerte de lo que admite la ruta",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "10:1 of 31 % hydrochloric acid is the strong end. Anything stronger eats the cream unevenly, opens the sand and leaves salts that bloom later; eyes and skin pay for it too.",
        "10:1 de ácido clorhídrico al 31 % es el extremo fuerte. Más fuerte se come la pasta de forma desigual, abre la arena y deja sales que afloran después; también lo pagan ojos y piel.",
    ),
    remedy: text(
        "Thin it: 20:1 is the usual start, the weakest that works is right. Read the strength off the label of the concentrate; another acid goes by its data sheet.",
        "Diluirlo: lo usual es empezar por 20:1; vale el más débil que funcione. Leer la concentración en la etiqueta; otro ácido se rige por su ficha técnica.",
    ),
    looks: &[Look::Step(&[Kind::AcidWash], judge)],
};

const STRENGTH: Text = text("strength of the wash", "concentración del lavado");
const CONCENTRATE: Text = text("strength of the concentrate", "concentración del producto");
/// The limit is written with two figures; a wash of 10:1 of 31.45 % acid is 0.9097 mol/L.
const ROUNDING: f64 = 1.001;

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(wash) = subject.read(view::acid_wash) else { return Vec::new() };
    let product = wash.product.and_then(|id| past.case.product(id, subject.at));
    let hit = if wash.acid == Acid::Hydrochloric { by_strength(wash) } else { by_sheet(wash, product) };
    hit.into_iter().collect()
}

fn by_strength(wash: &AcidWash) -> Option<Hit> {
    let ratio =
        said(text("water to acid", "agua a ácido"), &format!("{}:{}", wash.water_parts, wash.acid_parts));
    let Some(pct) = wash.concentrate_pct.get() else {
        return Some(Hit::cannot_tell([], vec![ratio, missing(CONCENTRATE), limits::ACID_STRENGTH.fact()]));
    };
    let parts = (wash.acid_parts > 0.0).then(|| wash.water_parts / wash.acid_parts);
    let strength = parts.and_then(|parts| diluted_mol_per_l(Agent::Hydrochloric, pct, None, parts).ok());
    let mut facts = vec![ratio, number(CONCENTRATE, pct, Dimension::Percent)];
    let Some(strength) = strength else {
        facts.extend([missing(STRENGTH), limits::ACID_STRENGTH.fact()]);
        return Some(Hit::cannot_tell([], facts));
    };
    facts.extend([number(STRENGTH, strength, Dimension::MolePerLitre), limits::ACID_STRENGTH.fact()]);
    (strength > limits::ACID_STRENGTH.value * ROUNDING).then(|| Hit::violated([], facts))
}

/// Another acid is judged by its sheet: the record has to say which product, and that there is a sheet.
fn by_sheet(wash: &AcidWash, product: Option<&Product>) -> Option<Hit> {
    let sheets = product.and_then(|it| it.sheets.as_ref());
    let on_file = sheets.is_some_and(|sheets| sheets.iter().any(|it| it.sheet == SheetKind::DataSheet));
    let facts =
        || vec![word(text("acid", "ácido"), wash.acid.label()), missing(text("data sheet", "ficha técnica"))];
    (!on_file).then(|| Hit::cannot_tell([], facts()))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn ratio(water: f64, pct: f64) -> serde_json::Value {
        with(wash(), json!({ "water_parts": water, "concentrate_pct": pct }))
    }

    #[test]
    pub(crate) fn clear() {
        for body in [ratio(20.0, 31.45), ratio(10.0, 31.45)] {
            let mut bench = Bench::poured();
            bench.step(100.0, "acid_wash", body);
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        // 9.9:1 of 31.45 % acid is 0.918 mol/L.
        for body in [ratio(9.9, 31.45), ratio(4.0, 20.0)] {
            let mut bench = Bench::poured();
            let washed = bench.step(100.0, "acid_wash", body);
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[washed]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut unknown = Bench::poured();
        let washed = unknown.step(100.0, "acid_wash", with(wash(), json!({ "concentrate_pct": "unknown" })));
        unknown.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[washed]]);
        let mut other = Bench::poured();
        let washed = other.step(100.0, "acid_wash", with(wash(), json!({ "acid": "phosphoric" })));
        other.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[washed]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", ratio(4.0, 31.45));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn another_acid_goes_by_the_sheet_on_file() {
        let mut bench = Bench::poured();
        let sheets = json!([{ "sheet": "data_sheet", "revision": "3" }]);
        bench.product("mild acid", json!({ "class": "sulfamic_acid", "sheets": sheets }));
        bench.step(
            100.0,
            "acid_wash",
            with(wash(), json!({ "acid": "sulfamic", "product": id("mild acid") })),
        );
        bench.expect_clear(&RULE);
    }

    #[test]
    fn a_planned_wash_that_is_too_strong_is_stopped() {
        let gate = Bench::poured().gate(&RULE, 100.0, "acid_wash", &ratio(5.0, 31.45)).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
    }
}
