//! `recoat-window`

use super::{coats, product_fact};
use crate::body::sealing::SealCoat;
use crate::body::setup::Product;
use crate::materials;
use crate::rules::limits::Source;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "recoat-window",
    title: text(
        "The next coat goes on inside the recoat window",
        "La mano siguiente se da dentro de su ventana",
    ),
    severity: Severity::Stop,
    safety: false,
    basis: Basis::Sheet,
    why: text(
        "Too early, solvent or water of the last coat is shut in: haze, wrinkles, soft film. Too late, the last coat is hard and the next one only lies on it: it peels in sheets.",
        "Demasiado pronto se encierra el disolvente o el agua de la mano anterior: velo, arrugas, película blanda. Demasiado tarde la anterior está dura y la siguiente solo se apoya: se despega en láminas.",
    ),
    remedy: text(
        "Wait until the window opens. Past its end abrade the last coat first, clean off the dust, and record it.",
        "Esperar a que se abra la ventana. Pasado su fin, lijar antes la última mano, quitar el polvo y registrarlo.",
    ),
    looks: &[Look::Step(&[Kind::SealCoat], judge)],
};

const BETWEEN: Text = text("time since the last coat", "tiempo desde la última mano");
const EARLIEST: Text = text("earliest next coat", "mano siguiente, lo más pronto");
const LATEST: Text = text("latest next coat", "mano siguiente, lo más tarde");
const ABRADED: Text = text("abraded before", "lijado antes");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let coat = subject.read(view::seal_coat);
    let Some(&(before, last)) = coats(past, subject.region).last() else { return Vec::new() };
    let since = past.after(before);
    let stripped = since.all(view::strip).any(|(step, _)| covers(step, subject.region));
    if stripped || coat.is_some_and(|coat| coat.coat <= last.coat) {
        return Vec::new();
    }
    let product = past.case.product(last.product, before.done.start);
    let hours = hours_between(before.done.finish(), subject.at);
    let between = number(BETWEEN, hours, Dimension::Hour);
    let window = product.map(|it| window(it, last)).filter(|(min, max)| min.is_some() || max.is_some());
    let Some((min, max)) = window else {
        let facts = vec![between, product_fact(product), missing(EARLIEST), missing(LATEST)];
        return vec![Hit::cannot_tell([before], facts)];
    };
    let early = min.filter(|it| hours < it.value);
    if let Some(min) = early {
        let mut facts = vec![between];
        facts.extend(min.facts(EARLIEST, Dimension::Hour));
        let opens = add_hours(before.done.finish(), min.value);
        return vec![weighed(Hit::violated([before], facts), min).until(opens)];
    }
    let late = max.filter(|it| hours > it.value);
    late.and_then(|max| too_late(&since, subject, before, between, max)).into_iter().collect()
}

/// Earliest and latest next coat over the last one.
fn window(product: &Product, last: &SealCoat) -> (Option<Applied>, Option<Applied>) {
    let min = limits::of_product(product, |p| p.recoat_min_h, |c| c.recoat_min_h);
    let max = limits::of_product(product, |p| p.recoat_max_h, |c| c.recoat_max_h);
    let wet = last.wet_on_wet == Some(true) || materials::of(product.class).wet_on_wet;
    (min.filter(|_| !wet), max)
}

fn too_late(
    since: &Past<'_, '_>,
    subject: &Subject<'_>,
    before: &Step,
    between: Fact,
    max: Applied,
) -> Option<Hit> {
    let ground = since.all(view::grit_pass).any(|(step, _)| covers(step, subject.region));
    let said = subject.read(view::seal_coat).and_then(|coat| coat.abraded_before);
    if ground || said == Some(Answer::Yes) {
        return None;
    }
    let mut facts = vec![between];
    facts.extend(max.facts(LATEST, Dimension::Hour));
    facts.push(said.map_or(missing(ABRADED), |answer| word(ABRADED, answer.label())));
    let planned = subject.step.is_none();
    if said == Some(Answer::No) || planned {
        return Some(weighed(Hit::violated([before], facts), max));
    }
    Some(Hit::cannot_tell([before], facts))
}

/// A window from the sheet is a stop; one that only the class suggests is a caution.
fn weighed(hit: Hit, limit: Applied) -> Hit {
    if limit.source == Source::DataSheet { hit } else { hit.weighing(Severity::Caution) }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    /// A film with a window of 2 to 12 hours on its sheet, coated at hour 200.
    fn coated() -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        bench.product(
            "film",
            json!({ "class": "waterborne_urethane", "recoat_min_h": 2, "recoat_max_h": 12 }),
        );
        let first = bench.step(200.0, "seal_coat", film_coat(1));
        (bench, first)
    }

    #[test]
    pub(crate) fn clear() {
        for hours in [202.0, 212.0] {
            let (mut bench, _) = coated();
            bench.step(hours, "seal_coat", film_coat(2));
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        let (mut early, first) = coated();
        let second = early.step(201.9, "seal_coat", film_coat(2));
        early.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first, second]]);
        let (mut late, first) = coated();
        let second = late.step(212.1, "seal_coat", with(film_coat(2), json!({ "abraded_before": "no" })));
        late.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[first, second]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut late, first) = coated();
        let second = late.step(212.1, "seal_coat", film_coat(2));
        late.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[first, second]]);
        let mut unknown = Bench::poured();
        let stranger = |number| with(coat(number), json!({ "product": id("not in the shop") }));
        let first = unknown.step(200.0, "seal_coat", stranger(1));
        let second = unknown.step(202.0, "seal_coat", stranger(2));
        unknown.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[first, second]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = coated();
        bench.step(201.0, "seal_coat", film_coat(2));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn abrading_reopens_a_window_that_has_passed() {
        let (mut said, _) = coated();
        said.step(300.0, "seal_coat", with(film_coat(2), json!({ "abraded_before": "yes" })));
        said.expect_clear(&RULE);
        let (mut ground, _) = coated();
        ground.step(299.0, "grit_pass", with(hand_paper(320), json!({ "wet": false })));
        ground.step(300.0, "seal_coat", film_coat(2));
        ground.expect_clear(&RULE);
    }

    #[test]
    fn a_class_default_weighs_a_caution_and_is_named() {
        let mut bench = Bench::poured();
        bench.step(200.0, "seal_coat", film_coat(1));
        bench.step(201.0, "seal_coat", film_coat(2));
        let findings = bench.findings(&RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].severity, Severity::Caution);
        let source = Applied { value: 2.0, source: Source::ClassDefault };
        assert!(findings[0].facts.contains(&source.source_fact()), "{findings:#?}");
    }

    #[test]
    fn wet_on_wet_has_no_earliest_time() {
        let (mut bench, _) = coated();
        bench.step(220.0, "strip", json!({ "region": "face", "method": "paper", "residue_removed": "yes" }));
        bench.step(250.0, "seal_coat", with(film_coat(1), json!({ "wet_on_wet": true })));
        bench.step(250.2, "seal_coat", film_coat(2));
        bench.expect_clear(&RULE);
    }

    #[test]
    fn the_gate_opens_with_the_window_and_shuts_after_it() {
        let (bench, _) = coated();
        assert_eq!(
            bench.gate(&RULE, 201.0, "seal_coat", &film_coat(2)).unwrap().state,
            GateState::Until(at(202.0))
        );
        assert_eq!(bench.gate(&RULE, 205.0, "seal_coat", &film_coat(2)), None);
        assert_eq!(bench.gate(&RULE, 213.0, "seal_coat", &film_coat(2)).unwrap().state, GateState::Blocked);
    }
}
