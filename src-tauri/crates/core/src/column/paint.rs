//! How each texture is drawn in its bed.

use super::grains::{Seed, grain, rounded, scatter};
use super::{Stones, Texture, WIDTH};
use crate::drawing::{Paint, Point, Shape, Stroke, Tone};

/// The place of a layer in the core.
#[derive(Clone, Copy)]
pub(super) struct Bed {
    /// Its top.
    pub(super) top: f64,
    /// Its height.
    pub(super) height: f64,
}

impl Bed {
    fn bottom(self) -> f64 {
        self.top + self.height
    }

    /// A height in the bed, as a share of it from the top.
    fn at(self, share: f64) -> f64 {
        rounded(self.top + self.height * share)
    }

    /// The whole bed in a tone.
    pub(super) fn ground(self, tone: Tone) -> Shape {
        band(self.top, self.height, tone)
    }

    /// The line it lies on.
    pub(super) fn bedding(self) -> Shape {
        line(self.bottom() - 0.1, Tone::Graphite, 0.2)
    }

    /// Places in it.
    fn places(self, step: f64, margin: f64, seed: &mut Seed) -> Vec<Point> {
        scatter((0.0, self.top), (WIDTH, self.height), step, margin, seed)
    }
}

/// Draws a texture.
pub(super) fn texture(texture: Texture, bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    match texture {
        Texture::Mould => mould(bed),
        Texture::Pour(stones) => pour(stones, bed, seed),
        Texture::Cure => cure(bed, seed),
        Texture::Bare => vec![bed.ground(Tone::DryConcrete), band(bed.top, bed.height * 0.3, Tone::Cream)],
        Texture::Reading => reading(bed),
        Texture::Wash(bite) => wash(bite, bed, seed),
        Texture::Grit(um) => grit(um, bed, seed),
        Texture::Fill => fill(bed, seed),
        Texture::Trowel => trowel(bed, seed),
        Texture::Colour => sinking(Tone::Sand, bed, seed),
        Texture::Densify => sinking(Tone::Glass, bed, seed),
        Texture::Dry => dry(bed, seed),
        Texture::Coat => coat(bed),
        Texture::Moved => moved(bed),
        Texture::Handover => {
            vec![bed.ground(Tone::Glass), band(bed.at(0.25), bed.height * 0.12, Tone::PaleGlass)]
        }
        Texture::Other => other(bed),
    }
}

fn band(top: f64, height: f64, tone: Tone) -> Shape {
    Shape::Rect { at: (0.0, rounded(top)), size: (WIDTH, rounded(height)), paint: Paint::fill(tone) }
}

fn line(y: f64, tone: Tone, width: f64) -> Shape {
    let y = rounded(y);
    Shape::Polyline { points: vec![(0.0, y), (WIDTH, y)], stroke: Stroke::solid(tone, width) }
}

fn mould(bed: Bed) -> Vec<Shape> {
    let mut shapes = vec![bed.ground(Tone::Cream)];
    shapes.extend([0.33, 0.66].map(|share| line(bed.at(share), Tone::Sand, 0.3)));
    let joint = |x: f64, from: f64, to: f64| Shape::Polyline {
        points: vec![(x, bed.at(from)), (x, bed.at(to))],
        stroke: Stroke::solid(Tone::Sand, 0.3),
    };
    shapes.extend([joint(4.0, 0.0, 0.33), joint(9.0, 0.33, 0.66), joint(2.5, 0.66, 1.0)]);
    shapes
}

fn pour(stones: Stones, bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let (tone, skip, rough) = match stones {
        Stones::Plain => (Tone::DryConcrete, 2, 0.3),
        Stones::Dark => (Tone::Ink, 2, 0.3),
        Stones::Pale => (Tone::Cream, 2, 0.25),
        Stones::Glass => (Tone::Glass, 4, 0.5),
        Stones::Light => (Tone::Slurry, 1, 0.1),
    };
    let sand = bed.places(1.5, 0.3, seed).into_iter().map(|at| (at, 0.2)).collect();
    // A field of 3 mm, a place at most 0.3 of it off the middle, a stone of 0.58 mm at least: none meets another.
    let places = bed.places(3.0, 0.9, seed);
    let rings = places.into_iter().map(|at| {
        let radius = 0.58 + 0.3 * seed.next();
        grain(at, radius, skip, 0.85, rough, seed)
    });
    vec![
        bed.ground(Tone::WetConcrete),
        Shape::Dots { dots: sand, tone: Tone::Slurry },
        Shape::Polygon { rings: rings.collect(), paint: Paint::fill(tone) },
    ]
}

fn cure(bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let drops = bed.places(2.6, 0.7, seed).into_iter().map(|at| (at, 0.4)).collect();
    vec![bed.ground(Tone::WetConcrete), Shape::Dots { dots: drops, tone: Tone::PaleGlass }]
}

fn reading(bed: Bed) -> Vec<Shape> {
    let ticks = (1..=11).map(|n| {
        let share = if n % 4 == 2 { 0.6 } else { 0.35 };
        let x = f64::from(n);
        let points = vec![(x, bed.at(0.0)), (x, rounded(bed.top + (bed.height * share).min(4.0 * share)))];
        Shape::Polyline { points, stroke: Stroke::solid(Tone::Ink, 0.25) }
    });
    std::iter::once(bed.ground(Tone::Cream)).chain(ticks).collect()
}

/// What is left stands up to a ragged edge; above it the wash took the skin.
fn wash(bite: f64, bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let bite = if bite.is_finite() { bite.clamp(0.0, 1.0) } else { 1.0 };
    let depth = (bed.height * 0.6).min(5.0) * bite;
    let mut ring: Vec<Point> = (0..=16)
        .map(|n| (WIDTH * f64::from(n) / 16.0, rounded(bed.top + 0.3 + depth * seed.next())))
        .collect();
    ring.extend([(WIDTH, rounded(bed.bottom())), (0.0, rounded(bed.bottom()))]);
    vec![
        bed.ground(Tone::PaleGlass),
        Shape::Polygon { rings: vec![ring.clone()], paint: Paint::fill(Tone::DryConcrete) },
        Shape::Polyline { points: ring[..17].to_vec(), stroke: Stroke::solid(Tone::Graphite, 0.25) },
    ]
}

/// Grains sized by the particle, so that 20 grit shows stones and 3000 dust.
fn grit(um: f64, bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let um = if um.is_finite() { um.clamp(1.0, 2000.0) } else { 1.0 };
    let radius = rounded((0.75 * (um / 750.0).sqrt()).clamp(0.11, 0.8));
    let step = (2.6 * radius).clamp(0.9, 2.4);
    let dots = bed.places(step, radius + 0.1, seed).into_iter().map(|at| (at, radius)).collect();
    vec![bed.ground(Tone::DryConcrete), Shape::Dots { dots, tone: Tone::Stone }]
}

fn fill(bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let places = bed.places(3.6, 1.3, seed);
    let rings = places.into_iter().map(|at| {
        let radius = 0.9 + 0.35 * seed.next();
        grain(at, radius, 1, 0.5, 0.15, seed)
    });
    let outline = Some(Stroke::solid(Tone::Graphite, 0.2));
    let paint = Paint { fill: Some(Tone::Slurry), stroke: outline };
    vec![bed.ground(Tone::DryConcrete), Shape::Polygon { rings: rings.collect(), paint }]
}

fn trowel(bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let mut shapes = vec![bed.ground(Tone::DryConcrete)];
    for n in 0..3 {
        let y = 0.2 + 0.25 * f64::from(n);
        let sag = 0.06 + 0.1 * seed.next();
        // A shallow parabola over the width of the core.
        let point = |k: u32| {
            let x = f64::from(k) / 8.0;
            (WIDTH * x, bed.at(y + sag * (4.0 * x * (1.0 - x))))
        };
        let points = (0..=8).map(point).collect();
        shapes.push(Shape::Polyline { points, stroke: Stroke::solid(Tone::Stone, 0.3) });
    }
    shapes
}

/// What sinks in from above: many specks at the top, few further down.
fn sinking(tone: Tone, bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let mut dots: Vec<(Point, f64)> = bed.places(1.0, 0.35, seed).into_iter().map(|at| (at, 0.25)).collect();
    dots.retain(|((_, y), _)| seed.next() > (y - bed.top) / bed.height * 1.2);
    vec![bed.ground(Tone::DryConcrete), Shape::Dots { dots, tone }]
}

fn dry(bed: Bed, seed: &mut Seed) -> Vec<Shape> {
    let mut shapes = vec![bed.ground(Tone::DryConcrete)];
    for n in 0..5 {
        let x = 1.2 + 2.4 * f64::from(n);
        let bend = |share: f64, seed: &mut Seed| (rounded(x + 1.2 * (seed.next() - 0.5)), bed.at(share));
        let depth = 0.4 + 0.5 * seed.next();
        let points = vec![bend(0.05, seed), bend(depth / 2.0, seed), bend(depth, seed)];
        shapes.push(Shape::Polyline { points, stroke: Stroke::solid(Tone::Graphite, 0.25) });
    }
    shapes
}

fn coat(bed: Bed) -> Vec<Shape> {
    vec![
        bed.ground(Tone::PaleGlass),
        band(bed.top, 0.8_f64.min(bed.height / 4.0), Tone::Glass),
        line(bed.at(0.55), Tone::Paper, 0.5),
    ]
}

fn moved(bed: Bed) -> Vec<Shape> {
    let bearer = |x: f64| Shape::Rect {
        at: (x, bed.at(0.45)),
        size: (2.4, rounded(bed.height * 0.3)),
        paint: Paint::fill(Tone::Stone),
    };
    vec![
        bed.ground(Tone::Cream),
        band(bed.at(0.25), bed.height * 0.2, Tone::DryConcrete),
        bearer(1.6),
        bearer(8.0),
    ]
}

fn other(bed: Bed) -> Vec<Shape> {
    let rise = bed.height.min(3.0);
    let slant = |n: u32| Shape::Polyline {
        points: vec![
            (3.0 * f64::from(n), bed.at(1.0)),
            (rounded(3.0 * f64::from(n) + rise), rounded(bed.bottom() - rise)),
        ],
        stroke: Stroke::solid(Tone::Slurry, 0.3),
    };
    std::iter::once(bed.ground(Tone::Cream)).chain((0..4).map(slant)).collect()
}
