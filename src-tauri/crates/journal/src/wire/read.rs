//! Reading the signed object of a line. Keys that are not known are passed over.

use std::borrow::Cow;
use std::fmt;

use data_encoding::HEXLOWER;
use serde::Deserialize;
use serde::de::{MapAccess, Visitor};
use trowelogue_core::entry::{Clock, Entry};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{self, Moment, Span};

use super::{Header, MAX_SEGMENT, MAX_SEQ, Seal, Signed};
use crate::clock::MAX_CLOCK_MS;
use crate::keys::PublicKey;

/// A signed object that cannot be read, and the key that is at fault.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct BadWire(pub String);

#[derive(Deserialize)]
struct Wire<'a> {
    v: u32,
    #[serde(borrow, default)]
    header: Option<HeaderWire<'a>>,
    #[serde(borrow, default)]
    seal: Option<SealWire<'a>>,
    device: Option<&'a str>,
    seq: Option<u64>,
    clock: Option<(i64, u32)>,
    done: Option<&'a str>,
    until: Option<&'a str>,
    wrote: Option<&'a str>,
    person: Option<&'a str>,
    #[serde(borrow, default)]
    kind: Option<Cow<'a, str>>,
    object: Option<&'a str>,
    #[serde(borrow, default)]
    pieces: Vec<&'a str>,
    peer: Option<&'a str>,
    #[serde(borrow, default)]
    refs: Vec<&'a str>,
    bh: Option<&'a str>,
    prev: Option<&'a str>,
    #[serde(borrow, default)]
    saw: Saw<'a>,
}

#[derive(Deserialize)]
struct HeaderWire<'a> {
    device: &'a str,
    segment: u32,
    key: &'a str,
    first: u64,
    replaces: Option<&'a str>,
}

#[derive(Deserialize)]
struct SealWire<'a> {
    device: &'a str,
    segment: u32,
    count: u64,
    last: u64,
}

/// Reads the exact bytes of a signed object.
pub fn parse(text: &str) -> Result<Signed, BadWire> {
    let wire: Wire<'_> = serde_json::from_str(text).map_err(|e| BadWire(e.to_string()))?;
    if wire.v == 0 {
        return Err(BadWire("v is not a version".into()));
    }
    match (&wire.header, &wire.seal) {
        (Some(header), None) => header.take(&wire).map(|header| Signed::Header(Box::new(header))),
        (None, Some(seal)) => seal.take(&wire).map(Signed::Seal),
        (None, None) => wire.entry().map(|entry| Signed::Entry(Box::new(entry))),
        (Some(_), Some(_)) => Err(BadWire("header and seal in one line".into())),
    }
}

impl Wire<'_> {
    fn entry(self) -> Result<Entry, BadWire> {
        let (ms, count) = must(self.clock, "clock")?;
        if !(0..=MAX_CLOCK_MS).contains(&ms) {
            return Err(bad("clock"));
        }
        let start = time(must(self.done, "done")?, "done")?;
        let end = self.until.map(|text| time(text, "until")).transpose()?;
        let kind = must(self.kind, "kind")?;
        if kind.is_empty() {
            return Err(bad("kind"));
        }
        Ok(Entry {
            version: self.v,
            device: device(must(self.device, "device")?, "device")?,
            seq: seq(must(self.seq, "seq")?, "seq")?,
            clock: Clock { ms, count },
            done: Span { start, end },
            wrote: time(must(self.wrote, "wrote")?, "wrote")?,
            person: object(must(self.person, "person")?, "person")?,
            kind: kind.into_owned(),
            object: self.object.map(|text| object(text, "object")).transpose()?,
            pieces: self.pieces.iter().map(|text| object(text, "pieces")).collect::<Result<_, _>>()?,
            peer: self.peer.map(|text| device(text, "peer")).transpose()?,
            refs: self.refs.iter().map(|text| hash(text, "refs")).collect::<Result<_, _>>()?,
            body_hash: hash(must(self.bh, "bh")?, "bh")?,
            prev: hash(must(self.prev, "prev")?, "prev")?,
            saw: self.saw.take()?,
        })
    }

    fn wrote(&self) -> Result<Moment, BadWire> {
        time(must(self.wrote, "wrote")?, "wrote")
    }

    fn prev(&self) -> Result<Hash, BadWire> {
        hash(must(self.prev, "prev")?, "prev")
    }
}

impl HeaderWire<'_> {
    fn take(&self, wire: &Wire<'_>) -> Result<Header, BadWire> {
        Ok(Header {
            version: wire.v,
            device: device(self.device, "header.device")?,
            segment: segment(self.segment, "header.segment")?,
            key: PublicKey::parse(self.key).ok_or_else(|| bad("header.key"))?,
            first: seq(self.first, "header.first")?,
            replaces: self.replaces.map(|text| device(text, "header.replaces")).transpose()?,
            wrote: wire.wrote()?,
            prev: wire.prev()?,
        })
    }
}

impl SealWire<'_> {
    fn take(&self, wire: &Wire<'_>) -> Result<Seal, BadWire> {
        Ok(Seal {
            version: wire.v,
            device: device(self.device, "seal.device")?,
            segment: segment(self.segment, "seal.segment")?,
            count: if self.count <= MAX_SEQ { self.count } else { return Err(bad("seal.count")) },
            last: if self.last <= MAX_SEQ { self.last } else { return Err(bad("seal.last")) },
            wrote: wire.wrote()?,
            prev: wire.prev()?,
        })
    }
}

fn bad(key: &str) -> BadWire {
    BadWire(format!("{key} is not in its written form"))
}

fn must<T>(value: Option<T>, key: &str) -> Result<T, BadWire> {
    value.ok_or_else(|| BadWire(format!("{key} is missing")))
}

fn time(text: &str, key: &str) -> Result<Moment, BadWire> {
    moment::parse(text).map_err(|_| bad(key))
}

fn device(text: &str, key: &str) -> Result<DeviceId, BadWire> {
    text.parse().map_err(|_| bad(key))
}

fn object(text: &str, key: &str) -> Result<ObjectId, BadWire> {
    text.parse().map_err(|_| bad(key))
}

/// Like the hash's own reading, without the vector in between: this runs several times a line.
fn hash(text: &str, key: &str) -> Result<Hash, BadWire> {
    let mut bytes = [0; 32];
    // The decoder wants the room to fit, so the length is asked first.
    let fits = text.len() == 2 * bytes.len();
    let read = fits && HEXLOWER.decode_mut(text.as_bytes(), &mut bytes) == Ok(bytes.len());
    if read { Ok(Hash(bytes)) } else { Err(bad(key)) }
}

fn seq(number: u64, key: &str) -> Result<u64, BadWire> {
    if (1..=MAX_SEQ).contains(&number) { Ok(number) } else { Err(bad(key)) }
}

fn segment(number: u32, key: &str) -> Result<u32, BadWire> {
    if (1..=MAX_SEGMENT).contains(&number) { Ok(number) } else { Err(bad(key)) }
}

/// Heads of other devices, as they stand in the line.
#[derive(Default)]
struct Saw<'a>(Vec<(&'a str, u64, &'a str)>);

impl Saw<'_> {
    fn take(&self) -> Result<Vec<(DeviceId, u64, Hash)>, BadWire> {
        let head = |&(id, number, text): &(&str, u64, &str)| {
            Ok((device(id, "saw")?, seq(number, "saw")?, hash(text, "saw")?))
        };
        self.0.iter().map(head).collect()
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Saw<'a> {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(SawVisitor)
    }
}

struct SawVisitor;

impl<'de> Visitor<'de> for SawVisitor {
    type Value = Saw<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object of device heads")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Saw<'de>, A::Error> {
        let mut heads = Vec::new();
        while let Some((device, (seq, hash))) = map.next_entry::<&str, (u64, &str)>()? {
            heads.push((device, seq, hash));
        }
        Ok(Saw(heads))
    }
}
