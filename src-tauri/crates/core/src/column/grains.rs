//! Scatter: numbers from a hash, and shapes without any sum that two machines could round differently.

use crate::drawing::{Point, Shape};
use crate::id::Hash;

/// Directions around a circle, sixteen to the turn, as (cosine, sine): written out, for the last digit of a
/// computed sine differs between machines.
const ROUND: [Point; 16] = [
    (1.0, 0.0),
    (0.924, 0.383),
    (0.707, 0.707),
    (0.383, 0.924),
    (0.0, 1.0),
    (-0.383, 0.924),
    (-0.707, 0.707),
    (-0.924, 0.383),
    (-1.0, 0.0),
    (-0.924, -0.383),
    (-0.707, -0.707),
    (-0.383, -0.924),
    (0.0, -1.0),
    (0.383, -0.924),
    (0.707, -0.707),
    (0.924, -0.383),
];

/// Numbers that follow from a hash alone.
pub(super) struct Seed(u64);

impl Seed {
    /// The numbers of this hash.
    pub(super) fn of(hash: &Hash) -> Self {
        let mut first = [0; 8];
        first.copy_from_slice(&hash.0[..8]);
        Self(u64::from_be_bytes(first))
    }

    /// The next number, from 0 to 1.
    pub(super) fn next(&mut self) -> f64 {
        // SplitMix64 (Steele, Lea and Flood 2014): every seed gives an even scatter.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((z ^ (z >> 31)) >> 11) as f64) / ((1_u64 << 53) as f64)
    }
}

/// Rounded to hundredths of a millimetre: finer than any eye, and the same on every machine.
pub(crate) fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// Places in an area, one in each field of a grid at a distance of `step`, none nearer to the edge than `margin`.
pub(super) fn scatter(
    (left, top): Point,
    (width, height): Point,
    step: f64,
    margin: f64,
    seed: &mut Seed,
) -> Vec<Point> {
    let fields = |length: f64| ((length - 2.0 * margin) / step).floor().max(1.0);
    let (across, down) = (fields(width), fields(height));
    let (field_w, field_h) = ((width - 2.0 * margin) / across, (height - 2.0 * margin) / down);
    let mut places = Vec::new();
    for row in 0..down as u32 {
        for column in 0..across as u32 {
            let x = left + margin + (f64::from(column) + 0.2 + 0.6 * seed.next()) * field_w;
            let y = top + margin + (f64::from(row) + 0.2 + 0.6 * seed.next()) * field_h;
            places.push((rounded(x), rounded(y)));
        }
    }
    places
}

/// A grain around a place: a ring of 16/`skip` corners, flattened by `flat`, uneven by `rough`.
pub(super) fn grain(
    at: Point,
    radius: f64,
    skip: usize,
    flat: f64,
    rough: f64,
    seed: &mut Seed,
) -> Vec<Point> {
    let corners = ROUND.iter().step_by(skip);
    corners
        .map(|(x, y)| {
            let reach = radius * (1.0 - rough * seed.next());
            (rounded(at.0 + x * reach), rounded(at.1 + y * reach * flat))
        })
        .collect()
}

/// Height of the middle of a shape.
pub(super) fn middle(shape: &Shape) -> f64 {
    let of = |points: &mut dyn Iterator<Item = f64>| {
        let (low, high) = points.fold((f64::MAX, f64::MIN), |(low, high), y| (low.min(y), high.max(y)));
        f64::midpoint(low, high)
    };
    match shape {
        Shape::Rect { at, size, .. } => at.1 + size.1 / 2.0,
        Shape::Polyline { points, .. } => of(&mut points.iter().map(|p| p.1)),
        Shape::Polygon { rings, .. } => of(&mut rings.iter().flatten().map(|p| p.1)),
        Shape::Dots { dots, .. } => of(&mut dots.iter().map(|(p, _)| p.1)),
        Shape::Label { at, .. } => at.1,
    }
}

/// A shape moved down.
pub(super) fn lowered(mut shape: Shape, by: f64) -> Shape {
    let lower = |point: &mut Point| point.1 = rounded(point.1 + by);
    match &mut shape {
        Shape::Rect { at, .. } | Shape::Label { at, .. } => lower(at),
        Shape::Polyline { points, .. } => points.iter_mut().for_each(lower),
        Shape::Polygon { rings, .. } => rings.iter_mut().flatten().for_each(lower),
        Shape::Dots { dots, .. } => dots.iter_mut().map(|(point, _)| point).for_each(lower),
    }
    shape
}
