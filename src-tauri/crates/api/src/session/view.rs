//! What was read, folded.

use trowelogue_core::body::Kind;
use trowelogue_core::entry::{Clock, Content, Entry, FORMAT, Merged, Record};
use trowelogue_core::fold::fold;
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{Moment, Span};
use trowelogue_core::shop::Shop;
use trowelogue_journal::Reading;

/// Everything that was read, and the shop it folds into.
pub(crate) struct View {
    pub merged: Merged,
    pub shop: Shop,
}

impl View {
    pub(crate) fn new(reading: Reading) -> Self {
        let Reading { merged, .. } = reading;
        let shop = fold(&merged);
        Self { merged, shop }
    }

    /// Takes in entries that arrived or were written, and folds again: the fold is one pass in memory, and what
    /// costs time, the rules, is worked out again for the pieces concerned alone.
    pub(crate) fn take(&mut self, records: Vec<Record>) {
        self.merged.records.extend(records);
        self.shop = fold(&self.merged);
    }
}

/// The shop as a device sees its own work before it is accepted: as if it were. Names and codes it has given are
/// found in it; nothing else is read from it.
pub(crate) fn own_view(merged: &Merged, device: DeviceId) -> Shop {
    let mut as_if = merged.clone();
    as_if.records.push(acceptance(merged, device));
    fold(&as_if)
}

/// An acceptance by the founder, before everything else. It is never written.
fn acceptance(merged: &Merged, device: DeviceId) -> Record {
    let moment: Moment = chrono::DateTime::UNIX_EPOCH.fixed_offset();
    let entry = Entry {
        version: FORMAT,
        device: merged.founder,
        seq: 0,
        clock: Clock { ms: i64::MIN, count: 0 },
        done: Span::at(moment),
        wrote: moment,
        person: ObjectId(uuid::Uuid::nil()),
        kind: Kind::Accept.wire().into(),
        object: None,
        pieces: Vec::new(),
        peer: Some(device),
        refs: Vec::new(),
        body_hash: Hash([0; 32]),
        prev: Hash([0; 32]),
        saw: Vec::new(),
    };
    let body = Content::Open(serde_json::json!({}));
    Record { hash: Hash([0; 32]), entry, after: None, body }
}
