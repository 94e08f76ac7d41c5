//! What was read, folded.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use trowelogue_core::body::Kind;
use trowelogue_core::entry::{Clock, Content, Entry, FORMAT, Merged, Record};
use trowelogue_core::fold::{fold, grow};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{Moment, Span};
use trowelogue_core::shop::Shop;
use trowelogue_journal::{Break, Note, Reading, photos_here};

use crate::reading::photos;

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
    /// The folder.
    folder: PathBuf,
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
    /// Folds what was read of a folder, and looks which photos are in it.
    pub(crate) fn new(reading: Reading, folder: PathBuf) -> Self {
        let Reading { merged, breaks, notes, folder_here } = reading;
        let mut shop = fold(&merged);
        shop.photos_here = photos_here(&folder, &photos(&shop.steps));
        Self { merged, shop: Arc::new(shop), breaks, notes, folder_here, folder, fresh: Fresh::default() }
    }

    /// Takes in entries that arrived or were written, and devices that came. What stands at the end of the order
    /// and reaches no further is added to the shop as it is; else everything is folded again.
    pub(crate) fn take(&mut self, records: Vec<Record>, devices: Vec<(DeviceId, Option<DeviceId>)>) {
        if records.is_empty() && devices.is_empty() {
            return;
        }
        let grown = devices.is_empty() && self.grow(&records);
        self.merged.devices.extend(devices);
        self.fresh.entries.extend(records.iter().map(|record| record.hash));
        self.merged.records.extend(records);
        if !grown {
            let mut shop = fold(&self.merged);
            shop.photos_here = self.photos_with(&shop);
            self.shop = Arc::new(shop);
        }
    }

    /// Adds entries to the shop; false where it has to be folded, or somebody still looks at it.
    fn grow(&mut self, records: &[Record]) -> bool {
        let Some(shop) = Arc::get_mut(&mut self.shop) else { return false };
        let before = shop.steps.len();
        if grow(shop, records).is_none() {
            return false;
        }
        let (old, new) = shop.steps.split_at(before);
        let mut fresh = photos(new);
        if !fresh.is_empty() {
            let named = photos(old);
            fresh.retain(|hash| !named.contains(hash));
        }
        if let Some(here) = &mut shop.photos_here {
            here.extend(fresh);
        }
        true
    }

    /// Does something with the shop as it would be with these entries, and takes them back. Where that needs a
    /// fold, a copy is made for it.
    pub(crate) fn as_if<T>(&mut self, records: Vec<Record>, look: impl FnOnce(&Shop) -> T) -> T {
        if let Some(shop) = Arc::get_mut(&mut self.shop)
            && let Some(growth) = grow(shop, &records)
        {
            let seen = look(shop);
            growth.take_back(shop);
            return seen;
        }
        let mut merged = self.merged.clone();
        merged.records.extend(records);
        look(&fold(&merged))
    }

    /// The photos that were here and those that are named for the first time: a photo is put into the folder
    /// before the entry that names it, and nobody waits for another look.
    fn photos_with(&self, shop: &Shop) -> Option<BTreeSet<Hash>> {
        let here = self.shop.photos_here.as_ref()?;
        let named = photos(&self.shop.steps);
        let fresh = photos(&shop.steps).into_iter().filter(|hash| !named.contains(hash));
        Some(here.iter().copied().chain(fresh).collect())
    }

    /// Takes in a whole reading in place of what was there.
    pub(crate) fn replace(&mut self, reading: Reading) {
        let fresh = Fresh { whole: true, ..std::mem::take(&mut self.fresh) };
        let folder = std::mem::take(&mut self.folder);
        *self = Self { fresh, ..Self::new(reading, folder) };
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
