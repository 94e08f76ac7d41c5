//! What a logger file says is taken; what it leaves open is asked for.
#![allow(clippy::float_cmp, reason = "figures are read, not computed")]

use super::*;

fn ask(file: &str, asked: &Asked) -> Unclear {
    match read(file, asked).expect_err("asks") {
        LoggerError::Ambiguous { what, .. } => what,
        other => panic!("{other}"),
    }
}

fn good(file: &str, asked: &Asked) -> Import {
    read(file, asked).unwrap_or_else(|error| panic!("{error}"))
}

fn temperatures(import: &Import) -> Vec<f64> {
    import.readings.iter().map(|reading| reading.c).collect()
}

#[test]
fn the_plain_form_needs_no_questions() {
    let file = "time,temperature_c\n2025-03-04T10:00:00-06:00,21.5\n2025-03-04T10:30:00-06:00,22\n";
    let found = good(file, &Asked::default());
    assert_eq!(temperatures(&found), [21.5, 22.0]);
    assert_eq!(found.read_as.delimiter, ',');
    assert_eq!(found.read_as.zone, None);
    assert_eq!(crate::moment::write(&found.readings[1].at), "2025-03-04T10:30:00-06:00");
    assert_eq!(found.skipped, [(1, "time | temperature_c".to_owned())]);
}

#[test]
fn semicolons_and_decimal_commas_are_seen() {
    let file = "\u{feff}Fecha (UTC+1);Temp. (°C)\r\n25.03.2025 10:00;21,5\r\n25.03.2025 10:30;-0,5\r\n";
    let found = good(file, &Asked::default());
    assert_eq!(temperatures(&found), [21.5, -0.5]);
    assert_eq!(found.read_as.decimal, ',');
    assert_eq!(found.read_as.date_order, Some(DateOrder::DayMonthYear));
    assert_eq!(crate::moment::write(&found.readings[0].at), "2025-03-25T10:00:00+01:00");
}

#[test]
fn fahrenheit_is_converted() {
    let file = "#,Date,Time (GMT-06:00),\"Temp, °F\"\n1,03/25/25,02:00 PM,68\n2,03/25/25,02:30:00 PM,212\n";
    let found = good(file, &Asked::default());
    assert_eq!(temperatures(&found), [20.0, 100.0]);
    assert_eq!(found.read_as.unit, TemperatureUnit::Fahrenheit);
    assert_eq!(crate::moment::write(&found.readings[0].at), "2025-03-25T14:00:00-06:00");
}

#[test]
fn what_is_open_is_asked_for() {
    let none = Asked::default();
    assert_eq!(ask("time,value\n2025-03-04T10:00:00Z,21.5\n", &none), Unclear::Unit);
    assert_eq!(ask("time,temp_c\n2025-03-04 10:00,21.5\n", &none), Unclear::Zone);
    assert_eq!(ask("time (UTC),temp_c\n03/04/2025 10:00,21.5\n", &none), Unclear::DateOrder);
    let two = "time,top temp_c,bottom temp_c\n2025-03-04T10:00:00Z,21,22\n";
    assert_eq!(ask(two, &none), Unclear::TemperatureColumn);
    let mixed = "time;temp_c\n2025-03-04T10:00:00Z;21,5\n2025-03-04T11:00:00Z;21.5\n";
    assert_eq!(ask(mixed, &none), Unclear::Decimal);
    assert_eq!(ask("time,temp_c,temp_f\n2025-03-04T10:00:00Z,20,68\n", &none), Unclear::TemperatureColumn);
    let twice = "start,end,temp_c\n2025-03-04T10:00:00Z,2025-03-04T11:00:00Z,20\n";
    assert_eq!(ask(twice, &none), Unclear::TimeColumn);
    assert_eq!(read("", &none), Err(LoggerError::Empty));
    assert_eq!(read("no,readings\nhere,either\n", &none), Err(LoggerError::Empty));
}

#[test]
fn what_was_said_settles_it() {
    let asked = Asked {
        unit: Some(TemperatureUnit::Celsius),
        zone: Zone::parse("America/Chicago"),
        date_order: Some(DateOrder::MonthDayYear),
        temperature_column: Some("bottom".to_owned()),
        ..Asked::default()
    };
    let found = good("when,top,bottom\n03/04/2025 10:00,21,22\n07/04/2025 10:00,23,24\n", &asked);
    assert_eq!(temperatures(&found), [22.0, 24.0]);
    // Winter and summer time of the zone.
    assert_eq!(crate::moment::write(&found.readings[0].at), "2025-03-04T10:00:00-06:00");
    assert_eq!(crate::moment::write(&found.readings[1].at), "2025-07-04T10:00:00-05:00");
}

#[test]
fn a_time_the_clocks_showed_twice_is_asked_for() {
    let asked = Asked { zone: Zone::parse("Europe/Madrid"), ..Asked::default() };
    assert_eq!(ask("t,temp_c\n2025-10-26 02:30,20\n", &asked), Unclear::LocalTime);
    let skipped = read("t,temp_c\n2025-03-30 02:30,20\n", &asked).expect_err("no such time");
    assert!(skipped.say(Lang::En).contains("put forward"), "{skipped}");
}

#[test]
fn time_that_stands_or_runs_back_is_refused_with_its_line() {
    let at = |second: &str| format!("t,temp_c\n2025-03-04T10:00:00Z,20\n{second},21\n");
    let twice = read(&at("2025-03-04T10:00:00Z"), &Asked::default()).expect_err("twice");
    assert!(matches!(&twice, LoggerError::Line { line: 3, why, .. } if why.en.contains("twice")), "{twice}");
    let back = read(&at("2025-03-04T09:00:00Z"), &Asked::default()).expect_err("back");
    assert!(
        matches!(&back, LoggerError::Line { line: 3, why, .. } if why.en.contains("backwards")),
        "{back}"
    );
}

#[test]
fn rows_without_a_reading_are_listed_and_wrong_ones_refused() {
    let file =
        "t,temp_c\n2025-03-04T10:00:00Z,20\n2025-03-04T10:10:00Z,--\nstopped\n2025-03-04T10:20:00Z,21\n";
    let found = good(file, &Asked::default());
    assert_eq!(found.readings.len(), 2);
    assert_eq!(found.skipped.iter().map(|(line, _)| *line).collect::<Vec<_>>(), [1, 3, 4]);
    for bad in
        ["2025-03-04T10:20:00Z,2x1", "2025-03-04T10:20:00Z,999", "yesterday,21", "9999-01-01T00:00:00Z,21"]
    {
        let file = format!("t,temp_c\n2025-03-04T10:00:00Z,20\n{bad}\n");
        let error = read(&file, &Asked::default()).expect_err(bad);
        assert!(matches!(error, LoggerError::Line { line: 3, .. }), "{bad}: {error}");
    }
}

#[test]
fn a_decimal_comma_that_is_also_the_delimiter_is_noticed() {
    let error = read("time,temp_c\n2025-03-04T10:00:00Z,21,5\n", &Asked::default()).expect_err("too wide");
    assert!(error.say(Lang::En).contains("decimal comma"), "{error}");
}

#[test]
fn errors_speak_spanish() {
    let error = read("time,temp_c\n2025-03-04 10:00,21.5\n", &Asked::default()).expect_err("no zone");
    assert_eq!(error.say(Lang::Es), "el archivo no dice la zona horaria; indique --zone");
}

#[test]
fn breaks_are_read_strictly() {
    let found = read_breaks("equivalent_age_h,strength_mpa\n24,12.5\n72,25\n").expect("two");
    assert_eq!((found.len(), found[1].strength_mpa), (2, 25.0));
    assert!(read_breaks("age,strength\n24,12\n").expect_err("titles").say(Lang::En).contains("titles"));
    let wrong = read_breaks("equivalent_age_h,strength_mpa\n24,12\n72,abc\n").expect_err("line 3");
    assert!(matches!(wrong, LoggerError::Line { line: 3, .. }));
    assert_eq!(read_breaks("equivalent_age_h,strength_mpa\n"), Err(LoggerError::Empty));
}

#[test]
fn zones_are_read() {
    assert!(
        matches!(Zone::parse("-06:00"), Some(Zone::Offset(offset)) if offset.local_minus_utc() == -21_600)
    );
    assert!(matches!(Zone::parse("+0530"), Some(Zone::Offset(offset)) if offset.local_minus_utc() == 19_800));
    assert!(matches!(Zone::parse("utc"), Some(Zone::Offset(offset)) if offset.local_minus_utc() == 0));
    assert!(matches!(Zone::parse("Europe/Madrid"), Some(Zone::Named(_))));
    for bad in ["", "+99:00", "Mars/Base", "-6:0x"] {
        assert_eq!(Zone::parse(bad), None, "{bad}");
    }
}
