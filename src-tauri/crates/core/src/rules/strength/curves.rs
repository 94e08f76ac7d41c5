//! The strength-maturity curve of a mix, fitted to the shop's own breaks, and the temperatures of a pour.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::evidence::cylinder_mpa;
use crate::body::Kind;
use crate::body::casting::Medium;
use crate::id::ObjectId;
use crate::moment::{Moment, add_hours, hours_between};
use crate::rules::case::Case;
use crate::rules::view;
use crate::shop::{LentBreaks, PourFacts, Shop, Step};
use crate::sums::curve::Form;
use crate::sums::fit::{Break, Fit, fit};
use crate::sums::maturity::{History, Maturity, Model, Reading, maturity};

/// Curves fitted so far, shared by the cases of one look at a shop. A cache only: every curve follows from
/// the shop.
#[derive(Clone, Default)]
pub(crate) struct Curves(Rc<RefCell<BTreeMap<ObjectId, Option<Rc<Fit>>>>>);

impl Curves {
    /// The curve of a mix; `None` where its breaks make none.
    pub(crate) fn of(&self, shop: &Shop, mix: ObjectId) -> Option<Rc<Fit>> {
        if let Some(known) = self.0.borrow().get(&mix) {
            return known.clone();
        }
        let fitted = fit_mix(shop, mix).map(Rc::new);
        self.0.borrow_mut().insert(mix, fitted.clone());
        fitted
    }
}

fn fit_mix(shop: &Shop, mix: ObjectId) -> Option<Fit> {
    fit(Form::Hyperbolic, &breaks_of_mix(shop, mix)).ok()
}

/// The breaks of a mix's own specimens whose temperatures are known, at their equivalent ages.
pub(super) fn breaks_of_mix(shop: &Shop, mix: ObjectId) -> Vec<Break> {
    let lent = shop.lent.get(&mix).map(|it| &it.by_maturity[..]);
    in_order(by_maturity(shop, |_, pour| pour.mix == mix), lent)
}

/// The breaks of a mix's own specimens at their age by the calendar.
pub(super) fn breaks_by_age(shop: &Shop, mix: ObjectId) -> Vec<Break> {
    let lent = shop.lent.get(&mix).map(|it| &it.by_age[..]);
    in_order(by_age(shop, |_, pour| pour.mix == mix), lent)
}

/// What the breaks of these pours are as numbers, for somebody who may not see their entries.
pub fn lend(shop: &Shop, pours: &BTreeSet<ObjectId>) -> LentBreaks {
    let among = |id: &ObjectId, _: &PourFacts| pours.contains(id);
    LentBreaks { by_maturity: by_maturity(shop, among), by_age: by_age(shop, among) }
}

/// Own and lent breaks by age: the curve follows from what they are, not from where they came from.
fn in_order(mut breaks: Vec<Break>, lent: Option<&[Break]>) -> Vec<Break> {
    breaks.extend(lent.into_iter().flatten());
    breaks.sort_by(|a, b| {
        let age = a.equivalent_age_h.total_cmp(&b.equivalent_age_h);
        age.then(a.strength_mpa.total_cmp(&b.strength_mpa))
    });
    breaks
}

fn by_maturity(shop: &Shop, of: impl Fn(&ObjectId, &PourFacts) -> bool) -> Vec<Break> {
    breaks_at(shop, of, |steps, poured, at| {
        let history = temperatures(steps.iter().copied(), Some(poured))?.until(at).ok()?;
        Some(maturity(&history, Model::default()).ok()?.equivalent_age_h)
    })
}

fn by_age(shop: &Shop, of: impl Fn(&ObjectId, &PourFacts) -> bool) -> Vec<Break> {
    breaks_at(shop, of, |_, poured, at| Some(hours_between(poured, at)).filter(|hours| *hours >= 0.0))
}

/// The breaks of some pours, each at the age `age_h` finds from the temperature entries of its pour, the end of
/// the pour and the moment of the break.
fn breaks_at(
    shop: &Shop,
    of: impl Fn(&ObjectId, &PourFacts) -> bool,
    age_h: impl Fn(&[&Step], Moment, Moment) -> Option<f64>,
) -> Vec<Break> {
    let tests = shop.of_kind(Kind::Strength).filter(|step| cylinder_break(step).is_some());
    let tested = by_pour(shop, &of, tests);
    if tested.is_empty() {
        return Vec::new();
    }
    let taken = by_pour(shop, &of, shop.of_kind(Kind::Temperature));
    let mut breaks = Vec::new();
    for (id, tests) in tested {
        let Some(poured) = shop.pours.get(&id).map(|pour| pour.done.finish()) else { continue };
        let readings = taken.get(&id).map_or(&[][..], Vec::as_slice);
        breaks.extend(tests.into_iter().filter_map(cylinder_break).filter_map(|(at, strength_mpa)| {
            Some(Break { equivalent_age_h: age_h(readings, poured, at)?, strength_mpa })
        }));
    }
    breaks
}

/// Entries by the pours they are about, of those that are wanted: by name, or over a piece cast there.
fn by_pour<'a>(
    shop: &Shop,
    of: &impl Fn(&ObjectId, &PourFacts) -> bool,
    steps: impl Iterator<Item = &'a Step>,
) -> BTreeMap<ObjectId, Vec<&'a Step>> {
    let mut found: BTreeMap<ObjectId, Vec<&Step>> = BTreeMap::new();
    for step in steps {
        let over = step.pieces.iter().flat_map(|piece| shop.pours_of(*piece));
        let about: BTreeSet<ObjectId> = step.object.into_iter().chain(over).collect();
        for pour in about.into_iter().filter(|id| shop.pours.get(id).is_some_and(|it| of(id, it))) {
            found.entry(pour).or_default().push(step);
        }
    }
    found
}

/// When a specimen was broken, and its strength as a cylinder.
fn cylinder_break(step: &Step) -> Option<(Moment, f64)> {
    let strength = view::strength(step.body()?)?;
    let vein = strength.vein == Some(true);
    cylinder_mpa(strength).filter(|_| !vein).map(|mpa| (step.done.start, mpa))
}

/// The readings of one medium these entries hold, from a moment on, in order of time.
pub(crate) fn readings<'a>(
    steps: impl Iterator<Item = &'a Step>,
    of: Medium,
    from: Option<Moment>,
) -> Vec<Reading> {
    let mut readings: Vec<Reading> = Vec::new();
    for step in steps {
        let Some(taken) = step.body().and_then(view::temperature).filter(|it| it.of == of) else {
            continue;
        };
        let one = taken.reading_c.map(|c| Reading { at: step.done.start, c });
        let series = taken.series.iter().flatten();
        let series = series.filter_map(|it| {
            Some(Reading { at: add_hours(step.done.start, it.after_h)?, c: it.temperature_c })
        });
        readings.extend(one.into_iter().chain(series));
    }
    readings.retain(|it| from.is_none_or(|from| it.at >= from));
    readings.sort_by(|a, b| a.at.cmp(&b.at).then(a.c.total_cmp(&b.c)));
    // Of two readings at one moment the colder counts.
    readings.dedup_by_key(|it| it.at);
    readings
}

/// The concrete temperatures these entries hold, from the pour on.
fn temperatures<'a>(steps: impl Iterator<Item = &'a Step>, from: Option<Moment>) -> Option<History> {
    History::new(readings(steps, Medium::Concrete, from)).ok()
}

/// A piece on its mix's curve.
pub(super) struct OnCurve {
    /// The curve.
    pub fit: Rc<Fit>,
    /// Its temperatures.
    pub history: History,
    /// What they add up to.
    pub maturity: Maturity,
}

/// Places a piece on the curve of its mix, as its temperatures stood at a moment.
pub(super) fn on_curve(case: &Case<'_>, steps: &[&Step], at: Moment) -> Option<OnCurve> {
    let (pour, facts) = case.pour()?;
    let history = temperatures(steps.iter().copied(), Some(pour.done.finish()))?;
    let history = if history.last().at <= at { history } else { history.until(at).ok()? };
    let fit = case.curves.of(case.shop, facts.mix)?;
    let maturity = maturity(&history, Model::default()).ok()?;
    Some(OnCurve { fit, history, maturity })
}
