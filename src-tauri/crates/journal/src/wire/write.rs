//! Writing the signed object of a line: keys in their fixed order, nothing that is empty.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};
use trowelogue_core::entry::Entry;
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{self, Moment};

use super::{Header, Seal};

#[derive(Serialize)]
struct EntryOut<'a> {
    v: u32,
    device: DeviceId,
    seq: u64,
    clock: (i64, u32),
    done: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    until: Option<String>,
    wrote: String,
    person: ObjectId,
    kind: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    object: Option<ObjectId>,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    pieces: &'a [ObjectId],
    #[serde(skip_serializing_if = "Option::is_none")]
    peer: Option<DeviceId>,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    refs: &'a [Hash],
    bh: Hash,
    prev: Hash,
    #[serde(skip_serializing_if = "SawOut::is_empty")]
    saw: SawOut<'a>,
}

#[derive(Serialize)]
struct HeaderLine<'a> {
    v: u32,
    header: HeaderOut<'a>,
    wrote: String,
    prev: Hash,
}

#[derive(Serialize)]
struct HeaderOut<'a> {
    device: DeviceId,
    segment: u32,
    key: &'a str,
    first: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    replaces: Option<DeviceId>,
}

#[derive(Serialize)]
struct SealLine {
    v: u32,
    seal: SealOut,
    wrote: String,
    prev: Hash,
}

#[derive(Serialize)]
struct SealOut {
    device: DeviceId,
    segment: u32,
    count: u64,
    last: u64,
}

/// The exact bytes of an entry, to be signed and written.
pub fn write_entry(entry: &Entry) -> String {
    json(&EntryOut {
        v: entry.version,
        device: entry.device,
        seq: entry.seq,
        clock: (entry.clock.ms, entry.clock.count),
        done: moment::write(&entry.done.start),
        until: entry.done.end.as_ref().map(moment::write),
        wrote: moment::write(&entry.wrote),
        person: entry.person,
        kind: &entry.kind,
        object: entry.object,
        pieces: &entry.pieces,
        peer: entry.peer,
        refs: &entry.refs,
        bh: entry.body_hash,
        prev: entry.prev,
        saw: SawOut(&entry.saw),
    })
}

/// The exact bytes of a header.
pub fn write_header(header: &Header) -> String {
    let Header { version, device, segment, key, first, replaces, wrote, prev } = header;
    let key = key.to_string();
    let inner =
        HeaderOut { device: *device, segment: *segment, key: &key, first: *first, replaces: *replaces };
    json(&HeaderLine { v: *version, header: inner, wrote: written(wrote), prev: *prev })
}

/// The exact bytes of a seal.
pub fn write_seal(seal: &Seal) -> String {
    let Seal { version, device, segment, count, last, wrote, prev } = seal;
    let inner = SealOut { device: *device, segment: *segment, count: *count, last: *last };
    json(&SealLine { v: *version, seal: inner, wrote: written(wrote), prev: *prev })
}

fn written(moment: &Moment) -> String {
    moment::write(moment)
}

/// Invariant: the types above hold strings, numbers and lists only, which always serialise.
fn json(value: &impl Serialize) -> String {
    serde_json::to_string(value).unwrap_or_default()
}

struct SawOut<'a>(&'a [(DeviceId, u64, Hash)]);

impl SawOut<'_> {
    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Serialize for SawOut<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (device, seq, hash) in self.0 {
            map.serialize_entry(device, &(seq, hash))?;
        }
        map.end()
    }
}
