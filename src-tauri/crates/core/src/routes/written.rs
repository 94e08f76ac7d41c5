//! A route as it stands in an entry, and what it reads as.

use std::borrow::Cow;
use std::ops::Deref;
use std::sync::{Arc, OnceLock};

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;

use super::Route;
use super::shipped::shipped_as;

/// A route that is shared, not copied: a shipped one, or one that was read from an entry.
#[derive(Debug, Clone)]
pub enum Held {
    /// It ships inside the binary.
    Shipped(&'static Route),
    /// The shop wrote it.
    Own(Arc<Route>),
}

impl Deref for Held {
    type Target = Route;

    fn deref(&self) -> &Route {
        match self {
            Self::Shipped(route) => route,
            Self::Own(route) => route,
        }
    }
}

impl PartialEq for Held {
    fn eq(&self, other: &Self) -> bool {
        std::ptr::eq::<Route>(&**self, &**other) || **self == **other
    }
}

/// The document of a route in an entry. What it reads as is worked out once, when it is first asked for: every
/// piece holds a frozen copy, and a plan of a whole shop asks for all of them.
#[derive(Clone)]
pub struct WrittenRoute {
    value: Value,
    read: OnceLock<Option<Held>>,
}

impl WrittenRoute {
    /// The document as it was written.
    pub fn value(&self) -> &Value {
        &self.value
    }

    /// Its code, where it has one; told without reading the whole.
    pub fn code(&self) -> Option<&str> {
        self.value.get("code")?.as_str()
    }

    /// The route; `None` where a newer version wrote what cannot be read here.
    pub fn route(&self) -> Option<&Held> {
        self.read.get_or_init(|| read(&self.value)).as_ref()
    }
}

fn read(value: &Value) -> Option<Held> {
    let shipped = shipped_as(value).map(Held::Shipped);
    shipped.or_else(|| Route::read(value).ok().map(|route| Held::Own(Arc::new(route))))
}

impl From<Value> for WrittenRoute {
    fn from(value: Value) -> Self {
        Self { value, read: OnceLock::new() }
    }
}

impl std::fmt::Debug for WrittenRoute {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.value.fmt(f)
    }
}

impl PartialEq for WrittenRoute {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl Serialize for WrittenRoute {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.value.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for WrittenRoute {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Value::deserialize(from).map(Self::from)
    }
}

/// As any JSON value: `schemas/route.schema.json` says more.
impl JsonSchema for WrittenRoute {
    fn inline_schema() -> bool {
        <Value as JsonSchema>::inline_schema()
    }

    fn schema_name() -> Cow<'static, str> {
        <Value as JsonSchema>::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        <Value as JsonSchema>::json_schema(generator)
    }
}
