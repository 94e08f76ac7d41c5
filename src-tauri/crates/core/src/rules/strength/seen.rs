//! What is known of a piece's strength, for a chart.

use super::curves::{Curves, breaks_by_age, breaks_of_mix, on_curve};
use super::cut_below_gate;
use crate::body::Kind;
use crate::body::setup::{Aggregate, FinishKind};
use crate::chart::{StrengthGate, StrengthSeen};
use crate::id::ObjectId;
use crate::moment::{Moment, hours_between};
use crate::rules::limits::Limit;
use crate::rules::{Case, limits};
use crate::shop::Shop;
use crate::text::{Lang, Text, text};

const FIRST_CUT: Text = text("first cut", "primer corte");
const FINE: Text = text("grit 100 and finer", "grano 100 y más fino");
const THE_CUT: Text = text("first cut of the piece", "primer corte de la pieza");
const THE_PIECE: Text = text("the piece now", "la pieza ahora");

/// An age of this many times that of the oldest break would press the chart against its edge.
const FAR: f64 = 4.0;

/// The curve and the breaks of a piece's mix, the gates before it, and its own age: at the first cut where it was
/// cut, else at `at`. Where no temperatures are known, ages are those of the calendar.
pub fn strength_seen(case: &Case<'_>, at: Moment, lang: Lang) -> StrengthSeen {
    let Some((poured, pour)) = case.pour() else { return StrengthSeen::default() };
    let cut = case.of(Kind::GritPass).next().map(|step| step.done.start);
    let moment = cut.unwrap_or(at);
    let mut seen = StrengthSeen {
        fit: case.curves.of(case.shop, pour.mix).map(|fit| (*fit).clone()),
        breaks: breaks_of_mix(case.shop, pour.mix),
        now_h: on_curve(case, &case.history, moment).map(|it| it.maturity.equivalent_age_h),
        now_name: if cut.is_some() { THE_CUT } else { THE_PIECE }.get(lang).to_owned(),
        gates: gates(case, lang),
        by_calendar: false,
    };
    if seen.breaks.is_empty() {
        seen.breaks = breaks_by_age(case.shop, pour.mix);
        seen.now_h = Some(hours_between(poured.done.finish(), moment));
        seen.by_calendar = true;
    }
    let oldest = seen.breaks.iter().map(|it| it.equivalent_age_h).fold(0.0, f64::max);
    seen.now_h = seen.now_h.filter(|age| *age <= FAR * oldest);
    seen
}

/// The curve and the breaks of a mix, with the gates its pieces meet. Where no temperatures are known, ages are
/// those of the calendar.
pub fn mix_seen(shop: &Shop, mix: ObjectId, lang: Lang) -> StrengthSeen {
    let breaks = breaks_of_mix(shop, mix);
    let by_calendar = breaks.is_empty();
    let glass = shop.mixes.get(&mix).is_some_and(|it| it.now().aggregates.contains(&Aggregate::Glass));
    let first = if glass { limits::GLASS_GATE } else { limits::PLAIN_GATE };
    let gate = |limit: &Limit, name: Text| StrengthGate { mpa: limit.value, name: name.get(lang).to_owned() };
    StrengthSeen {
        fit: Curves::default().of(shop, mix).map(|fit| (*fit).clone()),
        breaks: if by_calendar { breaks_by_age(shop, mix) } else { breaks },
        now_h: None,
        now_name: String::new(),
        gates: vec![gate(&first, FIRST_CUT), gate(&limits::FINE_GATE, FINE)],
        by_calendar,
    }
}

fn gates(case: &Case<'_>, lang: Lang) -> Vec<StrengthGate> {
    let gate = |mpa, name: Text| StrengthGate { mpa, name: name.get(lang).to_owned() };
    let deep = matches!(case.finish(), Some(FinishKind::Aggregate | FinishKind::Glass));
    let fine = deep.then(|| gate(limits::FINE_GATE.value, FINE));
    std::iter::once(gate(cut_below_gate::gate_of(case).value, FIRST_CUT)).chain(fine).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::testing::*;

    fn seen(bench: &Bench, hours: f64) -> StrengthSeen {
        strength_seen(&Case::new(&bench.shop(), id("piece")), at(hours), Lang::En)
    }

    #[test]
    fn a_mix_with_breaks_and_temperatures_has_its_curve_and_the_piece_its_place_on_it() {
        let mut bench = Bench::poured();
        bench.curve_of_the_mix();
        // At 20 °C the equivalent age is the age.
        bench.pour_step(0.5, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        bench.pour_step(60.0, "temperature", json!({ "of": "concrete", "reading_c": 20 }));
        let seen = seen(&bench, 60.0);
        assert!(seen.fit.is_some() && !seen.by_calendar);
        assert_eq!(seen.breaks.len(), 6);
        assert!((seen.breaks[0].equivalent_age_h - 24.0).abs() < 0.01, "{:?}", seen.breaks);
        let now = seen.now_h.expect("temperatures are known");
        assert!((now - 59.5).abs() < 0.6, "{now}");
        assert_eq!(seen.gates.len(), 1);
    }

    #[test]
    fn without_temperatures_breaks_stand_at_their_age_by_the_calendar() {
        let mut bench = Bench::poured();
        bench.pour_step(72.0, "strength", json!({ "method": "cylinder", "result_mpa": 31.0 }));
        bench.step(73.0, "grit_pass", pass(50));
        let seen = seen(&bench, 9_000.0);
        assert!(seen.by_calendar && seen.fit.is_none());
        assert!((seen.breaks[0].equivalent_age_h - 72.0).abs() < 1.0, "{:?}", seen.breaks);
        // The line stands at the first cut, not at the day the paper is made.
        assert!(seen.now_h.is_some_and(|age| (age - 73.0).abs() < 1.0), "{:?}", seen.now_h);
        assert_eq!(seen.now_name, "first cut of the piece");
    }

    #[test]
    fn a_piece_without_a_pour_has_nothing_to_show() {
        let bench = Bench::with_piece(json!({}));
        assert_eq!(seen(&bench, 1.0), StrengthSeen::default());
    }
}
