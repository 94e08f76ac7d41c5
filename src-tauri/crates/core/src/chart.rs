//! Charts as drawings: strength against age with its gates, and the climate of coats against the dew point.
//!
//! Screen and paper show the same shapes. Every chart says all it shows in words too; a value that is no number
//! or lies where no chart reaches is left out, and that is said.

mod axis;
mod climate;
mod strength;

#[cfg(test)]
mod tests;

pub use climate::{ClimateReading, climate};
pub use strength::{StrengthGate, StrengthSeen, strength};

use axis::Axis;

use crate::drawing::{Anchor, Drawing, Point, Shape, Stroke, Tone};

/// Size of every chart, in millimetres.
pub const SIZE: Point = (84.0, 58.0);
/// The field of a chart: left, top, right, bottom.
const FIELD: (f64, f64, f64, f64) = (11.0, 6.5, 83.0, 47.5);
/// Letters on a chart.
const LETTERS: f64 = 2.9;

/// A field with its two axes.
struct Field {
    across: Axis,
    up: Axis,
    shapes: Vec<Shape>,
}

impl Field {
    fn new(across: Axis, up: Axis) -> Self {
        let mut field = Self { across, up, shapes: Vec::new() };
        field.grid();
        field
    }

    /// Where a value stands.
    fn at(&self, x: f64, y: f64) -> Point {
        (self.across.place(x, FIELD.0, FIELD.2), self.up.place(y, FIELD.3, FIELD.1))
    }

    fn grid(&mut self) {
        let (left, _, right, bottom) = FIELD;
        for (value, words) in self.up.ticks.clone() {
            let y = self.at(self.across.from, value).1;
            self.line(&[(left, y), (right, y)], Stroke::solid(Tone::DryConcrete, 0.15));
            self.label((left - 1.2, y + 1.0), Anchor::End, words, Tone::Graphite, false);
        }
        for (value, words) in self.across.ticks.clone() {
            let x = self.at(value, self.up.from).0;
            self.line(&[(x, bottom), (x, bottom + 1.0)], Stroke::solid(Tone::Graphite, 0.25));
            self.label((x, bottom + 4.4), Anchor::Middle, words, Tone::Graphite, false);
        }
        self.line(&[(left, bottom), (right, bottom)], Stroke::solid(Tone::Graphite, 0.35));
        let (up, across) = (self.up.title.clone(), self.across.title.clone());
        self.label((0.0, 3.2), Anchor::Start, up, Tone::Graphite, false);
        self.label((right, bottom + 8.9), Anchor::End, across, Tone::Graphite, false);
    }

    fn line(&mut self, points: &[Point], stroke: Stroke) {
        self.shapes.push(Shape::Polyline { points: points.to_vec(), stroke });
    }

    fn label(&mut self, at: Point, anchor: Anchor, text: String, tone: Tone, strong: bool) {
        self.shapes.push(Shape::Label { at, anchor, size: LETTERS, strong, text, tone });
    }

    fn drawing(self) -> Drawing {
        Drawing { width: SIZE.0, height: SIZE.1, shapes: self.shapes }
    }
}
