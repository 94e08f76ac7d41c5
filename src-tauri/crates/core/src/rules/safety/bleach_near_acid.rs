//! `bleach-near-acid`

use crate::body::surface::{CleanAgent, Neutraliser};
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "bleach-near-acid",
    title: text("Chlorine bleach never meets acid or ammonia", "La lejía nunca se junta con ácido ni amoníaco"),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Published("Safe Work Australia HCIS 4178 (AUH031: contact with acids liberates toxic gas); for ammonia, CDC/ATSDR from memory, confirm locally"),
    why: text(
        "Bleach with acid gives chlorine gas, bleach with ammonia gives chloramines. Both burn the lungs, in a bucket, a sprayer, a drain or a slurry pit as well as on the piece.",
        "La lejía con ácido desprende cloro; con amoníaco, cloraminas. Ambos queman los pulmones, en un cubo, un pulverizador, un desagüe o una fosa de lodos igual que sobre la pieza.",
    ),
    remedy: text(
        "Leave the room and let in air. Rinse piece and drain with plenty of water, change buckets and sprayer, and record it. Anyone who breathed it follows the safety data sheet and the emergency number.",
        "Salir y ventilar. Enjuagar pieza y desagüe con mucha agua, cambiar cubos y pulverizador, y anotarlo. Quien lo haya respirado sigue la ficha de datos de seguridad y llama a emergencias.",
    ),
    looks: &[Look::Step(&[Kind::Clean, Kind::AcidWash, Kind::Neutralise], judge)],
};

const APART: Text = text("time between", "tiempo entre ambos");
const RINSED: Text = text("rinsed, buckets and sprayer changed", "enjuagado, cubos y pulverizador cambiados");

#[derive(Clone, Copy, PartialEq, Eq)]
enum Agent {
    Bleach,
    AcidOrAmmonia,
}

/// The dangerous side a step brings, if any.
fn agent(body: &crate::body::Body) -> Option<Agent> {
    if let Some(clean) = view::clean(body) {
        return match clean.agent {
            CleanAgent::Hypochlorite => Some(Agent::Bleach),
            CleanAgent::AcidCleaner => Some(Agent::AcidOrAmmonia),
            _ => None,
        };
    }
    let ammonia = view::neutralise(body).is_some_and(|it| it.agent == Neutraliser::Ammonia);
    (ammonia || view::acid_wash(body).is_some()).then_some(Agent::AcidOrAmmonia)
}

/// The other agent within the work period before this step.
fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(now) = subject.body.and_then(agent) else { return Vec::new() };
    let met = past.steps.iter().rev().copied().find(|step| {
        let hours = hours_between(step.done.finish(), subject.at);
        let other = step.body().and_then(agent);
        hours < limits::WORK_PERIOD.value && other.is_some_and(|it| it != now)
    });
    let Some(met) = met else { return Vec::new() };
    // Only the first meeting is told: what follows it in the same wash is the same mistake.
    let told = past.until(met).steps.len() + 1;
    let between = &past.steps[told..];
    if between.iter().any(|step| step.body().and_then(agent) == Some(now)) || changed(met) == Some(Answer::Yes) {
        return Vec::new();
    }
    let rinsed = changed(met).map_or(missing(RINSED), |answer| word(RINSED, answer.label()));
    let hours = hours_between(met.done.finish(), subject.at);
    let facts = vec![number(APART, hours, Dimension::Hour), limits::WORK_PERIOD.fact(), rinsed];
    vec![Hit::violated([met], facts).until(add_hours(met.done.finish(), limits::WORK_PERIOD.value)).holding()]
}

/// Whether a cleaning step says that it was rinsed away and its vessels changed.
fn changed(step: &Step) -> Option<Answer> {
    view::clean(step.body()?)?.rinsed_and_changed
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::Verdict;
    use crate::rules::testing::*;

    fn bleach() -> serde_json::Value {
        json!({ "agent": "hypochlorite" })
    }

    #[test]
    pub(crate) fn clear() {
        let mut later = Bench::poured();
        later.step(100.0, "clean", bleach());
        later.step(112.0, "acid_wash", wash(20.0));
        later.expect_clear(&RULE);
        let mut changed = Bench::poured();
        changed.step(100.0, "clean", with(bleach(), json!({ "rinsed_and_changed": "yes" })));
        changed.step(101.0, "acid_wash", wash(20.0));
        changed.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut bench = Bench::poured();
        let bleach = bench.step(100.0, "clean", bleach());
        let acid = bench.step(111.9, "acid_wash", wash(20.0));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[bleach, acid]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        // Not knowing whether it was rinsed is no excuse: the breach stands.
        let mut bench = Bench::poured();
        let acid = bench.step(100.0, "acid_wash", wash(20.0));
        let bleach = bench.step(101.0, "clean", with(bleach(), json!({ "rinsed_and_changed": "not_looked" })));
        bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[acid, bleach]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "clean", bleach());
        bench.step(101.0, "acid_wash", wash(20.0));
        bench.expect_accepted(&RULE);
    }
}
