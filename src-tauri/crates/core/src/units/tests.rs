//! Units are read, shown and converted without loss, and never confused.
#![allow(clippy::float_cmp, reason = "exact factors must come out exact")]

use super::*;
use crate::text::Lang;

#[test]
fn the_longest_ending_of_a_field_name_counts() {
    assert_eq!(dimension_of_field("air_c"), Some(Dimension::Celsius));
    assert_eq!(dimension_of_field("margin_k"), Some(Dimension::Kelvin));
    assert_eq!(dimension_of_field("rise_c_per_h"), Some(Dimension::KelvinPerHour));
    assert_eq!(dimension_of_field("yield_m2_per_l"), Some(Dimension::SquareMetrePerLitre));
    assert_eq!(dimension_of_field("strength_mol_per_l"), Some(Dimension::MolePerLitre));
    assert_eq!(dimension_of_field("maturity_c_h"), Some(Dimension::CelsiusHour));
    assert_eq!(dimension_of_field("loss_kg_per_m2_h"), Some(Dimension::KilogramPerSquareMetreHour));
    assert_eq!(dimension_of_field("region"), None);
    assert_eq!(dimension_of_field("c"), None);
    assert_eq!(dimension_of_field("film"), None);
}

#[test]
fn every_dimension_has_its_unit_in_the_table_and_is_shown_in_both_systems() {
    for &dimension in Dimension::ALL {
        let stored = unit(dimension.symbol(), dimension.quantity()).expect("a unit");
        assert_eq!(from_unit(12.5, stored, dimension), Some(12.5), "{dimension:?}");
        for system in [System::Metric, System::Us] {
            let text = show(12.5, dimension, system, Lang::En);
            assert!(text.chars().any(|c| c.is_ascii_digit()), "{dimension:?} {text}");
        }
    }
}

#[test]
fn every_unit_comes_back() {
    for &dimension in Dimension::ALL {
        for unit in units_of(dimension.quantity()) {
            for x in [-40.0, 0.3, 1.0, 68.0, 27.579_029] {
                let there = to_unit(x, dimension, unit).expect("same quantity");
                let back = from_unit(there, unit, dimension).expect("same quantity");
                let scale = f64::max(x.abs(), if dimension == Dimension::Celsius { 300.0 } else { 0.0 });
                assert!((back - x).abs() <= 1e-12 * scale, "{x} {dimension:?} {} {back}", unit.symbol);
            }
        }
    }
}

#[test]
fn reads_what_people_write() {
    let read = |text, dimension| parse(text, dimension).expect(text);
    assert_eq!(read("68 °F", Dimension::Celsius), 20.0);
    assert_eq!(read("68F", Dimension::Celsius), 20.0);
    assert_eq!(read("-40 °F", Dimension::Celsius), -40.0);
    assert_eq!(read("−40 ℉", Dimension::Celsius), -40.0);
    assert_eq!(read("293.15 K", Dimension::Celsius), 20.0);
    assert_eq!(read("9 °F", Dimension::Kelvin), 5.0);
    assert_eq!(read("3 °C", Dimension::Kelvin), 3.0);
    assert_eq!(read("36 °F/h", Dimension::KelvinPerHour), 20.0);
    assert_eq!(read("1 1/2 in", Dimension::Millimetre), 38.1);
    assert_eq!(read("3/4\"", Dimension::Millimetre), 19.05);
    // Parts are added after conversion, so the last bit may differ.
    assert!((read("4 ft 6 in", Dimension::Millimetre) - 1371.6).abs() < 1e-9);
    assert!((read("4' 6\"", Dimension::Metre) - 1.3716).abs() < 1e-12);
    assert_eq!(read("2 h 30 min", Dimension::Minute), 150.0);
    assert_eq!(read("2,5 L", Dimension::Millilitre), 2500.0);
    assert_eq!(read("0,125 l", Dimension::Litre), 0.125);
    assert_eq!(read("1 gal", Dimension::Litre), 3.785_411_784);
    assert_eq!(read("5e-1 kg", Dimension::Gram), 500.0);
    assert_eq!(read("1 mil", Dimension::Micrometre), 25.4);
    assert_eq!(read("45%", Dimension::Percent), 45.0);
}

#[test]
fn refuses_what_has_no_one_reading() {
    assert!(matches!(parse("68", Dimension::Celsius), Err(BadUnit::NoUnit { .. })));
    assert!(
        matches!(parse("68 furlongs", Dimension::Celsius), Err(BadUnit::Unknown { unit, .. }) if unit == "furlongs")
    );
    assert!(matches!(parse("68 kg", Dimension::Celsius), Err(BadUnit::WrongQuantity { .. })));
    assert!(matches!(parse("1,500 psi", Dimension::Megapascal), Err(BadUnit::Ambiguous { .. })));
    assert!(matches!(parse("1.500,5 kg", Dimension::Kilogram), Err(BadUnit::Ambiguous { .. })));
    assert!(matches!(parse("8 oz", Dimension::Litre), Err(BadUnit::Ambiguous { .. })));
    assert!(matches!(parse("-400 °C", Dimension::Celsius), Err(BadUnit::OutOfRange { .. })));
    assert!(matches!(parse("1e308 kg", Dimension::Gram), Err(BadUnit::OutOfRange { .. })));
    for bad in ["", "NaN °C", "inf kg", "-", "warm", "4 ft -6 in", "..5 mm", "1/0 in"] {
        assert!(parse(bad, Dimension::Millimetre).is_err(), "{bad}");
    }
    assert!(parse("20 °C 5 °C", Dimension::Celsius).is_err());
}

#[test]
fn errors_name_the_unit_in_both_languages() {
    let bad = parse("3 cubits", Dimension::Metre).expect_err("no such unit");
    assert!(bad.say(Lang::En).contains("\"cubits\""), "{bad}");
    assert!(bad.say(Lang::Es).starts_with("unidad desconocida \"cubits\""), "{}", bad.say(Lang::Es));
}

#[test]
fn shows_the_digits_a_person_needs() {
    let en = |v, d, s| show(v, d, s, Lang::En).replace('\u{a0}', " ");
    let es = |v, d, s| show(v, d, s, Lang::Es).replace('\u{a0}', " ");
    assert_eq!(en(20.0, Dimension::Celsius, System::Us), "68.0 °F");
    assert_eq!(en(-0.04, Dimension::Celsius, System::Metric), "0.0 °C");
    assert_eq!(en(-3.2, Dimension::Celsius, System::Metric), "−3.2 °C");
    assert_eq!(en(5.0, Dimension::Kelvin, System::Us), "9.0 °F");
    assert_eq!(en(3.0, Dimension::KelvinPerHour, System::Us), "5.4 °F/h");
    assert_eq!(es(20.5, Dimension::Celsius, System::Metric), "20,5 °C");
    assert_eq!(en(27.579_029_2, Dimension::Megapascal, System::Us), "4,000 psi");
    assert_eq!(en(27.579, Dimension::Megapascal, System::Metric), "27.6 MPa");
    assert_eq!(en(3.785_411_784, Dimension::Litre, System::Us), "1.00 gal");
    assert_eq!(en(0.3, Dimension::Litre, System::Metric), "300 mL");
    assert_eq!(en(60.0, Dimension::Percent, System::Metric), "60%");
    assert_eq!(es(60.0, Dimension::Percent, System::Metric), "60 %");
    assert_eq!(en(40.0, Dimension::Micrometre, System::Us), "1.57 mil");
    assert_eq!(en(20.0, Dimension::Millimetre, System::Us), "0.79 in");
    assert_eq!(en(150.0, Dimension::Minute, System::Us), "2 h 30 min");
    assert_eq!(en(76.2, Dimension::Hour, System::Us), "3 d 4 h");
    assert_eq!(en(45.0, Dimension::Minute, System::Us), "45 min");
    assert_eq!(en(24.0, Dimension::Hour, System::Metric), "24 h");
    assert_eq!(en(2160.0, Dimension::CelsiusHour, System::Us), "3,888 °F·h");
    assert_eq!(en(f64::NAN, Dimension::Litre, System::Us), "—");
    assert_eq!(number(1_234_567.891, 2, Lang::En), "1,234,567.89");
    assert_eq!(number(1234.5, 1, Lang::Es), "1234,5");
    assert_eq!(number(12345.0, 0, Lang::Es).replace('\u{a0}', " "), "12 345");
}
