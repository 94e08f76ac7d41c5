//! What is offered to touch where a field holds words: names from a closed list, and what was written before.

use super::control::{Offer, same};
use super::{Ask, objects};
use crate::body::{Group, Kind};
use crate::id::ObjectId;
use crate::routes;
use crate::rules;
use crate::shop::Step;

/// How many words written before are offered.
const OFFERED: usize = 6;
/// How many entries are looked at for them.
const LOOKED_AT: usize = 300;

/// The values of a text that names something of the program: a rule, a route, a kind of step.
pub(super) fn closed(ask: &Ask<'_>, name: &str) -> Option<Vec<Offer>> {
    use Kind as K;
    Some(match (ask.kind, name) {
        (K::Exception, "rule") => rules::ALL.iter().map(|rule| Offer::new(rule.code, rule.title)).collect(),
        (K::RouteChosen, "code") | (K::Route, "copied_from") => all_routes(ask),
        (K::TrialSpot, "of") => {
            let tried =
                [K::AcidWash, K::Clean, K::GritPass, K::Colour, K::Densify, K::SealCoat, K::Strip, K::Fill];
            tried.map(|kind| Offer::new(kind.wire(), kind.label())).to_vec()
        }
        _ => return None,
    })
}

/// The shop's own routes, then the shipped ones it has not edited.
fn all_routes(ask: &Ask<'_>) -> Vec<Offer> {
    let own = ask.shop.routes.values().filter_map(|it| it.now().route.route()).map(|it| &**it);
    let mut offers: Vec<Offer> = Vec::new();
    for route in own.chain(routes::shipped()) {
        if !offers.iter().any(|it| it.value == route.code) {
            offers.push(Offer { value: route.code.clone(), label: route.name.clone(), hint: None });
        }
    }
    offers
}

/// What the shop wrote in this field before, newest first; names of people where the field holds one.
pub(super) fn written_before(ask: &Ask<'_>, name: &str) -> Vec<Offer> {
    const OF_ONE_THING: [&str; 10] =
        ["name", "code", "batch", "address", "contact", "site", "route", "file", "approved_by", "zone"];
    if ask.kind.group() == Group::Setup || OF_ONE_THING.contains(&name) {
        return if name == "approved_by" { people(ask, Vec::new()) } else { Vec::new() };
    }
    let found = if name == "lot" { lots(ask) } else { texts(ask, name) };
    if is_person(name) { people(ask, found) } else { found }
}

fn is_person(name: &str) -> bool {
    ["received_by", "agreed_by", "taken_by", "accepted_by", "whom", "who"].contains(&name)
}

fn newest<'a>(ask: &Ask<'a>, kind: Kind) -> impl Iterator<Item = &'a Step> + use<'a> {
    let at = ask.at;
    ask.shop.of_kind(kind).rev().filter(move |step| step.done.start <= at).take(LOOKED_AT)
}

fn texts(ask: &Ask<'_>, name: &str) -> Vec<Offer> {
    let said = newest(ask, ask.kind).filter_map(|step| {
        let map = step.body()?.to_map();
        map.get(name)?.as_str().filter(|said| !said.trim().is_empty()).map(str::to_owned)
    });
    distinct(said.map(|it| Offer::named(it.clone(), &it, None)))
}

fn distinct(all: impl Iterator<Item = Offer>) -> Vec<Offer> {
    let mut kept: Vec<Offer> = Vec::new();
    for offer in all {
        if kept.len() < OFFERED && !kept.iter().any(|it| it.value == offer.value) {
            kept.push(offer);
        }
    }
    kept
}

/// Lots in use, with the product they are of.
fn lots(ask: &Ask<'_>) -> Vec<Offer> {
    let named = |id: &ObjectId| ask.shop.products.get(id).map(|it| it.now().name.clone());
    let said = newest(ask, ask.kind).filter_map(|step| {
        let map = step.body()?.to_map();
        let product = map.get("product").and_then(|it| it.as_str()).and_then(|it| it.parse().ok());
        let lot = map.get("lot")?.as_str()?.to_owned();
        Some(Offer::named(lot.clone(), &lot, product.as_ref().and_then(named).as_deref()))
    });
    distinct(said)
}

/// What was written before, then the client of the job and the people of the shop.
fn people(ask: &Ask<'_>, before: Vec<Offer>) -> Vec<Offer> {
    let shop = ask.shop;
    let job = ask.pieces.iter().find_map(|piece| shop.pieces.get(piece)?.now().job);
    let client = job.and_then(|job| shop.jobs.get(&job)?.now().client);
    let client = client.and_then(|id| shop.clients.get(&id)).map(|it| it.now().name.clone());
    let ours = shop.people.values().map(|it| it.now().name.clone());
    let names = client.into_iter().chain(ours).map(|it| Offer { label: same(&it), value: it, hint: None });
    distinct(before.into_iter().chain(names))
}

/// The one product, or tool, that fits the kind; none where there are several.
pub(super) fn only(ask: &Ask<'_>, sort: objects::Sort) -> Option<ObjectId> {
    match objects::all(ask, sort).as_slice() {
        [(id, ..)] => Some(*id),
        _ => None,
    }
}
