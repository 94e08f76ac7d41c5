//! `bleach-near-acid`

use crate::body::setup::MaterialClass;
use crate::body::surface::{Clean, CleanAgent, Neutraliser};
use crate::moment::Moment;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "bleach-near-acid",
    title: text(
        "Chlorine bleach never meets acid or ammonia",
        "La lejía nunca coincide con ácido ni amoníaco",
    ),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::Published(text(
        "EUH031 and its likes on the safety data sheet of hypochlorite",
        "EUH031 y similares en la ficha de datos de seguridad del hipoclorito",
    )),
    why: text(
        "Bleach and acid set chlorine free, bleach and ammonia chloramines: toxic gas, at once, in the pores, the bucket, the sprayer, the drain or the slurry pit as much as on the face.",
        "La lejía con ácido libera cloro y con amoníaco cloraminas: gas tóxico, al instante, en los poros, el cubo, el pulverizador, el desagüe o la balsa de lodos igual que en la cara.",
    ),
    remedy: text(
        "Do not go on. Air the room, keep people out if anything smells. Rinse the piece and the drain with plenty of water, change buckets and sprayer, and record it on the cleaning entry before anything else is used. The safety data sheets govern.",
        "No seguir. Ventilar y mantener a la gente fuera si huele. Enjuagar pieza y desagüe con mucha agua, cambiar cubos y pulverizador y anotarlo en la entrada de limpieza antes de usar otra cosa. Mandan las fichas de seguridad.",
    ),
    looks: &[Look::Step(&[Kind::Clean, Kind::AcidWash, Kind::Neutralise], judge)],
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Wash {
    Bleach { rinsed: bool },
    AcidOrAmmonia,
    Other,
}

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(body) = subject.body else { return planned_blind(past, subject) };
    let now = wash_of(past.case, body, subject.at);
    let met: Vec<&Step> =
        near(past, subject).filter(|(_, before)| meet(*before, now)).map(|(step, _)| step).collect();
    hit(&met)
}

/// A planned wash of unknown values: an acid wash or neutralizing is what its kind says.
fn planned_blind(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if subject.kind == Kind::Clean {
        return Vec::new();
    }
    let met: Vec<&Step> = near(past, subject)
        .filter(|(_, before)| meet(*before, Wash::AcidOrAmmonia))
        .map(|(step, _)| step)
        .collect();
    hit(&met)
}

fn hit(met: &[&Step]) -> Vec<Hit> {
    if met.is_empty() {
        return Vec::new();
    }
    let rinsed = text("rinsed, buckets and sprayer changed", "enjuagado, cubos y pulverizador cambiados");
    vec![Hit::violated(met.iter().copied(), vec![missing(rinsed), limits::WORK_PERIOD.fact()])]
}

/// The washes of the same work period.
fn near<'c, 'a: 'c>(
    past: &Past<'c, 'a>,
    subject: &Subject<'_>,
) -> impl Iterator<Item = (&'a Step, Wash)> + use<'c, 'a> {
    let (case, at) = (past.case, subject.at);
    let washes = past.steps.iter().copied().filter(move |step| {
        matches!(step.kind, Some(Kind::Clean | Kind::AcidWash | Kind::Neutralise))
            && hours_between(step.done.finish(), at) <= limits::WORK_PERIOD.value
    });
    washes.filter_map(move |step| Some((step, wash_of(case, step.body()?, step.done.start))))
}

/// Whether two washes must not follow each other as recorded. Rinsing is said on the bleach entry.
fn meet(before: Wash, now: Wash) -> bool {
    matches!(
        (before, now),
        (Wash::Bleach { rinsed: false }, Wash::AcidOrAmmonia)
            | (Wash::AcidOrAmmonia, Wash::Bleach { rinsed: false })
    )
}

fn wash_of(case: &Case<'_>, body: &crate::body::Body, at: Moment) -> Wash {
    if let Some(clean) = view::clean(body) {
        return clean_of(case, clean, at);
    }
    let ammonia = view::neutralise(body).is_some_and(|it| it.agent == Neutraliser::Ammonia);
    if ammonia || view::acid_wash(body).is_some() { Wash::AcidOrAmmonia } else { Wash::Other }
}

fn clean_of(case: &Case<'_>, clean: &Clean, at: Moment) -> Wash {
    let class = clean.product.and_then(|id| case.product(id, at)).map(|it| it.class);
    let rinsed = clean.rinsed_and_changed == Some(Answer::Yes);
    if clean.agent == CleanAgent::Hypochlorite || class == Some(MaterialClass::Hypochlorite) {
        return Wash::Bleach { rinsed };
    }
    let acid = matches!(
        class,
        Some(
            MaterialClass::HydrochloricAcid
                | MaterialClass::SulfamicAcid
                | MaterialClass::PhosphoricAcid
                | MaterialClass::CitricAcid
                | MaterialClass::FluorideCleaner
                | MaterialClass::Ammonia
        )
    );
    if acid || matches!(clean.agent, CleanAgent::AcidCleaner | CleanAgent::Fluoride) {
        Wash::AcidOrAmmonia
    } else {
        Wash::Other
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn bleach(rinsed: Option<&str>) -> serde_json::Value {
        match rinsed {
            Some(answer) => json!({ "agent": "hypochlorite", "rinsed_and_changed": answer }),
            None => json!({ "agent": "hypochlorite" }),
        }
    }

    #[test]
    pub(crate) fn clear() {
        let mut rinsed = Bench::poured();
        rinsed.step(100.0, "clean", bleach(Some("yes")));
        rinsed.step(101.0, "acid_wash", wash());
        rinsed.expect_clear(&RULE);
        let mut next_day = Bench::poured();
        next_day.step(100.0, "clean", bleach(None));
        next_day.step(112.1, "acid_wash", wash());
        next_day.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let mut before = Bench::poured();
        let bleached = before.step(100.0, "clean", bleach(Some("no")));
        let washed = before.step(112.0, "acid_wash", wash());
        before.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[bleached, washed]]);
        let mut after = Bench::poured();
        let ammonia = after.step(100.0, "neutralise", neutralise());
        let bleached = after.step(101.0, "clean", bleach(None));
        after.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[ammonia, bleached]]);
    }

    /// Rinsing that is not recorded counts as not done: where gas may form, "cannot tell" is not enough.
    #[test]
    pub(crate) fn cannot_tell() {
        for answer in [None, Some("not_looked")] {
            let mut bench = Bench::poured();
            bench.step(100.0, "clean", bleach(answer));
            bench.step(101.0, "acid_wash", wash());
            bench.expect_violated(&RULE);
        }
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = Bench::poured();
        bench.step(100.0, "clean", bleach(None));
        bench.step(101.0, "acid_wash", wash());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_product_counts_by_its_class_and_bicarbonate_does_not() {
        let mut product = Bench::poured();
        product.product("descaler", json!({ "class": "phosphoric_acid" }));
        product.step(100.0, "clean", bleach(None));
        product.step(101.0, "clean", json!({ "agent": "water", "product": id("descaler") }));
        product.expect_violated(&RULE);
        let mut soda = Bench::poured();
        soda.step(100.0, "clean", bleach(None));
        soda.step(
            101.0,
            "neutralise",
            json!({ "agent": "bicarbonate", "water_parts": 10, "agent_parts": 1 }),
        );
        soda.expect_clear(&RULE);
    }

    #[test]
    fn a_planned_wash_is_stopped_whether_its_values_are_known_or_not() {
        let mut bench = Bench::poured();
        bench.step(100.0, "clean", bleach(None));
        assert_eq!(bench.gate(&RULE, 101.0, "acid_wash", &wash()).unwrap().state, GateState::Blocked);
        assert_eq!(bench.bare_gate(&RULE, 101.0, "acid_wash").unwrap().state, GateState::Blocked);
    }
}
