//! `quantity-off`

use super::product_fact;
use crate::body::sealing::SealCoat;
use crate::body::setup::Product;
use crate::id::ObjectId;
use crate::rules::prelude::*;
use crate::shop::{Shop, Versions};
use crate::sums::coat::{Used, judge_quantity};

pub(crate) static RULE: Rule = Rule {
    code: "quantity-off",
    title: text(
        "Over a job the sealer used fits the area it was laid on",
        "En el conjunto de un trabajo el sellador gastado cuadra con la superficie",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Far too little means thin spots or coats that were never laid; far too much means pools that stay soft, or a loss nobody priced. Single coats mislead: an open face drinks the first.",
        "Mucho menos significa zonas finas o manos que no se dieron; mucho más, charcos que quedan blandos o una pérdida que nadie contó. Una mano sola engaña: una cara abierta se bebe la primera.",
    ),
    remedy: text(
        "Look for thin or pooled spots with a drop of water and raking light; check area, leftovers and spreading rate, and correct the entry that was wrong.",
        "Buscar zonas finas o encharcadas con una gota de agua y luz rasante; revisar superficie, sobrantes y rendimiento, y corregir la entrada equivocada.",
    ),
    looks: &[Look::Shop(check)],
};

/// The coats of one product over one job.
#[derive(Default)]
struct Total<'a> {
    steps: Vec<&'a Step>,
    used_l: f64,
    called_for_l: f64,
    last_coat: u32,
    /// Coats without quantity or area.
    unsaid: usize,
}

const USED: Text = text("used, less leftovers", "gastado, sin sobrantes");
const CALLED: Text = text("called for by the area", "previsto por la superficie");

fn check(shop: &Shop, reach: &Reach<'_>) -> Looked {
    let over = |step: &Step| {
        let coat = step.body().and_then(view::seal_coat)?;
        Some((job_of(shop, step)?, coat.product))
    };
    let totals = reach.groups(shop.of_kind(Kind::SealCoat), over, |total: &mut Total<'_>, step| {
        if let Some(coat) = step.body().and_then(view::seal_coat) {
            total.take(shop, step, coat);
        }
    });
    Looked::at(&totals, reach, |total| &total.steps, |(_, product), total| total.judge(shop, *product))
}

/// The job all pieces of an entry belong to; coats over the pieces of several jobs cannot be told apart.
fn job_of(shop: &Shop, step: &Step) -> Option<ObjectId> {
    let mut jobs = step.pieces.iter().map(|piece| shop.pieces.get(piece).and_then(|it| it.now().job));
    let first = jobs.next()??;
    jobs.all(|job| job == Some(first)).then_some(first)
}

impl<'a> Total<'a> {
    fn take(&mut self, shop: &Shop, step: &'a Step, coat: &SealCoat) {
        self.steps.push(step);
        self.last_coat = self.last_coat.max(coat.coat);
        let product = shop.products.get(&coat.product).map(|it| it.at(step.done.start));
        let rate = product.and_then(rate).map(|it| it.value).filter(|rate| *rate > 0.0);
        match (coat.quantity_l, coat.area_m2, rate) {
            (Some(quantity), Some(area), Some(rate)) => {
                self.used_l += quantity - coat.left_over_l.unwrap_or(0.0);
                self.called_for_l += area / rate;
            }
            _ => self.unsaid += 1,
        }
    }

    /// Nothing is said before a later coat than the first was laid: the first is never thin, the face drinks.
    fn judge(&self, shop: &Shop, product: ObjectId) -> Option<Hit> {
        let product = shop.products.get(&product).map(Versions::now);
        let single = product.is_some_and(|it| coats(it) == Some(1));
        if self.last_coat < 2 && !single {
            return None;
        }
        let named = product_fact(product);
        if self.unsaid > 0 {
            // Told of the whole job once, and no more than a note: quantities are not logged by everybody.
            let unsaid = count(
                text("coats without quantity or area", "manos sin cantidad o superficie"),
                self.unsaid as f64,
                0,
            );
            return Some(
                Hit::cannot_tell(self.steps.iter().copied(), vec![named, unsaid]).weighing(Severity::Note),
            );
        }
        let limit = limits::QUANTITY_OFF.value;
        let (used, _) = judge_quantity(self.used_l.max(0.0), self.called_for_l, limit).ok()?;
        if used == Used::Right {
            return None;
        }
        let facts = vec![
            named,
            number(USED, self.used_l, Dimension::Litre),
            number(CALLED, self.called_for_l, Dimension::Litre),
            limits::QUANTITY_OFF.fact(),
        ];
        let source = product.and_then(rate).map(|it| it.source_fact());
        Some(Hit::violated(self.steps.iter().copied(), facts.into_iter().chain(source).collect()))
    }
}

/// Spreading rate per coat, m²/L.
fn rate(product: &Product) -> Option<Applied> {
    limits::of_product(product, |p| p.coverage_m2_per_l, |c| c.coverage_m2_per_l)
}

fn coats(product: &Product) -> Option<u32> {
    product.coats.or(crate::materials::of(product.class).coats)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{Finding, State, Verdict, check_shop};

    /// A sealer that covers 8 m² a litre: 0.125 L a coat on a square metre.
    fn bench() -> Bench {
        let mut bench = Bench::poured();
        bench.product("sealer", json!({ "class": "reactive_sealer", "coverage_m2_per_l": 8 }));
        bench
    }

    fn laid(number: u32, litres: f64, left: f64) -> serde_json::Value {
        with(coat(number), json!({ "quantity_l": litres, "left_over_l": left, "area_m2": 1 }))
    }

    fn found(bench: &Bench) -> Vec<Finding> {
        check_shop(&bench.shop()).into_iter().filter(|it| *it.rule == RULE).collect()
    }

    #[test]
    pub(crate) fn clear() {
        // A quarter less and a quarter more than 0.25 L are still right; leftovers are taken off.
        for litres in [0.1875, 0.3125] {
            let mut bench = bench();
            bench.step(100.0, "seal_coat", laid(1, litres - 0.125, 0.0));
            bench.step(102.0, "seal_coat", laid(2, 0.225, 0.1));
            assert_eq!(found(&bench), []);
        }
        let mut thin_first = bench();
        thin_first.step(100.0, "seal_coat", laid(1, 0.01, 0.0));
        assert_eq!(found(&thin_first), [], "the first coat is never thin");
    }

    #[test]
    pub(crate) fn violated() {
        for litres in [0.187, 0.313] {
            let mut bench = bench();
            let first = bench.step(100.0, "seal_coat", laid(1, litres - 0.125, 0.0));
            let second = bench.step(102.0, "seal_coat", laid(2, 0.125, 0.0));
            let found = found(&bench);
            assert_eq!(found.len(), 1, "{litres}");
            assert_eq!((found[0].verdict, found[0].severity), (Verdict::Violated, Severity::Caution));
            assert_eq!((found[0].piece, &found[0].entries[..]), (None, &[first, second][..]));
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = bench();
        bench.step(100.0, "seal_coat", laid(1, 0.125, 0.0));
        bench.step(102.0, "seal_coat", coat(2));
        let found = found(&bench);
        assert_eq!(
            (found.len(), found[0].verdict, found[0].severity),
            (1, Verdict::CannotTell, Severity::Note)
        );
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = bench();
        let first = bench.step(100.0, "seal_coat", laid(1, 0.5, 0.0));
        bench.step(102.0, "seal_coat", laid(2, 0.5, 0.0));
        let body = json!({ "rule": RULE.code, "accepted_by": "Owner", "why": "a can was spilt" });
        let exception = bench.about(300.0, "exception", &[first], body);
        assert_eq!(found(&bench)[0].state, State::Accepted(exception));
    }
}
