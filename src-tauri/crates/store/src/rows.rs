//! What the projection is fed with, and what it gives back.

use std::collections::BTreeSet;

use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::shop::Shop;

/// How far a device's log has been taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Watermark {
    /// The device.
    pub device: DeviceId,
    /// Its highest number.
    pub seq: u64,
    /// The entry with that number.
    pub hash: Hash,
    /// How many of its entries there are.
    pub count: u64,
}

/// How a piece stands, for the day's list.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceRow {
    /// The piece.
    pub piece: ObjectId,
    /// Where it stands: the word of the day's state.
    pub state: String,
    /// The kind of the next step.
    pub next_kind: Option<String>,
    /// Milliseconds since 1970 at which `state` has to be worked out again; none: it lasts.
    pub until_ms: Option<i64>,
    /// Stops that stand.
    pub stops: u32,
    /// Cautions that stand.
    pub cautions: u32,
    /// Its place within its state: the least first, none last, those alike by code.
    pub order_ms: Option<i64>,
    /// The row as the list shows it, in the language and units of `Snapshot::shown_in`.
    pub shown: String,
}

/// A finding, as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingRow {
    /// The piece; none where it is about a person, a day or the record.
    pub piece: Option<ObjectId>,
    /// Code of the rule.
    pub rule: String,
    /// Its weight.
    pub severity: String,
    /// Stands, accepted or waiting.
    pub state: String,
    /// Violated, or cannot tell.
    pub verdict: String,
    /// The entries that caused it.
    pub entries: Vec<Hash>,
}

/// A folded shop with what was worked out from it.
pub struct Snapshot<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// How each piece stands; at least those of the scope.
    pub pieces: &'a [PieceRow],
    /// Findings of these pieces, and all that belong to no piece.
    pub findings: &'a [FindingRow],
    /// Language and units `PieceRow::shown` is in, as one word.
    pub shown_in: &'a str,
}

/// What changed since the projection was written.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Scope {
    /// Entries that are new, or worth something else now.
    pub entries: BTreeSet<Hash>,
    /// Pieces that stand differently.
    pub pieces: BTreeSet<ObjectId>,
    /// Findings of no piece that no longer stand as they did; `None`: all of them are written anew.
    pub gone: Option<Vec<FindingRow>>,
}
