//! The file as RFC 5545 wants it, and as a parser of another hand reads it (crate `icalendar` 0.17).

use icalendar::parser::{read_calendar, unfold};

use super::*;

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn event(uid: &str, summary: &str) -> Event {
    Event {
        uid: uid.into(),
        day: day(2025, 3, 14),
        summary: summary.into(),
        description: "Wipe it, dry it; \\ done,\nand look.".into(),
        location: Some("12 Larch Lane, back door".into()),
        repeat: None,
        alarm: Some(Alarm::Morning),
    }
}

fn calendar(events: Vec<Event>) -> Calendar {
    Calendar {
        tool: "Trowelogue 0.1.0".into(),
        name: "C-014 · Kitchen counter".into(),
        lang: "es",
        stamp: DateTime::parse_from_rfc3339("2025-06-02T09:15:00-06:00").unwrap(),
        events,
    }
}

fn written(events: Vec<Event>) -> String {
    String::from_utf8(write(&calendar(events))).unwrap()
}

#[test]
fn the_whole_file_of_a_small_calendar() {
    let text = written(vec![event("first-water-1@x", "Primera agua: C-014")]);
    let wanted = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Trowelogue 0.1.0//ES\r\nCALSCALE:GREGORIAN\r\n\
        NAME:C-014 · Kitchen counter\r\nBEGIN:VEVENT\r\nUID:first-water-1@x\r\nDTSTAMP:20250602T151500Z\r\n\
        DTSTART;VALUE=DATE:20250314\r\nSUMMARY;LANGUAGE=es:Primera agua: C-014\r\n\
        DESCRIPTION;LANGUAGE=es:Wipe it\\, dry it\\; \\\\ done\\,\\nand look.\r\n\
        LOCATION:12 Larch Lane\\, back door\r\nTRANSP:TRANSPARENT\r\nBEGIN:VALARM\r\nACTION:DISPLAY\r\n\
        DESCRIPTION:Primera agua: C-014\r\nTRIGGER:PT8H\r\nEND:VALARM\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
    assert_eq!(text, wanted);
}

#[test]
fn no_line_is_longer_than_75_octets_no_character_is_cut_and_nothing_is_lost() {
    for summary in ["señal ".repeat(60), "漢字".repeat(80), "🧽".repeat(50), "a".repeat(75), "a".repeat(1000)]
    {
        let text = written(vec![event("u", &summary)]);
        assert!(text.ends_with("\r\n"));
        for line in text.split_terminator("\r\n") {
            assert!(line.len() <= 75 && !line.contains(['\r', '\n']), "{line:?}");
        }
        let unfolded = text.replace("\r\n ", "");
        assert!(unfolded.contains(&format!("SUMMARY;LANGUAGE=es:{summary}\r\n")), "{unfolded}");
    }
}

#[test]
fn no_value_breaks_out_of_its_line() {
    let hostile = "x\r\nBEGIN:VALARM\r\nACTION:EMAIL\nEND:VEVENT\rATTENDEE:mailto:a@example.org\u{0}\u{85}";
    let mut it = event("u\r\nRRULE:FREQ=SECONDLY", hostile);
    it.description = hostile.into();
    it.location = Some(hostile.into());
    let text = written(vec![it]).replace("\r\n ", "");
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    let begins = |start: &str| lines.iter().filter(|line| line.starts_with(start)).count();
    assert_eq!((begins("BEGIN:VALARM"), begins("END:VEVENT"), begins("ACTION")), (1, 1, 1));
    assert_eq!((begins("ATTENDEE"), begins("RRULE")), (0, 0));
}

#[test]
fn a_parser_of_another_hand_reads_what_was_written() {
    let mut renewal = event("renewal-1@x", "Renewal: C-014; counter, left");
    renewal.repeat = Some(Repeat::every(24, day(2023, 8, 31)));
    renewal.alarm = Some(Alarm::DaysBefore(14));
    let text = written(vec![event("first-water-1@x", &"señal ".repeat(40)), renewal]);
    let unfolded = unfold(&text);
    let read = read_calendar(&unfolded).expect("a calendar");
    assert_eq!(read.components.len(), 2);
    let value = |n: usize, name: &str| {
        let property = read.components[n].find_prop(name).expect(name);
        property.val.as_str().to_owned()
    };
    assert_eq!(value(0, "SUMMARY"), "señal ".repeat(40));
    assert_eq!(value(1, "UID"), "renewal-1@x");
    assert_eq!(value(1, "DTSTART"), "20250314");
    assert_eq!(value(1, "RRULE"), "FREQ=MONTHLY;INTERVAL=24;BYMONTHDAY=28,29,30,31;BYSETPOS=-1");
    let alarm = &read.components[1].components[0];
    assert_eq!(alarm.find_prop("TRIGGER").expect("a trigger").val.as_str(), "-P14D");
}

#[test]
fn a_day_every_month_has_needs_no_help() {
    assert_eq!(rule(Repeat::every(6, day(2025, 2, 28))), "FREQ=MONTHLY;INTERVAL=6");
    assert_eq!(
        rule(Repeat::every(6, day(2025, 1, 30))),
        "FREQ=MONTHLY;INTERVAL=6;BYMONTHDAY=28,29,30;BYSETPOS=-1"
    );
}

#[test]
fn the_same_calendar_gives_the_same_bytes() {
    let made = calendar(vec![event("u", "again")]);
    assert_eq!(write(&made), write(&made));
}
