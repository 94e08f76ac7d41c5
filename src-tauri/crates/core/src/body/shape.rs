//! What sort of value each field of a body holds, read from the schema that the bodies themselves give.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde_json::Value;

use super::{Common, Kind};

/// The sort of value of a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shape {
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

/// A field as its kind declares it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Declared {
    /// Its name.
    pub name: String,
    /// The sort of its value.
    pub shape: Shape,
    /// It has to be there.
    pub must: bool,
    /// A number without a fraction.
    pub whole: bool,
    /// It may be stated as not known.
    pub may_be_unknown: bool,
}

/// The own fields of a kind, in order of declaration.
pub fn own_fields(kind: Kind) -> &'static [Declared] {
    static ALL: OnceLock<BTreeMap<Kind, Vec<Declared>>> = OnceLock::new();
    let all = ALL
        .get_or_init(|| Kind::ALL.iter().map(|kind| (*kind, declared(&kind.schema().to_value()))).collect());
    all.get(&kind).map_or(&[], Vec::as_slice)
}

/// The fields every body may carry.
pub fn common_fields() -> &'static [Declared] {
    static COMMON: OnceLock<Vec<Declared>> = OnceLock::new();
    COMMON.get_or_init(|| declared(&schemars::schema_for!(Common).to_value()))
}

/// The sort of value of each field of a kind, the common ones too, by name.
pub fn fields_of(kind: Kind) -> &'static BTreeMap<String, Shape> {
    static ALL: OnceLock<BTreeMap<Kind, BTreeMap<String, Shape>>> = OnceLock::new();
    static NONE: BTreeMap<String, Shape> = BTreeMap::new();
    let read = |kind: &Kind| {
        let both = own_fields(*kind).iter().chain(common_fields());
        (*kind, both.map(|it| (it.name.clone(), it.shape.clone())).collect())
    };
    ALL.get_or_init(|| Kind::ALL.iter().map(read).collect()).get(&kind).unwrap_or(&NONE)
}

fn declared(schema: &Value) -> Vec<Declared> {
    let defs = &schema["$defs"];
    let required =
        |name: &str| schema["required"].as_array().is_some_and(|all| all.iter().any(|it| it == name));
    let fields = schema["properties"].as_object();
    let read = |(name, it): (&String, &Value)| Declared {
        name: name.clone(),
        shape: shape(it, defs, 1),
        must: required(name),
        whole: has_type(it, "integer"),
        may_be_unknown: may_be_unknown(it, defs, 1),
    };
    fields.into_iter().flatten().map(read).collect()
}

fn has_type(schema: &Value, wanted: &str) -> bool {
    schema["type"] == wanted || schema["type"].as_array().is_some_and(|all| all.iter().any(|it| it == wanted))
}

fn may_be_unknown(schema: &Value, defs: &Value, depth: usize) -> bool {
    let name = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next());
    let inside = |it: &Value| depth <= DEEPEST && may_be_unknown(it, defs, depth + 1);
    match name {
        Some("Unknown") => true,
        Some(name) => inside(&defs[name]),
        None => schema["anyOf"].as_array().is_some_and(|all| all.iter().any(inside)),
    }
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

    #[test]
    fn fields_come_in_order_of_declaration_with_what_must_be_there() {
        let wash: Vec<&str> = own_fields(Kind::AcidWash).iter().map(|it| it.name.as_str()).collect();
        assert_eq!(wash[..5], ["acid", "concentrate_pct", "water_parts", "acid_parts", "cream_lost"]);
        let of = |name: &str| own_fields(Kind::AcidWash).iter().find(|it| it.name == name).unwrap();
        assert!(of("concentrate_pct").must && of("concentrate_pct").may_be_unknown);
        assert!(!of("dwell_min").must && !of("dwell_min").may_be_unknown);
        assert!(of("passes").whole && !of("water_parts").whole);
        assert!(common_fields().iter().all(|it| !it.must));
    }
}
