//! Reading what a person or a script enters: strict, with the field named, and with units converted.

use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use super::{Body, Common, Details, Kind, common};
use crate::units;

pub use super::refusal::{FieldError, Refusal};

/// The longest text a field takes, in bytes; a whole line must stay under 64 KiB.
pub const TEXT_MAX: usize = 8 * 1024;
/// The largest magnitude a number may have. Nothing on a building site is larger.
const NUMBER_MAX: f64 = 1e9;

impl FieldError {
    fn new(field: impl Into<String>, why: Refusal) -> Self {
        Self { field: field.into(), why }
    }
}

/// Reads an entered body: unknown fields are refused, a text with a unit becomes SI (`"air_c": "68 °F"`), and
/// the text is kept in `entered`.
///
/// # Errors
/// The first field that is unknown, missing, of the wrong type, out of all range or in an unknown unit.
pub fn read(kind: Kind, mut map: Map<String, Value>) -> Result<Details, FieldError> {
    let mut entered = Map::new();
    for (name, value) in &mut map {
        take_units(name, name, value, &mut entered)?;
        check_values(name, value)?;
    }
    if !entered.is_empty() {
        let kept = map.entry("entered").or_insert_with(|| Value::Object(Map::new()));
        if let Value::Object(kept) = kept {
            kept.extend(entered);
        }
    }
    let (common, own) = common::split(map);
    let (common, unknown_common) = read_strict::<Common>(&Value::Object(common));
    let (body, unknown) = Body::from_entered(kind, &Value::Object(own));
    if let Some(name) = unknown_common.into_iter().chain(unknown).next() {
        let why = Refusal::NoSuchField { kind: kind.wire(), fields: fields_of(kind) };
        return Err(FieldError::new(&name, why));
    }
    Ok(Details { common: common?, body: body? })
}

/// Reads values of a kind that need not be whole, such as those a route proposes: texts with a unit become SI.
///
/// # Errors
/// The first value out of all range or in an unknown unit.
pub fn read_partial(mut map: Map<String, Value>) -> Result<Map<String, Value>, FieldError> {
    for (name, value) in &mut map {
        take_units(name, name, value, &mut Map::new())?;
        check_values(name, value)?;
    }
    Ok(map)
}

/// Deserialises with the path of the failing field and the names of fields that do not exist.
pub(crate) fn read_strict<T: DeserializeOwned>(value: &Value) -> (Result<T, FieldError>, Vec<String>) {
    let mut unknown = Vec::new();
    let mut track = serde_path_to_error::Track::new();
    let deserializer = serde_path_to_error::Deserializer::new(value, &mut track);
    let read = serde_ignored::deserialize(deserializer, |path| unknown.push(path.to_string()));
    let read = read.map_err(|error| {
        let path = track.path().to_string();
        let missing = missing_field(&error.to_string());
        let inside = |name: String| if path == "." { name } else { format!("{path}.{name}") };
        let field = missing.map(inside).unwrap_or_else(|| path.clone());
        FieldError::new(field, Refusal::of_reader(&error.to_string()))
    });
    (read, unknown)
}

/// serde names a missing field only in its message; the path ends one level above.
fn missing_field(message: &str) -> Option<String> {
    let rest = message.strip_prefix("missing field `")?;
    rest.split('`').next().map(Into::into)
}

/// The fields of a kind, its own first.
fn fields_of(kind: Kind) -> String {
    let own = kind.schema().to_value();
    let common = schemars::schema_for!(Common).to_value();
    let names = [&own, &common].into_iter().filter_map(|schema| schema["properties"].as_object());
    names.flat_map(Map::keys).map(String::as_str).collect::<Vec<_>>().join(", ")
}

/// Turns `"68 °F"` into SI where the field's name has a unit, and remembers the text.
fn take_units(
    path: &str,
    name: &str,
    value: &mut Value,
    entered: &mut Map<String, Value>,
) -> Result<(), FieldError> {
    match value {
        Value::String(text) => {
            let Some(dimension) = units::dimension_of_field(name) else { return Ok(()) };
            if text == "unknown" {
                return Ok(());
            }
            let si =
                units::parse(text, dimension).map_err(|bad| FieldError::new(path, Refusal::Unit(bad)))?;
            let number =
                serde_json::Number::from_f64(si).ok_or_else(|| FieldError::new(path, Refusal::Absurd))?;
            entered.insert(path.to_owned(), Value::String(std::mem::take(text)));
            *value = Value::Number(number);
            Ok(())
        }
        Value::Object(map) if name != "entered" && name != "weights_kg" && name != "route" => {
            map.iter_mut().try_for_each(|(key, it)| take_units(&format!("{path}.{key}"), key, it, entered))
        }
        Value::Array(items) => items
            .iter_mut()
            .enumerate()
            .try_for_each(|(at, it)| take_units(&format!("{path}[{at}]"), name, it, entered)),
        _ => Ok(()),
    }
}

/// Refuses what no field may hold: endless text, NUL, absurd numbers, negative sizes.
fn check_values(path: &str, value: &Value) -> Result<(), FieldError> {
    match value {
        Value::String(text) if text.len() > TEXT_MAX => {
            Err(FieldError::new(path, Refusal::TooLong(TEXT_MAX)))
        }
        Value::String(text) if text.contains('\0') => Err(FieldError::new(path, Refusal::Nul)),
        Value::Number(number) => check_number(path, number.as_f64().unwrap_or(f64::NAN)),
        Value::Object(map) => map.iter().try_for_each(|(key, it)| check_values(&format!("{path}.{key}"), it)),
        Value::Array(items) => {
            items.iter().enumerate().try_for_each(|(at, it)| check_values(&format!("{path}[{at}]"), it))
        }
        _ => Ok(()),
    }
}

fn check_number(path: &str, number: f64) -> Result<(), FieldError> {
    if !number.is_finite() || number.abs() > NUMBER_MAX {
        return Err(FieldError::new(path, Refusal::Absurd));
    }
    let leaf = path.rsplit('.').next().unwrap_or(path);
    let name = leaf.split('[').next().unwrap_or(leaf);
    let (low, high) = range_of(name);
    if number < low || number > high {
        let between = (low.to_string(), high.to_string());
        return Err(FieldError::new(path, Refusal::OutOfRange { value: number.to_string(), between }));
    }
    Ok(())
}

/// The widest range a field of this name can have: physics and arithmetic, no rule of the trade.
pub(crate) fn range_of(name: &str) -> (f64, f64) {
    const ENDS: [(&str, (f64, f64)); 20] = [
        ("rise_c_per_h", (0.0, 500.0)),
        ("_c", (-60.0, 1200.0)),
        ("_k", (-200.0, 200.0)),
        ("_pct", (0.0, 100.0)),
        ("_mm", (0.0, 100_000.0)),
        ("_m2", (0.0, 100_000.0)),
        ("_l", (0.0, 100_000.0)),
        ("_kg", (0.0, 1e6)),
        ("_mpa", (0.0, 400.0)),
        ("_min", (0.0, 1e6)),
        ("_h", (0.0, 1e6)),
        ("_d", (0.0, 1e5)),
        ("_ms2", (0.0, 500.0)),
        ("_rpm", (0.0, 100_000.0)),
        ("_kgm3", (100.0, 8000.0)),
        ("_parts", (0.0, 10_000.0)),
        ("grit", (1.0, 20_000.0)),
        ("ph", (-2.0, 16.0)),
        ("coat", (1.0, 50.0)),
        ("gloss_gu", (0.0, 2000.0)),
    ];
    let place = name.ends_with("x_mm") || name.ends_with("y_mm");
    if place {
        return (-100_000.0, 100_000.0);
    }
    ENDS.iter().find(|(end, _)| name.ends_with(end)).map_or((-NUMBER_MAX, NUMBER_MAX), |(_, range)| *range)
}
