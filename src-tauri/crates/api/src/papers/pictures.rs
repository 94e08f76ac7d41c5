//! The pictures of both papers: plan, column, charts, places.

use chrono::Datelike;
use trowelogue_core::body::setup::Piece;
use trowelogue_core::body::{Body, Kind};
use trowelogue_core::chart::{self, ClimateReading};
use trowelogue_core::column::{self, Column, Scale};
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::picture::Picture;
use trowelogue_core::plan;
use trowelogue_core::rules::{self, Case, Finding, limits};
use trowelogue_core::shop::{Step, Versions};
use trowelogue_core::silhouette::{Spot, marked, silhouette};
use trowelogue_papers::model::Figure;

use super::{Maker, may_stand};
use crate::reading::{Teller, title};

/// Largest side of the plan that shows the places of fills, in millimetres.
const MAP_SIDE: f64 = 80.0;

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
        let case = Case::new(self.shop, piece);
        let seen = rules::strength_seen(&case, self.now, self.voice.lang);
        let strength = chart::strength(&seen, self.voice.system, self.voice.lang);
        let climate = chart::climate(&self.readings(&case), self.voice.system, self.voice.lang);
        strength.into_iter().chain(climate).map(|it| figure(it, true)).collect()
    }

    fn readings(&self, case: &Case<'_>) -> Vec<ClimateReading> {
        case.history.iter().filter_map(|step| self.reading(step)).collect()
    }

    fn reading(&self, step: &Step) -> Option<ClimateReading> {
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

    /// The plan with the places of fills on it; none where no place was recorded.
    pub(super) fn map(&self, piece: ObjectId) -> Option<Figure> {
        let case = Case::new(self.shop, piece);
        let fills = case.of(Kind::Fill).filter_map(|step| match step.body() {
            Some(Body::Fill(fill)) => Some((step, fill.at.as_deref()?)),
            _ => None,
        });
        let spots = fills.flat_map(|(step, at)| at.iter().map(move |spot| (step, spot)));
        let spots: Vec<Spot> = spots
            .map(|(step, at)| Spot {
                x_mm: at.x_mm,
                y_mm: at.y_mm,
                size_mm: at.size_mm,
                title: format!("{}, {}", title(&self.voice, step), self.voice.moment(&step.done.start)),
            })
            .collect();
        let facts = self.shop.pieces.get(&piece).map(Versions::now)?;
        let lang = self.voice.lang;
        (!spots.is_empty()).then(|| figure(marked(facts, &spots, MAP_SIDE, self.voice.system, lang), true))
    }
}

/// A picture on paper: its words are its text equivalent and, beside a chart, its legend.
fn figure(picture: Picture, chart: bool) -> Figure {
    let alt = format!("{}: {}", picture.title, picture.text.join(". "));
    let legend = if chart { picture.text } else { Vec::new() };
    Figure { drawing: picture.drawing, alt, caption: chart.then_some(picture.title), legend }
}
