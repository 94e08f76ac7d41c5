//! Dates ahead: cure complete, first wipe, service, renewal, end of warranty.

use chrono::{Datelike, Days, Months, NaiveDate};

use super::SumError;
use super::check::within;
use crate::text::text;

/// A span as products and warranties state it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Term {
    /// Whole days.
    Days(u32),
    /// Calendar months; past the end of a short month its last day counts.
    Months(u32),
    /// Calendar years; 29 February becomes 28 February.
    Years(u32),
}

/// The civil day a term ends.
///
/// # Errors
/// A start outside 1970 to 2200 or a term longer than a hundred years.
pub fn after(start: NaiveDate, term: Term) -> Result<NaiveDate, SumError> {
    check(start)?;
    let end = match term {
        Term::Days(days) => {
            within("term_d", f64::from(days), 0.0, 36_525.0)?;
            start.checked_add_days(Days::new(u64::from(days)))
        }
        Term::Months(months) => {
            within("term_months", f64::from(months), 0.0, 1_200.0)?;
            start.checked_add_months(Months::new(months))
        }
        Term::Years(years) => {
            within("term_years", f64::from(years), 0.0, 100.0)?;
            start.checked_add_months(Months::new(years * 12))
        }
    };
    end.ok_or_else(out_of_calendar)
}

/// The first `count` dates of a service that is due every `months` months, each counted from the start so that
/// short months do not wear the day away.
///
/// # Errors
/// As [`after`]; an interval of no months; more than 600 dates.
pub fn every(start: NaiveDate, months: u32, count: u32) -> Result<Vec<NaiveDate>, SumError> {
    within("every_months", f64::from(months), 1.0, 1_200.0)?;
    within("count", f64::from(count), 0.0, 600.0)?;
    (1..=count).map(|turn| after(start, Term::Months(months.saturating_mul(turn)))).collect()
}

fn check(start: NaiveDate) -> Result<(), SumError> {
    if (1970..=2200).contains(&start.year()) { Ok(()) } else { Err(out_of_calendar()) }
}

fn out_of_calendar() -> SumError {
    SumError::Refused {
        field: "start",
        why: text(
            "the date lies outside the years 1970 to 2200",
            "la fecha queda fuera de los años 1970 a 2200",
        ),
    }
}
