//! `concrete-too-young`

use super::{is_first_coat, product_fact, product_of};
use crate::body::setup::Product;
use crate::rules::limits::Source;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "concrete-too-young",
    title: text(
        "The concrete is as old as the product asks for",
        "El hormigón tiene la edad que pide el producto",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "Young concrete still gives off water and is strongly alkaline: a film blushes and lifts, a penetrating product finds pores that are still full.",
        "El hormigón joven aún suelta agua y es muy alcalino: una película blanquea y se levanta, un producto penetrante encuentra poros todavía llenos.",
    ),
    remedy: text(
        "Wait until the age the data sheet asks for, or take a product made for young concrete.",
        "Esperar a la edad que pide la ficha, o usar un producto hecho para hormigón joven.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat, Kind::Densify], judge)],
};

const AGE: Text = text("age of the concrete", "edad del hormigón");
const ASKED: Text = text("age asked for", "edad pedida");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if subject.kind == Kind::SealCoat && !is_first_coat(past, subject) {
        return Vec::new();
    }
    let Some(product) = product(past, subject) else {
        let asked = subject.step.is_some();
        return if asked { vec![Hit::cannot_tell([], vec![product_fact(None)])] } else { Vec::new() };
    };
    let Some(asked) = limits::of_product(product, |p| p.min_age_d, |c| c.min_age_d) else {
        return Vec::new();
    };
    let mut facts = vec![product_fact(Some(product))];
    let Some((pour, _)) = past.case.pour() else {
        facts.push(missing(AGE));
        return vec![Hit::cannot_tell([], facts)];
    };
    let poured = pour.done.finish();
    let days = hours_between(poured, subject.at) / 24.0;
    if days >= asked.value {
        return Vec::new();
    }
    facts.push(number(AGE, days, Dimension::Day));
    facts.extend(asked.facts(ASKED, Dimension::Day));
    let severity = if asked.source == Source::DataSheet { Severity::Stop } else { Severity::Caution };
    let opens = add_hours(poured, asked.value * 24.0);
    vec![Hit::violated([pour], facts).weighing(severity).until(opens)]
}

fn product<'a>(past: &Past<'_, 'a>, subject: &Subject<'_>) -> Option<&'a Product> {
    if let Some(it) = subject.read(view::densify) {
        return past.case.product(it.product, subject.at);
    }
    product_of(past, subject.read(view::seal_coat), subject).map(|(product, _)| product)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn sheet() -> Bench {
        let mut bench = Bench::poured();
        bench.product("film", json!({ "class": "waterborne_urethane", "min_age_d": 10 }));
        bench
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = sheet();
        bench.step(240.0, "seal_coat", film_coat(1));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = sheet();
        let coated = bench.step(239.9, "seal_coat", film_coat(1));
        let poured = bench.shop().pours.values().next().unwrap().hash;
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[poured, coated]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut unpoured = Bench::with_piece(json!({}));
        let coated = unpoured.step(300.0, "seal_coat", film_coat(1));
        unpoured.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
        let mut stranger = Bench::poured();
        let body = with(coat(1), json!({ "product": id("not in the shop") }));
        let coated = stranger.step(300.0, "seal_coat", body);
        stranger.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = sheet();
        bench.step(100.0, "seal_coat", film_coat(1));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_class_default_weighs_a_caution() {
        // Three days for a densifier, by its class.
        let densify =
            || json!({ "product": id("densifier"), "lot": "D", "dwell_min": 20, "residue_off": "yes" });
        let mut bench = Bench::poured();
        bench.step(71.9, "densify", densify());
        let severities: Vec<Severity> = bench.findings(&RULE).iter().map(|it| it.severity).collect();
        assert_eq!(severities, [Severity::Caution]);
        let mut old = Bench::poured();
        old.step(72.0, "densify", densify());
        old.expect_clear(&RULE);
    }

    #[test]
    fn the_gate_opens_on_the_day() {
        let gate = sheet().gate(&RULE, 100.0, "seal_coat", &film_coat(1)).unwrap();
        assert_eq!(gate.state, GateState::Until(at(240.0)));
    }
}
