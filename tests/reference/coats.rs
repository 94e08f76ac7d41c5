//! Films, coverage, quantities.

use trowelogue_testkit::trowelogue_core::sums::coat::{
    Coats, coverage_m2_per_l, film, quantity_to_buy_l, volume_l,
};
use trowelogue_testkit::trowelogue_core::sums::load::{PER_PERSON_KG, Slab, load};

use crate::{Check, check, to_the_digit};

pub(crate) fn checks() -> Vec<Check> {
    [wet(), dry(), amounts(), loads()].into_iter().flatten().collect()
}

fn laid(quantity_l: f64, area_m2: f64, solids_pct: f64, thinner_pct: f64) -> Coats {
    Coats { quantity_l, area_m2, solids_pct, coats: 1.0, thinner_pct }
}

fn wet() -> Vec<Check> {
    const GEOMETRY: &str = "wet film = 1000 / coverage, exact (231 in³ to the gallon)";
    // ft² to the gallon, µm, mil.
    let rows = [
        (50.0, "814.92", "32.0833"),
        (100.0, "407.46", "16.0417"),
        (150.0, "271.64", "10.6944"),
        (200.0, "203.73", "8.0208"),
        (300.0, "135.82", "5.3472"),
        (400.0, "101.86", "4.0104"),
        (500.0, "81.49", "3.2083"),
        (1000.0, "40.75", "1.6042"),
    ];
    let each = |(feet, micrometre, mil): (f64, &str, &str)| {
        let found = film(&laid(3.785_411_784, feet * 0.092_903_04, 40.0, 0.0)).expect("in range").wet_film_um;
        [
            to_the_digit(GEOMETRY, format!("{feet} ft²/gal, µm"), found, micrometre),
            to_the_digit(GEOMETRY, format!("{feet} ft²/gal, mil"), found / 25.4, mil),
        ]
    };
    rows.into_iter().flat_map(each).collect()
}

fn dry() -> Vec<Check> {
    const SOLIDS: &str = "dry film = wet film × volume solids / (1 + thinner), ASTM D2697 and ISO 3233 for the solids (arithmetic by hand)";
    let rows = [
        (100.0, 40.0, 0.0, "40"),
        (150.0, 35.0, 0.0, "52.5"),
        (75.0, 30.0, 0.0, "22.5"),
        (250.0, 100.0, 0.0, "250"),
        (100.0, 40.0, 25.0, "32"),
        (200.0, 50.0, 10.0, "90.909"),
    ];
    let mut checks: Vec<Check> = rows
        .into_iter()
        .map(|(wet, solids, thinner, wanted)| {
            let found = film(&laid(wet / 1000.0, 1.0, solids, thinner)).expect("in range").dry_film_um;
            to_the_digit(SOLIDS, format!("{wet} µm, {solids} %, thinned {thinner} %"), found, wanted)
        })
        .collect();
    for (dry, solids, wanted) in
        [(50.0, 40.0, "8.00"), (25.0, 30.0, "12.00"), (75.0, 55.0, "7.333"), (40.0, 35.0, "8.75")]
    {
        let found = coverage_m2_per_l(dry, solids).expect("in range");
        checks.push(to_the_digit(SOLIDS, format!("coverage for {dry} µm at {solids} %"), found, wanted));
    }
    checks
}

fn amounts() -> Vec<Check> {
    const BUY: &str = "quantity = area × coats / coverage / (1 − loss) (arithmetic by hand)";
    let buy = |area, coats, coverage, loss| quantity_to_buy_l(area, coats, coverage, loss).expect("in range");
    let by_mass = |grams, density, area| volume_l(grams, density).expect("in range") / area * 1000.0;
    vec![
        to_the_digit(BUY, "6.5 m², 2 coats, loss 10 %", buy(6.5, 2.0, 10.0, 10.0), "1.4444"),
        to_the_digit(BUY, "3.2 m², 3 coats, loss 15 %", buy(3.2, 3.0, 8.0, 15.0), "1.4118"),
        to_the_digit(BUY, "50 m², 1 coat, loss 20 %", buy(50.0, 1.0, 12.0, 20.0), "5.2083"),
        to_the_digit(BUY, "200 g of 1.03 kg/L on 2 m², µm", by_mass(200.0, 1.03, 2.0), "97.09"),
        to_the_digit(BUY, "120 g of 1.05 kg/L on 1 m², µm", by_mass(120.0, 1.05, 1.0), "114.29"),
    ]
}

fn loads() -> Vec<Check> {
    const BLOCK: &str = "volume × density (arithmetic by hand); 25 kg a person is common practice, no source";
    let slab = Slab {
        length_mm: 2000.0,
        width_mm: 600.0,
        thickness_mm: 40.0,
        density_kgm3: 2200.0,
        cut_outs_m2: 0.25,
        added_kg: 0.0,
        per_person_kg: PER_PERSON_KG,
    };
    let found = load(&slab).expect("in range");
    vec![
        check(BLOCK, "a top with a sink cut-out, kg", found.mass_kg, 83.6, 1e-9),
        check(BLOCK, "persons", f64::from(found.persons), 4.0, 0.0),
    ]
}
