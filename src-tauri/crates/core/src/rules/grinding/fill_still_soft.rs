//! `fill-still-soft`

use super::region_fact;
use crate::body::setup::MaterialClass;
use crate::body::surface::Fill;
use crate::materials;
use crate::rules::limits::Source;
use crate::rules::prelude::*;

pub(crate) static RULE: Rule = Rule {
    code: "fill-still-soft",
    title: text("A fill hardens before the next pass", "El relleno endurece antes de la siguiente pasada"),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "A soft fill is torn out of its holes and smeared over the face; what stays sinks as it dries and shows as a dish in every hole. Cement needs 12 hours at least, 24 as a rule; resins and UV fills minutes.",
        "Un relleno blando se arranca de los huecos y se embarra por la cara; lo que queda se hunde al secar y se ve como un plato en cada hueco. El cemento pide 12 horas como poco y 24 de ordinario; resinas y UV, minutos.",
    ),
    remedy: text(
        "Wait until the fill has its hours, damp and covered if it is cement. Where it was ground too early: look into the holes, fill again where they are torn.",
        "Esperar sus horas, húmedo y cubierto si es de cemento. Si se desbastó antes: mirar los huecos y rellenar de nuevo los arrancados.",
    ),
    looks: &[Look::Step(&[Kind::GritPass], judge)],
};

const HARDENED: Text = text("hardened for", "endurecido durante");
const ASKED: Text = text("hours until hard", "horas hasta endurecer");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let fills = past.all(view::fill).rfind(|(step, _)| covers(step, subject.region));
    fills.and_then(|(step, fill)| soft(past, subject, step, fill)).into_iter().collect()
}

fn soft(past: &Past<'_, '_>, subject: &Subject<'_>, step: &Step, fill: &Fill) -> Option<Hit> {
    // Judged once: at the first pass over it.
    let ground = past.after(step).all(view::grit_pass).any(|(it, _)| covers(it, subject.region));
    if ground && subject.step.is_some() {
        return None;
    }
    let from = step.done.finish();
    let mut facts = vec![word(text("fill", "relleno"), fill.material.label())];
    facts.extend(region_fact(subject.region));
    facts.push(number(HARDENED, hours_between(from, subject.at), Dimension::Hour));
    let Some(asked) = hours_of(past, step, fill) else {
        facts.push(missing(ASKED));
        return Some(Hit::cannot_tell([step], facts));
    };
    facts.extend(asked.facts(ASKED, Dimension::Hour));
    let opens = add_hours(from, asked.value);
    let soft = opens.is_some_and(|opens| subject.at < opens);
    soft.then(|| Hit::violated([step], facts).until(opens))
}

/// The product's sheet, else its class, else the class of the material; cement has a default of its own.
fn hours_of(past: &Past<'_, '_>, step: &Step, fill: &Fill) -> Option<Applied> {
    let product = fill.product.and_then(|id| past.case.product(id, step.done.start));
    let of_product = product.and_then(|it| limits::of_product(it, |p| p.fill_cure_h, |c| c.fill_cure_h));
    let of_class = || {
        let value = materials::of(fill.material).fill_cure_h?;
        Some(Applied { value, source: Source::ClassDefault })
    };
    let cement = (fill.material == MaterialClass::CementFill).then_some(Applied::shipped(&limits::FILL_CURE));
    of_product.or_else(of_class).or(cement)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    fn filled(more: serde_json::Value) -> (Bench, crate::id::Hash) {
        let mut bench = Bench::poured();
        bench.step(99.0, "grit_pass", pass(50));
        let hash = bench.step(100.0, "fill", with(cement_fill(), more));
        (bench, hash)
    }

    #[test]
    pub(crate) fn clear() {
        let (mut bench, _) = filled(json!({}));
        bench.step(112.0, "grit_pass", pass(50));
        bench.expect_clear(&RULE);
    }

    #[test]
    pub(crate) fn violated() {
        let (mut bench, fill) = filled(json!({}));
        let ground = bench.step(111.9, "grit_pass", pass(50));
        bench.step(111.95, "grit_pass", pass(100));
        bench.expect(&RULE, Verdict::Violated, Severity::Caution, &[&[fill, ground]]);
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let (mut bench, fill) = filled(json!({ "material": "epoxy", "product": null }));
        let ground = bench.step(140.0, "grit_pass", pass(50));
        bench.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[fill, ground]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let (mut bench, _) = filled(json!({}));
        bench.step(101.0, "grit_pass", pass(50));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn resin_and_uv_are_hard_in_minutes() {
        for (material, hours, clear) in [
            ("resin_fill", 0.49, false),
            ("resin_fill", 0.5, true),
            ("uv_cured", 0.09, false),
            ("uv_cured", 0.1, true),
        ] {
            let (mut bench, _) = filled(json!({ "material": material, "product": null }));
            bench.step(100.0 + hours, "grit_pass", pass(50));
            assert_eq!(bench.findings(&RULE).is_empty(), clear, "{material} {hours}");
        }
    }

    #[test]
    fn the_data_sheet_beats_the_default_and_the_gate_names_the_hour() {
        let (mut bench, _) = filled(json!({}));
        bench.product("fill", json!({ "class": "cement_fill", "fill_cure_h": 24 }));
        let gate = bench.gate(&RULE, 113.0, "grit_pass", &pass(50)).unwrap();
        assert_eq!(gate.state, GateState::Until(at(124.0)));
        assert_eq!(bench.gate(&RULE, 124.0, "grit_pass", &pass(50)), None);
        assert!(bench.bare_gate(&RULE, 113.0, "grit_pass").is_some());
    }
}
