//! The climate strip: surface over dew point at every reading, held against the margin that was asked for.

use super::axis::{Axis, Unit};
use super::{FIELD, Field};
use crate::drawing::{Anchor, Paint, Shape, Stroke, Tone};
use crate::picture::Picture;
use crate::sums::air::{self, Margin};
use crate::text::{Lang, Text, text};
use crate::units::{self, Dimension, System};

const TITLE: Text = text("Surface over dew point", "Superficie sobre el punto de rocío");
const TEMPERATURE: Text = text("temperature", "temperatura");
const KEY: Text = text(
    "bar: dew point to surface; line: margin asked for",
    "barra: rocío a superficie; raya: margen pedido",
);
const LINE: Text = text(
    "{when}, {what}: air {air}, {rh}; surface {surface}; dew point {dew}; margin {margin}, at least {limit}",
    "{when}, {what}: aire {air}, {rh}; superficie {surface}; punto de rocío {dew}; margen {margin}, al menos {limit}",
);
const SHORT: Text = text("too close", "demasiado cerca");
const EARLIER: Text = text("Earlier readings, not drawn:", "Lecturas anteriores, sin dibujar:");
const LEFT_OUT: Text = text(
    "Readings outside what the dew-point formula holds for, left out:",
    "Lecturas fuera del alcance de la fórmula del punto de rocío, omitidas:",
);

/// The most readings a strip shows.
const MOST: usize = 16;

/// A reading of air and surface.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateReading {
    /// The day, as short as it can be said.
    pub when: String,
    /// What it was taken for.
    pub what: String,
    /// Air, in °C.
    pub air_c: f64,
    /// Relative humidity, in per cent.
    pub rh_pct: f64,
    /// Surface, in °C.
    pub surface_c: f64,
    /// Least margin over the dew point that was asked for, in kelvin.
    pub limit_k: f64,
}

struct Seen<'a> {
    reading: &'a ClimateReading,
    margin: Margin,
}

impl Seen<'_> {
    fn short(&self) -> bool {
        self.margin.margin_k < self.reading.limit_k
    }

    /// Surface temperature at which the margin is just enough.
    fn needed_c(&self) -> f64 {
        self.margin.dew.dew_point_c + self.reading.limit_k
    }
}

/// Draws the strip of readings in order of time; `None` where there is none to draw.
pub fn climate(readings: &[ClimateReading], system: System, lang: Lang) -> Option<Picture> {
    let seen = |it| Some(Seen { reading: it, margin: margin(it)? });
    let all: Vec<Seen<'_>> = readings.iter().filter_map(seen).collect();
    let left_out = readings.len() - all.len();
    let shown = &all[all.len().saturating_sub(MOST)..];
    if shown.is_empty() {
        return None;
    }
    let mut field = Field::new(places(shown, lang), temperatures(shown, system, lang));
    for (place, it) in shown.iter().enumerate() {
        bar(&mut field, place as f64 + 0.5, it, lang);
    }
    let mut text: Vec<String> = shown.iter().map(|it| said(it, system, lang)).collect();
    text.extend(counted(EARLIER, all.len() - shown.len(), lang));
    text.extend(counted(LEFT_OUT, left_out, lang));
    Some(Picture { drawing: field.drawing(), title: TITLE.get(lang).to_owned(), text })
}

fn margin(it: &ClimateReading) -> Option<Margin> {
    let limit = (0.0..=30.0).contains(&it.limit_k);
    air::margin(it.air_c, it.rh_pct, it.surface_c).ok().filter(|_| limit)
}

fn counted(words: Text, count: usize, lang: Lang) -> Option<String> {
    (count > 0).then(|| format!("{} {count}", words.get(lang)))
}

/// One place for each reading, evenly spaced: readings come in clusters, and each of them counts.
fn places(shown: &[Seen<'_>], lang: Lang) -> Axis {
    // A day takes about a seventh of the width.
    let every = shown.len().div_ceil(7);
    let ticks = shown.iter().enumerate().step_by(every);
    let ticks = ticks.map(|(place, it)| (place as f64 + 0.5, it.reading.when.clone())).collect();
    Axis { title: KEY.get(lang).to_owned(), from: 0.0, to: shown.len() as f64, ticks }
}

fn temperatures(shown: &[Seen<'_>], system: System, lang: Lang) -> Axis {
    let all = shown
        .iter()
        .flat_map(|it| [it.margin.dew.dew_point_c, it.reading.surface_c, it.needed_c(), it.reading.air_c]);
    let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), c| (low.min(c), high.max(c)));
    let (unit, symbol) = match system {
        System::Metric => (Unit { scale: 1.0, zero: 0.0 }, "°C"),
        System::Us => (Unit { scale: 1.8, zero: 32.0 }, "°F"),
    };
    let title = format!("{}, {symbol}", TEMPERATURE.get(lang));
    Axis::new(title, (low - 2.0, high + 3.0), unit, |it| units::number(it, 0, lang))
}

fn bar(field: &mut Field, place: f64, it: &Seen<'_>, lang: Lang) {
    let width = ((FIELD.2 - FIELD.0) / field.across.to * 0.45).min(6.0);
    let (x, surface) = field.at(place, it.reading.surface_c);
    let dew = field.at(place, it.margin.dew.dew_point_c).1;
    let (tone, stroke) = if it.short() {
        (Tone::YellowOxide, Some(Stroke::solid(Tone::IronOxide, 0.6)))
    } else {
        (Tone::PaleGlass, Some(Stroke::solid(Tone::Glass, 0.4)))
    };
    let fill = Some(tone).filter(|_| !it.short());
    let (top, bottom) = (surface.min(dew), surface.max(dew));
    let left = ((x - width / 2.0) * 100.0).round() / 100.0;
    let size = (width, ((bottom - top) * 100.0).round() / 100.0);
    field.shapes.push(Shape::Rect { at: (left, top), size, paint: Paint { fill, stroke } });
    let needed = field.at(place, it.needed_c()).1;
    field.line(&[(left - 1.0, needed), (left + width + 1.0, needed)], Stroke::solid(Tone::Ink, 0.6));
    if it.short() {
        let words = SHORT.get(lang).to_owned();
        field.label((x, top.min(needed) - 1.2), Anchor::Middle, words, Tone::IronOxide, true);
    }
}

fn said(it: &Seen<'_>, system: System, lang: Lang) -> String {
    let celsius = |c: f64| units::show(c, Dimension::Celsius, system, lang);
    let kelvin = |k: f64| units::show(k, Dimension::Kelvin, system, lang);
    let ClimateReading { when, what, air_c, rh_pct, surface_c, limit_k } = it.reading;
    let blanks = [
        ("{when}", when.clone()),
        ("{what}", what.clone()),
        ("{air}", celsius(*air_c)),
        ("{rh}", units::show(*rh_pct, Dimension::Percent, system, lang)),
        ("{surface}", celsius(*surface_c)),
        ("{dew}", celsius(it.margin.dew.dew_point_c)),
        ("{margin}", kelvin(it.margin.margin_k)),
        ("{limit}", kelvin(*limit_k)),
    ];
    let mut line = LINE.get(lang).to_owned();
    for (blank, value) in blanks {
        line = line.replace(blank, &value);
    }
    if it.short() { format!("{line} ({})", SHORT.get(lang)) } else { line }
}
