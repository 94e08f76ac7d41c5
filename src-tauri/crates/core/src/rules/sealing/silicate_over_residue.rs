//! `silicate-over-residue`

use super::product_of;
use crate::body::setup::MaterialClass;
use crate::body::surface::{CleanAgent, Neutraliser};
use crate::rules::grinding::region_fact;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "silicate-over-residue",
    title: text(
        "No silicate over acid or ammonia that was not rinsed off",
        "Nada de silicato sobre ácido o amoníaco sin enjuagar",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Unconfirmed(text(
        "safety data sheets of sodium silicate: ammonia from ammonium salts, gel with acid",
        "fichas de datos de seguridad del silicato sódico: amoníaco con sales de amonio, gel con ácido",
    )),
    why: text(
        "Acid turns silicate to gel on the face: a white crust that no later work takes off. With ammonium salts it sets ammonia free, in the room and under the next coat.",
        "El ácido convierte el silicato en gel sobre la cara: una costra blanca que ya no se quita. Con sales de amonio libera amoníaco, en el local y bajo la mano siguiente.",
    ),
    remedy: text(
        "Rinse with clean water until the rinse water reads like the tap, take standing water off, record the rinse, then densify.",
        "Enjuagar con agua limpia hasta que el enjuague dé lo mismo que el grifo, retirar el agua, registrar el enjuague y después densificar.",
    ),
    looks: &[Look::Step(&[Kind::Densify, Kind::SealCoat], judge)],
};

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    let class = || product_of(past, coat, subject).map(|(product, _)| product.class);
    if subject.kind == Kind::SealCoat && class() != Some(MaterialClass::SilicateDensifier) {
        return Vec::new();
    }
    let covering = past.steps.iter().copied().filter(|step| covers(step, subject.region));
    let mut left: Option<(&Step, Option<Answer>)> = None;
    for step in covering {
        if leaves_residue(past.case, step) {
            left = Some((step, None));
        } else if let Some(rinse) = step.body().and_then(view::rinse) {
            left = left.map(|(residue, _)| (residue, Some(rinse.standing_water_removed)));
        } else if matches!(step.kind, Some(Kind::GritPass | Kind::Strip)) {
            // Ground off with the paste it sat in.
            left = None;
        }
    }
    left.and_then(|(step, rinsed)| found(step, rinsed)).into_iter().collect()
}

fn found(residue: &Step, rinsed: Option<Answer>) -> Option<Hit> {
    let mut facts = vec![word(text("left by", "queda de"), residue.kind?.label())];
    facts.extend(region_fact(region_of(residue)));
    let water = text("rinse water taken off", "agua de enjuague retirada");
    match rinsed {
        Some(Answer::Yes) => None,
        Some(Answer::NotLooked) => {
            facts.push(word(water, Answer::NotLooked.label()));
            Some(Hit::cannot_tell([residue], facts))
        }
        Some(Answer::No) => {
            facts.push(word(water, Answer::No.label()));
            Some(Hit::violated([residue], facts))
        }
        None => {
            facts.push(missing(text("rinse after it", "enjuague posterior")));
            Some(Hit::violated([residue], facts))
        }
    }
}

fn leaves_residue(case: &Case<'_>, step: &Step) -> bool {
    let Some(body) = step.body() else { return false };
    if view::acid_wash(body).is_some() {
        return true;
    }
    if let Some(it) = view::neutralise(body) {
        return it.agent == Neutraliser::Ammonia;
    }
    let Some(clean) = view::clean(body) else { return false };
    let product = clean.product.and_then(|id| case.product(id, step.done.start));
    let acid = product.is_some_and(crate::rules::safety::is_acid_or_ammonia);
    let rinsed = clean.rinsed_and_changed == Some(Answer::Yes);
    (acid || matches!(clean.agent, CleanAgent::AcidCleaner | CleanAgent::Fluoride)) && !rinsed
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn densify() -> serde_json::Value {
        json!({ "product": id("densifier"), "lot": "D-1", "dwell_min": 30, "residue_off": "yes" })
    }

    fn washed() -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        bench.step(100.0, "acid_wash", wash());
        bench.step(100.1, "rinse", rinse());
        let ammonia = bench.step(100.2, "neutralise", neutralise());
        (bench, ammonia)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut rinsed, _) = washed();
        rinsed.step(100.3, "rinse", rinse());
        rinsed.step(101.0, "densify", densify());
        rinsed.expect_clear(&RULE);
        let mut never = Bench::poured();
        never.step(101.0, "densify", densify());
        never.expect_clear(&RULE);
        let (mut other, _) = washed();
        other.step(140.0, "seal_coat", coat(1));
        other.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut unrinsed, ammonia) = washed();
        let done = unrinsed.step(101.0, "densify", densify());
        unrinsed.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[ammonia, done]]);
        let (mut puddles, ammonia) = washed();
        puddles.step(100.3, "rinse", json!({ "standing_water_removed": "no" }));
        let done = puddles.step(101.0, "densify", densify());
        puddles.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[ammonia, done]]);
        let mut cleaner = Bench::poured();
        let cleaned = cleaner.step(100.0, "clean", json!({ "agent": "acid_cleaner" }));
        let body = with(coat(1), json!({ "product": id("densifier") }));
        let done = cleaner.step(101.0, "seal_coat", body);
        cleaner.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[cleaned, done]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut bench, ammonia) = washed();
        bench.step(100.3, "rinse", json!({ "standing_water_removed": "not_looked" }));
        let done = bench.step(101.0, "densify", densify());
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[ammonia, done]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = washed();
        bench.step(101.0, "densify", densify());
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_planned_densifier_waits_for_the_rinse() {
        let (mut bench, _) = washed();
        assert_eq!(bench.gate(&RULE, 101.0, "densify", &densify()).unwrap().state, GateState::Blocked);
        assert_eq!(bench.bare_gate(&RULE, 101.0, "densify").unwrap().state, GateState::Blocked);
        bench.step(100.3, "rinse", rinse());
        assert_eq!(bench.gate(&RULE, 101.0, "densify", &densify()), None);
    }
}
