//! Sealing: a dry, open, clean face, the climate, the coats and their times.

pub(crate) mod coat_near_dew_point;
pub(crate) mod face_not_open;
pub(crate) mod lot_expired;
pub(crate) mod recoat_window;
pub(crate) mod sealed_too_wet;

use crate::body::sealing::{MoistureMethod, SealCoat};
use crate::body::setup::{FinishKind, Product, Use};
use crate::body::surface::CleanAgent;
use crate::materials::{self, ClassFacts};
use crate::rules::prelude::*;

/// The product of a coat, as its sheet stood then, with the facts of its class.
pub(crate) fn product_of<'a>(
    past: &Past<'_, 'a>,
    coat: Option<&SealCoat>,
    subject: &Subject<'_>,
) -> Option<(&'a Product, &'static ClassFacts)> {
    let product = past.case.product(coat?.product, subject.at)?;
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

/// Whether a moisture method says something on this piece; `None` where the record does not tell.
pub(crate) fn in_scope(case: &Case<'_>, method: MoistureMethod, reference: Option<f64>) -> Option<bool> {
    let floor = || {
        let facts = case.facts()?;
        match (facts.finish, facts.used_as) {
            (Some(FinishKind::Floor), _) | (_, Some(Use::Floor)) => Some(true),
            (None, None) => None,
            _ => Some(false),
        }
    };
    match method {
        MoistureMethod::InSituRh | MoistureMethod::Vapour | MoistureMethod::Carbide => floor(),
        MoistureMethod::Impedance => Some(reference.is_some()),
        MoistureMethod::PlasticSheet | MoistureMethod::ConstantWeight => Some(true),
    }
}
