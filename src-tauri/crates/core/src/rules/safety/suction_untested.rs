//! `suction-untested`

use super::confirm::is_confirmed;
use crate::body::after::SafetyTopic;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "suction-untested",
    title: text(
        "A suction lifter is tried on this surface and backed by a sling",
        "La ventosa se prueba en esta superficie y lleva eslinga",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "Concrete breathes: a cup that holds on glass loses its grip on an open, dusty or freshly sealed face, minutes after it held. The piece then drops with nothing under it but feet.",
        "El hormigón respira: una ventosa que aguanta en vidrio se suelta de una cara abierta, con polvo o recién sellada, minutos después de agarrar. La pieza cae entonces sobre los pies.",
    ),
    remedy: text(
        "Try it low over the floor on this very surface, watch the gauge for some minutes, put a safety sling on, and record both. Where it loses vacuum, use clamps or slings.",
        "Probarla a ras de suelo en esta misma superficie, vigilar el manómetro unos minutos, poner eslinga de seguridad y registrarlo. Si pierde vacío, usar pinzas o eslingas.",
    ),
    looks: &[Look::Step(&[Kind::Loading, Kind::Delivery, Kind::Install], judge)],
};

const USED: Text = text("suction lifter used", "ventosa usada");
const TRIED: Text = text("tried on this surface, with a sling", "probada en esta superficie, con eslinga");
/// How people write of one under "lifting gear".
const WORDS: [&str; 5] = ["suction", "vacuum", "ventosa", "vacío", "vacio"];

/// What an entry says about a suction lifter.
struct Lift<'s> {
    used: Option<Answer>,
    tried: Option<Answer>,
    gear: Option<&'s str>,
}

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(lift) = lift_of(subject) else { return Vec::new() };
    let named = || lift.gear.is_some_and(|gear| WORDS.iter().any(|it| gear.to_lowercase().contains(it)));
    let used = lift.used == Some(Answer::Yes) || (lift.used.is_none() && lift.tried.is_some());
    let maybe = lift.used != Some(Answer::No) && named();
    let person = subject.step.map(|step| step.person);
    let confirmed = || is_confirmed(past.case.shop, person, SafetyTopic::Suction, subject.at);
    if !(used || maybe) || lift.tried == Some(Answer::Yes) || (lift.tried.is_none() && confirmed()) {
        return Vec::new();
    }
    let tried = lift.tried.map_or(missing(TRIED), |it| word(TRIED, it.label()));
    if used {
        return vec![Hit::violated([], vec![tried]).confirming()];
    }
    vec![Hit::cannot_tell([], vec![missing(USED), tried])]
}

fn lift_of<'s>(subject: &Subject<'s>) -> Option<Lift<'s>> {
    if let Some(it) = subject.read(view::loading) {
        return Some(Lift { used: it.suction, tried: it.suction_tested, gear: it.lifting_gear.as_deref() });
    }
    if let Some(it) = subject.read(view::delivery) {
        return Some(Lift { used: it.suction, tried: None, gear: it.lifting_gear.as_deref() });
    }
    let it = subject.read(view::install)?;
    Some(Lift { used: it.suction, tried: None, gear: it.lifting_gear.as_deref() })
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn load(more: serde_json::Value) -> serde_json::Value {
        with(json!({ "condition": "good", "position": "flat" }), more)
    }

    fn install(more: serde_json::Value) -> serde_json::Value {
        with(json!({ "base_level": "yes" }), more)
    }

    #[test]
    pub(crate) fn clear() {
        let mut bench = Bench::poured();
        bench.step(200.0, "loading", load(json!({ "suction": "yes", "suction_tested": "yes" })));
        bench.step(201.0, "loading", load(json!({ "suction": "no", "lifting_gear": "gantry" })));
        bench.confirm(220.0, &["suction"]);
        bench.step(221.0, "install", install(json!({ "suction": "yes" })));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let untried = bench.step(200.0, "loading", load(json!({ "suction_tested": "no" })));
        let unsaid = bench.step(201.0, "install", install(json!({ "suction": "yes" })));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[untried], &[unsaid]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut bench = Bench::poured();
        let body = json!({ "condition": "good", "taken_by": "crew", "lifting_gear": "Vacuum lifter" });
        let delivered = bench.step(200.0, "delivery", body);
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[delivered]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(200.0, "install", install(json!({ "suction": "yes" })));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_failed_trial_is_not_made_good_by_a_confirmation() {
        let mut bench = Bench::poured();
        bench.confirm(199.0, &["suction"]);
        bench.step(200.0, "loading", load(json!({ "suction": "yes", "suction_tested": "no" })));
        bench.expect_violated(&RULE);
    }

    #[test]
    fn a_planned_lift_asks() {
        let gate =
            Bench::poured().gate(&RULE, 200.0, "install", &install(json!({ "suction": "yes" }))).unwrap();
        assert_eq!(gate.state, GateState::Confirm);
    }
}
