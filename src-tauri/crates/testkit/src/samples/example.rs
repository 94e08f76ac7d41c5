//! An entry of every kind, made from the schema of its body: once with what must be given, once with everything.

use serde_json::{Map, Value, json};
use trowelogue_core::body::{Common, Details, Kind, Needs, input};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::Span;
use trowelogue_core::routes;
use trowelogue_journal::Draft;

use super::Outcome;

/// What the entries are about: things the sample shop has.
pub(super) struct Scene {
    pub(super) done: Span,
    pub(super) person: ObjectId,
    pub(super) piece: ObjectId,
    pub(super) peer: DeviceId,
    /// An entry to correct, strike and refer to: a rinse of the piece.
    pub(super) target: Hash,
}

/// How much of a body is filled in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fill {
    Must,
    Everything,
}

/// Two entries of each kind, in the order of the table of kinds; `id` gives ids of things not seen before.
pub(super) fn of_every_kind(scene: &Scene, mut id: impl FnMut() -> ObjectId) -> Outcome<Vec<Draft>> {
    let mut drafts = Vec::new();
    for kind in Kind::ALL {
        for fill in [Fill::Must, Fill::Everything] {
            drafts.push(draft(*kind, fill, scene, &mut id)?);
        }
    }
    Ok(drafts)
}

fn draft(kind: Kind, fill: Fill, scene: &Scene, id: &mut impl FnMut() -> ObjectId) -> Outcome<Draft> {
    let details = input::read(kind, body(kind, fill)?)?;
    let needs = kind.needs();
    let makes = matches!(needs, Needs::Object | Needs::NewPour);
    let about_pieces = !matches!(needs, Needs::Object | Needs::Peer | Needs::PeerAndHead | Needs::Nothing);
    let about_device = matches!(needs, Needs::Peer | Needs::PeerAndHead);
    Ok(Draft {
        done: scene.done,
        person: scene.person,
        kind: kind.wire().into(),
        object: if makes { Some(id()) } else { None },
        pieces: if about_pieces { vec![scene.piece] } else { Vec::new() },
        peer: about_device.then_some(scene.peer),
        refs: if matches!(needs, Needs::Refs | Needs::PeerAndHead) { vec![scene.target] } else { Vec::new() },
        body: details.to_stored(),
    })
}

fn body(kind: Kind, fill: Fill) -> Outcome<Map<String, Value>> {
    let schema = kind.schema().to_value();
    let mut body = fields(&schema, &schema["$defs"], fill);
    let common = schemars::schema_for!(Common).to_value();
    if fill == Fill::Everything {
        let mut shared = fields(&common, &common["$defs"], fill);
        shared.remove("entered");
        body.extend(shared);
    }
    if kind.needs() == Needs::Region {
        body.insert("region".into(), json!("face"));
    }
    free_fields(kind, &mut body)?;
    Ok(body)
}

/// Fields whose content the schema leaves open.
fn free_fields(kind: Kind, body: &mut Map<String, Value>) -> Outcome<()> {
    let route = routes::shipped().first().ok_or("a route is shipped")?;
    match kind {
        Kind::Correction => {
            let rinse = Details::from_stored(Kind::Rinse, &json!({ "standing_water_removed": "no" }))?;
            body.insert("body".into(), Value::Object(rinse.to_stored()));
        }
        Kind::Route | Kind::RouteChosen if body.contains_key("route") || kind == Kind::Route => {
            body.insert("route".into(), serde_json::to_value(route)?);
        }
        _ => {}
    }
    Ok(())
}

fn fields(schema: &Value, defs: &Value, fill: Fill) -> Map<String, Value> {
    let must = |name: &String| schema["required"].as_array().is_some_and(|it| it.contains(&json!(name)));
    let wanted = schema["properties"].as_object().into_iter().flatten();
    let wanted = wanted.filter(|(name, _)| fill == Fill::Everything || must(name));
    wanted.map(|(name, it)| (name.clone(), value(name, it, defs, fill))).collect()
}

/// A value of the field: the first of what its schema allows.
fn value(name: &str, schema: &Value, defs: &Value, fill: Fill) -> Value {
    if let Some(target) = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next()) {
        return if target == "Hash" {
            json!("ab".repeat(32))
        } else {
            value(name, &defs[target], defs, fill)
        };
    }
    if let Some(constant) = schema.get("const") {
        return constant.clone();
    }
    if let Some(first) = schema["enum"].as_array().and_then(|all| all.first()) {
        return first.clone();
    }
    let choice = ["anyOf", "oneOf"].iter().find_map(|several| schema[*several].as_array());
    if let Some(first) = choice.and_then(|all| all.iter().find(|it| it["type"] != "null")) {
        return value(name, first, defs, fill);
    }
    let listed = schema["type"].as_array().and_then(|all| all.iter().find(|it| *it != "null"));
    match listed.unwrap_or(&schema["type"]).as_str() {
        Some("number" | "integer") => number(name),
        Some("boolean") => json!(true),
        Some("string") => text(schema),
        Some("array") => {
            let count = schema["minItems"].as_u64().unwrap_or(1).max(1) as usize;
            Value::Array(vec![value(name, &schema["items"], defs, fill); count])
        }
        Some("object") if schema["properties"].is_object() => Value::Object(fields(schema, defs, fill)),
        Some("object") => json!({ "cement": value(name, &schema["additionalProperties"], defs, fill) }),
        _ => json!({}),
    }
}

fn number(name: &str) -> Value {
    match name {
        _ if name.ends_with("kgm3") => json!(2200),
        "ph" => json!(8),
        _ => json!(12),
    }
}

fn text(schema: &Value) -> Value {
    match (schema["format"].as_str(), schema["pattern"].as_str()) {
        (Some("date"), _) => json!("2025-03-04"),
        (Some("date-time"), _) => json!("2025-03-04T06:30:00-06:00"),
        (Some("uuid"), _) => json!("01956000-0000-7000-8000-000000000077"),
        (_, Some(pattern)) if pattern.contains("{64}") => json!("ab".repeat(32)),
        _ => json!("words of the shop, con eñe"),
    }
}
