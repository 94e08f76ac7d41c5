//! Lines, fields and figures of a logger file.

use super::times::looks_like_time;
use super::{LoggerError, Unclear};
use crate::text::Text;

/// Signs that stand between fields.
const DELIMITERS: [char; 4] = [',', ';', '\t', '|'];

/// One line, cut into fields.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// Its number, from 1.
    pub(super) line: usize,
    cells: Vec<String>,
}

impl Row {
    /// A field, or nothing where the line is shorter.
    pub(super) fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }

    pub(super) fn cells(&self) -> &[String] {
        &self.cells
    }

    /// Whether it holds a time and a figure that is not one.
    pub(super) fn is_data(&self) -> bool {
        let time = self.cells.iter().any(|cell| looks_like_time(cell));
        time && self.cells.iter().any(|cell| holds_figure(cell) && !looks_like_time(cell))
    }

    /// The line for an error or a list, cut to a readable length.
    pub(super) fn shown(&self) -> String {
        self.cells.join(" | ").chars().take(80).collect()
    }

    /// The error about this line.
    pub(super) fn wrong(&self, why: Text) -> LoggerError {
        LoggerError::Line { line: self.line, found: self.shown(), why }
    }
}

/// All lines that are not empty.
pub(super) fn rows(file: &str, delimiter: char) -> Vec<Row> {
    let numbered = file.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    numbered.map(|(at, line)| Row { line: at + 1, cells: split(line, delimiter) }).collect()
}

/// Fields of a line; a field in double quotes may hold the delimiter, and `""` is one quote.
fn split(line: &str, delimiter: char) -> Vec<String> {
    let mut fields = vec![String::new()];
    let mut quoted = false;
    let mut signs = line.chars().peekable();
    while let Some(sign) = signs.next() {
        let last = fields.len() - 1;
        match sign {
            '"' if quoted && signs.peek() == Some(&'"') => {
                signs.next();
                fields[last].push('"');
            }
            '"' => quoted = !quoted,
            sign if sign == delimiter && !quoted => fields.push(String::new()),
            sign => fields[last].push(sign),
        }
    }
    fields.iter().map(|field| field.trim().to_owned()).collect()
}

/// The sign between fields: the one sign under which lines hold a time and a figure.
pub(super) fn delimiter(file: &str, asked: Option<char>) -> Result<char, LoggerError> {
    if let Some(sign) = asked {
        return Ok(sign);
    }
    let works = |sign: &&char| rows(file, **sign).iter().any(Row::is_data);
    let found: Vec<char> = DELIMITERS.iter().filter(works).copied().collect();
    match found[..] {
        [] => Err(LoggerError::Empty),
        [one] => Ok(one),
        _ => Err(LoggerError::Ambiguous {
            what: Unclear::Delimiter,
            candidates: found.iter().map(|sign| sign.escape_default().to_string()).collect(),
        }),
    }
}

/// Whether a cell begins with a figure. Logger marks such as `--` or `OL` do not.
pub(super) fn holds_figure(cell: &str) -> bool {
    let body = cell.trim_start_matches(['-', '+', '−']);
    body.starts_with(|sign: char| sign.is_ascii_digit())
}

/// The figure of a cell, with or without a degree sign behind it.
pub(super) fn figure(cell: &str, decimal: char) -> Option<f64> {
    let cell = cell.replace('−', "-");
    let end = cell.find(|sign: char| !(sign.is_ascii_digit() || "+-.,".contains(sign))).unwrap_or(cell.len());
    let (digits, tail) = cell.split_at(end);
    let tail = tail.trim();
    if !tail.is_empty() && super::columns::unit_in(tail).is_none() {
        return None;
    }
    let other = if decimal == ',' { '.' } else { ',' };
    if digits.contains(other) {
        return None;
    }
    digits.replace(decimal, ".").parse().ok()
}
