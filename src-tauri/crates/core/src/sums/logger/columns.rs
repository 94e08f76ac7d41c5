//! Which column holds the time and which the temperature.

use super::cells::{Row, holds_figure};
use super::times::{looks_like_clock, looks_like_date, looks_like_moment, looks_like_time};
use super::{Asked, LoggerError, TemperatureUnit, Unclear};
use crate::text::text;

/// The columns of a file.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    /// Titles; empty where the file has none.
    pub(super) titles: Vec<String>,
    /// The column of the moment, or of the date.
    pub(super) time: usize,
    /// The column of the time of day, where date and time stand apart.
    pub(super) clock: Option<usize>,
    /// The column of the temperature.
    pub(super) temperature: usize,
    /// The first line with a reading.
    pub(super) first_line: usize,
    /// What stands above the readings, where a logger states its zone.
    pub(super) preamble: Vec<String>,
}

impl Columns {
    pub(super) fn time_title(&self) -> String {
        self.title(self.time)
    }

    pub(super) fn temperature_title(&self) -> String {
        self.title(self.temperature)
    }

    fn title(&self, column: usize) -> String {
        self.titles.get(column).filter(|title| !title.is_empty()).cloned().unwrap_or((column + 1).to_string())
    }
}

pub(super) fn find(rows: &[Row], asked: &Asked) -> Result<Columns, LoggerError> {
    let first = rows.iter().position(Row::is_data).ok_or(LoggerError::Empty)?;
    let data = &rows[first..];
    let titles = match first.checked_sub(1).map(|above| &rows[above]) {
        Some(row) if row.cells().len() > 1 => titles(row, &data[0])?,
        _ => Vec::new(),
    };
    let (time, clock) = time_columns(data, &titles, asked)?;
    let temperature = temperature_column(data, &titles, time, clock, asked)?;
    let preamble = rows[..first].iter().flat_map(|row| row.cells().iter().cloned()).collect();
    Ok(Columns { titles, time, clock, temperature, first_line: data[0].line, preamble })
}

/// A title row that is narrower than the data means that a decimal comma was taken for a delimiter.
fn titles(row: &Row, data: &Row) -> Result<Vec<String>, LoggerError> {
    if row.cells().len() < data.cells().len() && data.cells().iter().all(|cell| !cell.is_empty()) {
        return Err(data.wrong(text(
            "the line has more fields than there are titles; is a decimal comma also the delimiter?",
            "la línea tiene más campos que títulos; ¿la coma decimal es también el separador?",
        )));
    }
    Ok(row.cells().to_vec())
}

fn width(data: &[Row]) -> usize {
    data.iter().map(|row| row.cells().len()).max().unwrap_or(0)
}

/// The column a person named, by title or number.
fn named(name: &str, titles: &[String], width: usize, what: Unclear) -> Result<usize, LoggerError> {
    let by_title = titles.iter().position(|title| title.eq_ignore_ascii_case(name.trim()));
    let by_number = || name.trim().parse::<usize>().ok().filter(|n| (1..=width).contains(n)).map(|n| n - 1);
    by_title.or_else(by_number).ok_or_else(|| LoggerError::Ambiguous { what, candidates: titles.to_vec() })
}

fn time_columns(
    data: &[Row],
    titles: &[String],
    asked: &Asked,
) -> Result<(usize, Option<usize>), LoggerError> {
    let width = width(data);
    let that_look = |like: fn(&str) -> bool| -> Vec<usize> {
        (0..width).filter(|&column| data.iter().any(|row| like(row.cell(column)))).collect()
    };
    let clocks = that_look(looks_like_clock);
    let clock_beside = |time: usize| {
        let apart = data.iter().any(|row| looks_like_date(row.cell(time)));
        clocks.first().copied().filter(|_| apart && clocks.len() == 1)
    };
    if let Some(name) = &asked.time_column {
        let time = named(name, titles, width, Unclear::TimeColumn)?;
        return Ok((time, clock_beside(time)));
    }
    match that_look(looks_like_moment)[..] {
        [one] => return Ok((one, None)),
        [] => {}
        ref several => return Err(which(Unclear::TimeColumn, several, titles)),
    }
    match (&that_look(looks_like_date)[..], &clocks[..]) {
        (&[date], &[clock]) => Ok((date, Some(clock))),
        (dates, _) => Err(which(Unclear::TimeColumn, dates, titles)),
    }
}

fn temperature_column(
    data: &[Row],
    titles: &[String],
    time: usize,
    clock: Option<usize>,
    asked: &Asked,
) -> Result<usize, LoggerError> {
    let width = width(data);
    if let Some(name) = &asked.temperature_column {
        return named(name, titles, width, Unclear::TemperatureColumn);
    }
    let is_figure = |column: &usize| {
        let cells = || data.iter().map(|row| row.cell(*column));
        *column != time
            && Some(*column) != clock
            && cells().any(holds_figure)
            && !cells().any(looks_like_time)
    };
    let figures: Vec<usize> = (0..width).filter(is_figure).collect();
    let titled = |column: &&usize| titles.get(**column).is_some_and(|title| says_temperature(title));
    let temperatures: Vec<usize> = figures.iter().filter(titled).copied().collect();
    match (&temperatures[..], &figures[..]) {
        (&[one], _) | (&[], &[one]) => Ok(one),
        (&[], several) | (several, _) => Err(which(Unclear::TemperatureColumn, several, titles)),
    }
}

fn which(what: Unclear, columns: &[usize], titles: &[String]) -> LoggerError {
    let name = |column: &usize| titles.get(*column).cloned().unwrap_or((column + 1).to_string());
    LoggerError::Ambiguous { what, candidates: columns.iter().map(name).collect() }
}

/// Whether a title speaks of temperature.
fn says_temperature(title: &str) -> bool {
    title.to_lowercase().contains("temp") || unit_in(title).is_some()
}

/// The unit a title or a cell names: `Temp (°F)`, `temperature_c`, `21.5 C`. Both or none: `None`.
pub(super) fn unit_in(words: &str) -> Option<TemperatureUnit> {
    let words = words.to_lowercase().replace(['º', '℃', '℉'], "°");
    let last = words.rsplit(|sign: char| !sign.is_alphanumeric()).find(|part| !part.is_empty()).unwrap_or("");
    let named = |name: &str, sign: &str, letter: &str| {
        words.contains(name) || words.contains(sign) || last == letter || last == format!("deg{letter}")
    };
    match (named("celsius", "°c", "c"), named("fahrenheit", "°f", "f")) {
        (true, false) => Some(TemperatureUnit::Celsius),
        (false, true) => Some(TemperatureUnit::Fahrenheit),
        _ => None,
    }
}
