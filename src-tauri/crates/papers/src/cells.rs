//! A table for spreadsheets: comma-separated values (RFC 4180) in which no text is taken for a formula.
//!
//! A spreadsheet runs a cell that begins with `=`, `+`, `-` or `@` as a formula, and some of them strip white space
//! or take the wide forms of these signs for them. Such a text is written with an apostrophe before it, which
//! spreadsheets take for "this is text". A number is written as a number, a minus before it and all.

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Names of the columns.
    pub head: Vec<&'static str>,
    /// Rows, each with as many cells as there are columns.
    pub rows: Vec<Vec<Cell>>,
}

/// A cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Words; never a formula.
    Text(String),
    /// A number.
    Number(f64),
    /// A whole number.
    Count(u64),
    /// Yes or no.
    Flag(bool),
    /// Nothing.
    Empty,
}

impl Cell {
    /// Words; none: an empty cell.
    pub fn text(words: impl Into<String>) -> Self {
        let words = words.into();
        if words.is_empty() { Self::Empty } else { Self::Text(words) }
    }

    /// Words that may be missing.
    pub fn maybe(words: Option<impl Into<String>>) -> Self {
        words.map_or(Self::Empty, Self::text)
    }
}

/// Signs that make a spreadsheet take what follows for a formula, and their wide forms.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// Writes the table: a line of names, a line for each row, each ended by carriage return and line feed.
pub fn write(table: &Table) -> Vec<u8> {
    let head: Vec<String> = table.head.iter().map(|name| quoted(name)).collect();
    let rows = table.rows.iter().map(|row| row.iter().map(written).collect::<Vec<_>>());
    let lines = std::iter::once(head).chain(rows);
    lines.flat_map(|cells| (cells.join(",") + "\r\n").into_bytes()).collect()
}

fn written(cell: &Cell) -> String {
    match cell {
        Cell::Text(words) => quoted(&harmless(words)),
        // What is no number is text that says so.
        Cell::Number(number) if !number.is_finite() => quoted(&harmless(&number.to_string())),
        Cell::Number(number) => number.to_string(),
        Cell::Count(count) => count.to_string(),
        Cell::Flag(flag) => flag.to_string(),
        Cell::Empty => String::new(),
    }
}

/// Text that no spreadsheet runs.
fn harmless(words: &str) -> String {
    let first = words.trim_start_matches(|c: char| c.is_whitespace() || c.is_control()).chars().next();
    let begins_apart = words.starts_with(['\t', '\r', '\n', '\0']);
    if begins_apart || first.is_some_and(|c| FORMULA.contains(&c)) {
        format!("'{words}")
    } else {
        words.to_owned()
    }
}

/// Text always stands in quotes, so that no sign in it ends its cell.
fn quoted(words: &str) -> String {
    format!("\"{}\"", words.replace('"', "\"\""))
}

#[cfg(test)]
#[path = "cells_tests.rs"]
mod tests;
