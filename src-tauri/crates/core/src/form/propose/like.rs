//! The last like step: what was used then is proposed again, never what was observed.

use serde_json::{Map, Value};

use super::{Found, Source};
use crate::body::{Kind, Region};
use crate::plan::is_carried;
use crate::shop::Step;

/// Values a form carries over beside those the planner does: how the work was done, with what.
const ALSO_CARRIED: &[&str] = &[
    "water_parts",
    "acid_parts",
    "agent_parts",
    "scale",
    "bond",
    "wet",
    "backer",
    "pad",
    "dwell_min",
    "passes",
    "times",
    "hardener_parts",
    "wrap",
    "form",
    "release",
    "release_lot",
    "logger",
    "care_sheet",
    "consolidation",
    "layers",
    "adhesive",
    "adhesive_lot",
    "adhesive_expires",
    "sealant",
    "cover",
    "of",
    "light",
    "distance_mm",
    "inherent",
    "touch_up_contact",
    "edges_guarded",
    "to_refusal",
    "wet_on_wet",
];
/// A like step agrees with the route in these, or it was another sort of work.
const TELLING: &[&str] = &["bond", "agent", "acid", "method", "material", "of", "scale"];
/// What belongs to a lot of a product.
const OF_A_LOT: &[&str] = &["lot", "expires", "extended_until", "hardener_parts", "concentrate_pct"];
/// Kinds that use a product by its lot.
const USE_LOTS: &[Kind] =
    &[Kind::SealCoat, Kind::Fill, Kind::Densify, Kind::Colour, Kind::AcidWash, Kind::ServiceVisit];
/// How many steps of others are looked at.
const LOOKED_AT: usize = 300;

impl<'a> Found<'_, 'a> {
    pub(super) fn carry(&mut self) {
        if let Some(values) = self.last_like().and_then(Step::body).map(crate::body::Body::to_map) {
            let by_product = values.contains_key("product");
            for (name, value) in values {
                let name_is = |list: &[&str]| list.contains(&name.as_str());
                // A lot goes with its product, whose newest use is looked for afterwards.
                let of_a_lot = by_product && name_is(OF_A_LOT);
                if !of_a_lot && (is_carried(&name) || name_is(ALSO_CARRIED)) {
                    self.put(&name, value, Source::LastTime);
                }
            }
        }
        self.usual_region();
    }

    /// The newest like step: on these pieces, else by this person, else of anybody.
    fn last_like(&self) -> Option<&'a Step> {
        let ask = self.ask;
        let like = |step: &&Step| step.done.start <= ask.at && self.agrees(step);
        let here = ask.pieces.iter().flat_map(|piece| ask.shop.history(*piece));
        let here =
            here.filter(|step| step.kind == Some(ask.kind)).filter(like).max_by_key(|step| step.done.start);
        here.or_else(|| self.newest(ask.kind).find(|step| Some(step.person) == ask.person && like(step)))
            .or_else(|| self.newest(ask.kind).find(like))
    }

    fn newest(&self, kind: Kind) -> impl Iterator<Item = &'a Step> + use<'a> {
        let at = self.ask.at;
        self.ask.shop.of_kind(kind).rev().filter(move |step| step.done.start <= at).take(LOOKED_AT)
    }

    fn agrees(&self, step: &Step) -> bool {
        let Some(body) = step.body().map(crate::body::Body::to_map) else { return false };
        let region = step.common().and_then(|common| common.region);
        TELLING.iter().all(|name| self.same(&body, name)) && self.same_region(region)
    }

    fn same(&self, body: &Map<String, Value>, name: &str) -> bool {
        let found = self.values.get(name).map(|it| &it.stored);
        found.is_none_or(|planned| body.get(name).is_none_or(|it| it == planned))
    }

    fn same_region(&self, region: Option<Region>) -> bool {
        let wanted = self.text_of("region");
        wanted.is_none_or(|wanted| region.is_none_or(|region| region.wire() == wanted))
    }

    /// Lot, date and mix of the product as it was used last, on whatever piece.
    pub(super) fn lot_of_product(&mut self) {
        let Some(product) = self.text_of("product").map(str::to_owned) else { return };
        let used = USE_LOTS.iter().filter_map(|kind| {
            self.newest(*kind).find_map(|step| {
                let body = step.body()?.to_map();
                (body.get("product")?.as_str()? == product && body.contains_key("lot"))
                    .then_some((step.done.start, body))
            })
        });
        let Some((_, body)) = used.max_by_key(|(done, _)| *done) else { return };
        for name in OF_A_LOT {
            if let Some(value) = body.get(*name) {
                self.put(name, value.clone(), Source::LastTime);
            }
        }
    }

    /// In the shop or on site, as the piece was worked on last.
    pub(super) fn place(&mut self) {
        let history = self.ask.pieces.iter().flat_map(|piece| self.ask.shop.history(*piece));
        let places = history.filter_map(|step| Some((step.done.start, step.common()?.place?)));
        let last = places.filter(|(done, _)| *done <= self.ask.at).max_by_key(|(done, _)| *done);
        if let Some((_, place)) = last {
            self.put("place", Value::from(place.wire()), Source::LastTime);
        }
    }
}
