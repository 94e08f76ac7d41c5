//! Why a sum was refused, in words.

use crate::text::{Lang, Text};
use crate::units::dimension_of_field;

/// A sum that cannot honestly be done.
#[derive(Debug, Clone, PartialEq)]
pub enum SumError {
    /// Not a number, or infinite.
    NotFinite {
        /// The field, with its unit as ending.
        field: &'static str,
    },
    /// Outside the range the sum holds in.
    OutOfRange {
        /// The field, with its unit as ending.
        field: &'static str,
        /// What was given, in the unit of the field.
        value: f64,
        /// The least it may be.
        low: f64,
        /// The most it may be.
        high: f64,
    },
    /// Something the sum needs is not there.
    Missing {
        /// The field.
        field: &'static str,
    },
    /// A name that is not on the list.
    Unknown {
        /// The field.
        field: &'static str,
        /// What was read.
        found: String,
        /// What would fit.
        accepted: String,
    },
    /// Outside the validity of the sum for another reason.
    Refused {
        /// The field that decides it.
        field: &'static str,
        /// The reason.
        why: Text,
    },
    /// One item of a list or one line of a file is not usable.
    Item {
        /// The list.
        field: &'static str,
        /// Which one, from 1; the line number for a file.
        at: usize,
        /// What was read there.
        found: String,
        /// The reason.
        why: Text,
    },
}

impl SumError {
    /// The field the error is about.
    pub const fn field(&self) -> &'static str {
        match self {
            Self::NotFinite { field }
            | Self::OutOfRange { field, .. }
            | Self::Missing { field }
            | Self::Unknown { field, .. }
            | Self::Refused { field, .. }
            | Self::Item { field, .. } => field,
        }
    }

    /// The error in words.
    pub fn say(&self, lang: Lang) -> String {
        match lang {
            Lang::En => self.english(),
            Lang::Es => self.spanish(),
        }
    }

    fn english(&self) -> String {
        match self {
            Self::NotFinite { field } => format!("{field} is not a finite number"),
            Self::OutOfRange { field, value, low, high } => {
                let unit = unit_of(field);
                format!(
                    "{field} is {}{unit}; the sum holds from {} to {}{unit}",
                    plain(*value),
                    plain(*low),
                    plain(*high)
                )
            }
            Self::Missing { field } => format!("{field} is missing"),
            Self::Unknown { field, found, accepted } => {
                format!("{field} cannot be {found:?}; it is one of {accepted}")
            }
            Self::Refused { field, why } => format!("{field}: {}", why.en),
            Self::Item { field, at, found, why } => format!("{field}, no. {at} ({found}): {}", why.en),
        }
    }

    fn spanish(&self) -> String {
        match self {
            Self::NotFinite { field } => format!("{field} no es un número finito"),
            Self::OutOfRange { field, value, low, high } => {
                let unit = unit_of(field);
                format!(
                    "{field} es {}{unit}; el cálculo vale de {} a {}{unit}",
                    plain(*value),
                    plain(*low),
                    plain(*high)
                )
            }
            Self::Missing { field } => format!("falta {field}"),
            Self::Unknown { field, found, accepted } => {
                format!("{field} no puede ser {found:?}; es uno de {accepted}")
            }
            Self::Refused { field, why } => format!("{field}: {}", why.es),
            Self::Item { field, at, found, why } => format!("{field}, n.º {at} ({found}): {}", why.es),
        }
    }
}

impl std::fmt::Display for SumError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.english())
    }
}

impl std::error::Error for SumError {}

fn unit_of(field: &str) -> String {
    dimension_of_field(field).map(|dimension| format!(" {}", dimension.symbol())).unwrap_or_default()
}

/// A number as typed, with an exponent where it would run over the line.
fn plain(value: f64) -> String {
    match value.abs() {
        size if size != 0.0 && !(1e-4..1e9).contains(&size) => format!("{value:e}"),
        _ => format!("{value}"),
    }
}
