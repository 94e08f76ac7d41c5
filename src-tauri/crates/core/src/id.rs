//! Identifiers: devices, line hashes and the objects of a shop.

use std::fmt;
use std::str::FromStr;

use data_encoding::{BASE32_NOPAD, HEXLOWER};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest, Sha256};

use crate::text::{Lang, Text, text};

/// An identifier that is not in its written form.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{found:?} is not {}", what.en)]
pub struct BadId {
    /// What was read.
    pub found: String,
    /// What it should have been, in words.
    pub what: Text,
}

impl BadId {
    /// The error as one sentence.
    pub fn say(&self, lang: Lang) -> String {
        let Self { found, what } = self;
        match lang {
            Lang::En => format!("{found:?} is not {}.", what.en),
            Lang::Es => format!("{found:?} no es {}.", what.es),
        }
    }
}

macro_rules! text_form {
    ($type:ty) => {
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }
        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<str>::deserialize(deserializer)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }
        impl fmt::Debug for $type {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(self, f)
            }
        }
    };
}

/// SHA-256 over a line's entry bytes and signature, or over other bytes; written as 64 lower-case hex digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash(pub [u8; 32]);

impl Hash {
    /// The SHA-256 of the parts, one after the other.
    pub fn of(parts: &[&[u8]]) -> Self {
        let mut sha = Sha256::new();
        for part in parts {
            sha.update(part);
        }
        Self(sha.finalize().into())
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&HEXLOWER.encode(&self.0))
    }
}

impl FromStr for Hash {
    type Err = BadId;
    fn from_str(read: &str) -> Result<Self, BadId> {
        let bad = || BadId {
            found: read.chars().take(80).collect(),
            what: text("a hash (64 lower-case hex digits)", "un hash (64 cifras hexadecimales en minúscula)"),
        };
        let bytes = HEXLOWER.decode(read.as_bytes()).map_err(|_| bad())?;
        bytes.try_into().map(Self).map_err(|_| bad())
    }
}

text_form!(Hash);

/// One device: the first 20 base32 characters (lower case) of the SHA-256 of its public key.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceId([u8; 20]);

impl DeviceId {
    /// The id that belongs to this public key.
    pub fn of_key(key: &[u8; 32]) -> Self {
        Self(short_name(&[key]))
    }
}

/// One shop: the first 20 base32 characters (lower case) of the SHA-256 of founding key and nonce.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ShopId([u8; 20]);

impl ShopId {
    /// The id of the shop founded with this key and nonce.
    pub fn of_founding(key: &[u8; 32], nonce: &[u8]) -> Self {
        Self(short_name(&[key, nonce]))
    }
}

fn short_name(parts: &[&[u8]]) -> [u8; 20] {
    let text = BASE32_NOPAD.encode(&Hash::of(parts).0).to_ascii_lowercase();
    let mut name = [0; 20];
    name.copy_from_slice(&text.as_bytes()[..20]);
    name
}

fn parse_short_name(text: &str, what: Text) -> Result<[u8; 20], BadId> {
    let good = text.bytes().all(|b| b.is_ascii_lowercase() || (b'2'..=b'7').contains(&b));
    match <[u8; 20]>::try_from(text.as_bytes()) {
        Ok(name) if good => Ok(name),
        _ => Err(BadId { found: text.chars().take(80).collect(), what }),
    }
}

macro_rules! short_name {
    ($type:ty, $what:expr) => {
        impl fmt::Display for $type {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(std::str::from_utf8(&self.0).unwrap_or("?"))
            }
        }
        impl FromStr for $type {
            type Err = BadId;
            fn from_str(text: &str) -> Result<Self, BadId> {
                parse_short_name(text, $what).map(Self)
            }
        }
        text_form!($type);

        impl $type {
            /// The id in groups of four, for reading out and comparing: one form everywhere.
            pub fn fingerprint(&self) -> String {
                let groups: Vec<&str> =
                    self.0.chunks(4).filter_map(|it| std::str::from_utf8(it).ok()).collect();
                groups.join("-")
            }
        }
    };
}

short_name!(
    DeviceId,
    text("a device id (20 characters a-z, 2-7)", "el id de un dispositivo (20 caracteres a-z, 2-7)")
);
short_name!(
    ShopId,
    text("a shop id (20 characters a-z, 2-7)", "el id de un taller (20 caracteres a-z, 2-7)")
);

/// A person, client, job, piece, pour, mix, product, tool or route: a UUID (version 7 when written here).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ObjectId(pub uuid::Uuid);

impl fmt::Display for ObjectId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0.hyphenated(), f)
    }
}

impl FromStr for ObjectId {
    type Err = BadId;
    fn from_str(read: &str) -> Result<Self, BadId> {
        let what = text("an id (a UUID)", "un id (un UUID)");
        let bad = || BadId { found: read.chars().take(80).collect(), what };
        if read.len() != 36 {
            return Err(bad());
        }
        uuid::Uuid::parse_str(read).map(Self).map_err(|_| bad())
    }
}

text_form!(ObjectId);

impl schemars::JsonSchema for ObjectId {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ObjectId".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "format": "uuid",
            "description": "The id of a person, client, job, piece, pour, mix, product, tool or route." })
    }
}

impl schemars::JsonSchema for Hash {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Hash".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "pattern": "^[0-9a-f]{64}$",
            "description": "SHA-256 in lower-case hex." })
    }
}
