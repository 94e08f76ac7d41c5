//! `shop.json`: what a shop is, signed by its founding device, written once.
//!
//! `{"shop":<shop>,"s":"<signature>"}` and a newline; signed are `trowelogue-shop-1\n` and the exact bytes
//! of `<shop>`.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use trowelogue_core::entry::FORMAT;
use trowelogue_core::id::{DeviceId, Hash, ShopId};
use trowelogue_core::moment::{self, Moment};

use crate::keys::{self, PublicKey, SHOP_CONTEXT, SecretKey};

/// The most bytes `shop.json` may have.
pub const MAX_SHOP_FILE: usize = 65_536;
/// The most characters a shop's name may have.
pub const MAX_NAME: usize = 200;

/// Why a `shop.json` cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ShopFault {
    /// Not the form described above, or not readable as such.
    #[error("shop.json is damaged: {0}")]
    Form(String),
    /// Made by a newer version.
    #[error("shop.json has format {0}; this version reads format 1")]
    Newer(u32),
    /// The signature does not match.
    #[error("shop.json was changed: its signature does not match")]
    Signature,
    /// The shop's id does not belong to its key.
    #[error("shop.json was changed: the shop's id does not belong to its founding key")]
    Id,
}

/// A shop as its `shop.json` names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShopFile {
    /// The shop's id.
    pub id: ShopId,
    /// Its name.
    pub name: String,
    /// When it was founded.
    pub founded: Moment,
    /// The key of the founding device.
    pub key: PublicKey,
    /// The public half of the recovery key printed at founding.
    pub recovery: PublicKey,
    /// The file, byte for byte.
    pub text: String,
}

#[derive(Serialize, Deserialize)]
struct Inner {
    format: u32,
    shop: ShopId,
    name: String,
    founded: String,
    key: String,
    nonce: String,
    recovery: String,
}

#[derive(Deserialize)]
struct Versioned {
    format: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Outer<'a> {
    #[serde(borrow)]
    shop: &'a RawValue,
    s: &'a str,
}

impl ShopFile {
    /// Founds a shop: composes and signs its file.
    pub fn found(
        name: &str,
        founded: Moment,
        key: &SecretKey,
        nonce: &[u8; 16],
        recovery: PublicKey,
    ) -> Self {
        let public = key.public();
        let id = ShopId::of_founding(public.bytes(), nonce);
        let inner = Inner {
            format: FORMAT,
            shop: id,
            name: name.into(),
            founded: moment::write(&founded),
            key: public.to_string(),
            nonce: keys::encode(nonce),
            recovery: recovery.to_string(),
        };
        let inner = serde_json::to_string(&inner).unwrap_or_default();
        let text = frame(&inner, &key.sign(SHOP_CONTEXT, inner.as_bytes()));
        Self { id, name: name.into(), founded, key: public, recovery, text }
    }

    /// Reads a file and checks all of it: form, format, signature, id.
    pub fn parse(bytes: &[u8]) -> Result<Self, ShopFault> {
        if bytes.len() > MAX_SHOP_FILE {
            return Err(form("it is too long"));
        }
        let text = std::str::from_utf8(bytes).map_err(|_| form("it is not UTF-8 text"))?;
        let outer: Outer<'_> = serde_json::from_str(text).map_err(|e| form(&e.to_string()))?;
        let raw = outer.shop.get();
        let version: Versioned = serde_json::from_str(raw).map_err(|e| form(&e.to_string()))?;
        if version.format > FORMAT {
            return Err(ShopFault::Newer(version.format));
        }
        if frame(raw, outer.s) != text {
            return Err(form("white space or keys that do not belong there"));
        }
        let inner: Inner = serde_json::from_str(raw).map_err(|e| form(&e.to_string()))?;
        Self::check(&inner, raw, &outer, text)
    }

    fn check(inner: &Inner, raw: &str, outer: &Outer<'_>, text: &str) -> Result<Self, ShopFault> {
        let key = PublicKey::parse(&inner.key).ok_or_else(|| form("the key"))?;
        let recovery = PublicKey::parse(&inner.recovery).ok_or_else(|| form("the recovery key"))?;
        let nonce: [u8; 16] = keys::decode(&inner.nonce).ok_or_else(|| form("the nonce"))?;
        let founded = moment::parse(&inner.founded).map_err(|e| form(&e.to_string()))?;
        if !key.verify(SHOP_CONTEXT, raw.as_bytes(), outer.s) {
            return Err(ShopFault::Signature);
        }
        if inner.format != FORMAT {
            return Err(form("the format number"));
        }
        if ShopId::of_founding(key.bytes(), &nonce) != inner.shop {
            return Err(ShopFault::Id);
        }
        Ok(Self { id: inner.shop, name: inner.name.clone(), founded, key, recovery, text: text.into() })
    }

    /// The founding device.
    pub fn founder(&self) -> DeviceId {
        self.key.device()
    }

    /// What the first header of every log in this shop names as the line before it.
    pub fn hash(&self) -> Hash {
        Hash::of(&[self.text.as_bytes()])
    }

    /// The shop's id in groups, for reading out and comparing when a device joins.
    pub fn fingerprint(&self) -> String {
        self.id.fingerprint()
    }
}

fn frame(inner: &str, signature: &str) -> String {
    format!("{{\"shop\":{inner},\"s\":\"{signature}\"}}\n")
}

fn form(what: &str) -> ShopFault {
    ShopFault::Form(what.into())
}

/// Whether a shop may have this name: 1 to 200 characters, not blank, no control characters.
pub fn name_is_good(name: &str) -> bool {
    !name.trim().is_empty() && name.chars().count() <= MAX_NAME && !name.chars().any(char::is_control)
}
