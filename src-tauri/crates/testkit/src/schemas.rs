//! JSON Schemas (2020-12) of what stands in files: the bodies of every kind, lines, the shop file; and the
//! generated rules reference.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};
use trowelogue_core::body::{Common, Kind};
use trowelogue_core::rules;
use trowelogue_core::text::Lang;

/// Writes every schema and the rules reference into `into`.
///
/// # Errors
/// Whatever the file system refuses.
pub fn write(into: &Path) -> std::io::Result<()> {
    let bodies = into.join("bodies");
    fs::create_dir_all(&bodies)?;
    for kind in Kind::ALL {
        put(&bodies, kind.wire(), &body(*kind))?;
    }
    put(into, "line", &line())?;
    put(into, "shop", &shop())?;
    fs::write(into.join("RULES.md"), rules_page())
}

/// The rules, as they are declared.
fn rules_page() -> String {
    let mut page = String::from(
        "# Rules\n\nGenerated from the declarations; `trowelogue rules CODE` prints the same.\n",
    );
    for rule in rules::ALL {
        let safety = if rule.safety { ", safety" } else { "" };
        page += &format!("\n## {}\n\n`{}` ({}{safety})\n\n", rule.title.en, rule.code, rule.severity.wire());
        page += &format!(
            "{}\n\n**What to do:** {}\n\n**Basis:** {}\n",
            rule.why.en,
            rule.remedy.en,
            rule.basis.words(Lang::En)
        );
    }
    page
}

fn put(folder: &Path, name: &str, schema: &Value) -> std::io::Result<()> {
    fs::write(folder.join(format!("{name}.schema.json")), format!("{schema:#}\n"))
}

/// The body of one kind as it stands in a line: own fields, common fields, salt.
fn body(kind: Kind) -> Value {
    let mut schema = kind.schema().to_value();
    let common = schemars::schema_for!(Common).to_value();
    if let (Some(own), Some(shared)) =
        (schema["properties"].as_object_mut(), common["properties"].as_object())
    {
        own.extend(shared.clone());
        own.insert(
            "salt".into(),
            json!({ "type": "string", "pattern": "^[A-Za-z0-9_-]{22}$",
            "description": "16 random bytes, so that an erased body cannot be guessed from its hash." }),
        );
    }
    let shared = common["$defs"].as_object().cloned().unwrap_or_default();
    let mut defs = schema["$defs"].as_object().cloned().unwrap_or_default();
    defs.extend(shared);
    schema["$defs"] = Value::Object(defs);
    schema["title"] = json!(format!("body of {}", kind.wire()));
    schema
}

fn base64url(chars: u32, what: &str) -> Value {
    json!({ "type": "string", "pattern": format!("^[A-Za-z0-9_-]{{{chars}}}$"), "description": what })
}

fn text_of(pattern: &str, what: &str) -> Value {
    json!({ "type": "string", "pattern": pattern, "description": what })
}

fn time(what: &str) -> Value {
    json!({ "type": "string", "format": "date-time", "description": what })
}

/// A line of a log.
fn line() -> Value {
    let hash = || text_of("^[0-9a-f]{64}$", "SHA-256 in lower-case hex.");
    let device =
        || text_of("^[a-z2-7]{20}$", "First 20 base32 characters of the SHA-256 of the device's public key.");
    let id = || json!({ "type": "string", "format": "uuid" });
    let header = json!({ "type": "object", "required": ["device", "segment", "key", "first"], "properties": { "device": device(),
        "segment": { "type": "integer", "minimum": 1 }, "key": base64url(43, "Ed25519 public key."), "first": { "type": "integer", "minimum": 1 },
        "replaces": device() } });
    let seal = json!({ "type": "object", "required": ["device", "segment", "count", "last"], "properties": { "device": device(),
        "segment": { "type": "integer", "minimum": 1 }, "count": { "type": "integer", "minimum": 0 }, "last": { "type": "integer", "minimum": 0 } } });
    let entry = json!({ "type": "object", "description": "An entry.",
        "required": ["v", "device", "seq", "clock", "done", "wrote", "person", "kind", "bh", "prev"],
        "properties": { "v": { "type": "integer", "minimum": 1 }, "device": device(), "seq": { "type": "integer", "minimum": 1 },
            "clock": { "type": "array", "prefixItems": [{ "type": "integer" }, { "type": "integer", "minimum": 0 }], "items": false, "minItems": 2 },
            "done": time("When the work was done, or began."), "until": time("When it ended."), "wrote": time("When it was written down."),
            "person": id(), "kind": { "type": "string" }, "object": id(), "pieces": { "type": "array", "items": id(), "minItems": 1 },
            "peer": device(), "refs": { "type": "array", "items": hash(), "minItems": 1 }, "bh": hash(), "prev": hash(),
            "saw": { "type": "object", "additionalProperties": { "type": "array", "prefixItems": [{ "type": "integer", "minimum": 1 }, hash()], "items": false } } } });
    let bracket = |name: &str, inner: Value| {
        json!({ "type": "object", "required": ["v", name, "wrote", "prev"],
        "properties": { "v": { "type": "integer" }, name: inner, "wrote": time("When it was written."), "prev": hash() } })
    };
    json!({ "$schema": "https://json-schema.org/draft/2020-12/schema", "title": "line of a log",
        "description": "One line; see FORMAT.md for the exact bytes, which this schema cannot say.",
        "type": "object", "required": ["e", "b", "s"], "additionalProperties": false,
        "properties": { "e": { "anyOf": [entry, bracket("header", header), bracket("seal", seal)] }, "b": { "type": ["object", "null"] },
            "s": base64url(86, "Ed25519 signature.") } })
}

/// The shop file.
fn shop() -> Value {
    let inner = json!({ "type": "object", "required": ["format", "shop", "name", "founded", "key", "nonce", "recovery"],
        "properties": { "format": { "const": 1 }, "shop": text_of("^[a-z2-7]{20}$", "First 20 base32 characters of the SHA-256 of founding key and nonce."),
            "name": { "type": "string" }, "founded": time("When."), "key": base64url(43, "Public key of the founding device."),
            "nonce": base64url(22, "16 random bytes."), "recovery": base64url(43, "Public half of the recovery key.") } });
    json!({ "$schema": "https://json-schema.org/draft/2020-12/schema", "title": "shop.json", "type": "object", "required": ["shop", "s"],
        "additionalProperties": false, "properties": { "shop": inner, "s": base64url(86, "Ed25519 signature by the founding key.") } })
}
