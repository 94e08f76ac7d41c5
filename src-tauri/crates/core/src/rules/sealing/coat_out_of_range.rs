//! `coat-out-of-range`

use super::{climate_of, product_fact, product_of};
use crate::body::setup::Product;
use crate::rules::limits::Source;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "coat-out-of-range",
    title: text(
        "Air, surface and humidity lie inside the product's ranges at every coat",
        "Aire, superficie y humedad dentro de los márgenes del producto en cada mano",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "Too cold, a coat does not close or cure; too hot or too dry, it skins over and traps what should leave; too humid, it blushes and stays soft. The maker answers only inside the ranges.",
        "Con frío la mano no cierra ni cura; con calor o aire seco forma piel y encierra lo que debe salir; con humedad blanquea y queda blanda. El fabricante responde solo dentro de sus márgenes.",
    ),
    remedy: text(
        "Warm or cool the room and the piece, dry or moisten the air, or wait, and read again just before the coat.",
        "Calentar o enfriar el local y la pieza, secar o humedecer el aire, o esperar, y leer de nuevo justo antes de la mano.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

/// A reading and the range it has to lie in.
struct Range {
    name: Text,
    value: f64,
    unit: Dimension,
    low: Option<Applied>,
    high: Option<Applied>,
}

const LOWEST: Text = text("lowest allowed", "mínimo admitido");
const HIGHEST: Text = text("highest allowed", "máximo admitido");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    let known = product_of(past, coat, subject);
    let (Some((product, _)), Some((steps, readings))) = (known, climate_of(past, subject)) else {
        let unknown = known.is_none() && subject.step.is_some();
        return if unknown { vec![Hit::cannot_tell([], vec![product_fact(None)])] } else { Vec::new() };
    };
    let ranges = ranges(product, readings);
    if ranges.iter().all(|it| it.low.is_none() && it.high.is_none()) {
        return vec![Hit::cannot_tell(
            [],
            vec![product_fact(Some(product)), missing(LOWEST), missing(HIGHEST)],
        )];
    }
    let mut facts = vec![product_fact(Some(product))];
    let mut severity = Severity::Note;
    for (range, name, limit) in ranges.iter().filter_map(breach) {
        facts.push(number(range.name, range.value, range.unit));
        facts.extend(limit.facts(name, range.unit));
        severity = severity.min(weight(limit));
    }
    if severity == Severity::Note { Vec::new() } else { vec![Hit::violated(steps, facts).weighing(severity)] }
}

/// A range on the sheet is a stop; one that only the class suggests is a caution.
fn weight(limit: Applied) -> Severity {
    if limit.source == Source::DataSheet { Severity::Stop } else { Severity::Caution }
}

fn breach(range: &Range) -> Option<(&Range, Text, Applied)> {
    let low = range.low.filter(|low| range.value < low.value).map(|low| (range, LOWEST, low));
    low.or_else(|| range.high.filter(|high| range.value > high.value).map(|high| (range, HIGHEST, high)))
}

fn ranges(product: &Product, [air_c, rh_pct, surface_c]: [f64; 3]) -> [Range; 3] {
    [
        Range {
            name: text("air", "aire"),
            value: air_c,
            unit: Dimension::Celsius,
            low: limits::of_product(product, |p| p.air_min_c, |c| c.air_min_c),
            high: limits::of_product(product, |p| p.air_max_c, |c| c.air_max_c),
        },
        Range {
            name: text("surface", "superficie"),
            value: surface_c,
            unit: Dimension::Celsius,
            low: limits::of_product(product, |p| p.surface_min_c, |c| c.surface_min_c),
            high: limits::of_product(product, |p| p.surface_max_c, |c| c.surface_max_c),
        },
        Range {
            name: text("humidity", "humedad"),
            value: rh_pct,
            unit: Dimension::Percent,
            low: limits::of_product(product, |p| p.rh_min_pct, |c| c.rh_min_pct),
            high: limits::of_product(product, |p| p.rh_max_pct, |c| c.rh_max_pct),
        },
    ]
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn sheet() -> Bench {
        let mut bench = Bench::poured();
        let limits = json!({ "class": "reactive_sealer", "air_min_c": 8, "air_max_c": 32, "surface_min_c": 9,
            "surface_max_c": 31, "rh_min_pct": 30, "rh_max_pct": 80 });
        bench.product("sealer", limits);
        bench
    }

    fn in_air(air: f64, rh: f64, surface: f64) -> serde_json::Value {
        with(coat(1), json!({ "air_c": air, "rh_pct": rh, "surface_c": surface }))
    }

    #[test]
    pub(crate) fn clear() {
        for body in [in_air(8.0, 30.0, 9.0), in_air(32.0, 80.0, 31.0)] {
            let mut bench = sheet();
            bench.step(100.0, "seal_coat", body);
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        for body in [
            in_air(7.9, 50.0, 15.0),
            in_air(32.1, 50.0, 15.0),
            in_air(20.0, 29.9, 15.0),
            in_air(20.0, 80.1, 20.0),
            in_air(20.0, 50.0, 8.9),
            in_air(20.0, 50.0, 31.1),
        ] {
            let mut bench = sheet();
            let coated = bench.step(100.0, "seal_coat", body);
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut stranger = Bench::poured();
        let body = with(coat(1), json!({ "product": id("not in the shop") }));
        let coated = stranger.step(100.0, "seal_coat", body);
        stranger.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
        let mut bare = Bench::poured();
        bare.product("sealer", json!({ "class": "sealant" }));
        let coated = bare.step(100.0, "seal_coat", coat(1));
        bare.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = sheet();
        bench.step(100.0, "seal_coat", in_air(40.0, 50.0, 20.0));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_class_default_weighs_a_caution_and_is_named() {
        let mut bench = Bench::poured();
        bench.step(100.0, "seal_coat", in_air(9.9, 50.0, 15.0));
        let findings = bench.findings(&RULE);
        assert_eq!((findings.len(), findings[0].severity), (1, Severity::Caution));
        let source = Applied { value: 10.0, source: Source::ClassDefault };
        assert!(findings[0].facts.contains(&source.source_fact()), "{findings:#?}");
    }

    #[test]
    fn a_planned_coat_goes_by_a_fresh_reading() {
        let mut bench = sheet();
        bench.step(100.0, "climate", json!({ "air_c": 40, "rh_pct": 50, "surface_c": 20 }));
        assert_eq!(bench.gate(&RULE, 102.0, "seal_coat", &coat(1)).unwrap().state, GateState::Blocked);
        assert_eq!(bench.gate(&RULE, 102.1, "seal_coat", &coat(1)), None);
    }
}
