//! What sort of value each field of a body holds, read from the schema that the bodies themselves give.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde_json::Value;
use trowelogue_core::body::{Common, Kind};

/// The sort of value of a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Shape {
    /// A number.
    Number,
    /// Yes or no.
    YesNo,
    /// Words.
    Text,
    /// A closed choice, by the name of its type.
    Choice(String),
    /// A civil day.
    Day,
    /// A moment.
    Moment,
    /// The id of an object.
    Id,
    /// The hash of a file or an entry.
    Hash,
    /// Several.
    List(Box<Shape>),
    /// A small record, field by field.
    Record(Vec<(String, Shape)>),
    /// Values by name.
    Map(Box<Shape>),
    /// Anything else.
    Any,
}

/// The fields of a kind, common ones too, with the sort of value of each.
pub(crate) fn fields_of(kind: Kind) -> &'static BTreeMap<String, Shape> {
    static ALL: OnceLock<BTreeMap<Kind, BTreeMap<String, Shape>>> = OnceLock::new();
    static NONE: BTreeMap<String, Shape> = BTreeMap::new();
    let all = ALL.get_or_init(|| Kind::ALL.iter().map(|kind| (*kind, read(*kind))).collect());
    all.get(&kind).unwrap_or(&NONE)
}

fn read(kind: Kind) -> BTreeMap<String, Shape> {
    let mut fields = BTreeMap::new();
    for schema in [kind.schema().to_value(), schemars::schema_for!(Common).to_value()] {
        fields.extend(properties(&schema, &schema["$defs"], 0));
    }
    fields
}

fn properties(schema: &Value, defs: &Value, depth: usize) -> Vec<(String, Shape)> {
    let fields = schema["properties"].as_object();
    let shape = |(name, it): (&String, &Value)| (name.clone(), shape(it, defs, depth + 1));
    fields.into_iter().flatten().map(shape).collect()
}

/// Schemas of bodies are a few levels deep; anything deeper is not looked into.
const DEEPEST: usize = 8;

fn shape(schema: &Value, defs: &Value, depth: usize) -> Shape {
    if depth > DEEPEST {
        return Shape::Any;
    }
    if let Some(name) = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next()) {
        return named(name, &defs[name], defs, depth);
    }
    for several in ["anyOf", "oneOf"] {
        if let Some(options) = schema[several].as_array() {
            let mut shapes = options.iter().filter(|it| it["type"] != "null");
            return shapes.next().map_or(Shape::Any, |first| shape(first, defs, depth + 1));
        }
    }
    by_type(schema, defs, depth)
}

fn named(name: &str, schema: &Value, defs: &Value, depth: usize) -> Shape {
    match name {
        "ObjectId" => Shape::Id,
        "Hash" => Shape::Hash,
        _ if is_choice(schema) => Shape::Choice(name.to_owned()),
        _ => shape(schema, defs, depth + 1),
    }
}

/// A closed choice is a list of constants, or an enumeration.
fn is_choice(schema: &Value) -> bool {
    let constants =
        schema["oneOf"].as_array().is_some_and(|all| all.iter().all(|it| it.get("const").is_some()));
    constants || schema["enum"].is_array()
}

fn by_type(schema: &Value, defs: &Value, depth: usize) -> Shape {
    let listed = schema["type"].as_array().and_then(|all| all.iter().find(|it| *it != "null"));
    match listed.unwrap_or(&schema["type"]).as_str() {
        Some("number" | "integer") => Shape::Number,
        Some("boolean") => Shape::YesNo,
        Some("string") => match schema["format"].as_str() {
            Some("date") => Shape::Day,
            Some("date-time") => Shape::Moment,
            Some("uuid") => Shape::Id,
            _ => Shape::Text,
        },
        Some("array") => Shape::List(Box::new(shape(&schema["items"], defs, depth + 1))),
        Some("object") if schema["properties"].is_object() => Shape::Record(properties(schema, defs, depth)),
        Some("object") => Shape::Map(Box::new(shape(&schema["additionalProperties"], defs, depth + 1))),
        _ => Shape::Any,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_of_every_kind_has_a_known_shape() {
        for kind in Kind::ALL {
            for (name, shape) in fields_of(*kind) {
                // A whole body inside a correction and a route document are looked at by their own readers.
                let free = ["body", "route"].contains(&name.as_str());
                assert!(free || *shape != Shape::Any, "{} {name}", kind.wire());
            }
        }
    }

    #[test]
    fn shapes_follow_the_types() {
        let wash = fields_of(Kind::AcidWash);
        assert_eq!(wash["acid"], Shape::Choice("Acid".into()));
        assert_eq!(wash["concentrate_pct"], Shape::Number);
        assert_eq!(wash["product"], Shape::Id);
        assert_eq!(wash["region"], Shape::Choice("Region".into()));
        assert_eq!(fields_of(Kind::SealCoat)["expires"], Shape::Day);
        assert_eq!(fields_of(Kind::SealerCure)["until"], Shape::Moment);
        assert_eq!(fields_of(Kind::Pour)["weights_kg"], Shape::Map(Box::new(Shape::Number)));
        assert!(
            matches!(&fields_of(Kind::Fill)["at"], Shape::List(spot) if matches!(**spot, Shape::Record(_)))
        );
    }
}
