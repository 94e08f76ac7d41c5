//! `moisture-out-of-scope`

use super::in_scope;
use crate::body::sealing::{Moisture, MoistureMethod};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "moisture-out-of-scope",
    title: text(
        "A moisture method is used only where it says something",
        "Cada método de humedad solo donde dice algo",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::Unconfirmed(text(
        "ASTM F2170 and F1869 for floor slabs, D4263 for the sheet, F2659 for meters",
        "ASTM F2170 y F1869 para soleras, D4263 para la lámina, F2659 para medidores",
    )),
    why: text(
        "A probe in a hole reads a floor slab; a thin piece has no depth for it. A meter gives a number without meaning until a dry piece of the same mix is read beside it. A sheet taken off too soon shows nothing.",
        "Una sonda en un taladro mide una losa; una pieza delgada no tiene fondo para ella. Un medidor da un número sin sentido hasta que se lee al lado una pieza seca de la misma mezcla. Una lámina retirada pronto no muestra nada.",
    ),
    remedy: text(
        "Floor bays: in-situ humidity. Thin pieces: a meter against a dry reference, a plastic sheet left on for 16 hours, or constant weight. Until then the drying time counts.",
        "Suelos: humedad interior. Piezas delgadas: medidor contra una referencia seca, lámina plástica durante 16 horas o peso constante. Hasta entonces cuenta el tiempo de secado.",
    ),
    looks: &[Look::Step(&[Kind::Moisture], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(reading) = subject.read(view::moisture) else { return Vec::new() };
    let mut facts = vec![word(text("method", "método"), reading.method.label())];
    match in_scope(past.case, reading) {
        Some(true) => Vec::new(),
        Some(false) => {
            facts.extend(why_not(past.case, reading));
            vec![Hit::violated([], facts)]
        }
        None => {
            facts.push(missing(text("finish or use of the piece", "acabado o uso de la pieza")));
            vec![Hit::cannot_tell([], facts)]
        }
    }
}

/// What keeps a reading from counting.
fn why_not(case: &Case<'_>, reading: &Moisture) -> Vec<Fact> {
    match reading.method {
        MoistureMethod::Impedance => vec![missing(text("dry reference", "referencia seca"))],
        MoistureMethod::PlasticSheet => {
            let left =
                reading.laid_h.map(|h| number(text("left on for", "puesta durante"), h, Dimension::Hour));
            left.into_iter().chain([limits::SHEET_ON.fact()]).collect()
        }
        _ => {
            let finish = case.finish().map(|it| word(text("finish", "acabado"), it.label()));
            let used = case.facts().and_then(|it| it.used_as).map(|it| word(text("use", "uso"), it.label()));
            finish.into_iter().chain(used).collect()
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn read(method: &str, more: serde_json::Value) -> serde_json::Value {
        with(json!({ "method": method, "value": 3, "verdict": "pass" }), more)
    }

    #[test]
    pub(crate) fn clear() {
        let mut thin = Bench::poured();
        thin.step(100.0, "moisture", read("impedance", json!({ "reference": 2.8 })));
        thin.step(101.0, "moisture", read("plastic_sheet", json!({ "laid_h": 16 })));
        thin.step(102.0, "moisture", read("plastic_sheet", json!({})));
        thin.step(103.0, "moisture", read("constant_weight", json!({})));
        thin.expect_clear(&RULE);
        let mut floor = Bench::with_piece(json!({ "finish": "floor" })).pour();
        floor.step(100.0, "moisture", read("in_situ_rh", json!({ "limit": 80 })));
        floor.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let probe = bench.step(100.0, "moisture", read("in_situ_rh", json!({})));
        let meter = bench.step(101.0, "moisture", read("impedance", json!({})));
        let sheet = bench.step(102.0, "moisture", read("plastic_sheet", json!({ "laid_h": 15.9 })));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[probe], &[meter], &[sheet]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::with_piece(json!({ "finish": null })).pour();
        let read = bench.step(100.0, "moisture", read("carbide", json!({})));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[read]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "moisture", read("vapour", json!({})));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_reading_out_of_scope_does_not_shorten_the_drying() {
        let mut bench = Bench::poured();
        bench.step(100.0, "rinse", rinse());
        bench.step(116.0, "moisture", read("plastic_sheet", json!({ "laid_h": 4 })));
        bench.step(120.0, "seal_coat", coat(1));
        bench.expect_violated(&crate::rules::sealing::sealed_too_wet::RULE);
    }
}
