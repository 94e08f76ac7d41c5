//! `heat-cure`

use crate::body::casting::{CureMethod, InitialCure, Medium};
use crate::rules::prelude::*;
use crate::rules::strength::readings;
use crate::sums::maturity::Reading;

pub(crate) static RULE: Rule = Rule {
    code: "heat-cure",
    title: text(
        "Heat comes after initial set, rises slowly, stays under its limit and is gone before stripping",
        "El calor llega tras el inicio de fraguado, sube despacio, no pasa de su límite y cede antes de desmoldear",
    ),
    severity: Severity::Caution,
    safety: false,
    basis: Basis::CommonPractice,
    why: text(
        "Heat before set or in a rush bursts the young paste from inside; above 65 to 70 °C another mineral forms that swells when the piece gets wet years later; a hot piece stripped into a cold room crazes.",
        "El calor antes del fraguado o de golpe revienta por dentro la pasta joven; por encima de 65 a 70 °C se forma otro mineral que se hincha al mojarse años después; una pieza caliente desmoldeada en frío se cuartea.",
    ),
    remedy: text(
        "Wait for initial set, cover and keep moist, warm by no more than about 20 °C an hour, stay below 65 °C, and let it cool to within 20 °C of the room before stripping. A logger records all of it.",
        "Esperar el inicio de fraguado, cubrir y mantener húmedo, no subir más de unos 20 °C por hora, quedarse bajo 65 °C y dejar enfriar hasta 20 °C del ambiente antes de desmoldear. Un registrador lo anota todo.",
    ),
    looks: &[Look::Step(&[Kind::InitialCure], cured), Look::Step(&[Kind::Demould], stripped)],
};

const SET: Text = text("heat after initial set", "calor tras el inicio de fraguado");
const RISE: Text = text("steepest rise per hour", "subida mayor por hora");
const PEAK: Text = text("hottest concrete", "hormigón más caliente");
const ABOVE_ROOM: Text =
    text("concrete over the room at stripping", "hormigón sobre el ambiente al desmoldear");
/// Readings closer than this say little about a rise: their own rounding is as large (common practice).
const SHORTEST_H: f64 = 0.25;

fn cured(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let Some(cure) = subject.read(view::initial_cure) else { return Vec::new() };
    let heated = cure.method == CureMethod::Heat;
    let read = subject.step.map_or(Vec::new(), |step| during(past, step));
    let peak = highest(cure.peak_c, read.iter().map(|it| it.c));
    let rise = highest(cure.rise_c_per_h, rises(&read));
    let mut facts = Vec::new();
    let too_hot = judge_peak(peak, &mut facts);
    let breach = [too_hot, judge_rise(rise, heated, &mut facts), judge_set(cure, heated, &mut facts)];
    if let Some(severity) = breach.into_iter().flatten().min() {
        return vec![Hit::violated([], facts).weighing(severity)];
    }
    let unmeasured = subject.step.is_some() && (peak.is_none() || rise.is_none());
    if heated && (unmeasured || cure.after_set.is_none()) {
        facts.extend(peak.is_none().then(|| missing(PEAK)));
        facts.extend(rise.is_none().then(|| missing(RISE)));
        facts.extend(cure.after_set.is_none().then(|| missing(SET)));
        return vec![Hit::cannot_tell([], facts)];
    }
    Vec::new()
}

fn judge_peak(peak: Option<f64>, facts: &mut Vec<Fact>) -> Option<Severity> {
    let peak = peak.filter(|c| *c > limits::HEAT_CAUTION.value)?;
    let stop = peak > limits::HEAT_STOP.value;
    let limit = if stop { limits::HEAT_STOP } else { limits::HEAT_CAUTION };
    facts.extend([number(PEAK, peak, Dimension::Celsius), limit.fact()]);
    Some(if stop { Severity::Stop } else { Severity::Caution })
}

fn judge_rise(rise: Option<f64>, heated: bool, facts: &mut Vec<Fact>) -> Option<Severity> {
    let rise = rise.filter(|it| heated && *it > limits::HEAT_RISE.value)?;
    facts.extend([number(RISE, rise, Dimension::Kelvin), limits::HEAT_RISE.fact()]);
    Some(Severity::Caution)
}

fn judge_set(cure: &InitialCure, heated: bool, facts: &mut Vec<Fact>) -> Option<Severity> {
    let early = heated && cure.after_set == Some(false);
    facts.extend(early.then(|| word(SET, Answer::No.label())));
    early.then_some(Severity::Caution)
}

/// The concrete's readings while a cure lasted, wherever they stand in the history.
fn during(past: &Past<'_, '_>, cure: &Step) -> Vec<Reading> {
    let Some(end) = cure.done.end else { return Vec::new() };
    let all = past.case.history.iter().copied();
    let mut read = readings(all, Medium::Concrete, Some(cure.done.start));
    read.retain(|it| it.at <= end);
    read
}

fn highest(stated: Option<f64>, read: impl Iterator<Item = f64>) -> Option<f64> {
    stated.into_iter().chain(read).reduce(f64::max)
}

/// Rises between neighbouring readings, in kelvin per hour.
fn rises(read: &[Reading]) -> impl Iterator<Item = f64> + '_ {
    read.windows(2).filter_map(|pair| {
        let hours = hours_between(pair[0].at, pair[1].at);
        (hours >= SHORTEST_H).then(|| (pair[1].c - pair[0].c) / hours)
    })
}

/// Out of the form after a heated cure.
fn stripped(past: &Past<'_, '_>, subject: &Subject<'_>) -> Vec<Hit> {
    let heated = past.last(view::initial_cure).filter(|(_, cure)| cure.method == CureMethod::Heat);
    let Some((step, cure)) = heated else { return Vec::new() };
    let read = |of| {
        readings(past.after(step).steps.iter().copied(), of, None).into_iter().rfind(|it| it.at <= subject.at)
    };
    let both = read(Medium::Concrete).zip(read(Medium::Air));
    let measured = both.map(|(concrete, air)| (concrete.c - air.c, concrete.at.max(air.at)));
    let Some((difference, at)) = measured.or_else(|| Some((cure.strip_difference_k?, step.done.finish())))
    else {
        return vec![Hit::cannot_tell([step], vec![missing(ABOVE_ROOM)])];
    };
    let over = difference - limits::STRIP_DIFFERENCE.value;
    if over <= 0.0 {
        return Vec::new();
    }
    let facts = vec![number(ABOVE_ROOM, difference, Dimension::Kelvin), limits::STRIP_DIFFERENCE.fact()];
    // It cools no faster than it may be warmed.
    vec![Hit::violated([step], facts).until(add_hours(at, over / limits::HEAT_RISE.value))]
}

#[cfg(test)]
pub(crate) mod tests;
