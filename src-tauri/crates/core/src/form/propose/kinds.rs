//! What single kinds propose beyond route and last like step.

use serde_json::{Value, json};

use super::{Found, Source};
use crate::body::setup::{Piece, Product, Tool};
use crate::body::surface::DustControl;
use crate::body::{Body, Kind, Place};
use crate::form::candidates::only;
use crate::form::objects::Sort;
use crate::id::ObjectId;
use crate::materials;
use crate::moment::{self, Moment, add_hours, hours_between};
use crate::routes;
use crate::rules::limits;
use crate::shop::Step;
use crate::text::{Text, text};

/// Where nothing says how long a sealer is left alone. Common practice, no source.
const SEALER_CURE_H: f64 = 24.0;
const LEFT_ALONE: Text = text("left alone, kept from dust", "sin tocar, a resguardo del polvo");
const LAST_BATCH: &str = "batch";

pub(super) fn propose(found: &mut Found<'_, '_>) {
    match found.ask.kind {
        Kind::Pour => found.pour(),
        Kind::Strength => found.age(),
        Kind::GritPass => found.tool(),
        Kind::AcidWash | Kind::Fill | Kind::Densify | Kind::Clean => found.only_product(),
        Kind::Dry => found.at_the_usual_place(),
        Kind::SealCoat => found.coat(),
        Kind::SealerCure => found.sealer_cure(),
        Kind::RouteChosen => found.route(),
        Kind::Exception => found.accepted_by(),
        Kind::Settings => found.settings(),
        _ => {}
    }
    match found.ask.kind {
        Kind::SealCoat | Kind::Densify => found.area(),
        Kind::Fill => found.fill_material(),
        _ => {}
    }
}

impl<'a> Found<'_, 'a> {
    fn piece(&self) -> Option<&'a Piece> {
        let piece = self.ask.pieces.first()?;
        self.ask.shop.pieces.get(piece).map(|it| it.now())
    }

    fn pour(&mut self) {
        let piece = self.piece();
        if let Some(mix) = piece.and_then(|it| it.mix).or_else(|| only(self.ask, Sort::Mix)) {
            self.put("mix", json!(mix), Source::Piece);
        }
        if let Some(thickness) = piece.and_then(|it| it.thickness_mm) {
            self.put("thickness_mm", json!(thickness), Source::Piece);
        }
        let today = self.ask.at.date_naive();
        let last = self.ask.shop.of_kind(Kind::Pour).rev().find(|step| step.done.start.date_naive() == today);
        if let Some(Body::Pour(pour)) = last.and_then(Step::body) {
            self.put(LAST_BATCH, json!(pour.batch), Source::LastTime);
        }
    }

    /// Age of a specimen: from the pour to now.
    fn age(&mut self) {
        let pour = self.ask.pieces.first().and_then(|piece| self.ask.shop.pour_of(*piece));
        if let Some((_, pour)) = pour {
            let hours = hours_between(pour.done.start, self.ask.at);
            self.put("age_h", json!((hours * 10.0).round() / 10.0), Source::Pour);
        }
    }

    /// The tool the shop has, and what is recorded of it.
    fn tool(&mut self) {
        if let Some(tool) = only(self.ask, Sort::Tool) {
            self.put("tool", json!(tool), Source::OnlyOne);
        }
        let id = self.text_of("tool").and_then(|it| it.parse::<ObjectId>().ok());
        let tool: Option<&Tool> = id.and_then(|id| self.ask.shop.tools.get(&id)).map(|it| it.now());
        if let Some(tool) = tool {
            self.put("power", json!(tool.power), Source::Product);
            if tool.water_fed == Some(true) {
                self.put("wet", json!(true), Source::Product);
                self.put("dust", json!(DustControl::Water.wire()), Source::Product);
            }
        }
        self.put("scale", json!(crate::body::surface::GritScale::Pad.wire()), Source::Usual);
    }

    fn only_product(&mut self) {
        if let Some(product) = only(self.ask, Sort::Product) {
            self.put("product", json!(product), Source::OnlyOne);
        }
    }

    fn product(&self) -> Option<&'a Product> {
        let id = self.text_of("product")?.parse::<ObjectId>().ok()?;
        self.ask.shop.products.get(&id).map(|it| it.at(self.ask.at))
    }

    fn fill_material(&mut self) {
        if let Some(product) = self.product() {
            self.put("material", json!(product.class), Source::Product);
        }
    }

    fn at_the_usual_place(&mut self) {
        self.put("at", json!(Place::Shop.label().get(self.ask.reader.lang)), Source::Usual);
    }

    fn coat(&mut self) {
        self.only_product();
        self.put("coat", json!(self.next_coat()), Source::Piece);
        if let Some((done, [air, humidity, surface])) = self.climate() {
            for (name, value) in [("air_c", air), ("rh_pct", humidity), ("surface_c", surface)] {
                self.put(name, json!(value), Source::Read(done));
            }
        }
    }

    /// The number of the next coat where the route does not say it: after the coats since the face was worked.
    fn next_coat(&self) -> u32 {
        let Some(piece) = self.ask.pieces.first() else { return 1 };
        let mut coats = 0;
        for step in self.ask.shop.history(*piece) {
            match step.kind {
                Some(Kind::SealCoat) => coats += 1,
                Some(Kind::AcidWash | Kind::Strip | Kind::Fill) => coats = 0,
                _ => {}
            }
        }
        coats + 1
    }

    /// The newest climate reading that still speaks for now: on these pieces, else of the shop.
    fn climate(&self) -> Option<(Moment, [f64; 3])> {
        let fresh = |step: &&Step| {
            let age = hours_between(step.done.start, self.ask.at);
            (0.0..=limits::CLIMATE_FRESH.value).contains(&age)
        };
        let here = |step: &&Step| step.pieces.iter().any(|piece| self.ask.pieces.contains(piece));
        let all = || self.ask.shop.of_kind(Kind::Climate).rev().take_while(fresh);
        let coats = || self.ask.shop.of_kind(Kind::SealCoat).rev().take_while(fresh);
        let found = all().find(here).or_else(|| coats().find(here)).or_else(|| all().next())?;
        let readings = match found.body()? {
            Body::Climate(it) => [it.air_c, it.rh_pct, it.surface_c],
            Body::SealCoat(it) => [it.air_c, it.rh_pct, it.surface_c],
            _ => return None,
        };
        Some((found.done.start, readings))
    }

    fn sealer_cure(&mut self) {
        self.put("method", json!(LEFT_ALONE.get(self.ask.reader.lang)), Source::Usual);
        let coats = self.ask.pieces.iter().flat_map(|piece| self.ask.shop.history(*piece));
        let last = coats.filter(|step| step.kind == Some(Kind::SealCoat)).max_by_key(|step| step.done.start);
        let product = last.and_then(|step| match step.body()? {
            Body::SealCoat(coat) => {
                self.ask.shop.products.get(&coat.product).map(|it| it.at(step.done.start))
            }
            _ => None,
        });
        let sheet = product.and_then(|it| it.water_h.or(materials::of(it.class).water_h));
        let from = last.map_or(self.ask.at, |step| step.done.finish());
        let source = if sheet.is_some() { Source::Product } else { Source::Usual };
        if let Some(until) =
            add_hours(from, sheet.unwrap_or(SEALER_CURE_H)).filter(|until| *until > self.ask.at)
        {
            self.put("until", json!(moment::write(&until)), source);
        }
    }

    fn route(&mut self) {
        let route = self.piece().and_then(|it| it.finish).and_then(routes::shipped_for);
        if let Some(route) = route {
            self.put("code", json!(route.code), Source::Piece);
        }
    }

    fn accepted_by(&mut self) {
        let name =
            self.ask.person.and_then(|id| self.ask.shop.people.get(&id)).map(|it| it.now().name.clone());
        if let Some(name) = name {
            self.put("accepted_by", json!(name), Source::Usual);
        }
    }

    fn settings(&mut self) {
        if let Ok(Value::Object(now)) = serde_json::to_value(&self.ask.shop.settings) {
            for (name, value) in now {
                self.put(&name, value, Source::Recorded);
            }
        }
    }

    /// The area of the faces, from what is recorded of the pieces; nothing where one has no size.
    fn area(&mut self) {
        let areas = self.ask.pieces.iter().map(|piece| {
            let piece = self.ask.shop.pieces.get(piece)?.now();
            face_m2(piece)
        });
        if let Some(area) = areas.sum::<Option<f64>>().filter(|area| *area > 0.0) {
            self.put("area_m2", json!((area * 100.0).round() / 100.0), Source::Piece);
        }
    }
}

/// Area of a face, in m²: the outline, or length by width, less the cut-outs.
fn face_m2(piece: &Piece) -> Option<f64> {
    let whole = match piece.outline.as_deref() {
        Some(corners) if corners.len() > 2 => {
            let next = corners.iter().cycle().skip(1);
            let cross = corners.iter().zip(next).map(|(a, b)| a.x_mm * b.y_mm - b.x_mm * a.y_mm);
            cross.sum::<f64>().abs() / 2.0
        }
        _ => piece.length_mm? * piece.width_mm?,
    };
    let cut = piece.cut_outs.iter().flatten().map(|it| match it.width_mm {
        Some(width) => it.length_mm * width,
        None => std::f64::consts::FRAC_PI_4 * it.length_mm.powi(2),
    });
    Some((whole - cut.sum::<f64>()).max(0.0) / 1e6)
}
