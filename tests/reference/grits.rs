//! Grit sizes across the scales, ladders, rim speed.

use trowelogue_testkit::trowelogue_core::body::surface::GritScale;
use trowelogue_testkit::trowelogue_core::sums::grit::{Grit, ladder};
use trowelogue_testkit::trowelogue_core::sums::tool::{BRUSH_LIFE_M2, rim_speed_ms};

use crate::{Check, check, to_the_digit};

pub(crate) fn checks() -> Vec<Check> {
    [sizes(), ratios(), speeds()].into_iter().flatten().collect()
}

fn size(number: f64, scale: GritScale) -> f64 {
    Grit { number, scale }.particle_um().expect("in the table")
}

fn sizes() -> Vec<Check> {
    const FEPA: &str = "FEPA P / ISO 6344, mean sizes as printed by two independent lists";
    const CAMI: &str = "ANSI / CAMI, mean sizes as printed by two lists (they differ by about 1 %)";
    const ISO_6106: &str = "ISO 6106, limits of the FEPA D codes (from memory)";
    let p = [
        (12.0, 1815.0),
        (40.0, 425.0),
        (60.0, 269.0),
        (80.0, 201.0),
        (120.0, 125.0),
        (220.0, 68.0),
        (400.0, 35.0),
        (600.0, 25.8),
        (800.0, 21.8),
        (1500.0, 12.6),
        (2500.0, 8.4),
    ];
    let cami = [
        (24.0, 715.0),
        (30.0, 638.0),
        (36.0, 535.0),
        (40.0, 428.0),
        (50.0, 351.0),
        (60.0, 268.0),
        (80.0, 192.0),
        (100.0, 141.0),
        (400.0, 23.0),
        (600.0, 16.0),
    ];
    // The finer limit of a D code is the opening its second mesh number stands for.
    let mesh = [
        (30.0, 600.0),
        (40.0, 425.0),
        (50.0, 300.0),
        (60.0, 250.0),
        (80.0, 180.0),
        (120.0, 125.0),
        (170.0, 90.0),
        (230.0, 63.0),
        (325.0, 45.0),
        (400.0, 38.0),
    ];
    let mut checks = Vec::new();
    checks.extend(p.map(|(n, um)| check(FEPA, format!("P{n}"), size(n, GritScale::P), um, 0.05)));
    checks.extend(
        cami.map(|(n, um)| check(CAMI, format!("CAMI {n}"), size(n, GritScale::Cami), um, 0.013 * um)),
    );
    checks.extend(
        mesh.map(|(n, um)| check(ISO_6106, format!("mesh {n}"), size(n, GritScale::Mesh), um, 0.02 * um)),
    );
    let pads = "common practice, no source: pad number 100 about 150 µm";
    checks.push(check(pads, "pad 100", size(100.0, GritScale::Pad), 150.0, 0.5));
    checks
}

fn ratios() -> Vec<Check> {
    const FEPA: &str = "FEPA P / ISO 6344, mean sizes as printed by two independent lists";
    let paper = |from, to| size(from, GritScale::P) / size(to, GritScale::P);
    let mut checks = vec![
        to_the_digit(FEPA, "P40 to P80", paper(40.0, 80.0), "2.114"),
        to_the_digit(FEPA, "P80 to P120", paper(80.0, 120.0), "1.608"),
        to_the_digit(FEPA, "P100 to P220", paper(100.0, 220.0), "2.382"),
        to_the_digit(FEPA, "P400 to P800", paper(400.0, 800.0), "1.606"),
        to_the_digit(FEPA, "P80 to P400, a skip", paper(80.0, 400.0), "5.743"),
        to_the_digit(
            FEPA,
            "P400 to CAMI 400",
            size(400.0, GritScale::P) / size(400.0, GritScale::Cami),
            "1.52",
        ),
    ];
    let found = ladder(60.0, 400.0, GritScale::P).expect("a ladder");
    let wanted = ["2.152", "1.838", "1.943"];
    checks.extend(
        found
            .size_ratios
            .iter()
            .zip(wanted)
            .map(|(ratio, w)| to_the_digit(FEPA, "ladder P60 to P400", *ratio, w)),
    );
    checks
}

fn speeds() -> Vec<Check> {
    const RIM: &str = "rim speed = π × diameter × turns (arithmetic by hand)";
    let rim = |mm, rpm| rim_speed_ms(mm, rpm).expect("in range");
    vec![
        to_the_digit(RIM, "100 mm at 3000 rpm", rim(100.0, 3000.0), "15.71"),
        to_the_digit(RIM, "125 mm at 4500 rpm", rim(125.0, 4500.0), "29.45"),
        to_the_digit(RIM, "180 mm at 2000 rpm", rim(180.0, 2000.0), "18.85"),
        to_the_digit(RIM, "430 mm at 175 rpm", rim(430.0, 175.0), "3.94"),
        check(
            "common practice, no source: brushes last 5,000 to 20,000 ft² a grit",
            "m²",
            BRUSH_LIFE_M2.0,
            464.5,
            0.05,
        ),
    ]
}
