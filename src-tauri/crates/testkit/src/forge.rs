//! Lines made by hand: what somebody with a key of their own, or a hex editor, could put into a folder.

use serde_json::json;
use trowelogue_core::entry::{Clock, Entry, FORMAT};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::Span;
use trowelogue_journal::ShopFile;
use trowelogue_journal::keys::{LINE_CONTEXT, PublicKey, SecretKey};
use trowelogue_journal::line::{NO_BODY, Raw};
use trowelogue_journal::wire::{self, Header};

use crate::yard::at;

/// A writer with a key of its own, bound by no rule of the journal.
pub struct Forger {
    key: SecretKey,
    /// The device its lines claim to be of.
    pub device: DeviceId,
    /// The key its headers show.
    pub shown: PublicKey,
    /// The line its next one follows.
    pub prev: Hash,
    /// The number of its next entry.
    pub seq: u64,
}

impl Forger {
    /// A forger whose key comes from `seed`, at the beginning of a log of this shop.
    pub fn new(seed: u8, shop: &ShopFile) -> Self {
        let key = SecretKey::from_seed(&[seed; 32]);
        let shown = key.public();
        Self { key, device: shown.device(), shown, prev: shop.hash(), seq: 1 }
    }

    /// The header of a segment.
    pub fn header(&mut self, segment: u32) -> String {
        let header = Header {
            version: FORMAT,
            device: self.device,
            segment,
            key: self.shown,
            first: self.seq,
            replaces: None,
            wrote: at(0),
            prev: self.prev,
        };
        self.sign(&wire::write_header(&header), NO_BODY)
    }

    /// The next entry, a note with these words.
    pub fn note(&mut self, words: &str) -> String {
        let body = json!({ "text": words }).as_object().cloned().unwrap_or_default();
        let body = wire::write_body(&body, &[9; 16]).unwrap_or_default();
        self.entry("note", None, &body)
    }

    /// The next entry, with the exact text of its body.
    pub fn entry(&mut self, kind: &str, peer: Option<DeviceId>, body: &str) -> String {
        let entry = Entry {
            version: FORMAT,
            device: self.device,
            seq: self.seq,
            clock: Clock { ms: at(0).timestamp_millis(), count: 0 },
            done: Span::at(at(0)),
            wrote: at(0),
            person: ObjectId(uuid::Uuid::from_u128(7)),
            kind: kind.into(),
            object: None,
            pieces: Vec::new(),
            peer,
            refs: Vec::new(),
            body_hash: Hash::of(&[body.as_bytes()]),
            prev: self.prev,
            saw: Vec::new(),
        };
        self.seq += 1;
        self.sign(&wire::write_entry(&entry), body)
    }

    /// Any text as the signed object of a line.
    pub fn sign(&mut self, entry: &str, body: &str) -> String {
        let signature = self.key.sign(LINE_CONTEXT, entry.as_bytes());
        let raw = Raw { entry, body, signature: &signature };
        self.prev = raw.hash();
        raw.compose()
    }
}
