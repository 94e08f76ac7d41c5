//! Which route a piece follows.

use super::{Held, shipped_for, shipped_with};
use crate::body::setup::RouteChosen;
use crate::body::{Body, Kind};
use crate::rules::Case;
use crate::shop::{Shop, Step};

/// The route a piece follows.
#[derive(Debug, Clone, PartialEq)]
pub struct InUse<'a> {
    /// The route.
    pub route: Held,
    /// The entry that chose it; none where only the finish points to a shipped route.
    pub chosen: Option<&'a Step>,
}

/// The route in force for a piece: the newest one chosen, as frozen then, else the shipped one for its finish.
/// `None` where neither is known, or where a newer version wrote what cannot be read here.
pub fn in_use<'a>(case: &Case<'a>) -> Option<InUse<'a>> {
    if let Some((step, chosen)) = newest_choice(case) {
        return frozen(case.shop, chosen).map(|route| InUse { route, chosen: Some(step) });
    }
    let finish = case.facts()?.finish?;
    shipped_for(finish).map(|route| InUse { route: Held::Shipped(route), chosen: None })
}

fn newest_choice<'a>(case: &Case<'a>) -> Option<(&'a Step, &'a RouteChosen)> {
    case.of(Kind::RouteChosen).rev().find_map(|step| match step.body() {
        Some(Body::RouteChosen(chosen)) => Some((step, &**chosen)),
        _ => None,
    })
}

/// The route of a choice: its frozen copy, else the shop's or the shipped route of that code and version.
fn frozen(shop: &Shop, chosen: &RouteChosen) -> Option<Held> {
    if let Some(copy) = &chosen.route {
        return copy.route().cloned();
    }
    let known = shipped_with(&chosen.code).filter(|route| route.version == chosen.version);
    known.map(Held::Shipped).or_else(|| of_shop(shop, chosen))
}

fn of_shop(shop: &Shop, chosen: &RouteChosen) -> Option<Held> {
    let mut read = shop.routes.values().filter_map(|entry| entry.now().route.route());
    read.find(|route| route.code == chosen.code && route.version == chosen.version).cloned()
}
