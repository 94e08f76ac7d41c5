//! The pen of the care sheet's small drawings: few strokes, one line width, tones of the material.
//!
//! Every drawing stands in a square of [`SIDE`] millimetres and is set smaller on the page.

use trowelogue_core::drawing::{Drawing, Paint, Point, Shape, Stroke, Tone};

use crate::layout::ring;

/// Side of the square a drawing stands in.
pub(super) const SIDE: f64 = 20.0;
/// Width of a line.
const LINE: f64 = 0.85;
/// Corners of a circle.
const CORNERS: usize = 36;

/// A drawing of shapes.
pub(super) fn drawing(parts: impl IntoIterator<Item = Vec<Shape>>) -> Drawing {
    Drawing { width: SIDE, height: SIDE, shapes: parts.into_iter().flatten().collect() }
}

/// A drawing struck through from the lower left to the upper right, on a ground that keeps the stroke free.
pub(super) fn struck(parts: impl IntoIterator<Item = Vec<Shape>>) -> Drawing {
    let mut drawn = drawing(parts);
    let across = |tone, width| Shape::Polyline {
        points: vec![(1.5, 18.5), (18.5, 1.5)],
        stroke: Stroke::solid(tone, width),
    };
    drawn.shapes.extend([across(Tone::Paper, 3.6), across(Tone::IronOxide, 1.9)]);
    drawn
}

/// A closed shape with its outline.
pub(super) fn body(points: &[Point], fill: Tone) -> Vec<Shape> {
    let paint = Paint { fill: Some(fill), stroke: Some(Stroke::solid(Tone::Ink, LINE)) };
    vec![Shape::Polygon { rings: vec![points.to_vec()], paint }]
}

/// A closed shape without an outline.
pub(super) fn patch(points: &[Point], fill: Tone) -> Vec<Shape> {
    vec![Shape::Polygon { rings: vec![points.to_vec()], paint: Paint::fill(fill) }]
}

/// An open line.
pub(super) fn line(points: &[Point]) -> Vec<Shape> {
    vec![Shape::Polyline { points: points.to_vec(), stroke: Stroke::solid(Tone::Ink, LINE) }]
}

/// An open line in a tone and width of its own.
pub(super) fn stroke(points: &[Point], tone: Tone, width: f64) -> Vec<Shape> {
    vec![Shape::Polyline { points: points.to_vec(), stroke: Stroke::solid(tone, width) }]
}

/// A circle with its outline.
pub(super) fn disc(centre: Point, radius: f64, fill: Tone) -> Vec<Shape> {
    body(&ring(centre, radius, CORNERS, 0.0), fill)
}

/// The outline of a circle.
pub(super) fn hoop(centre: Point, radius: f64, tone: Tone, width: f64) -> Vec<Shape> {
    let mut points = ring(centre, radius, CORNERS, 0.0);
    points.extend(points.first().copied());
    stroke(&points, tone, width)
}

/// A part of the outline of a circle, from one angle to another in degrees, clockwise from the right.
pub(super) fn arc(centre: Point, radius: f64, from: f64, to: f64) -> Vec<Point> {
    let steps = 18;
    let at = |n: i32| {
        let angle = (from + (to - from) * f64::from(n) / f64::from(steps)).to_radians();
        (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin())
    };
    (0..=steps).map(at).collect()
}

/// A drop hanging from its tip.
pub(super) fn drop(tip: Point, size: f64, fill: Tone) -> Vec<Shape> {
    let centre = (tip.0, tip.1 + size * 0.68);
    let mut points = vec![tip];
    points.extend(arc(centre, size * 0.34, -35.0, 215.0));
    patch(&points, fill)
}

/// A piece seen from its edge: a slab with a few grains in it.
pub(super) fn slab(top: f64) -> Vec<Shape> {
    let mut shapes = body(&[(0.8, top), (19.2, top), (19.2, top + 4.0), (0.8, top + 4.0)], Tone::DryConcrete);
    let grains = [(3.2, 1.6, 0.5), (6.9, 2.7, 0.65), (10.4, 1.4, 0.4), (13.3, 2.6, 0.6), (16.9, 1.7, 0.5)];
    let dots = grains.map(|(x, down, radius)| ((x, top + down), radius));
    shapes.push(Shape::Dots { dots: dots.to_vec(), tone: Tone::Stone });
    shapes
}
