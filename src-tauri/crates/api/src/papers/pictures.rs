//! The pictures of both papers: plan, column, charts, places.

use chrono::Datelike;
use trowelogue_core::body::setup::Piece;
use trowelogue_core::body::surface::Spot as Place;
use trowelogue_core::body::{Body, Kind};
use trowelogue_core::chart::{self, ClimateReading};
use trowelogue_core::column::{self, Column, Scale};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::picture::Picture;
use trowelogue_core::plan;
use trowelogue_core::rules::{self, Case, Finding, limits};
use trowelogue_core::shop::{Step, Versions};
use trowelogue_core::silhouette::{Mark, Spot, marked, measured, silhouette};
use trowelogue_papers::model::Figure;

use super::{Maker, may_stand};
use crate::reading::{Teller, first_upper, title};

/// Largest side of the plan that shows the places of fills, in millimetres.
const MAP_SIDE: f64 = 80.0;
/// Room of the large plan, measures not counted: width and height in millimetres.
const PLAN_ROOM: (f64, f64) = (146.0, 46.0);

impl Maker<'_> {
    /// The plan of a piece to scale.
    pub(super) fn outline(&self, piece: &Piece) -> Figure {
        figure(silhouette(piece, self.voice.system, self.voice.lang), false)
    }

    /// The course of a piece; none where nothing was done and nothing is known to be ahead.
    pub(super) fn column(&self, piece: ObjectId, findings: &[Finding]) -> Option<Column> {
        let shop = self.shop;
        let plan = plan::next_with(shop, piece, self.now, findings);
        let when = |moment: &Moment| self.voice.moment(moment);
        let teller = Teller { voice: &self.voice, shop, when: &when, key: &|it| it.rule.code.to_owned() };
        let mut course = teller.course(&plan, findings, self.now);
        course.done.retain(|it| shop.step(&it.hash).is_some_and(may_stand));
        let empty = course.done.is_empty() && course.ahead.is_empty();
        (!empty).then(|| column::column(&course, Scale::PAPER, self.voice.lang))
    }

    /// Strength with its gates, and the climate of coats, where they were recorded.
    pub(super) fn charts(&self, piece: ObjectId) -> Vec<Figure> {
        self.chart_pictures(piece).into_iter().map(|it| figure(it, true)).collect()
    }

    /// The same as pictures.
    pub(crate) fn chart_pictures(&self, piece: ObjectId) -> Vec<Picture> {
        let case = Case::new(self.shop, piece);
        let seen = rules::strength_seen(&case, self.now, self.voice.lang);
        let strength = chart::strength(&seen, self.voice.system, self.voice.lang);
        let climate = chart::climate(&self.readings(&case), self.voice.system, self.voice.lang);
        strength.into_iter().chain(climate).collect()
    }

    fn readings(&self, case: &Case<'_>) -> Vec<ClimateReading> {
        case.history.iter().filter_map(|step| self.reading(step)).collect()
    }

    /// What an entry read of air and surface, with the margin asked for.
    pub(crate) fn reading(&self, step: &Step) -> Option<ClimateReading> {
        let shop = self.shop;
        let ([air_c, rh_pct, surface_c], product) = match step.body()? {
            Body::Climate(it) => ([it.air_c, it.rh_pct, it.surface_c], None),
            Body::SealCoat(it) => ([it.air_c, it.rh_pct, it.surface_c], shop.products.get(&it.product)),
            _ => return None,
        };
        let sheet = product.and_then(|it| it.at(step.done.start).dew_margin_k);
        let limit_k = sheet.or(shop.settings.dew_margin_k).unwrap_or(limits::DEW_MARGIN.value);
        let day = self.voice.local(&step.done.start).date_naive();
        let when = self.voice.day(day).replacen(&format!(" {}", day.year()), "", 1);
        Some(ClimateReading { when, what: title(&self.voice, step), air_c, rh_pct, surface_c, limit_k })
    }

    /// The plan with the places of fills, flaws and photos on it; none where no place was recorded.
    pub(super) fn map(&self, piece: ObjectId) -> Option<Figure> {
        let spots = self.standing_spots(piece);
        let facts = self.shop.pieces.get(&piece).map(Versions::now)?;
        let lang = self.voice.lang;
        (!spots.is_empty()).then(|| figure(marked(facts, &spots, MAP_SIDE, self.voice.system, lang), true))
    }

    /// The plan with its measures and the places on it, large.
    pub(super) fn plan(&self, piece: ObjectId) -> Option<Figure> {
        let facts = self.shop.pieces.get(&piece).map(Versions::now)?;
        let spots = self.standing_spots(piece);
        let plan = measured(facts, &spots, PLAN_ROOM, self.voice.system, self.voice.lang);
        Some(figure(plan, false))
    }

    fn standing_spots(&self, piece: ObjectId) -> Vec<Spot> {
        self.spots(piece, may_stand).into_iter().map(|(_, spot)| spot).collect()
    }

    /// Every place that the entries in force name on the plan of a piece, with the entry.
    pub(crate) fn spots(&self, piece: ObjectId, may: impl Fn(&Step) -> bool) -> Vec<(&Step, Spot)> {
        let history = self.shop.history(piece).into_iter().filter(|step| may(step));
        history
            .flat_map(|step| places(step).into_iter().map(move |at| (step, at)))
            .map(|(step, at)| {
                let title = format!("{}, {}", title(&self.voice, step), self.voice.moment(&step.done.start));
                let spot =
                    Spot { mark: mark(step), x_mm: at.x_mm, y_mm: at.y_mm, size_mm: at.size_mm, title };
                (step, spot)
            })
            .collect()
    }
}

fn places(step: &Step) -> Vec<&Place> {
    let own = match step.body() {
        Some(Body::Fill(fill)) => fill.at.as_deref().unwrap_or_default(),
        _ => &[],
    };
    own.iter().chain(step.common().into_iter().flat_map(|common| &common.spots)).collect()
}

/// What an entry with a place marks: a fill, what a client complains of, what a photo shows, else a flaw.
fn mark(step: &Step) -> Mark {
    let photographed = step.common().is_some_and(|common| !common.photos.is_empty());
    match step.kind {
        Some(Kind::Fill) => Mark::Fill,
        _ if step.wire.starts_with("claim") => Mark::Claim,
        _ if photographed => Mark::Photo,
        _ => Mark::Chip,
    }
}

/// A picture on paper: its words are its text equivalent and, beside a chart, its legend.
fn figure(picture: Picture, chart: bool) -> Figure {
    let alt = format!("{}: {}", picture.title, picture.text.join(". "));
    let legend = if chart { picture.text.iter().map(|line| first_upper(line)).collect() } else { Vec::new() };
    Figure { drawing: picture.drawing, alt, caption: chart.then_some(picture.title), legend }
}
