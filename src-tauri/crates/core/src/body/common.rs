//! Fields every body may carry, and values that may honestly be unknown.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::surface::Spot;
use crate::id::Hash;

choices! {
    /// A part of a piece. Surface work is logged per region; ladders run per region.
    pub enum Region {
        Face = "face": "face", "cara vista";
        Edge = "edge": "edge", "canto";
        Inside = "inside": "inside of basin", "interior del lavabo";
        Splash = "splash": "splash", "copete";
        Underside = "underside": "underside", "cara inferior";
    }

    /// Where work was done.
    pub enum Place {
        Shop = "shop": "in the shop", "en el taller";
        Site = "site": "on site", "en obra";
    }

    /// An answer on a checklist; "not looked at" is an answer too.
    pub enum Answer {
        Yes = "yes": "yes", "sí";
        No = "no": "no", "no";
        NotLooked = "not_looked": "not looked at", "no comprobado";
    }
}

bodies! {
    /// A photo, by the SHA-256 of its bytes.
    pub struct Photo {
        /// SHA-256 of the file's bytes, which is also its name in the folder.
        pub hash: Hash,
        /// What it shows.
        pub caption: Option<String>,
    }
}

/// Fields every kind may carry beside its own.
#[serde_with::skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Common {
    /// The part of the piece that was worked.
    pub region: Option<Region>,
    /// Shop or site.
    pub place: Option<Place>,
    /// Anything worth saying.
    pub notes: Option<String>,
    /// Photos of it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<Photo>,
    /// Where on the plan of the piece: a chip, what a photo shows, what a client complains of.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub spots: Vec<Spot>,
    /// Values as the person gave them where that was in another unit: field name to text.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub entered: BTreeMap<String, String>,
}

/// The names of the common fields.
pub const COMMON_FIELDS: [&str; 6] = ["region", "place", "notes", "photos", "spots", "entered"];

/// Parts a body into its common and its own fields.
pub(crate) fn split(map: Map<String, Value>) -> (Map<String, Value>, Map<String, Value>) {
    map.into_iter().partition(|(name, _)| COMMON_FIELDS.contains(&name.as_str()))
}

/// A value that must be stated, if only as "unknown": a rule then says "cannot tell" instead of passing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Known<T> {
    /// It is known.
    Value(T),
    /// It was stated that it is not known.
    Unknown(Unknown),
}

/// The word that stands for an unknown value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Unknown {
    /// Not known to the person who wrote it.
    #[serde(rename = "unknown")]
    Unknown,
}

impl<T: Copy> Known<T> {
    /// The value, if it is known.
    pub const fn get(self) -> Option<T> {
        match self {
            Self::Value(value) => Some(value),
            Self::Unknown(_) => None,
        }
    }
}
