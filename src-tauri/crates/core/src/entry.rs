//! One entry of a log, as the fold sees it: what was signed, in typed form.
//!
//! How an entry is written, hashed and signed is the business of the `journal` crate; nothing here is ever
//! serialised again to check a signature.

use crate::id::{DeviceId, Hash, ObjectId};
use crate::moment::{Moment, Span};

/// The version of the entry format this code writes.
pub const FORMAT: u32 = 1;

/// A hybrid logical clock reading: wall time that never runs backwards, and a counter within a millisecond.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Clock {
    /// Milliseconds since 1970-01-01 UTC.
    pub ms: i64,
    /// Counts entries that share one millisecond.
    pub count: u32,
}

/// The place of an entry in the one order every device agrees on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OrderKey {
    /// The clock reading.
    pub clock: Clock,
    /// The writing device.
    pub device: DeviceId,
    /// The device's sequence number.
    pub seq: u64,
    /// Tells two branches of a forked log apart.
    pub hash: Hash,
}

/// What stands in the signed part of a line. Ids only: names, addresses and notes stand in bodies.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Format version of the entry.
    pub version: u32,
    /// The device that wrote it.
    pub device: DeviceId,
    /// From 1, without gaps, per device.
    pub seq: u64,
    /// Hybrid logical clock.
    pub clock: Clock,
    /// When the work was done.
    pub done: Span,
    /// When it was written down, by the device's wall clock.
    pub wrote: Moment,
    /// Who did the work.
    pub person: ObjectId,
    /// The kind, as written; kinds this version does not know are carried along.
    pub kind: String,
    /// The object the entry creates or is about (a job, mix, product, pour …), if any.
    pub object: Option<ObjectId>,
    /// The pieces it is about.
    pub pieces: Vec<ObjectId>,
    /// The device an authority entry is about.
    pub peer: Option<DeviceId>,
    /// Entries it refers to: corrected, struck, answered, accepted heads.
    pub refs: Vec<Hash>,
    /// SHA-256 of the exact bytes of the body.
    pub body_hash: Hash,
    /// Hash of the line before it in the same log.
    pub prev: Hash,
    /// Heads of other devices that changed since this device's last entry.
    pub saw: Vec<(DeviceId, u64, Hash)>,
}

/// An entry whose signature was found good, with its body where it is readable here.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The line's hash: SHA-256 over entry bytes and signature.
    pub hash: Hash,
    /// The signed part.
    pub entry: Entry,
    /// The entry before it in the same log, header and seal lines skipped; `None` for the first, or where the
    /// line before it is missing.
    pub after: Option<Hash>,
    /// The body, or why it cannot be read.
    pub body: Content,
}

/// A body as it came from the log.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// Readable JSON.
    Open(serde_json::Value),
    /// Withheld: erased, or left out of a paper. The chain still holds.
    Withheld,
    /// Encrypted, and this home has no passphrase for it.
    Locked,
}

impl Record {
    /// The entry's place in the common order.
    pub fn order(&self) -> OrderKey {
        let Entry { clock, device, seq, .. } = self.entry;
        OrderKey { clock, device, seq, hash: self.hash }
    }
}

/// Everything a merged folder holds, in no particular order: the input of the fold.
#[derive(Debug, Clone, PartialEq)]
pub struct Merged {
    /// The shop's id, from the pinned `shop.json`.
    pub shop: crate::id::ShopId,
    /// The shop's name, from `shop.json`.
    pub name: String,
    /// The device that founded the shop: accepted, and owner, from the start.
    pub founder: DeviceId,
    /// The public half of the recovery key, from `shop.json`; none where there is no shop file (a crowd made up).
    pub recovery: Option<[u8; 32]>,
    /// Devices whose header was read, with the device each replaces.
    pub devices: Vec<(DeviceId, Option<DeviceId>)>,
    /// Every good entry, each once.
    pub records: Vec<Record>,
}
