//! Strength against age: the mix's curve with its band, its breaks, the gates, and where the piece stands.

use super::axis::{Axis, Unit};
use super::{FIELD, Field, LETTERS};
use crate::drawing::{Anchor, Paint, Point, Shape, Stroke, Tone};
use crate::picture::Picture;
use crate::sums::fit::{Break, Fit};
use crate::text::{Lang, Text, text};
use crate::units::{self, Dimension, Quantity, System};

const TITLE: Text = text("Strength and its gates", "Resistencia y sus umbrales");
const AGE: Text = text("equivalent age at 20 °C", "edad equivalente a 20 °C");
const STRENGTH: Text = text("strength as cylinders", "resistencia en cilindro");
const CALENDAR: Text = text("age by the calendar", "edad por el calendario");
const CURVE: Text = text(
    "curve of the mix, fitted to so many breaks of its own:",
    "curva de la mezcla, ajustada a este número de roturas propias:",
);
const NO_CURVE: Text = text(
    "The mix has too few breaks for a curve of its own; the breaks alone are shown.",
    "La mezcla tiene pocas roturas para una curva propia; solo se muestran las roturas.",
);
const NO_TEMPERATURES: Text = text(
    "No concrete temperatures are recorded for the breaks: ages are those of the calendar.",
    "No hay temperaturas del hormigón para las roturas: las edades son las del calendario.",
);
const BREAK: Text = text("break", "rotura");
const REACHED: Text = text("the curve reaches it at", "la curva lo alcanza a las");
const NEVER: Text = text("not reached by the curve", "la curva no lo alcanza");
const LEFT_OUT: Text =
    text("breaks that are no strength, left out:", "roturas que no son una resistencia, omitidas:");

/// Hours from which on ages are shown in days.
const DAYS_FROM_H: f64 = 96.0;
/// Points along the curve.
const POINTS: u32 = 48;
/// No concrete is stronger, in MPa, and none is asked for its age beyond ten years.
const MOST: Break = Break { equivalent_age_h: 87_660.0, strength_mpa: 300.0 };

/// A strength something has to wait for.
#[derive(Debug, Clone, PartialEq)]
pub struct StrengthGate {
    /// The strength, in MPa as cylinders.
    pub mpa: f64,
    /// What waits for it.
    pub name: String,
}

/// What is known of the strength of a piece.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StrengthSeen {
    /// The curve of its mix.
    pub fit: Option<Fit>,
    /// The breaks of its mix, at their equivalent ages.
    pub breaks: Vec<Break>,
    /// Age of the piece at the moment that matters, in hours.
    pub now_h: Option<f64>,
    /// What that moment is called.
    pub now_name: String,
    /// The gates that matter for it.
    pub gates: Vec<StrengthGate>,
    /// Ages are those of the calendar, since no temperatures are known.
    pub by_calendar: bool,
}

/// Draws the chart; `None` where there is neither curve nor break.
pub fn strength(seen: &StrengthSeen, system: System, lang: Lang) -> Option<Picture> {
    let good = |it: &&Break| {
        (0.0..=MOST.equivalent_age_h).contains(&it.equivalent_age_h)
            && (0.0..=MOST.strength_mpa).contains(&it.strength_mpa)
    };
    let breaks: Vec<Break> = seen.breaks.iter().filter(good).copied().collect();
    if breaks.is_empty() && seen.fit.is_none() {
        return None;
    }
    let gates = seen.gates.iter().filter(|it| (0.1..=MOST.strength_mpa).contains(&it.mpa)).cloned();
    let now_h = seen.now_h.filter(|it| (0.0..=MOST.equivalent_age_h).contains(it));
    let chart = Chart {
        seen: &StrengthSeen { breaks, now_h, gates: gates.collect(), ..seen.clone() },
        left_out: seen.breaks.iter().filter(|it| !good(it)).count(),
        system,
        lang,
    };
    Some(Picture { drawing: chart.field().drawing(), title: TITLE.get(lang).to_owned(), text: chart.said() })
}

/// Where the words of a gate stand: their foot and their left end.
struct Words {
    foot: f64,
    left: f64,
}

/// No letter of a label is wider, on average over some words.
const WIDEST: f64 = LETTERS * 0.56;
/// Room left below words a line makes way for.
const GAP: f64 = 0.7;

struct Chart<'a> {
    seen: &'a StrengthSeen,
    left_out: usize,
    system: System,
    lang: Lang,
}

impl Chart<'_> {
    fn field(&self) -> Field {
        let mut field = Field::new(self.ages(), self.strengths());
        if let Some(fit) = &self.seen.fit {
            field.shapes.extend(band(fit, &field));
            field.line(
                &along(fit).map(|h| field.at(h, fit.curve.strength_mpa(h))).collect::<Vec<_>>(),
                Stroke::solid(Tone::Glass, 0.8),
            );
        }
        let words = self.gates(&mut field);
        let dots = self.seen.breaks.iter().map(|it| (field.at(it.equivalent_age_h, it.strength_mpa), 0.9));
        let dots = dots.collect();
        field.shapes.push(Shape::Dots { dots, tone: Tone::Ink });
        self.piece(&mut field, &words);
        field
    }

    /// The oldest age that has to be seen, in hours.
    fn oldest(&self) -> f64 {
        let breaks = self.seen.breaks.iter().map(|it| it.equivalent_age_h);
        let curve = self.seen.fit.iter().map(|it| it.range_h.1);
        breaks.chain(curve).chain(self.seen.now_h).fold(1.0, f64::max) * 1.04
    }

    fn age(&self) -> Text {
        if self.seen.by_calendar { CALENDAR } else { AGE }
    }

    fn ages(&self) -> Axis {
        let oldest = self.oldest();
        let (scale, unit) = if oldest > DAYS_FROM_H { (1.0 / 24.0, "d") } else { (1.0, "h") };
        let title = format!("{}, {unit}", self.age().get(self.lang));
        Axis::new(title, (0.0, oldest), Unit { scale, zero: 0.0 }, |it| plain(it, self.lang))
    }

    fn strengths(&self) -> Axis {
        let breaks = self.seen.breaks.iter().map(|it| it.strength_mpa);
        let gates = self.seen.gates.iter().map(|it| it.mpa);
        let curve = self.seen.fit.iter().map(|it| it.curve.strength_mpa(it.range_h.1));
        let highest = breaks.chain(gates).chain(curve).fold(1.0, f64::max) * 1.12;
        let symbol = match self.system {
            System::Metric => "MPa",
            System::Us => "psi",
        };
        let unit = units::unit(symbol, Quantity::Pressure);
        let scale = unit.and_then(|unit| units::to_unit(1.0, Dimension::Megapascal, unit)).unwrap_or(1.0);
        let title = format!("{}, {symbol}", STRENGTH.get(self.lang));
        Axis::new(title, (0.0, highest), Unit { scale, zero: 0.0 }, |it| plain(it, self.lang))
    }

    /// The gates, with the places of their words.
    fn gates(&self, field: &mut Field) -> Vec<Words> {
        let (left, top, right, _) = FIELD;
        let mut set = Vec::new();
        let mut gates: Vec<&StrengthGate> = self.seen.gates.iter().collect();
        gates.sort_by(|a, b| a.mpa.total_cmp(&b.mpa));
        let mut above = f64::MAX;
        for gate in gates {
            let y = field.at(0.0, gate.mpa).1;
            let stroke = Stroke { tone: Tone::IronOxide, width: 0.35, dash: Some((1.8, 1.0)) };
            field.line(&[(left, y), (right, y)], stroke);
            // Words of two gates that lie close are set one above the other.
            let words = (y - 0.9).min(above - LETTERS).max(top);
            above = words;
            let said = format!("{} {}", gate.name, self.mpa(gate.mpa));
            set.push(Words { foot: words, left: right - said.chars().count() as f64 * WIDEST });
            field.label((right, words), Anchor::End, said, Tone::IronOxide, false);
        }
        set
    }

    /// A broken line at the age of the piece; a ring where it meets the curve.
    fn piece(&self, field: &mut Field, words: &[Words]) {
        let Some(now) = self.seen.now_h else { return };
        let (_, top, _, bottom) = FIELD;
        let x = field.at(now, 0.0).0;
        let stroke = Stroke { tone: Tone::Ink, width: 0.4, dash: Some((0.8, 0.8)) };
        // From the foot up, with a gap where the words of a gate stand in the way.
        let mut from = bottom;
        for it in words.iter().filter(|it| it.left < x) {
            if it.foot + GAP < from {
                field.line(&[(x, from), (x, it.foot + GAP)], stroke);
            }
            from = it.foot - LETTERS;
        }
        if from > top {
            field.line(&[(x, from), (x, top)], stroke);
        }
        if let Some(mpa) = self.strength_now() {
            field.shapes.push(Shape::Dots { dots: vec![(field.at(now, mpa), 1.3)], tone: Tone::Glass });
        }
        let anchor = if x > 60.0 { Anchor::End } else { Anchor::Start };
        let aside = if x > 60.0 { -1.0 } else { 1.0 };
        field.label((x + aside, bottom - 1.4), anchor, self.seen.now_name.clone(), Tone::Ink, true);
    }

    fn strength_now(&self) -> Option<f64> {
        let (fit, now) = (self.seen.fit.as_ref()?, self.seen.now_h?);
        (fit.range_h.0..=fit.range_h.1).contains(&now).then(|| fit.curve.strength_mpa(now))
    }

    fn said(&self) -> Vec<String> {
        let mut lines = match &self.seen.fit {
            Some(fit) => vec![format!("{} {}", CURVE.get(self.lang), fit.breaks)],
            None => vec![NO_CURVE.get(self.lang).to_owned()],
        };
        if self.seen.by_calendar {
            lines.push(NO_TEMPERATURES.get(self.lang).to_owned());
        }
        for it in &self.seen.breaks {
            let (age, mpa) = (self.hours(it.equivalent_age_h), self.mpa(it.strength_mpa));
            lines.push(format!("{}: {age}, {mpa}", BREAK.get(self.lang)));
        }
        lines.extend(self.seen.gates.iter().map(|gate| self.gate_said(gate)));
        if let Some(now) = self.seen.now_h {
            let strength = self.strength_now().map(|mpa| format!(", {}", self.mpa(mpa)));
            lines.push(format!(
                "{}: {}{}",
                self.seen.now_name,
                self.hours(now),
                strength.unwrap_or_default()
            ));
        }
        if self.left_out > 0 {
            lines.push(format!("{} {}", LEFT_OUT.get(self.lang), self.left_out));
        }
        lines
    }

    fn gate_said(&self, gate: &StrengthGate) -> String {
        let name = format!("{} {}", gate.name, self.mpa(gate.mpa));
        let Some(fit) = &self.seen.fit else { return name };
        // Outside the ages of the breaks the curve says nothing.
        let age = fit.curve.age_h(gate.mpa).filter(|age| *age <= fit.range_h.1);
        match age {
            Some(age) => format!("{name}: {} {}", REACHED.get(self.lang), self.hours(age.max(fit.range_h.0))),
            None => format!("{name}: {}", NEVER.get(self.lang)),
        }
    }

    fn hours(&self, hours: f64) -> String {
        units::show(hours, Dimension::Hour, self.system, self.lang)
    }

    fn mpa(&self, mpa: f64) -> String {
        units::show(mpa, Dimension::Megapascal, self.system, self.lang)
    }
}

/// Ages along the curve, from the youngest break to the oldest: it is not drawn where it says nothing.
fn along(fit: &Fit) -> impl DoubleEndedIterator<Item = f64> {
    let (from, to) = fit.range_h;
    (0..=POINTS).map(move |n| from + (to - from) * f64::from(n) / f64::from(POINTS))
}

/// Where the mix's true strength lies.
fn band(fit: &Fit, field: &Field) -> Option<Shape> {
    let edge = |h: f64, upper: bool| -> Option<Point> {
        let (low, high) = fit.band(h).ok()?.1?.true_strength_mpa;
        Some(field.at(h, if upper { high } else { low }))
    };
    let upper: Option<Vec<Point>> = along(fit).map(|h| edge(h, true)).collect();
    let lower: Option<Vec<Point>> = along(fit).rev().map(|h| edge(h, false)).collect();
    let ring = [upper?, lower?].concat();
    Some(Shape::Polygon { rings: vec![ring], paint: Paint::fill(Tone::PaleGlass) })
}

/// A round number of an axis, with no more decimals than it has.
fn plain(value: f64, lang: Lang) -> String {
    let decimals = if (value - value.round()).abs() < 1e-6 { 0 } else { 1 };
    units::number(value, decimals, lang)
}
