//! `too-heavy`

use crate::rules::facts::is_unknown;
use crate::rules::prelude::*;
use crate::sums::load::{Load, Slab, load};

pub(crate) static RULE: Rule = Rule {
    code: "too-heavy",
    title: text("Nobody carries more than the shop's limit", "Nadie lleva más que el límite del taller"),
    severity: Severity::Stop,
    safety: true,
    basis: Basis::CommonPractice,
    why: text(
        "A back gives way without warning, and one who lets go drops the piece on the others. Stairs, reach and awkward edges make a load heavier than its figure.",
        "Una espalda cede sin aviso, y quien suelta deja caer la pieza sobre los demás. Escaleras, alcance y cantos incómodos hacen la carga mayor que su cifra.",
    ),
    remedy: text(
        "More people, or lifting gear, and record which. Local law on manual handling governs.",
        "Más personas o medios de izado, y registrar cuáles. Rige la ley local de manejo de cargas.",
    ),
    looks: &[Look::Step(&[Kind::Loading, Kind::Delivery, Kind::Install], judge)],
};

const MASS: Text = text("mass", "masa");
const PERSONS: Text = text("people who carried it", "personas que la llevaron");
const NEEDED: Text = text("people at the limit", "personas según el límite");
const LIMIT: Text = text("limit per person", "límite por persona");
const DENSITY: Text = text("density", "densidad");

fn judge(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let (persons, gear) = carried(subject);
    if gear.is_some_and(|it| !is_unknown(it)) {
        return Vec::new();
    }
    let limit = Applied::setting(past.case.shop.settings.lift_per_person_kg, &limits::PERSON_LIFT);
    let Some((load, density)) = weigh(past.case, limit.value) else {
        return vec![Hit::cannot_tell([], vec![missing(MASS)])];
    };
    let mut facts = vec![number(MASS, load.mass_kg, Dimension::Kilogram)];
    facts.extend(density.facts(DENSITY, Dimension::KilogramPerCubicMetre));
    facts.push(count(NEEDED, f64::from(load.persons), 0));
    facts.extend(limit.facts(LIMIT, Dimension::Kilogram));
    match persons {
        Some(persons) if persons >= load.persons => Vec::new(),
        Some(persons) => {
            facts.insert(0, count(PERSONS, f64::from(persons), 0));
            vec![Hit::violated([], facts)]
        }
        None if load.persons == 1 => Vec::new(),
        // Before the work it is said how many are needed; nothing is wrong yet.
        None if subject.step.is_none() => vec![Hit::violated([], facts).weighing(Severity::Caution)],
        None => {
            facts.insert(0, missing(PERSONS));
            vec![Hit::cannot_tell([], facts)]
        }
    }
}

/// Who carried it, and with what gear.
fn carried<'s>(subject: &Subject<'s>) -> (Option<u32>, Option<&'s str>) {
    let loaded = subject.read(view::loading).map(|it| (it.persons, it.lifting_gear.as_deref()));
    let delivered = || subject.read(view::delivery).map(|it| (it.persons, it.lifting_gear.as_deref()));
    let installed = || subject.read(view::install).map(|it| (it.persons, it.lifting_gear.as_deref()));
    loaded.or_else(delivered).or_else(installed).unwrap_or_default()
}

/// What a piece weighs, and how many persons share it at the shop's limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weight {
    /// Mass, in kilograms.
    pub mass_kg: f64,
    /// Persons who share it at the limit.
    pub persons: u32,
    /// The shop's limit per person, in kilograms.
    pub limit_kg: f64,
}

/// The weight of a piece, as the rule works it out; `None` where its size is not recorded or makes no sense.
pub fn weight(case: &Case<'_>) -> Option<Weight> {
    let limit = Applied::setting(case.shop.settings.lift_per_person_kg, &limits::PERSON_LIFT);
    let (load, _) = weigh(case, limit.value)?;
    Some(Weight { mass_kg: load.mass_kg, persons: load.persons, limit_kg: limit.value })
}

/// The weight of a piece by its size less cut-outs, and the density it was worked out with; `None` where its
/// size is not recorded or makes no sense.
fn weigh(case: &Case<'_>, per_person_kg: f64) -> Option<(Load, Applied)> {
    let piece = case.facts()?;
    let (length_mm, width_mm) = (piece.length_mm?, piece.width_mm?);
    let stated = case.mix().and_then(|mix| mix.density_kgm3);
    let density = Applied::setting(stated, &limits::DENSITY);
    let slab = Slab {
        length_mm,
        width_mm,
        thickness_mm: case.thickness_mm()?,
        density_kgm3: density.value,
        cut_outs_m2: crate::rules::plan_area::missing_m2(piece, length_mm * width_mm / 1e6),
        added_kg: 0.0,
        per_person_kg,
    };
    Some((load(&slab).ok()?, density))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::rules::testing::*;
    use crate::rules::{GateState, Verdict};

    /// 1000 × 600 × 30 mm of 2,400 kg/m³ weigh 43.2 kg.
    fn bench(per_person_kg: f64) -> Bench {
        let mut bench = Bench::poured();
        bench.settings(json!({ "lift_per_person_kg": per_person_kg }));
        bench
    }

    fn carried_by(persons: Option<u32>, gear: Option<&str>) -> serde_json::Value {
        json!({ "base_level": "yes", "persons": persons, "lifting_gear": gear })
    }

    #[test]
    pub(crate) fn clear() {
        for (limit, persons, gear) in [
            (21.6, Some(2), None),
            (43.2, None, None),
            (10.0, Some(1), Some("gantry")),
            (25.0, Some(2), Some("none")),
        ] {
            let mut bench = bench(limit);
            bench.step(300.0, "install", carried_by(persons, gear));
            bench.expect_clear(&RULE);
        }
    }

    #[test]
    pub(crate) fn violated() {
        for (limit, persons) in [(21.5, 2), (43.1, 1), (25.0, 1)] {
            let mut bench = bench(limit);
            let done = bench.step(300.0, "install", carried_by(Some(persons), None));
            bench.expect(&RULE, Verdict::Violated, Severity::Stop, &[&[done]]);
        }
    }

    #[test]
    pub(crate) fn cannot_tell() {
        let mut unsaid = bench(25.0);
        let done = unsaid.step(300.0, "install", carried_by(None, None));
        unsaid.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[done]]);
        let mut unmeasured = Bench::with_piece(json!({ "length_mm": null })).pour();
        let done = unmeasured.step(300.0, "install", carried_by(Some(1), None));
        unmeasured.expect(&RULE, Verdict::CannotTell, Severity::Caution, &[&[done]]);
    }

    #[test]
    pub(crate) fn excepted() {
        let mut bench = bench(25.0);
        bench.step(300.0, "install", carried_by(Some(1), None));
        bench.expect_accepted(&RULE);
    }

    #[test]
    fn cut_outs_and_the_density_of_the_mix_count() {
        // Half of it cut out, in a mix of 2,000 kg/m³: 18 kg.
        let hole = json!([{ "x_mm": 0, "y_mm": 0, "length_mm": 500, "width_mm": 600 }]);
        let mut bench = Bench::with_piece(json!({ "cut_outs": hole })).pour();
        let light = json!({ "name": "Mix", "aggregates": ["light"], "density_kgm3": 2000 });
        bench.object("mix", "mix", light);
        bench.step(300.0, "install", carried_by(Some(1), None));
        bench.expect_clear(&RULE);
    }

    #[test]
    fn the_weight_is_the_one_the_rule_judges_by() {
        let shop = bench(21.5).shop();
        let of = |shop: &crate::shop::Shop| weight(&Case::new(shop, id("piece")));
        let weighed = of(&shop).unwrap();
        assert!((weighed.mass_kg - 43.2).abs() < 1e-9 && (weighed.limit_kg - 21.5).abs() < 1e-9);
        assert_eq!(weighed.persons, 3);
        let unmeasured = Bench::with_piece(json!({ "length_mm": null })).pour();
        assert_eq!(of(&unmeasured.shop()), None);
    }

    #[test]
    fn a_planned_one_says_how_many_and_an_overload_is_stopped() {
        let bench = bench(25.0);
        let planned = bench.gate(&RULE, 300.0, "install", &carried_by(None, None)).unwrap();
        assert_eq!((planned.severity, planned.state), (Severity::Caution, GateState::Open));
        let overload = bench.gate(&RULE, 300.0, "install", &carried_by(Some(1), None)).unwrap();
        assert_eq!((overload.severity, overload.state), (Severity::Stop, GateState::Blocked));
    }
}
