//! `plucking`

use super::{grit_fact, passes, region_fact, regions, size_um};
use crate::body::casting::{StrengthMethod, TrialResult};
use crate::body::surface::{GritPass, PassResult};
use crate::moment::Moment;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "plucking",
    title: text(
        "After plucking: stop, flush, wait, restart coarse",
        "Tras un arranque: parar, lavar, esperar, recomenzar grueso",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "The paste does not hold its grains yet. Going on tears out more, and every loose grain under the pad scores the face like grit 10; the scores show under every sealer.",
        "La pasta aún no sujeta los granos. Seguir arranca más, y cada grano suelto bajo el disco raya la cara como un grano 10; las rayas se ven bajo cualquier sellador.",
    ),
    remedy: text(
        "Flush face and pad, clean or change the pad, wait for strength (new evidence, or a day at least), then restart at the grit that takes the scores out, often the first one.",
        "Lavar cara y disco, limpiar o cambiar el disco, esperar resistencia (una prueba nueva o al menos un día) y recomenzar con el grano que borre las rayas, a menudo el primero.",
    ),
    looks: &[Look::Step(&[Kind::GritPass, Kind::SealCoat, Kind::Densify], judge), Look::Piece(left_open)],
};

const PLUCKED_AT: Text = text("plucked at grit", "arranque con grano");
const FLUSHED: Text = text("face and pad flushed", "cara y disco lavados");
const WAITED: Text = text("waited", "espera");
const STRENGTH: Text = text("new evidence of strength", "nueva prueba de resistencia");
const RESTARTED: Text = text("restarted at grit", "recomenzado con grano");

/// A pass or a coat right after a plucked pass.
fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    if subject.kind != Kind::GritPass {
        return regions(past, subject.region)
            .into_iter()
            .filter_map(|region| covered(past, region))
            .collect();
    }
    match plucked_last(past, subject.region) {
        Some((plucked, pass)) => next_pass(past, subject, plucked, pass).into_iter().collect(),
        None => Vec::new(),
    }
}

/// The last pass over a region, if it plucked.
fn plucked_last<'a>(past: &Past<'_, 'a>, region: Option<Region>) -> Option<(&'a Step, &'a GritPass)> {
    passes(past, region).last().copied().filter(|(_, pass)| pass.result == PassResult::Plucking)
}

fn opening_facts(plucked: &Step, pass: &GritPass) -> Vec<Fact> {
    std::iter::once(grit_fact(PLUCKED_AT, pass)).chain(region_fact(region_of(plucked))).collect()
}

/// A coat or a densifier over a region that plucked and was not ground again.
fn covered(past: &Past<'_, '_>, region: Region) -> Option<Hit> {
    let (plucked, pass) = plucked_last(past, Some(region))?;
    let mut facts = opening_facts(plucked, pass);
    facts.push(missing(RESTARTED));
    Some(Hit::violated([plucked], facts))
}

fn next_pass(past: &Past<'_, '_>, subject: &Subject<'_>, plucked: &Step, pass: &GritPass) -> Option<Hit> {
    let since = past.after(plucked);
    let mut facts = opening_facts(plucked, pass);
    let flushed = flushed(&since, subject.region);
    let opens = strength_since(&since, plucked);
    let waiting = opens.is_some_and(|opens| opens > subject.at);
    let finer = subject.read(view::grit_pass).and_then(|next| restarted_finer(pass, next));
    if waiting {
        facts.push(missing(STRENGTH));
        facts.push(number(WAITED, hours_between(plucked.done.start, subject.at), Dimension::Hour));
        facts.push(limits::PLUCK_WAIT.fact());
    }
    let refused = matches!(flushed, Some(Answer::No) | None);
    let breach = refused || waiting || finer.is_some();
    facts.extend(finer);
    facts.push(flushed.map_or(missing(FLUSHED), |it| word(FLUSHED, it.label())));
    if breach {
        return Some(Hit::violated([plucked], facts).until(opens.filter(|_| waiting && !refused)));
    }
    (flushed == Some(Answer::NotLooked)).then(|| Hit::cannot_tell([plucked], facts))
}

/// Whether face and pad were flushed since.
fn flushed(since: &Past<'_, '_>, region: Option<Region>) -> Option<Answer> {
    let flushes = since.all(view::flush).filter(|(step, _)| covers(step, region));
    flushes.map(|(_, flush)| flush.pad_cleaned).min_by_key(|answer| *answer as u8)
}

/// From when on strength may be counted on: from new evidence, else a day after.
fn strength_since(since: &Past<'_, '_>, plucked: &Step) -> Option<Moment> {
    let proves = |it: &crate::body::casting::Strength| match it.method {
        StrengthMethod::TrialGrind => it.trial == Some(TrialResult::Shaved),
        StrengthMethod::Cylinder | StrengthMethod::Cube | StrengthMethod::Maturity => it.result_mpa.is_some(),
        _ => false,
    };
    let proven = since.all(view::strength).find(|(_, it)| proves(it)).map(|(step, _)| step.done.start);
    proven.or_else(|| add_hours(plucked.done.finish(), limits::PLUCK_WAIT.value))
}

/// The next grit as a fact, where it is finer than the one that plucked.
fn restarted_finer(plucked: &GritPass, next: &GritPass) -> Option<Fact> {
    let (from, to) = (size_um(plucked)?, size_um(next)?);
    (to * limits::SAME_GRIT.value < from).then(|| grit_fact(RESTARTED, next))
}

/// A plucked pass that nothing followed yet.
fn left_open(case: &Case<'_>) -> Vec<Hit> {
    let past = case.whole();
    let plucked = past.all(view::grit_pass).filter(|(_, pass)| pass.result == PassResult::Plucking);
    let open = plucked.filter(|(step, _)| {
        let since = past.after(step);
        !since.steps.iter().any(|it| {
            matches!(it.kind, Some(Kind::GritPass | Kind::SealCoat | Kind::Densify))
                && covers(it, region_of(step))
        })
    });
    open.map(|(step, pass)| Hit::violated([step], vec![grit_fact(PLUCKED_AT, pass), missing(RESTARTED)]))
        .collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn plucked() -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        let hash = bench.step(30.0, "grit_pass", with(pass(50), json!({ "result": "plucking" })));
        (bench, hash)
    }

    fn flush() -> serde_json::Value {
        json!({ "pad_cleaned": "yes", "region": "face" })
    }

    #[test]
    pub(crate) fn clear() {
        let (mut waited, _) = plucked();
        waited.step(30.5, "flush", flush());
        waited.step(54.0, "grit_pass", pass(50));
        waited.expect_clear(&RULE);
        let (mut proven, _) = plucked();
        proven.step(30.5, "flush", flush());
        proven.step(38.0, "strength", json!({ "method": "trial_grind", "trial": "shaved" }));
        proven.step(39.0, "grit_pass", metal(20));
        proven.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut unflushed, first) = plucked();
        let next = unflushed.step(60.0, "grit_pass", pass(50));
        unflushed.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first, next]]);
        let (mut hasty, first) = plucked();
        hasty.step(30.5, "flush", flush());
        let next = hasty.step(53.9, "grit_pass", pass(50));
        hasty.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first, next]]);
        let (mut finer, first) = plucked();
        finer.step(30.5, "flush", flush());
        let next = finer.step(60.0, "grit_pass", pass(100));
        finer.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first, next]]);
        let (open, first) = plucked();
        open.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut bench, first) = plucked();
        bench.step(30.5, "flush", json!({ "pad_cleaned": "not_looked", "region": "face" }));
        let next = bench.step(60.0, "grit_pass", pass(50));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[first, next]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = plucked();
        bench.step(60.0, "grit_pass", pass(50));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn a_coat_over_a_plucked_face_is_a_breach_and_another_region_is_not() {
        let (mut coated, first) = plucked();
        let coat = coated.step(100.0, "seal_coat", coat(1));
        coated.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first, coat]]);
        let (mut edge, first) = plucked();
        edge.step(31.0, "grit_pass", with(pass(50), json!({ "region": "edge" })));
        edge.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first]]);
    }

    #[test]
    fn the_gate_asks_for_the_flush_then_names_the_hour() {
        let (mut bench, _) = plucked();
        let gate = bench.gate(&RULE, 31.0, "grit_pass", &pass(50)).unwrap();
        assert_eq!(gate.state, GateState::Blocked);
        bench.step(31.0, "flush", flush());
        let gate = bench.gate(&RULE, 32.0, "grit_pass", &pass(50)).unwrap();
        assert_eq!(gate.state, GateState::Until(at(54.0)));
        assert_eq!(bench.gate(&RULE, 54.0, "grit_pass", &pass(50)), None);
    }
}
