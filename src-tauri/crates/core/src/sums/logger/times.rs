//! Dates, times of day and zones of a logger file.

use chrono::offset::LocalResult;
use chrono::{FixedOffset, NaiveDate, NaiveDateTime, NaiveTime, TimeZone};

use super::cells::{Row, holds_figure};
use super::columns::Columns;
use super::{Asked, LoggerError, Unclear, open};
use crate::moment::{self, Moment};
use crate::text::text;

named! {
    /// Order of day, month and year in a date that does not begin with a year of four figures.
    pub enum DateOrder, "date-order" {
        /// Day, month, year.
        DayMonthYear = "d/m/y",
        /// Month, day, year.
        MonthDayYear = "m/d/y",
        /// Year of two figures, month, day.
        YearMonthDay = "y/m/d",
    }
}

/// The zone of times that carry no offset.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Zone {
    /// A fixed offset from UTC.
    Offset(FixedOffset),
    /// A zone of the IANA database, with its summer time.
    Named(chrono_tz::Tz),
}

impl Zone {
    /// Reads `-06:00`, `UTC`, `Z` or an IANA name.
    pub fn parse(name: &str) -> Option<Self> {
        let name = name.trim();
        if matches!(name.to_ascii_lowercase().as_str(), "utc" | "z" | "gmt") {
            return FixedOffset::east_opt(0).map(Self::Offset);
        }
        if name.starts_with(['+', '-', '−']) {
            return offset(name).map(Self::Offset);
        }
        name.parse().ok().map(Self::Named)
    }

    fn name(&self) -> String {
        match self {
            Self::Offset(offset) => offset.to_string(),
            Self::Named(zone) => zone.name().to_owned(),
        }
    }

    fn place(&self, local: NaiveDateTime) -> LocalResult<Moment> {
        match self {
            Self::Offset(offset) => offset.from_local_datetime(&local),
            Self::Named(zone) => zone.from_local_datetime(&local).map(|moment| moment.fixed_offset()),
        }
    }
}

/// `+02:00`, `-0600`, `+2`.
fn offset(figures: &str) -> Option<FixedOffset> {
    let sign = if figures.starts_with('+') { 1 } else { -1 };
    let body = figures.trim_start_matches(['+', '-', '−']);
    let (hours, minutes) = match body.split_once(':') {
        Some(parts) => parts,
        None if body.len() == 4 => body.split_at(2),
        None => (body, "0"),
    };
    let (hours, minutes): (i32, i32) = (hours.parse().ok()?, minutes.parse().ok()?);
    let fits = (0..=14).contains(&hours) && (0..60).contains(&minutes) && body.len() <= 5;
    FixedOffset::east_opt(sign * (hours * 3600 + minutes * 60)).filter(|_| fits)
}

/// The offset in words like `GMT-06:00` or `Time (UTC+1)`.
fn stated_offset(words: &str) -> Option<FixedOffset> {
    let upper = words.to_uppercase();
    let at = upper.find("UTC").or_else(|| upper.find("GMT"))?;
    let tail = upper.get(at + 3..)?.trim_start();
    let figures: String =
        tail.chars().take_while(|sign| sign.is_ascii_digit() || "+-−:".contains(*sign)).collect();
    if figures.is_empty() { FixedOffset::east_opt(0) } else { offset(&figures) }
}

/// The three figures of a date and whether the first is a year of four digits.
fn date_parts(cell: &str) -> Option<([u32; 3], bool)> {
    let sign = ['-', '/', '.'].into_iter().find(|sign| cell.contains(*sign))?;
    let parts: Vec<&str> = cell.split(sign).collect();
    let [a, b, c] = parts[..] else { return None };
    let digits = |part: &str, lengths: &[usize]| {
        let sound = lengths.contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        if sound { part.parse::<u32>().ok() } else { None }
    };
    if a.len() == 4 {
        return Some(([digits(a, &[4])?, digits(b, &[1, 2])?, digits(c, &[1, 2])?], true));
    }
    Some(([digits(a, &[1, 2])?, digits(b, &[1, 2])?, digits(c, &[2, 4])?], false))
}

fn date(cell: &str, order: Option<DateOrder>) -> Option<NaiveDate> {
    let (parts, year_first) = date_parts(cell)?;
    let [a, b, c] = parts;
    let century = |year: u32| if year < 100 { year + 2000 } else { year };
    let (year, month, day) = match (year_first, order) {
        (true, _) => (a, b, c),
        (false, Some(DateOrder::DayMonthYear)) => (century(c), b, a),
        (false, Some(DateOrder::MonthDayYear)) => (century(c), a, b),
        (false, Some(DateOrder::YearMonthDay)) if c < 100 => (century(a), b, c),
        _ => return None,
    };
    NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)
}

fn clock_time(cell: &str) -> Option<NaiveTime> {
    let upper = cell.trim().to_uppercase().replace("A.M.", "AM").replace("P.M.", "PM");
    const FORMS: [&str; 5] = ["%H:%M:%S%.f", "%H:%M", "%I:%M:%S%.f %p", "%I:%M:%S %p", "%I:%M %p"];
    let spaced = match upper.find(['A', 'P']) {
        Some(at) if !upper[..at].ends_with(' ') => format!("{} {}", &upper[..at], &upper[at..]),
        _ => upper,
    };
    FORMS.iter().find_map(|form| NaiveTime::parse_from_str(&spaced, form).ok())
}

/// Date and time of day in one cell, apart by `T` or a space.
fn halves(cell: &str) -> Option<(&str, &str)> {
    let at = cell.find(['T', ' '])?;
    Some((&cell[..at], cell[at + 1..].trim()))
}

/// Whether a cell holds a date and a time of day.
pub(super) fn looks_like_moment(cell: &str) -> bool {
    let apart =
        halves(cell).is_some_and(|(day, time)| date_parts(day).is_some() && clock_time(time).is_some());
    apart || moment::parse(cell).is_ok()
}

/// Whether a cell holds a date alone.
pub(super) fn looks_like_date(cell: &str) -> bool {
    date_parts(cell).is_some()
}

/// Whether a cell holds a time of day alone.
pub(super) fn looks_like_clock(cell: &str) -> bool {
    clock_time(cell).is_some()
}

/// Whether a cell holds a moment or a date.
pub(super) fn looks_like_time(cell: &str) -> bool {
    looks_like_moment(cell) || looks_like_date(cell) || looks_like_clock(cell)
}

/// How the times of a file are to be read.
#[derive(Debug, Clone)]
pub(super) struct Clock {
    zone: Option<Zone>,
    order: Option<DateOrder>,
}

impl Clock {
    /// Learns zone and order from the rows, or asks.
    pub(super) fn learn(rows: &[Row], columns: &Columns, asked: &Asked) -> Result<Self, LoggerError> {
        let data = || rows.iter().filter(|row| row.line >= columns.first_line);
        let cells: Vec<String> = data()
            .filter(|row| {
                holds_figure(row.cell(columns.temperature)) && looks_like_time(row.cell(columns.time))
            })
            .map(|row| written(row, columns))
            .collect();
        if cells.iter().all(|cell| moment::parse(cell).is_ok()) {
            return Ok(Self { zone: None, order: None });
        }
        let order = order(&cells, asked)?;
        Ok(Self { zone: Some(zone(columns, asked)?), order })
    }

    pub(super) fn zone_name(&self) -> Option<String> {
        self.zone.as_ref().map(Zone::name)
    }

    pub(super) fn order(&self) -> Option<DateOrder> {
        self.order
    }

    /// The moment of a row.
    pub(super) fn moment(&self, row: &Row, columns: &Columns) -> Result<Moment, LoggerError> {
        let cell = written(row, columns);
        if let Ok(moment) = moment::parse(&cell) {
            return Ok(moment);
        }
        let unreadable = || row.wrong(text("the time cannot be read", "la hora no se puede leer"));
        let (day, time) = halves(&cell).ok_or_else(unreadable)?;
        let local = date(day, self.order).zip(clock_time(time)).map(|(day, time)| day.and_time(time));
        let (local, zone) = local.zip(self.zone).ok_or_else(unreadable)?;
        let moment = match zone.place(local) {
            LocalResult::Single(moment) => moment,
            LocalResult::Ambiguous(first, second) => {
                return open(Unclear::LocalTime, &[&moment::write(&first), &moment::write(&second)]);
            }
            LocalResult::None => {
                return Err(row.wrong(text(
                    "this local time does not exist: the clocks were put forward",
                    "esta hora local no existe: los relojes se adelantaron",
                )));
            }
        };
        moment::parse(&moment::write(&moment)).map_err(|_| {
            row.wrong(text("the year lies outside 1970 to 2200", "el año queda fuera de 1970 a 2200"))
        })
    }
}

/// Date and time of a row in one piece.
fn written(row: &Row, columns: &Columns) -> String {
    match columns.clock {
        Some(clock) => format!("{} {}", row.cell(columns.time), row.cell(clock)),
        None => row.cell(columns.time).to_owned(),
    }
}

/// The one order under which every date of the file exists; asked for where several do.
fn order(cells: &[String], asked: &Asked) -> Result<Option<DateOrder>, LoggerError> {
    let days: Vec<&str> = cells.iter().filter_map(|cell| halves(cell)).map(|(day, _)| day).collect();
    if days.iter().all(|day| date_parts(day).is_some_and(|(_, year_first)| year_first)) {
        return Ok(None);
    }
    if let Some(order) = asked.date_order {
        return Ok(Some(order));
    }
    let fits = |order: &&DateOrder| days.iter().all(|day| date(day, Some(**order)).is_some());
    let found: Vec<DateOrder> = DateOrder::ALL.iter().filter(fits).copied().collect();
    match found[..] {
        [one] => Ok(Some(one)),
        _ => {
            let names: Vec<&str> = found.iter().map(|order| order.wire()).collect();
            open(Unclear::DateOrder, &names)
        }
    }
}

/// The zone: given, or stated in the titles or above them.
fn zone(columns: &Columns, asked: &Asked) -> Result<Zone, LoggerError> {
    if let Some(zone) = asked.zone {
        return Ok(zone);
    }
    let mut stated: Vec<FixedOffset> =
        columns.preamble.iter().filter_map(|words| stated_offset(words)).collect();
    stated.dedup();
    match stated[..] {
        [one] => Ok(Zone::Offset(one)),
        _ => {
            let names: Vec<String> = stated.iter().map(ToString::to_string).collect();
            Err(LoggerError::Ambiguous { what: Unclear::Zone, candidates: names })
        }
    }
}
