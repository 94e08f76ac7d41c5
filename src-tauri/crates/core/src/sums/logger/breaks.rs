//! The CSV file of a mix's breaks: `equivalent_age_h,strength_mpa`.

use super::LoggerError;
use super::cells::{self, Row};
use crate::sums::fit::Break;
use crate::text::text;

/// Reads breaks. The titles `equivalent_age_h` and `strength_mpa` must be there; other columns are left alone.
///
/// # Errors
/// Missing titles, or the first line that is not two numbers.
pub fn read_breaks(file: &str) -> Result<Vec<Break>, LoggerError> {
    let file = file.strip_prefix('\u{feff}').unwrap_or(file);
    let delimiter = if file.lines().next().is_some_and(|line| line.contains(';')) { ';' } else { ',' };
    let rows = cells::rows(file, delimiter);
    let (titles, data) = rows.split_first().ok_or(LoggerError::Empty)?;
    let column = |title: &str| titles.cells().iter().position(|cell| cell.eq_ignore_ascii_case(title));
    let (Some(age), Some(strength)) = (column("equivalent_age_h"), column("strength_mpa")) else {
        return Err(titles.wrong(text(
            "the first line must hold the titles equivalent_age_h and strength_mpa",
            "la primera línea debe llevar los títulos equivalent_age_h y strength_mpa",
        )));
    };
    let number = |row: &Row, column: usize| -> Option<f64> { row.cell(column).parse().ok() };
    let one = |row: &Row| {
        let both = number(row, age).zip(number(row, strength));
        let (equivalent_age_h, strength_mpa) = both.ok_or_else(|| {
            row.wrong(text(
                "both fields must be numbers with a decimal point",
                "ambos campos deben ser números con punto decimal",
            ))
        })?;
        Ok(Break { equivalent_age_h, strength_mpa })
    };
    if data.is_empty() { Err(LoggerError::Empty) } else { data.iter().map(one).collect() }
}
