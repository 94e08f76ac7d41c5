//! What was read, folded.

use std::sync::Arc;

use trowelogue_core::body::Kind;
use trowelogue_core::entry::{Clock, Content, Entry, FORMAT, Merged, Record};
use trowelogue_core::fold::fold;
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{Moment, Span};
use trowelogue_core::shop::Shop;
use trowelogue_journal::{Break, Note, Reading};

/// Everything that was read, and the shop it folds into.
pub(crate) struct View {
    pub merged: Merged,
    /// Shared, so that work on the side (reading an entry against it) needs no copy.
    pub shop: Arc<Shop>,
    /// What is wrong with files.
    pub breaks: Vec<Break>,
    /// What there is to know.
    pub notes: Vec<Note>,
    /// The folder could be read; if not, all comes from the private journal.
    pub folder_here: bool,
    /// What changed since [`View::drain`] was called last.
    fresh: Fresh,
}

/// What changed in a view.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Fresh {
    /// Entries that arrived or were written.
    pub entries: Vec<Hash>,
    /// Anything else may have changed too: it was read again as a whole.
    pub whole: bool,
}

impl View {
    pub(crate) fn new(reading: Reading) -> Self {
        let Reading { merged, breaks, notes, folder_here } = reading;
        let shop = Arc::new(fold(&merged));
        Self { merged, shop, breaks, notes, folder_here, fresh: Fresh::default() }
    }

    /// Takes in entries that arrived or were written, and devices that came, and folds again: the fold is one pass
    /// in memory, and what costs time, the rules, is worked out again for the pieces concerned alone.
    pub(crate) fn take(&mut self, records: Vec<Record>, devices: Vec<(DeviceId, Option<DeviceId>)>) {
        if records.is_empty() && devices.is_empty() {
            return;
        }
        self.merged.devices.extend(devices);
        self.fresh.entries.extend(records.iter().map(|record| record.hash));
        self.merged.records.extend(records);
        self.shop = Arc::new(fold(&self.merged));
    }

    /// Takes in a whole reading in place of what was there.
    pub(crate) fn replace(&mut self, reading: Reading) {
        let fresh = Fresh { whole: true, ..std::mem::take(&mut self.fresh) };
        *self = Self { fresh, ..Self::new(reading) };
    }

    /// What changed since this was asked last.
    pub(crate) fn drain(&mut self) -> Fresh {
        std::mem::take(&mut self.fresh)
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
pub(crate) fn acceptance(merged: &Merged, device: DeviceId) -> Record {
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
