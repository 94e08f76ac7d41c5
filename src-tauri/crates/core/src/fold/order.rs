//! The common order, and the look-ups over it.

use std::collections::BTreeMap;

use crate::body::Kind;
use crate::entry::{Merged, OrderKey, Record};
use crate::id::{DeviceId, Hash};

/// Every record once, in the common order.
pub(crate) struct Log<'a> {
    /// Records in order.
    pub records: Vec<&'a Record>,
    /// Kinds known here, beside the records.
    pub kinds: Vec<Option<Kind>>,
    by_hash: BTreeMap<Hash, usize>,
    numbers: BTreeMap<(DeviceId, u64), Vec<usize>>,
}

impl<'a> Log<'a> {
    pub(crate) fn new(merged: &'a Merged) -> Self {
        let mut unique: BTreeMap<OrderKey, &Record> = BTreeMap::new();
        for record in &merged.records {
            // Of two copies of one entry the one with a readable body is of more use.
            let kept = unique.entry(record.order()).or_insert(record);
            if content_rank(record) < content_rank(kept) {
                *kept = record;
            }
        }
        let records: Vec<&Record> = unique.into_values().collect();
        let kinds = records.iter().map(|it| known_kind(it)).collect();
        let by_hash = records.iter().enumerate().map(|(at, it)| (it.hash, at)).collect();
        let mut numbers: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (at, record) in records.iter().enumerate() {
            numbers.entry((record.entry.device, record.entry.seq)).or_default().push(at);
        }
        Self { records, kinds, by_hash, numbers }
    }

    pub(crate) fn at(&self, hash: &Hash) -> Option<usize> {
        self.by_hash.get(hash).copied()
    }

    /// Positions that share a device and number, where there is more than one.
    pub(crate) fn forks(&self) -> impl Iterator<Item = (&(DeviceId, u64), &Vec<usize>)> {
        self.numbers.iter().filter(|(_, at)| at.len() > 1)
    }

    pub(crate) fn by_number(&self, device: DeviceId, seq: u64) -> &[usize] {
        self.numbers.get(&(device, seq)).map_or(&[], Vec::as_slice)
    }
}

/// A kind written in a newer format may mean something else: it is not read as the kind known here.
pub(crate) fn known_kind(record: &Record) -> Option<Kind> {
    (record.entry.version <= crate::entry::FORMAT).then(|| Kind::parse(&record.entry.kind)).flatten()
}

fn content_rank(record: &Record) -> u8 {
    match record.body {
        crate::entry::Content::Open(_) => 0,
        crate::entry::Content::Locked => 1,
        crate::entry::Content::Withheld => 2,
    }
}
