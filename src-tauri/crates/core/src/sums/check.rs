//! Checks every sum makes on what it is given.

use super::SumError;

/// The value, if it is finite and from `low` to `high`.
pub(super) fn within(field: &'static str, value: f64, low: f64, high: f64) -> Result<f64, SumError> {
    if !value.is_finite() {
        return Err(SumError::NotFinite { field });
    }
    if value < low || value > high {
        return Err(SumError::OutOfRange { field, value, low, high });
    }
    Ok(value)
}

/// A relative humidity: 1 to 100 %. Zero has no dew point.
pub(super) fn humidity(value: f64) -> Result<f64, SumError> {
    within("rh_pct", value, 1.0, 100.0)
}

/// The choice whose written name is `text`.
pub(super) fn pick<T: Copy>(
    field: &'static str,
    text: &str,
    all: &[T],
    wire: fn(T) -> &'static str,
) -> Result<T, SumError> {
    let wanted = text.trim().to_ascii_lowercase().replace('_', "-");
    let matches = |choice: &&T| wire(**choice).replace('_', "-") == wanted;
    all.iter().find(matches).copied().ok_or_else(|| SumError::Unknown {
        field,
        found: text.chars().take(40).collect(),
        accepted: all.iter().map(|choice| wire(*choice)).collect::<Vec<_>>().join(", "),
    })
}
