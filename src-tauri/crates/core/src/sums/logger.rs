//! Reads the CSV file of a temperature logger.
//!
//! Delimiter, decimal sign, unit, time zone, date order and columns are taken from what the file says beyond
//! doubt, or from what the person said. What stays open is asked for ([`LoggerError::Ambiguous`]), never
//! guessed. Nothing is dropped in silence: rows without a reading are listed.

mod breaks;
mod cells;
mod columns;
mod times;

pub use breaks::read_breaks;
pub use times::{DateOrder, Zone};

use cells::Row;
use columns::Columns;

use super::maturity::{READING_RANGE_C, Reading};
use crate::moment::Moment;
use crate::text::{Lang, Text, text};

named! {
    /// The unit of a temperature column.
    pub enum TemperatureUnit, "unit" {
        /// Degrees Celsius.
        Celsius = "c",
        /// Degrees Fahrenheit.
        Fahrenheit = "f",
    }
}

/// What the person said about the file. What is `None` is taken from the file or asked for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Asked {
    /// Between fields: `,`, `;`, `|` or a tab.
    pub delimiter: Option<char>,
    /// `.` or `,`.
    pub decimal: Option<char>,
    /// Unit of the temperatures.
    pub unit: Option<TemperatureUnit>,
    /// Zone of times without an offset.
    pub zone: Option<Zone>,
    /// Order of day, month and year where the file leaves it open.
    pub date_order: Option<DateOrder>,
    /// Title of the time column, or its number from 1.
    pub time_column: Option<String>,
    /// Title of the temperature column, or its number from 1.
    pub temperature_column: Option<String>,
}

/// What a file leaves open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unclear {
    /// Which sign stands between fields.
    Delimiter,
    /// Whether the decimal sign is a point or a comma.
    Decimal,
    /// °C or °F.
    Unit,
    /// The offset from UTC.
    Zone,
    /// Day before month or month before day.
    DateOrder,
    /// Which column holds the time.
    TimeColumn,
    /// Which column holds the temperature.
    TemperatureColumn,
    /// A local time that the clocks showed twice.
    LocalTime,
}

impl Unclear {
    /// The name of the option that settles it.
    pub const fn option(self) -> &'static str {
        match self {
            Self::Delimiter => "delimiter",
            Self::Decimal => "decimal",
            Self::Unit => "unit",
            Self::Zone | Self::LocalTime => "zone",
            Self::DateOrder => "date-order",
            Self::TimeColumn => "time-column",
            Self::TemperatureColumn => "temperature-column",
        }
    }

    /// What is open, in words.
    pub const fn label(self) -> Text {
        match self {
            Self::Delimiter => text("the sign between fields", "el separador de campos"),
            Self::Decimal => text("the decimal sign", "el signo decimal"),
            Self::Unit => text("the unit of the temperatures", "la unidad de las temperaturas"),
            Self::Zone => text("the time zone", "la zona horaria"),
            Self::DateOrder => text("the order of day and month", "el orden de día y mes"),
            Self::TimeColumn => text("the column of the time", "la columna de la hora"),
            Self::TemperatureColumn => text("the column of the temperature", "la columna de la temperatura"),
            Self::LocalTime => text(
                "a local time that occurs twice; give a fixed offset",
                "una hora local que ocurre dos veces; dé un desfase fijo",
            ),
        }
    }
}

/// A file that cannot be taken as it is. Nothing of it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LoggerError {
    /// The file leaves something open.
    Ambiguous {
        /// What.
        what: Unclear,
        /// The readings it could have; empty where anything may be right.
        candidates: Vec<String>,
    },
    /// A line is wrong.
    Line {
        /// Its number, from 1.
        line: usize,
        /// What stands there.
        found: String,
        /// What is wrong.
        why: Text,
    },
    /// No line holds a time and a temperature.
    Empty,
}

impl LoggerError {
    /// The error in words, with what to do.
    pub fn say(&self, lang: Lang) -> String {
        let english = lang == Lang::En;
        match self {
            Self::Ambiguous { what, candidates } => {
                let (label, option, list) = (what.label().get(lang), what.option(), candidates.join(", "));
                match (english, candidates.is_empty()) {
                    (true, true) => format!("the file does not say {label}; give --{option}"),
                    (true, false) => format!("the file leaves open {label} ({list}); give --{option}"),
                    (false, true) => format!("el archivo no dice {label}; indique --{option}"),
                    (false, false) => format!("el archivo deja abierto {label} ({list}); indique --{option}"),
                }
            }
            Self::Line { line, found, why } if english => format!("line {line} ({found}): {}", why.en),
            Self::Line { line, found, why } => format!("línea {line} ({found}): {}", why.es),
            Self::Empty if english => "no line of the file holds a time and a temperature".to_owned(),
            Self::Empty => "ninguna línea del archivo contiene hora y temperatura".to_owned(),
        }
    }
}

impl std::fmt::Display for LoggerError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.say(Lang::En))
    }
}

impl std::error::Error for LoggerError {}

/// A file as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Import {
    /// The readings, in °C, in the order of the file.
    pub readings: Vec<Reading>,
    /// Lines without a reading, with their text: titles, marks of the logger, empty cells.
    pub skipped: Vec<(usize, String)>,
    /// How the file was read.
    pub read_as: ReadAs,
}

/// How a file was read, so that a person can check it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ReadAs {
    /// Sign between fields.
    pub delimiter: char,
    /// Decimal sign; `.` where no figure has decimals.
    pub decimal: char,
    /// Unit of the file.
    pub unit: TemperatureUnit,
    /// Zone applied to times without an offset; `None` where every time carries one.
    pub zone: Option<String>,
    /// Order of the dates; `None` where they begin with the year.
    pub date_order: Option<DateOrder>,
    /// Title or number of the time column.
    pub time_column: String,
    /// Title or number of the temperature column.
    pub temperature_column: String,
}

/// Reads a logger file.
///
/// # Errors
/// What the file leaves open, or the first line that is wrong: time running backwards, a moment twice, a
/// temperature concrete cannot have.
pub fn read(file: &str, asked: &Asked) -> Result<Import, LoggerError> {
    let file = file.strip_prefix('\u{feff}').unwrap_or(file);
    let delimiter = cells::delimiter(file, asked.delimiter)?;
    let rows = cells::rows(file, delimiter);
    let columns = columns::find(&rows, asked)?;
    let decimal = decimal(&rows, &columns, asked)?;
    let unit = unit(&rows, &columns, asked)?;
    let clock = times::Clock::learn(&rows, &columns, asked)?;
    let mut import = Import {
        readings: Vec::new(),
        skipped: Vec::new(),
        read_as: ReadAs {
            delimiter,
            decimal,
            unit,
            zone: clock.zone_name(),
            date_order: clock.order(),
            time_column: columns.time_title(),
            temperature_column: columns.temperature_title(),
        },
    };
    for row in &rows {
        match reading(row, &columns, decimal, unit, &clock)? {
            Some(reading) => push(&mut import.readings, reading, row)?,
            None => import.skipped.push((row.line, row.shown())),
        }
    }
    if import.readings.is_empty() { Err(LoggerError::Empty) } else { Ok(import) }
}

fn push(readings: &mut Vec<Reading>, reading: Reading, row: &Row) -> Result<(), LoggerError> {
    let before: Option<Moment> = readings.last().map(|last| last.at);
    match before {
        Some(before) if before == reading.at => {
            Err(row.wrong(text("this moment is there twice", "este momento está dos veces")))
        }
        Some(before) if before > reading.at => {
            Err(row.wrong(text("time runs backwards here", "aquí el tiempo corre hacia atrás")))
        }
        _ => {
            readings.push(reading);
            Ok(())
        }
    }
}

/// The reading of a row; `None` for titles and rows without a temperature.
fn reading(
    row: &Row,
    columns: &Columns,
    decimal: char,
    unit: TemperatureUnit,
    clock: &times::Clock,
) -> Result<Option<Reading>, LoggerError> {
    let cell = row.cell(columns.temperature);
    if !cells::holds_figure(cell) {
        return Ok(None);
    }
    let number = cells::figure(cell, decimal);
    if row.line < columns.first_line {
        return Ok(None);
    }
    let Some(value) = number else {
        return Err(row.wrong(text("the temperature cannot be read", "la temperatura no se puede leer")));
    };
    let c = match unit {
        TemperatureUnit::Celsius => value,
        TemperatureUnit::Fahrenheit => (value - 32.0) * 5.0 / 9.0,
    };
    let (low, high) = READING_RANGE_C;
    if !(low..=high).contains(&c) {
        return Err(row.wrong(text(
            "not a temperature of concrete from −20 to 100 °C",
            "no es una temperatura de hormigón de −20 a 100 °C",
        )));
    }
    Ok(Some(Reading { at: clock.moment(row, columns)?, c }))
}

/// The decimal sign: what the cells of the temperature column show. No temperature needs a thousands mark.
fn decimal(rows: &[Row], columns: &Columns, asked: &Asked) -> Result<char, LoggerError> {
    if let Some(sign) = asked.decimal {
        return Ok(sign);
    }
    let cells =
        || rows.iter().filter(|row| row.line >= columns.first_line).map(|row| row.cell(columns.temperature));
    let has = |sign| cells().any(|cell| cells::holds_figure(cell) && cell.contains(sign));
    match (has('.'), has(',')) {
        (true, true) => open(Unclear::Decimal, &[".", ","]),
        (false, true) => Ok(','),
        _ => Ok('.'),
    }
}

/// The unit: as the cells or the title of the column say it.
fn unit(rows: &[Row], columns: &Columns, asked: &Asked) -> Result<TemperatureUnit, LoggerError> {
    if let Some(unit) = asked.unit {
        return Ok(unit);
    }
    let cells =
        rows.iter().filter(|row| row.line >= columns.first_line).map(|row| row.cell(columns.temperature));
    let marks: Vec<TemperatureUnit> = cells
        .filter(|cell| cells::holds_figure(cell))
        .chain(columns.titles.get(columns.temperature).map(String::as_str))
        .filter_map(columns::unit_in)
        .collect();
    match marks.first() {
        Some(first) if marks.iter().all(|mark| mark == first) => Ok(*first),
        _ => open(Unclear::Unit, &["c", "f"]),
    }
}

/// The error that asks for what is open.
fn open<T>(what: Unclear, candidates: &[&str]) -> Result<T, LoggerError> {
    Err(LoggerError::Ambiguous { what, candidates: candidates.iter().map(|&it| it.to_owned()).collect() })
}

#[cfg(test)]
mod tests;
