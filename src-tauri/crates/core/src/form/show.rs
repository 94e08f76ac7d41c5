//! A stored value as the form shows it: in the reader's units, ratios as text, lists as lines.

use serde_json::{Value, json};

use super::{Control, Field, Lines, Reader};
use super::{lines, records};
use crate::body::shape::Shape;

/// The stored value in the form the control takes. Moments stay as they are stored: whoever knows the reader's
/// zone makes civil time of them.
pub fn shown(field: &Field, stored: &Value, reader: Reader) -> Value {
    match (&field.control, stored) {
        (Control::Number(measure), Value::Number(number)) => {
            let value = measure.round(measure.outside(number.as_f64().unwrap_or(0.0)));
            if measure.whole { json!(value as i64) } else { json!(value) }
        }
        (Control::Choice { many: false, .. }, Value::Number(number)) => {
            json!(lines::plain(number.as_f64().unwrap_or(0.0)))
        }
        (Control::Choice { .. }, Value::Bool(yes)) => json!(if *yes { "yes" } else { "no" }),
        (Control::List(Lines::Records(fields)), _) => records::shown(fields, stored, reader),
        (Control::List(form), _) => json!(lines::write(form, stored, reader)),
        (Control::Places(fields), _) => json!(lines::write(&Lines::Records(fields.clone()), stored, reader)),
        (Control::Photo, Value::Array(all)) => all.iter().map(|photo| photo["hash"].clone()).collect(),
        (Control::Text { .. }, it) if field.shape == Shape::Any && !it.is_string() => {
            json!(serde_json::to_string_pretty(it).unwrap_or_default())
        }
        (_, it) => it.clone(),
    }
}

/// Two parts as people write them: `20:1`.
pub(super) fn ratio(water: f64, other: f64) -> String {
    format!("{}:{}", lines::plain(water), lines::plain(other))
}
