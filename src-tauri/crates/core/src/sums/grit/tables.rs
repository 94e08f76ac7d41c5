//! Particle size by grit number, µm, coarse to fine, and the numbers tools are sold in.

use crate::body::surface::GritScale;

/// FEPA P, ISO 6344: mean particle size as given by two independent lists. P3000 and P5000 are outside the
/// standard and from memory.
const FEPA_P: &[(f64, f64)] = &[
    (12.0, 1815.0),
    (16.0, 1324.0),
    (20.0, 1000.0),
    (24.0, 764.0),
    (30.0, 642.0),
    (36.0, 538.0),
    (40.0, 425.0),
    (50.0, 336.0),
    (60.0, 269.0),
    (80.0, 201.0),
    (100.0, 162.0),
    (120.0, 125.0),
    (150.0, 100.0),
    (180.0, 82.0),
    (220.0, 68.0),
    (240.0, 58.5),
    (280.0, 52.2),
    (320.0, 46.2),
    (360.0, 40.5),
    (400.0, 35.0),
    (500.0, 30.2),
    (600.0, 25.8),
    (800.0, 21.8),
    (1000.0, 18.3),
    (1200.0, 15.3),
    (1500.0, 12.6),
    (2000.0, 10.3),
    (2500.0, 8.4),
    (3000.0, 7.0),
    (5000.0, 5.0),
];

/// ANSI / CAMI: mean particle size.
const CAMI: &[(f64, f64)] = &[
    (24.0, 708.0),
    (30.0, 632.0),
    (36.0, 530.0),
    (40.0, 425.0),
    (50.0, 348.0),
    (60.0, 265.0),
    (80.0, 190.0),
    (100.0, 140.0),
    (120.0, 115.0),
    (150.0, 92.0),
    (180.0, 82.0),
    (220.0, 68.0),
    (240.0, 53.0),
    (320.0, 36.0),
    (360.0, 28.0),
    (400.0, 23.0),
    (500.0, 20.0),
    (600.0, 16.0),
    (800.0, 12.6),
    (1000.0, 10.3),
];

/// Sieve openings of ASTM E11 (from memory; they agree with the limits of the FEPA D codes of ISO 6106), from
/// 500 on about 14,900 µm over the number (common practice).
const MESH: &[(f64, f64)] = &[
    (16.0, 1180.0),
    (20.0, 850.0),
    (30.0, 600.0),
    (40.0, 425.0),
    (50.0, 300.0),
    (60.0, 250.0),
    (80.0, 180.0),
    (100.0, 150.0),
    (120.0, 125.0),
    (140.0, 106.0),
    (170.0, 90.0),
    (200.0, 75.0),
    (230.0, 63.0),
    (270.0, 53.0),
    (325.0, 45.0),
    (400.0, 38.0),
    (500.0, 29.8),
    (800.0, 18.625),
    (1500.0, 9.933),
    (3000.0, 4.967),
];

/// Polishing pads: no binding standard; common practice, about 15,000 µm over the number.
const PAD: &[(f64, f64)] = &[
    (16.0, 937.5),
    (30.0, 500.0),
    (50.0, 300.0),
    (100.0, 150.0),
    (200.0, 75.0),
    (400.0, 37.0),
    (800.0, 18.0),
    (1500.0, 10.0),
    (3000.0, 5.0),
];

/// Size by number, coarse to fine.
pub(super) const fn sizes(scale: GritScale) -> &'static [(f64, f64)] {
    match scale {
        GritScale::Pad => PAD,
        GritScale::Mesh => MESH,
        GritScale::P => FEPA_P,
        GritScale::Cami => CAMI,
    }
}

/// The numbers tools of a scale are commonly sold in (common practice).
pub(super) const fn sold(scale: GritScale) -> &'static [f64] {
    match scale {
        GritScale::Pad => &[30.0, 50.0, 100.0, 200.0, 400.0, 800.0, 1500.0, 3000.0],
        GritScale::Mesh => &[
            16.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0, 120.0, 150.0, 200.0, 400.0, 800.0, 1500.0,
            3000.0,
        ],
        GritScale::P => &[
            16.0, 24.0, 36.0, 40.0, 60.0, 80.0, 100.0, 120.0, 150.0, 180.0, 220.0, 240.0, 320.0, 400.0,
            600.0, 800.0, 1000.0, 1200.0, 1500.0, 2000.0, 2500.0, 3000.0, 5000.0,
        ],
        GritScale::Cami => &[
            24.0, 36.0, 40.0, 60.0, 80.0, 100.0, 120.0, 150.0, 180.0, 220.0, 320.0, 400.0, 600.0, 800.0,
            1000.0,
        ],
    }
}
