//! The small drawings of the care sheet, each drawn here from a few strokes. They say nothing the words beside
//! them do not say.

use trowelogue_core::drawing::{Drawing, Shape, Tone};

use super::pen::{arc, body, disc, drawing, drop, hoop, line, patch, slab, stroke, struck};
use crate::model::Place;

/// What is done every day: in the order of the words.
pub(super) fn daily() -> [Drawing; 3] {
    [
        drawing([drop((6.0, 0.6), 5.0, Tone::Glass), drop((12.6, 2.2), 3.6, Tone::Glass), cloth(0.0, 1.4)]),
        drawing([
            cloth(1.2, -1.6),
            stroke(&[(0.8, 8.0), (4.2, 8.0)], Tone::Stone, 0.8),
            stroke(&[(0.8, 11.0), (3.2, 11.0)], Tone::Stone, 0.8),
            slab(15.2),
        ]),
        drawing([
            body(&[(1.2, 6.4), (15.8, 6.4), (18.8, 9.4), (18.8, 17.6), (1.2, 17.6)], Tone::Sand),
            disc((15.6, 9.9), 1.2, Tone::Paper),
            body(&[(2.6, 13.6), (12.4, 8.6), (13.2, 10.2), (4.0, 15.2)], Tone::Slurry),
            stroke(&[(12.6, 9.4), (17.4, 3.0)], Tone::Ink, 1.9),
        ]),
    ]
}

/// A folded cloth.
fn cloth(aside: f64, down: f64) -> Vec<Shape> {
    let at = |points: &[(f64, f64)]| points.iter().map(|(x, y)| (x + aside, y + down)).collect::<Vec<_>>();
    let mut shapes = body(
        &at(&[(1.4, 12.4), (5.4, 8.2), (11.0, 9.6), (17.4, 7.6), (18.4, 12.6), (13.0, 16.6), (6.2, 15.0)]),
        Tone::Cream,
    );
    shapes.extend(line(&at(&[(5.0, 12.2), (10.6, 12.8), (15.2, 10.6)])));
    shapes
}

/// What is wiped up at once.
pub(super) fn spills() -> [Drawing; 4] {
    [lemon(), cup(), oil(), tin()]
}

/// Half a lemon with its segments.
fn lemon() -> Drawing {
    let (centre, radius) = ((9.6, 10.0), 8.2);
    let spoke = |turn: f64| {
        let angle = turn.to_radians();
        line(&[centre, (centre.0 + 5.9 * angle.cos(), centre.1 + 5.9 * angle.sin())])
    };
    let mut parts = vec![
        disc(centre, radius, Tone::Sand),
        patch(&arc(centre, 6.4, 0.0, 360.0), Tone::Cream),
        hoop(centre, 6.2, Tone::Ink, 0.5),
    ];
    parts.extend((0..7).map(|n| spoke(f64::from(n) * 360.0 / 7.0 - 90.0)));
    parts.push(drop((18.0, 13.2), 4.8, Tone::Glass));
    drawing(parts)
}

/// A cup with steam over it.
fn cup() -> Drawing {
    drawing([
        stroke(&arc((14.6, 12.2), 3.1, -90.0, 90.0), Tone::Ink, 1.0),
        body(&[(3.0, 8.2), (14.6, 8.2), (13.6, 17.0), (4.0, 17.0)], Tone::Paper),
        patch(&[(3.5, 9.4), (14.1, 9.4), (13.9, 11.4), (3.7, 11.4)], Tone::YellowOxide),
        line(&[(1.4, 18.8), (16.4, 18.8)]),
        line(&[(6.4, 6.4), (5.6, 4.8), (6.8, 3.2), (6.0, 1.4)]),
        line(&[(10.8, 6.4), (10.0, 4.8), (11.2, 3.2), (10.4, 1.4)]),
    ])
}

/// A bottle of oil and a drop of it.
fn oil() -> Drawing {
    drawing([
        body(
            &[
                (4.4, 5.2),
                (8.6, 5.2),
                (8.6, 8.6),
                (11.6, 11.4),
                (11.6, 18.8),
                (1.4, 18.8),
                (1.4, 11.4),
                (4.4, 8.6),
            ],
            Tone::Paper,
        ),
        patch(&[(2.0, 13.0), (11.0, 13.0), (11.0, 18.2), (2.0, 18.2)], Tone::Sand),
        body(&[(4.8, 1.2), (8.2, 1.2), (8.2, 5.2), (4.8, 5.2)], Tone::Stone),
        drop((16.0, 8.6), 6.6, Tone::YellowOxide),
    ])
}

/// A tin and the ring of rust it leaves.
fn tin() -> Drawing {
    drawing([
        stroke(&squashed((7.4, 16.6), 6.6, 2.0), Tone::IronOxide, 1.5),
        body(&[(2.6, 3.2), (12.2, 3.2), (12.2, 14.4), (2.6, 14.4)], Tone::Slurry),
        body(&squashed((7.4, 3.2), 4.8, 1.5), Tone::Paper),
        line(&[(2.6, 6.8), (12.2, 6.8)]),
        line(&[(2.6, 11.4), (12.2, 11.4)]),
        drop((16.8, 4.0), 5.4, Tone::Ink),
    ])
}

/// A circle seen from the side.
fn squashed(centre: (f64, f64), wide: f64, high: f64) -> Vec<(f64, f64)> {
    arc((0.0, 0.0), 1.0, 0.0, 360.0).iter().map(|(x, y)| (centre.0 + x * wide, centre.1 + y * high)).collect()
}

/// What is never used.
pub(super) fn forbidden() -> [Drawing; 4] {
    [scourer(), jug(), acid(), can()]
}

/// A scouring pad.
fn scourer() -> Drawing {
    let zigzag = |y: f64| {
        let points = (0..9).map(|n| (3.0 + f64::from(n) * 1.75, if n % 2 == 0 { y } else { y + 2.0 }));
        stroke(&points.collect::<Vec<_>>(), Tone::Ink, 0.6)
    };
    struck([
        body(&[(1.6, 6.0), (18.4, 4.6), (18.4, 15.4), (1.6, 16.0)], Tone::Stone),
        zigzag(7.0),
        zigzag(10.0),
        zigzag(12.8),
    ])
}

/// A jug of bleach, with what rises from it.
fn jug() -> Drawing {
    struck([
        body(&[(5.0, 5.6), (8.4, 5.6), (14.6, 9.4), (14.6, 18.8), (3.0, 18.8), (3.0, 9.4)], Tone::PaleGlass),
        body(&[(4.8, 2.2), (8.6, 2.2), (8.6, 5.6), (4.8, 5.6)], Tone::Stone),
        stroke(&arc((11.0, 11.6), 2.0, -60.0, 200.0), Tone::Ink, 0.9),
        line(&[(12.6, 5.4), (13.4, 3.8), (12.4, 2.4), (13.2, 0.9)]),
        line(&[(16.2, 7.0), (17.0, 5.4), (16.0, 4.0), (16.8, 2.4)]),
    ])
}

/// A drop of acid and the hollow it eats.
fn acid() -> Drawing {
    let hollow = [
        (0.8, 12.4),
        (6.4, 12.4),
        (8.0, 14.8),
        (11.6, 15.0),
        (13.4, 12.4),
        (19.2, 12.4),
        (19.2, 18.6),
        (0.8, 18.6),
    ];
    struck([
        body(&hollow, Tone::DryConcrete),
        drop((10.0, 0.8), 8.4, Tone::Glass),
        hoop((5.4, 9.6), 1.0, Tone::Ink, 0.6),
        hoop((14.8, 8.8), 1.3, Tone::Ink, 0.6),
        hoop((13.2, 5.6), 0.8, Tone::Ink, 0.6),
    ])
}

/// A can of solvent.
fn can() -> Drawing {
    struck([
        body(&[(3.4, 6.0), (16.6, 6.0), (16.6, 18.8), (3.4, 18.8)], Tone::Slurry),
        body(&[(11.4, 2.8), (15.0, 2.8), (15.0, 6.0), (11.4, 6.0)], Tone::Stone),
        line(&[(4.6, 6.0), (4.6, 3.6), (9.4, 3.6), (9.4, 6.0)]),
        patch(
            &[
                (6.4, 15.4),
                (6.0, 12.6),
                (8.2, 13.4),
                (9.8, 9.2),
                (12.0, 12.4),
                (13.4, 11.6),
                (13.6, 15.4),
                (11.6, 17.0),
                (8.4, 17.0),
            ],
            Tone::IronOxide,
        ),
    ])
}

/// What a piece in its place asks for.
pub(super) fn place(place: Place) -> Drawing {
    match place {
        Place::Kitchen => drawing([
            body(&[(4.0, 4.6), (16.0, 4.6), (15.2, 11.6), (4.8, 11.6)], Tone::WetConcrete),
            stroke(&[(0.8, 6.2), (4.2, 6.2)], Tone::Ink, 1.4),
            stroke(&[(15.8, 6.2), (19.2, 6.2)], Tone::Ink, 1.4),
            stroke(&[(3.0, 12.9), (17.0, 12.9)], Tone::Sand, 1.6),
            line(&[(4.6, 13.8), (4.6, 15.2)]),
            line(&[(15.4, 13.8), (15.4, 15.2)]),
            slab(15.2),
        ]),
        Place::Bath => drawing([
            body(&[(5.0, 5.4), (8.6, 5.4), (8.6, 12.0), (5.0, 12.0)], Tone::PaleGlass),
            body(&[(5.6, 2.6), (8.0, 2.6), (8.0, 5.4), (5.6, 5.4)], Tone::Stone),
            body(&[(11.0, 8.2), (15.0, 8.2), (15.0, 12.0), (11.0, 12.0)], Tone::Sand),
            body(&[(2.2, 12.0), (17.8, 12.0), (16.6, 14.2), (3.4, 14.2)], Tone::Slurry),
            slab(15.2),
        ]),
        Place::Wall => drawing([
            body(&[(1.2, 1.2), (8.0, 1.2), (8.0, 18.8), (1.2, 18.8)], Tone::DryConcrete),
            line(&[(12.0, 10.6), (18.6, 3.6)]),
            body(&[(8.8, 10.6), (12.2, 9.0), (13.4, 12.2), (10.4, 16.2), (8.8, 14.6)], Tone::Cream),
        ]),
        Place::Floor => drawing([
            stroke(&[(5.0, 0.8), (5.0, 12.6)], Tone::Ink, 1.8),
            stroke(&[(3.0, 14.0), (7.0, 14.0)], Tone::YellowOxide, 2.0),
            patch(&squashed((14.0, 13.9), 4.4, 1.0), Tone::Glass),
            drop((14.0, 5.0), 5.0, Tone::Glass),
            slab(15.2),
        ]),
        Place::Outdoor => drawing([
            body(&[(2.0, 9.0), (5.2, 4.0), (11.0, 3.2), (9.8, 8.6), (5.2, 11.4)], Tone::Sand),
            line(&[(3.0, 11.0), (8.6, 5.6)]),
            stroke(&[(13.0, 5.4), (13.0, 13.4)], Tone::Glass, 0.9),
            stroke(&[(9.6, 7.4), (16.4, 11.4)], Tone::Glass, 0.9),
            stroke(&[(9.6, 11.4), (16.4, 7.4)], Tone::Glass, 0.9),
            slab(15.2),
        ]),
    }
}

/// The water-drop test: a bead on light concrete, and a drop that darkens it.
pub(super) fn drop_test() -> [Drawing; 2] {
    let bead = |centre: (f64, f64), radius: f64| {
        let mut points = arc(centre, radius, 155.0, 385.0);
        points.extend(points.first().copied());
        patch(&points, Tone::Glass)
    };
    let wet = [(3.6, 12.2), (16.6, 12.2), (14.8, 15.0), (10.2, 16.1), (5.6, 15.2)];
    [
        drawing([bead((6.2, 10.4), 3.8), bead((14.4, 10.9), 2.8), slab(12.2)]),
        drawing([
            slab(12.2),
            patch(&wet, Tone::WetConcrete),
            patch(&squashed((10.1, 12.0), 5.6, 0.9), Tone::Glass),
        ]),
    ]
}

/// What to do about a problem: in the order of the words.
pub(super) fn report() -> [Drawing; 4] {
    [
        drawing([
            body(&[(1.0, 5.0), (19.0, 5.0), (19.0, 16.4), (1.0, 16.4)], Tone::DryConcrete),
            patch(&squashed((10.0, 10.8), 2.6, 1.9), Tone::WetConcrete),
            dashed((10.0, 10.8), 5.0),
        ]),
        drawing([
            body(&[(1.4, 5.2), (12.6, 5.2), (12.6, 14.4), (1.4, 14.4)], Tone::Slurry),
            body(&[(3.2, 3.2), (6.6, 3.2), (6.6, 5.2), (3.2, 5.2)], Tone::Stone),
            disc((7.4, 9.8), 3.0, Tone::Paper),
            disc((7.4, 9.8), 1.2, Tone::Glass),
            disc((16.4, 15.8), 2.6, Tone::Sand),
            hoop((16.4, 15.8), 1.4, Tone::Ink, 0.5),
        ]),
        drawing([
            body(&[(2.4, 1.4), (14.0, 1.4), (14.0, 18.6), (2.4, 18.6)], Tone::Paper),
            line(&[(4.6, 5.4), (11.8, 5.4)]),
            line(&[(4.6, 8.8), (11.0, 8.8)]),
            line(&[(4.6, 12.2), (8.6, 12.2)]),
            stroke(&[(10.4, 15.4), (18.4, 6.6)], Tone::YellowOxide, 1.9),
            patch(&[(9.1, 16.8), (9.8, 14.6), (11.2, 15.9)], Tone::Ink),
        ]),
        drawing([
            body(&[(0.8, 3.6), (12.6, 3.6), (12.6, 16.4), (0.8, 16.4)], Tone::Paper),
            modules(),
            line(&[(13.8, 10.0), (18.4, 10.0)]),
            line(&[(16.0, 7.4), (18.8, 10.0), (16.0, 12.6)]),
        ]),
    ]
}

/// A fence of short strokes around a spot.
fn dashed(centre: (f64, f64), radius: f64) -> Vec<Shape> {
    (0..9)
        .flat_map(|n| {
            let from = f64::from(n) * 40.0;
            stroke(&arc(centre, radius, from, from + 22.0), Tone::IronOxide, 1.1)
        })
        .collect()
}

/// A few dark modules, as in the code at the top of the sheet.
fn modules() -> Vec<Shape> {
    let dark = [(0, 0), (1, 0), (3, 0), (0, 1), (2, 1), (1, 2), (3, 2), (0, 3), (2, 3), (3, 3)];
    dark.iter()
        .flat_map(|(column, row)| {
            let (x, y) = (2.7 + f64::from(*column) * 2.0, 6.0 + f64::from(*row) * 2.0);
            patch(&[(x, y), (x + 2.0, y), (x + 2.0, y + 2.0), (x, y + 2.0)], Tone::Ink)
        })
        .collect()
}
