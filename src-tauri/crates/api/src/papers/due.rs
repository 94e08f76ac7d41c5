//! The dates of a piece that count: first water, use, renewal, end of the warranty. Care sheet and calendar take them
//! from here.

use chrono::NaiveDate;
use trowelogue_core::body::Kind;
use trowelogue_core::body::setup::Product;
use trowelogue_core::id::ObjectId;
use trowelogue_core::materials;
use trowelogue_core::moment::{Moment, add_hours};
use trowelogue_core::shop::Step;
use trowelogue_core::sums::calendar::{Term, after};
use trowelogue_core::text::{Text, text};
use trowelogue_papers::model::{CareDates, Dated};

use super::{Maker, parts};

const DATA_SHEET: Text = text("data sheet", "ficha técnica");
const CLASS_DEFAULT: Text = text("class default", "valor de la clase");
const TERMS: Text = text("warranty terms", "condiciones de la garantía");

/// A date and what it was computed from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stands<T> {
    pub at: T,
    pub basis: Text,
}

/// The dates of a piece that are known.
#[derive(Debug, Clone, Default)]
pub(super) struct Due {
    /// From when it may get wet.
    pub first_water: Option<Stands<Moment>>,
    /// From when it may be used lightly.
    pub light_use: Option<Stands<Moment>>,
    /// From when it may be used fully.
    pub full_use: Option<Stands<Moment>>,
    /// First water-drop test.
    pub first_test: Option<Stands<NaiveDate>>,
    /// First renewal.
    pub renewal: Option<Stands<NaiveDate>>,
    /// Every how many months it is renewed, and the day they are counted from.
    pub renews: Option<(u32, NaiveDate)>,
    /// Last day of the warranty.
    pub warranty_end: Option<Stands<NaiveDate>>,
}

impl Maker<'_> {
    /// The dates of a piece: the data sheet's times from the last coat, else those of the class; months counted from
    /// the handover, else from the last coat.
    pub(super) fn due(&self, piece: ObjectId) -> Due {
        let warranty_end = self.warranty_end(piece);
        match parts::last_coat(self, piece) {
            Some((step, product)) => Due { warranty_end, ..self.due_of_coat(piece, step, product) },
            None => Due { warranty_end, ..Due::default() },
        }
    }

    fn due_of_coat(&self, piece: ObjectId, step: &Step, product: &Product) -> Due {
        let class = materials::of(product.class);
        let from = step.done.finish();
        let hours = |sheet: Option<f64>, default: Option<f64>| {
            let (value, basis) = chosen(sheet, default)?;
            Some(Stands { at: add_hours(from, value)?, basis })
        };
        let start = self.handover_day(piece).unwrap_or_else(|| self.voice.local(&from).date_naive());
        let renew = chosen(product.renew_months, class.renew_months);
        let months =
            |count: u32, basis: Text| Some(Stands { at: after(start, Term::Months(count)).ok()?, basis });
        Due {
            first_water: hours(product.water_h, class.water_h),
            light_use: hours(product.light_use_h, class.light_use_h),
            full_use: hours(product.full_use_h, class.full_use_h),
            first_test: renew.and_then(|(count, basis)| months((count / 2).max(1), basis)),
            renewal: renew.and_then(|(count, basis)| months(count, basis)),
            renews: renew.map(|(count, _)| (count, start)),
            warranty_end: None,
        }
    }

    /// The same, as the care sheet shows them.
    pub(super) fn care_dates(&self, due: &Due) -> CareDates {
        let moment =
            |it: Stands<Moment>| Dated { day: self.voice.moment(&it.at), basis: self.voice.say(it.basis) };
        let day =
            |it: Stands<NaiveDate>| Dated { day: self.voice.day(it.at), basis: self.voice.say(it.basis) };
        CareDates {
            first_water: due.first_water.map(moment),
            light_use: due.light_use.map(moment),
            full_use: due.full_use.map(moment),
            first_test: due.first_test.map(day),
            renewal: due.renewal.map(day),
            warranty_end: due.warranty_end.map(day),
        }
    }

    fn warranty_end(&self, piece: ObjectId) -> Option<Stands<NaiveDate>> {
        let months = self.shop.settings.warranty_months?;
        let at = after(self.handover_day(piece)?, Term::Months(months)).ok()?;
        Some(Stands { at, basis: TERMS })
    }

    pub(super) fn handover(&self, piece: ObjectId) -> Option<&Step> {
        let history = self.shop.history(piece);
        history.into_iter().rev().find(|step| step.kind == Some(Kind::Handover))
    }

    fn handover_day(&self, piece: ObjectId) -> Option<NaiveDate> {
        self.handover(piece).map(|step| self.voice.local(&step.done.start).date_naive())
    }
}

/// The data sheet's value, else the class's, and which of the two it is.
pub(super) fn chosen<T>(sheet: Option<T>, default: Option<T>) -> Option<(T, Text)> {
    match sheet {
        Some(value) => Some((value, DATA_SHEET)),
        None => default.map(|value| (value, CLASS_DEFAULT)),
    }
}
