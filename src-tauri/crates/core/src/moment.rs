//! Moments and spans of time: RFC 3339 with an offset, never without.

use chrono::{DateTime, FixedOffset, TimeDelta};

use crate::text::Lang;

/// How a moment is written.
const EXAMPLE: &str = "2025-03-04T10:20:00-06:00";

/// A moment with the offset it was written with; its civil day is that of the offset.
pub type Moment = DateTime<FixedOffset>;

/// A time that cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.say(Lang::En))]
pub enum BadMoment {
    /// The offset is missing.
    NoOffset(String),
    /// Not a date and time at all.
    NotATime(String),
    /// Outside the years the tool computes with.
    OutOfRange(String),
}

impl BadMoment {
    /// The error as one sentence.
    pub fn say(&self, lang: Lang) -> String {
        match (self, lang) {
            (Self::NoOffset(found), Lang::En) => {
                format!("{found:?} has no offset from UTC; write it like {EXAMPLE}.")
            }
            (Self::NoOffset(found), Lang::Es) => {
                format!("{found:?} no lleva diferencia con UTC; escríbalo como {EXAMPLE}.")
            }
            (Self::NotATime(found), Lang::En) => {
                format!("{found:?} is not a date and time; write it like {EXAMPLE}.")
            }
            (Self::NotATime(found), Lang::Es) => {
                format!("{found:?} no es una fecha con hora; escríbalo como {EXAMPLE}.")
            }
            (Self::OutOfRange(found), Lang::En) => format!("{found:?} lies outside the years 1970 to 2200."),
            (Self::OutOfRange(found), Lang::Es) => format!("{found:?} queda fuera de los años 1970 a 2200."),
        }
    }
}

/// Reads RFC 3339. A time without an offset is refused, not guessed.
pub fn parse(text: &str) -> Result<Moment, BadMoment> {
    let shown = || text.chars().take(60).collect::<String>();
    let moment = DateTime::parse_from_rfc3339(text).map_err(|_| {
        let local =
            text.get(..19).and_then(|head| head.replace(' ', "T").parse::<chrono::NaiveDateTime>().ok());
        match local {
            Some(_) if text.len() <= 26 && !text.ends_with(['Z', 'z']) => BadMoment::NoOffset(shown()),
            _ => BadMoment::NotATime(shown()),
        }
    })?;
    let year = chrono::Datelike::year(&moment);
    if (1970..=2200).contains(&year) { Ok(moment) } else { Err(BadMoment::OutOfRange(shown())) }
}

/// Writes RFC 3339, to the second unless there are fractions, `Z` never used: the offset is always in figures.
pub fn write(moment: &Moment) -> String {
    moment.to_rfc3339_opts(chrono::SecondsFormat::AutoSi, false)
}

/// When work was done: its start and, where it matters, its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// When the work began, or the moment it was done.
    pub start: Moment,
    /// When it ended, if that was recorded.
    pub end: Option<Moment>,
}

impl Span {
    /// Work without an end of its own.
    pub fn at(start: Moment) -> Self {
        Self { start, end: None }
    }

    /// The recorded end, or the start where there is none.
    pub fn finish(&self) -> Moment {
        self.end.unwrap_or(self.start)
    }
}

/// Hours from `from` to `to`; negative if `to` is earlier.
pub fn hours_between(from: Moment, to: Moment) -> f64 {
    (to - from).num_milliseconds() as f64 / 3_600_000.0
}

/// The moment `hours` after `from`, rounded up to the second so that a gate never opens early.
/// `None` where the sum leaves the calendar.
pub fn add_hours(from: Moment, hours: f64) -> Option<Moment> {
    let seconds = (hours * 3600.0).ceil();
    if !seconds.is_finite() || seconds.abs() > 1e11 {
        return None;
    }
    from.checked_add_signed(TimeDelta::try_seconds(seconds as i64)?)
}
