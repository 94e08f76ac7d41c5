//! The measures of a plan: length, width, which side is the front, what a cut-out is for.
//!
//! A measure is a line between two short slanted strokes, with the figure beside it, as drawings of the trade show
//! it (common practice, no source).

use super::plan::Plan;
use super::{Sheet, rounded};
use crate::body::setup::CutOut;
use crate::drawing::{Anchor, Point, Shape, Stroke, Tone};
use crate::text::{Lang, Text, text};
use crate::units::{self, Dimension, System};

/// Distance of a measure from the plan, in millimetres of the drawing.
const AWAY: f64 = 2.6;
/// Half of the slanted stroke at its ends.
const STROKE: f64 = 0.9;
/// Size of the figures.
const LETTERS: f64 = 3.6;
/// No cut-out drawn smaller than this is named inside: width and height.
const NAMED_FROM: Point = (13.0, 5.5);
/// Width of a letter against its size, on the safe side.
const LETTER_WIDTH: f64 = 0.5;

const FRONT: Text = text("front", "frente");

/// Every measure of a plan.
pub(super) fn shapes(plan: &Plan, sheet: &Sheet, system: System, lang: Lang) -> Vec<Shape> {
    let show = |mm: f64| units::show(mm, Dimension::Millimetre, system, lang);
    let (left, bottom) = sheet.point((0.0, 0.0));
    let (right, top) = sheet.point(plan.size);
    let middle = rounded(f64::midpoint(left, right));
    let mut shapes = line((left, top - AWAY), (right, top - AWAY));
    shapes.push(label((middle, top - AWAY - 1.2), Anchor::Middle, show(plan.size.0), Tone::Ink));
    shapes.extend(line((left - AWAY, bottom), (left - AWAY, top)));
    let beside = rounded(f64::midpoint(top, bottom) + LETTERS * 0.3);
    shapes.push(label((left - AWAY - 1.6, beside), Anchor::End, show(plan.size.1), Tone::Ink));
    shapes.push(label((middle, bottom + 4.4), Anchor::Middle, FRONT.get(lang).to_owned(), Tone::Graphite));
    shapes.extend(plan.cut_outs.iter().filter_map(|cut| name(cut, sheet)));
    shapes
}

/// A line with its slanted strokes.
fn line(from: Point, to: Point) -> Vec<Shape> {
    let stroke = |points: Vec<Point>, width| Shape::Polyline {
        points: points.into_iter().map(|(x, y)| (rounded(x), rounded(y))).collect(),
        stroke: Stroke::solid(Tone::Graphite, width),
    };
    let slant = |(x, y): Point| vec![(x - STROKE, y + STROKE), (x + STROKE, y - STROKE)];
    vec![stroke(vec![from, to], 0.2), stroke(slant(from), 0.4), stroke(slant(to), 0.4)]
}

/// What a cut-out is for, where it is large enough to say so inside.
fn name(cut: &CutOut, sheet: &Sheet) -> Option<Shape> {
    let purpose = cut.purpose.clone()?;
    let across = cut.width_mm.unwrap_or(cut.length_mm);
    let (width, height) = (cut.length_mm * sheet.scale, across * sheet.scale);
    let wide = purpose.chars().count() as f64 * LETTERS * LETTER_WIDTH;
    if width < NAMED_FROM.0.max(wide + 1.0) || height < NAMED_FROM.1 {
        return None;
    }
    let (x, y) = sheet.point((cut.x_mm + cut.length_mm / 2.0, cut.y_mm + across / 2.0));
    Some(label((x, rounded(y + LETTERS * 0.3)), Anchor::Middle, purpose, Tone::Graphite))
}

fn label(at: Point, anchor: Anchor, text: String, tone: Tone) -> Shape {
    Shape::Label { at: (rounded(at.0), rounded(at.1)), anchor, size: LETTERS, strong: false, text, tone }
}
