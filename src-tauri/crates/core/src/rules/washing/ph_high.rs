//! `ph-high`

use super::{RinseWater, face_reading, rinse_water};
use crate::body::setup::Product;
use crate::body::surface::{PhOf, PhReading};
use crate::rules::limits::Source;
use crate::rules::prelude::*;
use crate::rules::sealing::{is_first_coat, product_fact};

pub(crate) static RULE: Rule = Rule {
    code: "ph-high",
    title: text(
        "A face far more alkaline than the rinse water is known before it is sealed",
        "Una cara mucho más alcalina que el agua se conoce antes de sellar",
    ),
    severity: Severity::Note,
    safety: false,
    basis: Basis::Unconfirmed(text("SSPC-SP 13/NACE 6 and ASTM D4260", "SSPC-SP 13/NACE 6 y ASTM D4260")),
    why: text(
        "Young concrete reads high by itself, about pH 13, and many sealers do not mind. Some films soften or lift on an alkaline face; only the product's own sheet says which.",
        "El hormigón joven es alcalino de por sí, cerca de pH 13, y a muchos selladores no les importa. Algunas películas se ablandan o despegan en una cara alcalina; solo la ficha del producto lo dice.",
    ),
    remedy: text(
        "Look up the highest pH on the product's sheet. Where it has one, rinse again or wait until the face reads below it.",
        "Mirar el pH máximo en la ficha del producto. Si lo tiene, enjuagar otra vez o esperar hasta que la cara esté por debajo.",
    ),
    looks: &[Look::Step(&[Kind::PhReading], read), Look::Step(&[Kind::SealCoat, Kind::Densify], sealed)],
};

const READ: Text = text("pH of the face", "pH de la cara");
const HIGHEST: Text = text("highest pH for the product", "pH máximo para el producto");
/// Readings come with one decimal.
const ROUNDING: f64 = 1e-6;

fn read(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let taken = subject.read(view::ph_reading).filter(|it| it.of != PhOf::RinseWater);
    taken.and_then(|taken| high(taken, &rinse_water(past))).into_iter().collect()
}

fn high(taken: &PhReading, water: &RinseWater<'_>) -> Option<Hit> {
    let mut facts = vec![count(READ, taken.ph, 1)];
    facts.extend(water.facts());
    facts.push(limits::PH_ABOVE.fact());
    let above = |ph: f64| taken.ph > ph + limits::PH_ABOVE.value + ROUNDING;
    if above(water.high) {
        return Some(Hit::violated(water.step, facts));
    }
    above(water.low).then(|| Hit::cannot_tell(water.step, facts))
}

/// The product's own limit is a stop.
fn sealed(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if subject.kind == Kind::SealCoat && !is_first_coat(past, subject) {
        return Vec::new();
    }
    let coat = subject.read(view::seal_coat).map(|it| it.product);
    let product = coat.or_else(|| subject.read(view::densify).map(|it| it.product));
    let product = product.and_then(|id| past.case.product(id, subject.at));
    product.and_then(|it| over_limit(past, subject.region, it)).into_iter().collect()
}

fn over_limit(past: &Past<'_, '_>, region: Option<Region>, product: &Product) -> Option<Hit> {
    let limit = Applied { value: product.ph_max?, source: Source::DataSheet };
    let mut facts = vec![product_fact(Some(product)), count(HIGHEST, limit.value, 1), limit.source_fact()];
    let Some((step, taken)) = face_reading(past, region) else {
        facts.push(missing(READ));
        return Some(Hit::cannot_tell([], facts).weighing(Severity::Caution));
    };
    facts.push(count(READ, taken.ph, 1));
    (taken.ph > limit.value).then(|| Hit::violated([step], facts).weighing(Severity::Stop))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn reading(ph: f64, of: &str) -> serde_json::Value {
        json!({ "ph": ph, "of": of, "method": "meter" })
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(100.0, "ph_reading", reading(7.6, "rinse_water"));
        bench.step(100.1, "ph_reading", reading(9.6, "final_rinse"));
        bench.step(130.0, "seal_coat", coat(1));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let tap = bench.step(100.0, "ph_reading", reading(7.6, "rinse_water"));
        let face = bench.step(100.1, "ph_reading", reading(9.7, "surface"));
        bench.step(130.0, "seal_coat", coat(1));
        bench.expect(&RULE, Verdict::Violated, Severity::Note, &[&[tap, face]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let face = bench.step(100.1, "ph_reading", reading(9.7, "surface"));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Note, &[&[face]]);
        let mut unread = Bench::poured();
        unread.product("sealer", json!({ "class": "reactive_sealer", "ph_max": 9 }));
        let coated = unread.step(130.0, "seal_coat", coat(1));
        unread.step(132.0, "seal_coat", coat(2));
        unread.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[coated]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.1, "ph_reading", reading(12.5, "surface"));
        bench.expect_accepted(&RULE);
    }

    /// Without a reading of the rinse water: above 8.5 + 2 is high for any tap, up to 6.5 + 2 for none.
    #[test]
    fn without_a_reading_of_the_rinse_water_the_usual_tap_decides_where_it_can() {
        for (ph, verdict) in [
            (8.5, None),
            (8.6, Some(Verdict::CannotTell)),
            (10.5, Some(Verdict::CannotTell)),
            (10.6, Some(Verdict::Violated)),
        ] {
            let mut bench = Bench::poured();
            bench.step(100.1, "ph_reading", reading(ph, "surface"));
            assert_eq!(bench.findings(&RULE).first().map(|it| it.verdict), verdict, "{ph}");
        }
    }

    #[test]
    fn the_products_own_limit_is_a_stop() {
        for (ph, blocked) in [(9.0, false), (9.1, true)] {
            let mut bench = Bench::poured();
            bench.product("sealer", json!({ "class": "reactive_sealer", "ph_max": 9 }));
            bench.step(100.0, "ph_reading", reading(7.6, "rinse_water"));
            bench.step(100.1, "ph_reading", reading(ph, "surface"));
            let gate = bench.gate(&RULE, 130.0, "seal_coat", &coat(1));
            assert_eq!(gate.is_some_and(|it| it.state == GateState::Blocked), blocked, "{ph}");
        }
    }
}
