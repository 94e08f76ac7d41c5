//! `lifted-too-young`

use super::{Asked, Standing, against};
use crate::body::casting::StrengthMethod;
use crate::body::setup::FinishKind;
use crate::moment::Moment;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "lifted-too-young",
    title: text(
        "Handling and lifting wait for their own strength, or for the shop's least age",
        "Manipular y elevar esperan su propia resistencia o la edad mínima del taller",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Unconfirmed(text(
        "PCI MNL-117, strength at stripping; the age is common practice",
        "PCI MNL-117, resistencia al desmoldar; la edad es práctica común",
    )),
    why: text(
        "A young piece cracks under its own weight when it is stripped, turned or lifted, often so finely that it shows only under the sealer; a lifting point can tear out and the piece fall. Thin fiber-reinforced pieces bend first: what counts there is flexural strength.",
        "Una pieza joven se agrieta por su propio peso al desmoldear, voltear o izar, a menudo tan fino que solo se ve bajo el sellador; un punto de izado puede arrancarse y la pieza caer. Las finas con fibra flexan antes: ahí cuenta la resistencia a flexión.",
    ),
    remedy: text(
        "Leave it in the form until its age is reached, or record a strength that allows it. If it was moved earlier: look for cracks wet, by low light, from both sides.",
        "Dejarla en el molde hasta su edad, o registrar una resistencia que lo permita. Si ya se movió: buscar grietas en mojado, con luz rasante y por ambos lados.",
    ),
    looks: &[Look::Step(MOVING, judge)],
};

const MOVING: &[Kind] =
    &[Kind::Demould, Kind::Storage, Kind::Packing, Kind::Loading, Kind::Delivery, Kind::Install];
const AGE: Text = text("age", "edad");
const LEAST_AGE: Text = text("least age", "edad mínima");
const FLEXURAL: Text = text("flexural strength", "resistencia a flexión");
const FLEXURAL_ASKED: Text =
    text("flexural strength before lifting", "resistencia a flexión antes de elevar");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let case = past.case;
    if case.finish() == Some(FinishKind::Floor) {
        return Vec::new();
    }
    let Some((pour, _)) = case.pour() else {
        // Told once: at the first move.
        let first = !past.has(MOVING);
        return first.then(|| Hit::cannot_tell([], vec![missing(AGE)])).into_iter().collect();
    };
    let least = Applied::setting(case.shop.settings.lift_min_age_h, &limits::LIFT_AGE);
    let own = if has_fibre(case) { by_flexure(past) } else { by_strength(past, subject) };
    let from = match own.standing {
        Standing::Enough => return Vec::new(),
        // What fell short speaks for its day: from then on the least age counts again.
        Standing::Short => own.steps.last().map_or(pour.done.finish(), |step| step.done.finish()),
        Standing::Unknown => pour.done.finish(),
    };
    let short = own.standing == Standing::Short;
    let opens = own.sure_at.filter(|_| short).or_else(|| add_hours(from, least.value));
    if opens.is_some_and(|opens| subject.at >= opens) {
        return Vec::new();
    }
    let mut facts = vec![number(AGE, hours_between(pour.done.finish(), subject.at), Dimension::Hour)];
    facts.extend(least.facts(LEAST_AGE, Dimension::Hour));
    facts.extend(own.facts);
    let steps = if short { own.steps } else { vec![pour] };
    vec![Hit::violated(steps, facts).until(opens)]
}

fn has_fibre(case: &Case<'_>) -> bool {
    let poured = case.pour().and_then(|(_, pour)| pour.fibre_pct);
    poured.or_else(|| case.mix()?.fibre_pct).is_some_and(|pct| pct > 0.0)
}

/// What a strength of its own says for the move.
struct Own<'a> {
    standing: Standing,
    steps: Vec<&'a Step>,
    facts: Vec<Fact>,
    sure_at: Option<Moment>,
}

fn by_strength<'a>(past: &Past<'_, 'a>, subject: &Subject<'_>) -> Own<'a> {
    let asked = Applied::setting(past.case.shop.settings.lift_strength_mpa, &limits::LIFT_STRENGTH);
    let planned = subject.step.is_none();
    let evidence =
        against(past, subject.at, &Asked { gate_mpa: asked.value, grit_um: None, planned, vein: false });
    let mut facts = Vec::new();
    if evidence.standing == Standing::Short {
        facts = evidence.facts;
        facts.extend(asked.facts(limits::LIFT_STRENGTH.name, Dimension::Megapascal));
    }
    Own { standing: evidence.standing, steps: evidence.steps, facts, sure_at: evidence.sure_at }
}

/// A piece with fibre goes by a flexural break against the shop's own limit; without both, by age alone.
fn by_flexure<'a>(past: &Past<'_, 'a>) -> Own<'a> {
    let breaks = past.all(view::strength).filter(|(_, it)| it.method == StrengthMethod::Flexural);
    let newest = breaks.filter_map(|(step, it)| Some((step, it.result_mpa?))).next_back();
    let Some(((step, mpa), asked)) = newest.zip(past.case.shop.settings.lift_flexural_mpa) else {
        return Own { standing: Standing::Unknown, steps: Vec::new(), facts: Vec::new(), sure_at: None };
    };
    let standing = if mpa >= asked { Standing::Enough } else { Standing::Short };
    let facts = vec![
        number(FLEXURAL, mpa, Dimension::Megapascal),
        number(FLEXURAL_ASKED, asked, Dimension::Megapascal),
        Applied { value: asked, source: limits::Source::ShopSetting }.source_fact(),
    ];
    Own { standing, steps: vec![step], facts, sure_at: None }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn out() -> serde_json::Value {
        json!({ "face": ["clean"] })
    }

    fn broken(bench: Bench, hours: f64, method: &str, mpa: f64) -> (Bench, crate::id::Hash) {
        let mut bench = bench;
        let tested = bench.pour_step(hours, "strength", json!({ "method": method, "result_mpa": mpa }));
        (bench, tested)
    }

    #[test]
    pub(crate) fn clear() {
        let mut by_age = Bench::poured();
        by_age.step(16.0, "demould", out());
        by_age.expect_clear(&RULE);
        let (mut by_strength, _) = broken(Bench::poured(), 10.0, "cylinder", 13.8);
        by_strength.step(10.5, "demould", out());
        by_strength.expect_clear(&RULE);
        let mut floor = Bench::with_piece(json!({ "finish": "floor" })).pour();
        floor.step(5.0, "demould", out());
        floor.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut young = Bench::poured();
        let poured = young.last();
        let stripped = young.step(15.9, "demould", out());
        young.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[poured, stripped]]);
        let (mut weak, tested) = broken(Bench::poured(), 18.0, "cylinder", 13.7);
        let stripped = weak.step(20.0, "demould", out());
        weak.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[tested, stripped]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::with_piece(json!({}));
        let store = json!({ "condition": "good", "position": "flat" });
        let stripped = bench.step(16.0, "demould", out());
        bench.step(17.0, "storage", store);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[stripped]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(3.0, "demould", out());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_break_that_fell_short_speaks_for_its_day() {
        for (hours, clear) in [(33.9, false), (34.0, true)] {
            let (mut bench, _) = broken(Bench::poured(), 18.0, "cylinder", 9.0);
            bench.step(hours, "demould", out());
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{hours}");
        }
    }

    #[test]
    fn fibre_goes_by_flexure_and_by_age() {
        let with_fibre = || Bench::with_piece(json!({})).pour_with(json!({ "fibre_pct": 3 }));
        let (mut compressed, _) = broken(with_fibre(), 8.0, "cylinder", 30.0);
        compressed.step(9.0, "demould", out());
        compressed.expect_violated(&RULE);
        for (mpa, clear) in [(3.9, false), (4.0, true)] {
            let (mut bent, _) = broken(with_fibre(), 8.0, "flexural", mpa);
            bent.settings(json!({ "lift_flexural_mpa": 4 }));
            bent.step(9.0, "demould", out());
            assert_eq!(bent.findings(&RULE).is_empty(), clear, "{mpa}");
        }
    }

    #[test]
    fn the_shops_settings_beat_the_defaults() {
        let mut older = Bench::poured();
        older.settings(json!({ "lift_min_age_h": 24 }));
        older.step(23.9, "demould", out());
        older.expect_violated(&RULE);
        let (mut stronger, _) = broken(Bench::poured(), 10.0, "cylinder", 15.0);
        stronger.settings(json!({ "lift_strength_mpa": 20 }));
        stronger.step(12.0, "demould", out());
        stronger.expect_violated(&RULE);
    }

    #[test]
    fn the_gate_names_the_hour() {
        let bench = Bench::poured();
        assert_eq!(bench.bare_gate(&RULE, 3.0, "demould").unwrap().state, GateState::Until(at(16.0)));
        assert_eq!(bench.bare_gate(&RULE, 16.0, "demould"), None);
    }
}
