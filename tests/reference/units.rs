//! Conversions, and dates of recurring service.

use chrono::NaiveDate;
use trowelogue_testkit::trowelogue_core::sums::calendar::{Term, after, every};
use trowelogue_testkit::trowelogue_core::units::{Dimension, parse, to_unit, unit};

use crate::{Check, check, to_the_digit};

pub(crate) fn checks() -> Vec<Check> {
    [exact(), derived(), temperatures(), dates()].into_iter().flatten().collect()
}

fn read(text: &str, dimension: Dimension) -> f64 {
    parse(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn shown(value: f64, dimension: Dimension, symbol: &str) -> f64 {
    let unit = unit(symbol, dimension.quantity()).expect("in the table");
    to_unit(value, dimension, unit).expect("same quantity")
}

/// Factors that are exact by definition come out without a wrong last bit.
fn exact() -> Vec<Check> {
    const NIST: &str = "NIST SP 811 (2008), appendix B.8, exact factors";
    use Dimension as D;
    let rows = [
        ("1 in", D::Millimetre, 25.4),
        ("1 ft", D::Metre, 0.3048),
        ("1 mil", D::Micrometre, 25.4),
        ("1 ft²", D::SquareMetre, 0.092_903_04),
        ("1 ft³", D::CubicMetre, 0.028_316_846_592),
        ("1 yd³", D::CubicMetre, 0.764_554_857_984),
        ("1 gal", D::Litre, 3.785_411_784),
        ("1 imp gal", D::Litre, 4.546_09),
        ("1 fl oz", D::Millilitre, 29.573_529_562_5),
        ("1 imp fl oz", D::Millilitre, 28.413_062_5),
        ("1 qt", D::Litre, 0.946_352_946),
        ("1 pt", D::Litre, 0.473_176_473),
        ("1 cup", D::Millilitre, 236.588_236_5),
        ("1 lb", D::Kilogram, 0.453_592_37),
        ("1 oz", D::Gram, 28.349_523_125),
        ("1 mph", D::KilometrePerHour, 1.609_344),
        ("1 mph", D::MetrePerSecond, 0.447_04),
    ];
    rows.map(|(text, dimension, wanted)| check(NIST, text, read(text, dimension), wanted, 0.0)).into()
}

fn derived() -> Vec<Check> {
    const PINT: &str = "pint 0.25.3";
    use Dimension as D;
    let rows = [
        ("1000 psi", D::Megapascal, "6.89475729"),
        ("3500 psi", D::Megapascal, "24.1316505"),
        ("4000 psi", D::Megapascal, "27.5790292"),
        ("5000 psi", D::Megapascal, "34.4737865"),
        ("1 lb/yd³", D::KilogramPerCubicMetre, "0.593276421258"),
        ("1 lb/ft³", D::KilogramPerCubicMetre, "16.018463374"),
        ("1 lb/gal", D::GramPerLitre, "119.826427317"),
        ("1 oz/gal", D::GramPerLitre, "7.48915170731"),
        ("1 oz/yd²", D::GramPerSquareMetre, "33.9057474749"),
        ("1 oz/ft²", D::GramPerSquareMetre, "305.151727274"),
        ("1 lb/ft²", D::KilogramPerSquareMetre, "4.88242763638"),
        ("1 ft²/gal", D::SquareMetrePerLitre, "0.0245423867471"),
        ("1 cfm", D::CubicMetrePerHour, "1.69901079552"),
        ("1 lbf", D::Newton, "4.44822161526"),
        ("1 lb/(ft²·h)", D::KilogramPerSquareMetreHour, "4.88242763638"),
    ];
    let mut checks: Vec<Check> =
        rows.map(|(text, dimension, wanted)| to_the_digit(PINT, text, read(text, dimension), wanted)).into();
    checks.push(to_the_digit(PINT, "1 MPa in psi", shown(1.0, D::Megapascal, "psi"), "145.03773773"));
    checks.push(to_the_digit(PINT, "1 m² in ft²", shown(1.0, D::SquareMetre, "ft²"), "10.7639104167"));
    checks.push(to_the_digit(
        PINT,
        "1 m²/L in ft²/gal",
        shown(1.0, D::SquareMetrePerLitre, "ft²/gal"),
        "40.7458333333",
    ));
    checks
}

fn temperatures() -> Vec<Check> {
    const NIST: &str = "NIST SP 811 (2008), appendix B.8, exact factors";
    use Dimension as D;
    let rows = [
        ("-40 °F", "-40"),
        ("32 °F", "0"),
        ("40 °F", "4.444444"),
        ("50 °F", "10"),
        ("68 °F", "20"),
        ("70 °F", "21.111111"),
        ("73.4 °F", "23"),
        ("85 °F", "29.444444"),
        ("120 °F", "48.888889"),
        ("212 °F", "100"),
    ];
    let mut checks: Vec<Check> =
        rows.map(|(text, wanted)| to_the_digit(NIST, text, read(text, D::Celsius), wanted)).into();
    checks.extend([
        to_the_digit(NIST, "5 °C in °F", shown(5.0, D::Celsius, "°F"), "41"),
        to_the_digit(NIST, "60 °C in °F", shown(60.0, D::Celsius, "°F"), "140"),
        to_the_digit(NIST, "a difference of 5 °F", read("5 °F", D::Kelvin), "2.777778"),
        check(NIST, "a difference of 3 K in °F", shown(3.0, D::Kelvin, "°F"), 5.4, 1e-12),
        check(NIST, "3888 °F·h in °C·h", read("3888 °F·h", D::CelsiusHour), 2160.0, 1e-9),
    ]);
    checks
}

/// Days since 1970 stand for dates, so that a date is a value like the others.
fn dates() -> Vec<Check> {
    const DATEUTIL: &str = "python-dateutil, RFC 5545 recurrences";
    let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).expect("a date");
    let number = |date: NaiveDate| date.signed_duration_since(day(1970, 1, 1)).num_days() as f64;
    let served = every(day(2026, 3, 15), 6, 3).expect("in range");
    let wanted = [day(2026, 9, 15), day(2027, 3, 15), day(2027, 9, 15)];
    let mut checks: Vec<Check> = served
        .into_iter()
        .zip(wanted)
        .map(|(found, wanted)| {
            check(DATEUTIL, format!("half-yearly, {wanted}"), number(found), number(wanted), 0.0)
        })
        .collect();
    let ends = every(day(2026, 1, 31), 1, 3).expect("in range");
    let wanted = [day(2026, 2, 28), day(2026, 3, 31), day(2026, 4, 30)];
    checks.extend(ends.into_iter().zip(wanted).map(|(found, wanted)| {
        check(DATEUTIL, format!("month ends, {wanted}"), number(found), number(wanted), 0.0)
    }));
    let leap = after(day(2024, 2, 29), Term::Years(4)).expect("in range");
    checks.push(check(DATEUTIL, "29 February four years on", number(leap), number(day(2028, 2, 29)), 0.0));
    checks
}
