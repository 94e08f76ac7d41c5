//! Sealing: a dry, open, clean face, the climate, the coats and their times.

pub(crate) mod coarse_end_on_weak;
pub(crate) mod coat_near_dew_point;
pub(crate) mod coat_out_of_range;
pub(crate) mod coat_over_open_pores;
pub(crate) mod concrete_too_young;
pub(crate) mod face_not_open;
pub(crate) mod film_on_dirty_face;
pub(crate) mod lot_expired;
pub(crate) mod lot_missing;
pub(crate) mod moisture_out_of_scope;
pub(crate) mod not_to_refusal;
pub(crate) mod pot_life_passed;
pub(crate) mod quantity_off;
pub(crate) mod recoat_window;
pub(crate) mod sealed_too_wet;
pub(crate) mod silicate_over_residue;
pub(crate) mod surface_warming;
pub(crate) mod too_fine_for_film;
pub(crate) mod used_before_cured;

use crate::body::sealing::{Moisture, MoistureMethod, SealCoat};
use crate::body::setup::{FinishKind, Product, Use};
use crate::body::surface::{CleanAgent, GritScale};
use crate::materials::{self, ClassFacts};
use crate::rules::prelude::*;
use crate::sums::grit::Grit;

/// The product of a coat, as its sheet stood then, with the facts of its class; of a planned coat also where the
/// product is all that is known.
pub(crate) fn product_of<'a>(
    past: &Past<'_, 'a>,
    coat: Option<&SealCoat>,
    subject: &Subject<'_>,
) -> Option<(&'a Product, &'static ClassFacts)> {
    let product = past.case.product(coat.map(|it| it.product).or(subject.product)?, subject.at)?;
    Some((product, materials::of(product.class)))
}

/// The product as a fact; missing where the shop has no such product.
pub(crate) fn product_fact(product: Option<&Product>) -> Fact {
    let name = text("product", "producto");
    product.map_or(missing(name), |it| said(name, &it.name))
}

/// Whether a step leaves the face wet.
pub(crate) fn is_wet(step: &Step) -> bool {
    let Some(body) = step.body() else { return false };
    match step.kind {
        Some(Kind::Rinse | Kind::AcidWash | Kind::Neutralise | Kind::Flush | Kind::WaterTest) => true,
        Some(Kind::Clean) => view::clean(body).is_some_and(|it| it.agent != CleanAgent::Solvent),
        Some(Kind::GritPass) => view::grit_pass(body).is_some_and(|it| it.wet),
        _ => false,
    }
}

/// The coats over a region so far.
pub(crate) fn coats<'a>(past: &Past<'_, 'a>, region: Option<Region>) -> Vec<(&'a Step, &'a SealCoat)> {
    past.all(view::seal_coat).filter(|(step, _)| covers(step, region)).collect()
}

/// Whether a coat is the first of its application; of a planned one, whether none came before.
pub(crate) fn is_first_coat(past: &Past<'_, '_>, subject: &Subject<'_>) -> bool {
    match subject.read(view::seal_coat) {
        Some(coat) => coat.coat == 1,
        None => coats(past, subject.region).is_empty(),
    }
}

/// What came after the last coat over a region: of a repair, only the work it is laid on.
pub(crate) fn since_last_application<'c, 'a>(past: &Past<'c, 'a>, region: Option<Region>) -> Past<'c, 'a> {
    coats(past, region).last().map_or(*past, |(step, _)| past.after(step))
}

/// Air, humidity and surface at a coat: its own, or of a planned one the last reading young enough to speak for
/// it, with the entry that holds it.
pub(crate) fn climate_of<'a>(
    past: &Past<'_, 'a>,
    subject: &Subject<'_>,
) -> Option<(Vec<&'a Step>, [f64; 3])> {
    if let Some(coat) = subject.step.and(subject.read(view::seal_coat)) {
        return Some((Vec::new(), [coat.air_c, coat.rh_pct, coat.surface_c]));
    }
    let (step, climate) = past.last(view::climate)?;
    let fresh = hours_between(step.done.start, subject.at) <= limits::CLIMATE_FRESH.value;
    fresh.then(|| (vec![step], [climate.air_c, climate.rh_pct, climate.surface_c]))
}

/// Particle size of a pad number, in µm.
pub(crate) fn pad_um(number: f64) -> Option<f64> {
    Grit { number, scale: GritScale::Pad }.particle_um().ok()
}

/// Whether a moisture reading says something on this piece; `None` where the record does not tell.
pub(crate) fn in_scope(case: &Case<'_>, reading: &Moisture) -> Option<bool> {
    let floor = || {
        let facts = case.facts()?;
        match (facts.finish, facts.used_as) {
            (Some(FinishKind::Floor), _) | (_, Some(Use::Floor)) => Some(true),
            (None, None) => None,
            _ => Some(false),
        }
    };
    match reading.method {
        MoistureMethod::InSituRh | MoistureMethod::Vapour | MoistureMethod::Carbide => floor(),
        MoistureMethod::Impedance => Some(reading.reference.is_some()),
        // The method is a sheet left on for its time; fewer hours stated make it another one.
        MoistureMethod::PlasticSheet => Some(reading.laid_h.is_none_or(|h| h >= limits::SHEET_ON.value)),
        MoistureMethod::ConstantWeight => Some(true),
    }
}
