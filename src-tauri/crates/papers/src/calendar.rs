//! Reminders as a calendar file (RFC 5545): all-day events that any calendar takes.
//!
//! What is the same event keeps its identity: a calendar that takes the file again renews what it has.

use std::fmt::Write as _;

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, Utc};

/// A calendar.
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// What made it, for example `Trowelogue 0.1.0`.
    pub tool: String,
    /// Its name, as a calendar shows it.
    pub name: String,
    /// Its language (BCP 47), for example `en`.
    pub lang: &'static str,
    /// The moment it is made. Same input and moment: same bytes.
    pub stamp: DateTime<FixedOffset>,
    /// The events, in order.
    pub events: Vec<Event>,
}

/// Something that falls on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Names the event for ever.
    pub uid: String,
    /// The day.
    pub day: NaiveDate,
    /// What it is, in a few words.
    pub summary: String,
    /// What to do, and where the date comes from.
    pub description: String,
    /// Where.
    pub location: Option<String>,
    /// It comes again.
    pub repeat: Option<Repeat>,
    /// When the calendar speaks up.
    pub alarm: Option<Alarm>,
}

/// An event that comes again every so many months.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Repeat {
    /// Months between two of them; at least one.
    pub months: u32,
    /// Day of the month it is counted from, 1 to 31; in a shorter month its last day counts.
    pub day: u32,
}

/// When a calendar speaks up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alarm {
    /// Days before the day, at its beginning.
    DaysBefore(u32),
    /// On the day, at eight in the morning.
    Morning,
}

/// The longest line, its end not counted (RFC 5545, 3.1).
const LINE: usize = 75;

/// Writes the file.
pub fn write(calendar: &Calendar) -> Vec<u8> {
    let mut out = String::new();
    line(&mut out, "BEGIN:VCALENDAR");
    line(&mut out, "VERSION:2.0");
    line(&mut out, &format!("PRODID:-//{}//{}", escaped(&calendar.tool), calendar.lang.to_uppercase()));
    line(&mut out, "CALSCALE:GREGORIAN");
    // The name of a calendar (RFC 7986, 5.1).
    line(&mut out, &format!("NAME:{}", escaped(&calendar.name)));
    for it in &calendar.events {
        event(&mut out, calendar, it);
    }
    line(&mut out, "END:VCALENDAR");
    out.into_bytes()
}

fn event(out: &mut String, calendar: &Calendar, it: &Event) {
    line(out, "BEGIN:VEVENT");
    line(out, &format!("UID:{}", escaped(&it.uid)));
    line(out, &format!("DTSTAMP:{}", calendar.stamp.with_timezone(&Utc).format("%Y%m%dT%H%M%SZ")));
    line(out, &format!("DTSTART;VALUE=DATE:{}", it.day.format("%Y%m%d")));
    if let Some(repeat) = it.repeat {
        line(out, &format!("RRULE:{}", rule(repeat)));
    }
    line(out, &format!("SUMMARY;LANGUAGE={}:{}", calendar.lang, escaped(&it.summary)));
    line(out, &format!("DESCRIPTION;LANGUAGE={}:{}", calendar.lang, escaped(&it.description)));
    if let Some(place) = &it.location {
        line(out, &format!("LOCATION:{}", escaped(place)));
    }
    // A reminder takes nobody's time.
    line(out, "TRANSP:TRANSPARENT");
    if let Some(alarm) = it.alarm {
        line(out, "BEGIN:VALARM");
        line(out, "ACTION:DISPLAY");
        line(out, &format!("DESCRIPTION:{}", escaped(&it.summary)));
        line(out, &format!("TRIGGER:{}", trigger(alarm)));
        line(out, "END:VALARM");
    }
    line(out, "END:VEVENT");
}

fn trigger(alarm: Alarm) -> String {
    match alarm {
        Alarm::DaysBefore(days) => format!("-P{days}D"),
        Alarm::Morning => "PT8H".into(),
    }
}

/// The rule of recurrence. A day that short months lack is met by the last of the days they have.
fn rule(repeat: Repeat) -> String {
    let mut rule = format!("FREQ=MONTHLY;INTERVAL={}", repeat.months.max(1));
    if repeat.day > 28 {
        let days: Vec<String> = (28..=repeat.day.min(31)).map(|day| day.to_string()).collect();
        // Writing to a string cannot fail.
        let _ = write!(rule, ";BYMONTHDAY={};BYSETPOS=-1", days.join(","));
    }
    rule
}

impl Repeat {
    /// Every so many months, counted from a day.
    pub fn every(months: u32, from: NaiveDate) -> Self {
        Self { months, day: from.day() }
    }
}

/// Text as a value (RFC 5545, 3.3.11). Controls other than a line's end have no place in it.
fn escaped(words: &str) -> String {
    let mut out = String::new();
    for c in words.replace("\r\n", "\n").chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' | '\r' => out.push_str("\\n"),
            '\t' => out.push(' '),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// A line, folded so that none is longer than [`LINE`] octets and no character is cut.
fn line(out: &mut String, words: &str) {
    let mut taken = 0;
    for c in words.chars() {
        if taken + c.len_utf8() > LINE {
            out.push_str("\r\n ");
            // The space that begins a folded line is one of its octets.
            taken = 1;
        }
        out.push(c);
        taken += c.len_utf8();
    }
    out.push_str("\r\n");
}

#[cfg(test)]
#[path = "calendar_tests.rs"]
mod tests;
