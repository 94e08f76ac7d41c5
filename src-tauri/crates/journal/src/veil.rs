//! The shop's passphrase: how bodies and photos are encrypted in the folder.
//!
//! Argon2id makes a key from the passphrase; from it come one key for bodies, one for photos, and the names
//! photos have in the folder. A body is encrypted with XChaCha20-Poly1305 over its exact bytes, with the
//! entry's bytes as associated data, so it fits its own entry only and its hash in the entry still proves it.
//! The nonce is made from key and entry: an entry names one body, so no nonce ever serves two, and publishing
//! again gives the same bytes.

use std::collections::BTreeMap;

use argon2::{Algorithm, Argon2, Params, Version};
use chacha20poly1305::aead::{Aead, KeyInit, Payload};
use chacha20poly1305::{XChaCha20Poly1305, XNonce};
use data_encoding::BASE64URL_NOPAD;
use serde::{Deserialize, Serialize};
use trowelogue_core::id::Hash;

use crate::keys;

const BODY_CONTEXT: &[u8] = b"trowelogue-body-1\n";
const PHOTO_CONTEXT: &[u8] = b"trowelogue-photo-1\n";
const NAME_CONTEXT: &[u8] = b"trowelogue-photo-name-1\n";
const NONCE_CONTEXT: &[u8] = b"trowelogue-nonce-1\n";
const EARLIER_CONTEXT: &[u8] = b"trowelogue-earlier-1\n";
const NONCE: usize = 24;
const TAG: usize = 16;

/// What making a key costs: 64 MiB and 3 passes (RFC 9106, section 4, second recommended option, with one lane).
const MEMORY_KIB: u32 = 65_536;
const PASSES: u32 = 3;
const LANES: u32 = 1;
/// What a lockbox may ask for at most, so that a hostile one exhausts nobody.
const MOST_MEMORY_KIB: u32 = 262_144;
const MOST_PASSES: u32 = 16;
const MOST_LANES: u32 = 4;
/// The fewest characters a passphrase has.
pub const SHORTEST_PASSPHRASE: usize = 8;

/// The key a passphrase stands for.
#[derive(Clone, PartialEq, Eq)]
pub struct FolderKey([u8; 32]);

/// What an entry says of a passphrase: how to make its key, and the keys before it, encrypted with it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lockbox {
    /// 16 random bytes in base64url.
    pub key_salt: String,
    /// Argon2id: memory, in KiB.
    pub memory_kib: u32,
    /// Argon2id: passes.
    pub passes: u32,
    /// Argon2id: lanes.
    pub lanes: u32,
    /// The keys of earlier passphrases, encrypted. Only the right passphrase opens it, so it is the check too.
    pub earlier: String,
}

/// Why a lockbox stays shut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum Shut {
    /// Another passphrase.
    #[error("the passphrase is not the one that was set")]
    Wrong,
    /// Not in its written form, or it asks for more than is reasonable.
    #[error("the entry that sets the passphrase cannot be read")]
    Form,
}

/// The keys a home holds, by the entry that set each passphrase, and the one in force.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Keyring {
    keys: BTreeMap<Hash, FolderKey>,
    in_force: Option<Hash>,
}

impl std::fmt::Debug for FolderKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("FolderKey(secret)")
    }
}

impl FolderKey {
    fn sub(&self, context: &[u8]) -> [u8; 32] {
        Hash::of(&[context, &self.0]).0
    }

    /// Encrypts a body for the line with this entry: `{"x":"…"}`.
    pub fn seal_body(&self, entry: &str, body: &str) -> Option<String> {
        let sealed = seal(&self.sub(BODY_CONTEXT), entry.as_bytes(), body.as_bytes())?;
        Some(format!("{{\"x\":\"{}\"}}", BASE64URL_NOPAD.encode(&sealed)))
    }

    /// Opens the body of the line with this entry; `None` if another key closed it, or it was changed.
    pub fn open_body(&self, entry: &str, sealed: &str) -> Option<String> {
        let inner = sealed.strip_prefix("{\"x\":\"")?.strip_suffix("\"}")?;
        let bytes = BASE64URL_NOPAD.decode(inner.as_bytes()).ok()?;
        String::from_utf8(open(&self.sub(BODY_CONTEXT), entry.as_bytes(), &bytes)?).ok()
    }

    /// Encrypts a photo; its hash is the associated data.
    pub fn seal_photo(&self, photo: &Hash, bytes: &[u8]) -> Option<Vec<u8>> {
        seal(&self.sub(PHOTO_CONTEXT), &photo.0, bytes)
    }

    /// Opens a photo.
    pub fn open_photo(&self, photo: &Hash, sealed: &[u8]) -> Option<Vec<u8>> {
        open(&self.sub(PHOTO_CONTEXT), &photo.0, sealed)
    }

    /// What stands for the photo's hash in its file's name: without the key nobody can tell whether a known
    /// picture is in the folder.
    pub fn photo_name(&self, photo: &Hash) -> Hash {
        Hash::of(&[&self.sub(NAME_CONTEXT), &photo.0])
    }
}

fn cipher(key: &[u8; 32]) -> XChaCha20Poly1305 {
    XChaCha20Poly1305::new(&(*key).into())
}

fn seal(key: &[u8; 32], about: &[u8], plain: &[u8]) -> Option<Vec<u8>> {
    let mut nonce = [0; NONCE];
    nonce.copy_from_slice(&Hash::of(&[NONCE_CONTEXT, key, about]).0[..NONCE]);
    let sealed = cipher(key).encrypt(&XNonce::from(nonce), Payload { msg: plain, aad: about }).ok()?;
    Some([&nonce[..], &sealed].concat())
}

fn open(key: &[u8; 32], about: &[u8], sealed: &[u8]) -> Option<Vec<u8>> {
    let (nonce, sealed) = sealed.split_at_checked(NONCE)?;
    let nonce: [u8; NONCE] = nonce.try_into().ok()?;
    cipher(key).decrypt(&XNonce::from(nonce), Payload { msg: sealed, aad: about }).ok()
}

/// How many bytes a body of `plain` bytes takes once it is encrypted.
pub fn sealed_len(plain: usize) -> usize {
    "{\"x\":\"\"}".len() + BASE64URL_NOPAD.encode_len(NONCE + plain + TAG)
}

impl Lockbox {
    /// A lockbox for a new passphrase, and its key. `earlier` are the keys it is to hand on.
    pub fn new(passphrase: &str, salt: [u8; 16], earlier: &Keyring) -> Result<(Self, FolderKey), Shut> {
        let mut lockbox = Self {
            key_salt: keys::encode(&salt),
            memory_kib: MEMORY_KIB,
            passes: PASSES,
            lanes: LANES,
            earlier: String::new(),
        };
        let key = lockbox.key(passphrase)?;
        let sealed = seal(&key.sub(EARLIER_CONTEXT), &salt, earlier.write().as_bytes()).ok_or(Shut::Form)?;
        lockbox.earlier = BASE64URL_NOPAD.encode(&sealed);
        Ok((lockbox, key))
    }

    /// Opens the lockbox: its key, and the keys before it.
    pub fn open(&self, passphrase: &str) -> Result<(FolderKey, Keyring), Shut> {
        let key = self.key(passphrase)?;
        let salt: [u8; 16] = keys::decode(&self.key_salt).ok_or(Shut::Form)?;
        let sealed = BASE64URL_NOPAD.decode(self.earlier.as_bytes()).map_err(|_| Shut::Form)?;
        let plain = open(&key.sub(EARLIER_CONTEXT), &salt, &sealed).ok_or(Shut::Wrong)?;
        let earlier = Keyring::read(&plain).ok_or(Shut::Form)?;
        Ok((key, earlier))
    }

    fn key(&self, passphrase: &str) -> Result<FolderKey, Shut> {
        let salt: [u8; 16] = keys::decode(&self.key_salt).ok_or(Shut::Form)?;
        let reasonable =
            self.memory_kib <= MOST_MEMORY_KIB && self.passes <= MOST_PASSES && self.lanes <= MOST_LANES;
        if !reasonable {
            return Err(Shut::Form);
        }
        let params =
            Params::new(self.memory_kib, self.passes, self.lanes, Some(32)).map_err(|_| Shut::Form)?;
        let mut key = [0; 32];
        Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
            .hash_password_into(passphrase.trim().as_bytes(), &salt, &mut key)
            .map_err(|_| Shut::Form)?;
        Ok(FolderKey(key))
    }
}

#[derive(Serialize, Deserialize)]
struct Written {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    in_force: Option<Hash>,
    keys: BTreeMap<String, String>,
}

impl Keyring {
    /// Whether no key is held.
    pub fn is_empty(&self) -> bool {
        self.keys.is_empty()
    }

    /// Takes the key of the passphrase that the entry with this hash set.
    pub fn take(&mut self, entry: Hash, key: FolderKey) {
        self.keys.insert(entry, key);
    }

    /// Takes all keys of another ring.
    pub fn take_all(&mut self, other: Self) {
        self.keys.extend(other.keys);
    }

    /// Says which passphrase is in force; true if that is news.
    pub fn set_in_force(&mut self, entry: Option<Hash>) -> bool {
        std::mem::replace(&mut self.in_force, entry) != entry
    }

    /// Whether the shop has a passphrase whose key is not here.
    pub fn lacks_key(&self) -> bool {
        self.in_force.is_some_and(|entry| !self.keys.contains_key(&entry))
    }

    /// The key bodies are published with.
    pub fn current(&self) -> Option<&FolderKey> {
        self.keys.get(&self.in_force?)
    }

    /// Every key held.
    pub fn keys(&self) -> impl Iterator<Item = &FolderKey> {
        self.keys.values()
    }

    /// Opens a body with whichever key fits.
    pub fn open_body(&self, entry: &str, sealed: &str) -> Option<String> {
        self.keys.values().find_map(|key| key.open_body(entry, sealed))
    }

    /// The ring as its file holds it.
    pub fn write(&self) -> String {
        let keys = self.keys.iter().map(|(entry, key)| (entry.to_string(), keys::encode(&key.0)));
        serde_json::to_string(&Written { in_force: self.in_force, keys: keys.collect() }).unwrap_or_default()
    }

    /// Reads a ring; `None` where it is not one.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let written: Written = serde_json::from_slice(bytes).ok()?;
        let key =
            |(entry, key): (String, String)| Some((entry.parse().ok()?, FolderKey(keys::decode(&key)?)));
        let keys = written.keys.into_iter().map(key).collect::<Option<_>>()?;
        Some(Self { keys, in_force: written.in_force })
    }
}

#[cfg(test)]
mod tests;
