//! What stands in a line, typed: entries, headers, seals, bodies.

mod body;
mod read;
mod write;

use trowelogue_core::entry::Entry;
use trowelogue_core::id::{DeviceId, Hash};
use trowelogue_core::moment::Moment;

use crate::keys::PublicKey;

pub use body::{body_matches, parse_body, write_body};
pub use read::{BadWire, parse};
pub use write::{write_entry, write_header, write_seal};

/// The greatest sequence number: what every reader of JSON can hold exactly, 2^53 - 1.
pub const MAX_SEQ: u64 = (1 << 53) - 1;
/// The greatest number of a segment.
pub const MAX_SEGMENT: u32 = 999_999;

/// The signed object of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Signed {
    /// The first line of a segment.
    Header(Box<Header>),
    /// An entry.
    Entry(Box<Entry>),
    /// The last line of a segment.
    Seal(Seal),
}

/// The first line of a segment: whose log, which part of it, checked with which key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Header {
    /// Format version.
    pub version: u32,
    /// The device whose log this is.
    pub device: DeviceId,
    /// Number of the segment, from 1.
    pub segment: u32,
    /// The device's key.
    pub key: PublicKey,
    /// Sequence number of the first entry in the segment.
    pub first: u64,
    /// The device this one goes on for.
    pub replaces: Option<DeviceId>,
    /// When it was written.
    pub wrote: Moment,
    /// The last line of the segment before; in the first segment the hash of `shop.json`.
    pub prev: Hash,
}

/// The last line of a full segment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seal {
    /// Format version.
    pub version: u32,
    /// The device whose log this is.
    pub device: DeviceId,
    /// Number of the segment.
    pub segment: u32,
    /// Entries in the segment.
    pub count: u64,
    /// Sequence number of the last entry in the log so far.
    pub last: u64,
    /// When it was written.
    pub wrote: Moment,
    /// The line before.
    pub prev: Hash,
}

impl Signed {
    /// The device whose log the line belongs to.
    pub fn device(&self) -> DeviceId {
        match self {
            Self::Header(header) => header.device,
            Self::Entry(entry) => entry.device,
            Self::Seal(seal) => seal.device,
        }
    }

    /// The hash of the line before.
    pub fn prev(&self) -> Hash {
        match self {
            Self::Header(header) => header.prev,
            Self::Entry(entry) => entry.prev,
            Self::Seal(seal) => seal.prev,
        }
    }

    /// The format version it was written with.
    pub fn version(&self) -> u32 {
        match self {
            Self::Header(header) => header.version,
            Self::Entry(entry) => entry.version,
            Self::Seal(seal) => seal.version,
        }
    }
}
