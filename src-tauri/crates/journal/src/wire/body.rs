//! Bodies: `null`, plain, or encrypted.
//!
//! A plain body is an object whose first key is `salt`, so that short bodies cannot be guessed from their
//! hash. An encrypted one is `{"x":"<nonce and ciphertext>"}`; its plain bytes are what `bh` names.

use std::borrow::Cow;
use std::fmt;

use serde::de::{Error as _, MapAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::{Map, Value};
use trowelogue_core::entry::Content;
use trowelogue_core::id::Hash;

use crate::keys;
use crate::line::NO_BODY;

const SALT: &str = "salt";
/// Nonce (24 bytes), tag (16 bytes) and the shortest body there is.
const SHORTEST_SEALED: usize = 24 + 16 + 2;

/// Reads a body; the error says what is wrong with its form.
pub fn parse_body(text: &str) -> Result<Content, String> {
    if text == NO_BODY {
        return Ok(Content::Withheld);
    }
    if is_sealed(text) {
        return Ok(Content::Locked);
    }
    serde_json::from_str::<Salted>(text)
        .map(|body| Content::Open(Value::Object(body.0)))
        .map_err(|e| e.to_string())
}

/// Whether the body is the one whose hash was signed. A withheld or encrypted one cannot be told here.
pub fn body_matches(text: &str, signed: &Hash) -> bool {
    text == NO_BODY || Hash::of(&[text.as_bytes()]) == *signed || is_sealed(text)
}

/// Writes a body with its salt first; `None` where it names a `salt` itself.
pub fn write_body(body: &Map<String, Value>, salt: &[u8; 16]) -> Option<String> {
    if body.contains_key(SALT) {
        return None;
    }
    let salt = keys::encode(salt);
    let rest = serde_json::to_string(body).ok()?;
    let comma = if body.is_empty() { "" } else { "," };
    Some(format!("{{\"{SALT}\":\"{salt}\"{comma}{}", &rest[1..]))
}

fn is_sealed(text: &str) -> bool {
    let inner = text.strip_prefix("{\"x\":\"").and_then(|rest| rest.strip_suffix("\"}"));
    let bytes = inner.and_then(|inner| data_encoding::BASE64URL_NOPAD.decode(inner.as_bytes()).ok());
    bytes.is_some_and(|bytes| bytes.len() >= SHORTEST_SEALED)
}

/// An object whose first key is a salt of 16 bytes; holds the rest, in the order it was written.
struct Salted(Map<String, Value>);

impl<'de> Deserialize<'de> for Salted {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(SaltFirst)
    }
}

struct SaltFirst;

impl<'de> Visitor<'de> for SaltFirst {
    type Value = Salted;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object whose first key is a salt of 16 bytes")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Salted, A::Error> {
        let first: Option<(Cow<'de, str>, Cow<'de, str>)> = map.next_entry()?;
        let salted =
            |(key, salt): &(Cow<'_, str>, Cow<'_, str>)| key == SALT && keys::decode::<16>(salt).is_some();
        if !first.as_ref().is_some_and(salted) {
            return Err(A::Error::custom("the body does not begin with a salt of 16 bytes"));
        }
        let mut rest = Map::new();
        while let Some((key, value)) = map.next_entry::<String, Value>()? {
            if key == SALT || rest.insert(key, value).is_some() {
                return Err(A::Error::custom("a key stands twice in the body"));
            }
        }
        Ok(Salted(rest))
    }
}
