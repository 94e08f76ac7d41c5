//! Which route a piece follows.

use std::borrow::Cow;

use super::shipped::shipped_as;
use super::{Route, shipped_for, shipped_with};
use crate::body::setup::RouteChosen;
use crate::body::{Body, Kind};
use crate::rules::Case;
use crate::shop::{Shop, Step};

/// The route a piece follows.
#[derive(Debug, Clone, PartialEq)]
pub struct InUse<'a> {
    /// The route.
    pub route: Cow<'a, Route>,
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
    shipped_for(finish).map(|route| InUse { route: Cow::Borrowed(route), chosen: None })
}

fn newest_choice<'a>(case: &Case<'a>) -> Option<(&'a Step, &'a RouteChosen)> {
    case.of(Kind::RouteChosen).rev().find_map(|step| match step.body() {
        Some(Body::RouteChosen(chosen)) => Some((step, &**chosen)),
        _ => None,
    })
}

/// The route of a choice: its frozen copy, else the shop's or the shipped route of that code and version.
fn frozen<'a>(shop: &Shop, chosen: &RouteChosen) -> Option<Cow<'a, Route>> {
    let known = shipped_with(&chosen.code).filter(|route| route.version == chosen.version);
    let Some(value) = &chosen.route else {
        return known.map(Cow::Borrowed).or_else(|| of_shop(shop, chosen).map(Cow::Owned));
    };
    let copy = shipped_as(value).map(Cow::Borrowed);
    copy.or_else(|| Route::read(value).ok().map(Cow::Owned))
}

fn of_shop(shop: &Shop, chosen: &RouteChosen) -> Option<Route> {
    let written = shop.routes.values().map(crate::shop::Versions::now);
    let mut read = written.filter_map(|entry| Route::read(&entry.route).ok());
    read.find(|route| route.code == chosen.code && route.version == chosen.version)
}
