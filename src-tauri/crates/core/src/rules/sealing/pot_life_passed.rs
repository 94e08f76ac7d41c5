//! `pot-life-passed`

use super::{is_first_coat, product_fact, product_of};
use crate::body::setup::Product;
use crate::materials::ClassFacts;
use crate::rules::limits::Source;
use crate::rules::prelude::*;
use crate::sums::pot_life::pot_life_min;

pub(crate) static RULE: Rule = Rule {
    code: "pot-life-passed",
    title: text(
        "A mixed two-part product is used up within its pot life",
        "Un producto de dos componentes se gasta dentro de su vida de mezcla",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "It looks the same in the bucket long after it has begun to set. Laid late it does not wet the face, stays cloudy and lets go in sheets. Each 10 °C warmer halves its time; a full bucket heats itself.",
        "En el cubo parece igual mucho después de empezar a fraguar. Tardío no moja la cara, queda turbio y se suelta en láminas. Cada 10 °C más reducen su tiempo a la mitad; un cubo lleno se calienta solo.",
    ),
    remedy: text(
        "Throw the rest away by its safety data sheet and mix smaller batches. What was laid late is watched, or abraded and coated anew.",
        "Desechar el resto según su ficha de seguridad y mezclar menos. Lo aplicado tarde se vigila, o se lija y se da de nuevo.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const MIXED: Text = text("from mixing to the end of the coat", "de la mezcla al final de la mano");
const LIFE: Text = text("pot life at this temperature", "vida de la mezcla a esta temperatura");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(coat) = subject.read(view::seal_coat) else { return Vec::new() };
    let Some((product, class)) = product_of(past, Some(coat), subject) else {
        return vec![Hit::cannot_tell([], vec![product_fact(None)])];
    };
    if !class.two_part && product.pot_life_min.is_none() {
        return Vec::new();
    }
    let Some(mixed) = coat.mixed_before_min else {
        let asked = subject.step.is_some() && is_first_coat(past, subject);
        let facts = || vec![product_fact(Some(product)), missing(MIXED)];
        return if asked { vec![Hit::cannot_tell([], facts())] } else { Vec::new() };
    };
    let mut facts = vec![
        product_fact(Some(product)),
        number(MIXED, mixed, Dimension::Minute),
        number(text("air", "aire"), coat.air_c, Dimension::Celsius),
    ];
    let life = life(product, class, coat.air_c);
    let Some(life) = life else {
        facts.push(missing(LIFE));
        return vec![Hit::cannot_tell([], facts)];
    };
    if mixed <= life.value {
        return Vec::new();
    }
    facts.extend(life.facts(LIFE, Dimension::Minute));
    let severity = if life.source == Source::DataSheet { Severity::Stop } else { Severity::Caution };
    vec![Hit::violated([], facts).weighing(severity)]
}

/// Pot life at a temperature, in minutes; `None` where nothing states one or the sum does not hold.
fn life(product: &Product, class: &ClassFacts, now_c: f64) -> Option<Applied> {
    let stated = limits::of_product(product, |p| p.pot_life_min, |c| c.pot_life_min)?;
    // The temperature belongs to the minutes: the sheet's with the sheet's, the class's with the class's.
    let given_at = match stated.source {
        Source::DataSheet => product.pot_life_at_c,
        _ => class.pot_life_at_c,
    };
    let at_c = given_at.unwrap_or(limits::POT_LIFE_AT.value);
    pot_life_min(stated.value, at_c, now_c).ok().map(|value| Applied { value, source: stated.source })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    /// 30 minutes at 25 °C, as in the worked examples of the reference values: 21.21 at 30 °C, 15 at 35 °C.
    fn sheet() -> Bench {
        let mut bench = Bench::poured();
        let life = json!({ "class": "waterborne_urethane", "pot_life_min": 30, "pot_life_at_c": 25 });
        bench.product("film", life);
        bench
    }

    fn mixed(minutes: f64, air: f64) -> serde_json::Value {
        with(film_coat(1), json!({ "mixed_before_min": minutes, "air_c": air }))
    }

    #[test]
    pub(crate) fn clear() {
        for (minutes, air) in [(30.0, 25.0), (21.2, 30.0), (15.0, 35.0), (42.0, 20.0)] {
            let mut bench = sheet();
            bench.step(200.0, "seal_coat", mixed(minutes, air));
            bench.expect_clear(&RULE);
        }
        let mut one_part = Bench::poured();
        one_part.step(200.0, "seal_coat", coat(1));
        one_part.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        for (minutes, air) in [(30.1, 25.0), (21.3, 30.0), (15.1, 35.0), (42.5, 20.0)] {
            let mut bench = sheet();
            let coated = bench.step(200.0, "seal_coat", mixed(minutes, air));
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[coated]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let unsaid = |number| {
            let mut body = film_coat(number);
            body.as_object_mut().unwrap().remove("mixed_before_min");
            body
        };
        let mut bench = sheet();
        let coated = bench.step(200.0, "seal_coat", unsaid(1));
        bench.step(204.0, "seal_coat", unsaid(2));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
        let mut frost = sheet();
        let coated = frost.step(200.0, "seal_coat", mixed(10.0, -5.0));
        frost.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = sheet();
        bench.step(200.0, "seal_coat", mixed(60.0, 25.0));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_class_default_weighs_a_caution_and_is_named() {
        // The class says 90 minutes at 20 °C.
        let mut bench = Bench::poured();
        bench.step(200.0, "seal_coat", mixed(91.0, 20.0));
        let findings = bench.findings(&RULE);
        assert_eq!((findings.len(), findings[0].severity), (1, Severity::Caution));
        let source = Applied { value: 90.0, source: Source::ClassDefault };
        assert!(findings[0].facts.contains(&source.source_fact()), "{findings:#?}");
    }

    #[test]
    fn a_sheet_without_a_temperature_is_read_at_that_of_a_laboratory() {
        let mut bench = Bench::poured();
        bench.product("film", json!({ "class": "waterborne_urethane", "pot_life_min": 40 }));
        bench.step(200.0, "seal_coat", mixed(40.0, 23.0));
        bench.expect_clear(&RULE);
        bench.step(210.0, "seal_coat", mixed(40.0, 24.0));
        bench.expect_violated(&RULE);
    }
}
