//! Everything known of a shop's logs, merged: each line once, by device, number and hash.

use std::collections::{BTreeMap, HashMap, HashSet};

use trowelogue_core::entry::{Clock, Content, Entry, Record};
use trowelogue_core::id::{DeviceId, Hash};

use crate::clock;
use crate::fault::{Note, NoteKind};
use crate::keys::PublicKey;
use crate::segment::{Body, Known, Line};
use crate::wire::{Header, Signed};

/// What is kept of a line.
#[derive(Debug, Clone, Copy)]
struct Kept {
    device: DeviceId,
    /// Of an entry; 0 for headers and seals.
    seq: u64,
    clock: Clock,
    known: Known,
}

/// A device whose log was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Device {
    /// The device it goes on for.
    pub replaces: Option<DeviceId>,
    /// Number and hash of its newest entry; of two branches the one with the smaller hash.
    pub head: Option<(u64, Hash)>,
}

/// Every line known, and what follows from all of them together.
#[derive(Debug, Clone)]
pub struct Index {
    shop: Hash,
    lines: HashMap<Hash, Kept>,
    /// For headers and seals, the line before.
    links: HashMap<Hash, Hash>,
    devices: BTreeMap<DeviceId, Device>,
    keys: BTreeMap<DeviceId, PublicKey>,
    /// Lines that others name as the line before them, but that are not here.
    awaited: HashSet<Hash>,
    /// The newest number of each device that another device has seen.
    claims: BTreeMap<DeviceId, u64>,
    top: Option<Clock>,
    mine: Mine,
}

/// What this device itself has written so far.
#[derive(Debug, Clone, Default)]
struct Mine {
    device: Option<DeviceId>,
    /// The newest number of each other device that stands in a `saw` of this one.
    said: BTreeMap<DeviceId, u64>,
    top: Option<Clock>,
}

/// What one line brought.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Gain {
    /// The line was not known.
    pub new: bool,
    /// The first header of a device, with the device it replaces.
    pub device: Option<(DeviceId, Option<DeviceId>)>,
    /// An entry that was not known, or not with its body.
    pub record: Option<Record>,
    /// An entry known before is now seen differently: its body was found, or the line before it.
    pub reread: bool,
}

impl Index {
    /// An index without a line, for the shop whose `shop.json` has this hash. The founder's key is known from
    /// there.
    pub fn new(shop: Hash, founder: PublicKey) -> Self {
        Self {
            shop,
            lines: HashMap::new(),
            links: HashMap::new(),
            devices: BTreeMap::new(),
            keys: BTreeMap::from([(founder.device(), founder)]),
            awaited: HashSet::new(),
            claims: BTreeMap::new(),
            top: None,
            mine: Mine::default(),
        }
    }

    /// Tells the index which device writes here; before its first line is taken.
    pub fn set_own(&mut self, device: DeviceId) {
        self.mine.device = Some(device);
    }

    /// How much of a line is known.
    pub fn known(&self, hash: &Hash) -> Known {
        self.lines.get(hash).map_or(Known::No, |kept| kept.known)
    }

    /// Every key known.
    pub fn keys(&self) -> &BTreeMap<DeviceId, PublicKey> {
        &self.keys
    }

    /// Learns a key; one that proves itself by its device id.
    pub fn learn_key(&mut self, key: PublicKey) {
        self.keys.insert(key.device(), key);
    }

    /// Every device seen.
    pub fn devices(&self) -> &BTreeMap<DeviceId, Device> {
        &self.devices
    }

    /// Takes a line that counts.
    pub fn absorb(&mut self, line: Line) -> Gain {
        let Line { hash, signed, body, .. } = line;
        match signed {
            Signed::Header(header) => self.header(hash, &header),
            Signed::Seal(seal) => self.frame(hash, seal.device, seal.prev),
            Signed::Entry(entry) => match body {
                Body::Read(content) => self.entry(hash, *entry, content),
                Body::Known | Body::Bad | Body::None => Gain::default(),
            },
        }
    }

    fn header(&mut self, hash: Hash, header: &Header) -> Gain {
        let first = !self.devices.contains_key(&header.device);
        let mut gain = self.frame(hash, header.device, header.prev);
        self.learn_key(header.key);
        if gain.new {
            let device = self.device(header.device);
            let late = !first && device.replaces != header.replaces && header.replaces.is_some();
            device.replaces = header.replaces.or(device.replaces);
            gain.device = (first || late).then_some((header.device, header.replaces));
        }
        gain
    }

    fn frame(&mut self, hash: Hash, device: DeviceId, prev: Hash) -> Gain {
        if self.known(&hash) == Known::Whole {
            return Gain::default();
        }
        self.device(device);
        self.links.insert(hash, prev);
        let clock = Clock { ms: 0, count: 0 };
        let reread = self.keep(hash, prev, Kept { device, seq: 0, clock, known: Known::Whole });
        Gain { new: true, reread, ..Gain::default() }
    }

    fn entry(&mut self, hash: Hash, entry: Entry, content: Content) -> Gain {
        let known = Known::of(&content);
        let before = self.known(&hash);
        if before >= known {
            return Gain::default();
        }
        let Entry { device, seq, clock, prev, .. } = entry;
        let late = self.keep(hash, prev, Kept { device, seq, clock, known });
        self.top = self.top.max(Some(clock));
        let own = self.mine.device == Some(device);
        for (peer, seq, _) in &entry.saw {
            raise(&mut self.claims, *peer, *seq);
            if own {
                raise(&mut self.mine.said, *peer, *seq);
            }
        }
        if own {
            self.mine.top = self.mine.top.max(Some(clock));
        }
        self.advance(device, seq, hash);
        let after = self.entry_before(prev);
        let new = before == Known::No;
        Gain {
            new,
            device: None,
            reread: late || !new,
            record: Some(Record { hash, entry, after, body: content }),
        }
    }

    /// Keeps a line; true if another was waiting for it.
    fn keep(&mut self, hash: Hash, prev: Hash, kept: Kept) -> bool {
        self.lines.insert(hash, kept);
        if prev != self.shop && !self.lines.contains_key(&prev) {
            self.awaited.insert(prev);
        }
        self.awaited.remove(&hash)
    }

    fn device(&mut self, device: DeviceId) -> &mut Device {
        self.devices.entry(device).or_insert(Device { replaces: None, head: None })
    }

    fn advance(&mut self, device: DeviceId, seq: u64, hash: Hash) {
        let device = self.device(device);
        let newer = |(head, other): (u64, Hash)| seq > head || seq == head && hash < other;
        if device.head.is_none_or(newer) {
            device.head = Some((seq, hash));
        }
    }

    /// The entry at or before the line `prev`, headers and seals skipped; `None` where a line is missing.
    pub fn entry_before(&self, mut prev: Hash) -> Option<Hash> {
        loop {
            let kept = self.lines.get(&prev)?;
            if kept.seq > 0 {
                return Some(prev);
            }
            prev = *self.links.get(&prev)?;
        }
    }

    /// The newest clock reading that others follow when the wall shows `now_ms`.
    pub fn latest_clock(&self, now_ms: i64) -> Option<Clock> {
        let followed = |clock: &Clock| clock::is_followed(*clock, now_ms);
        self.top
            .filter(followed)
            .or_else(|| self.lines.values().map(|kept| kept.clock).filter(followed).max())
    }

    /// The newest reading in this device's own log.
    pub fn own_clock(&self) -> Option<Clock> {
        self.mine.top
    }

    /// Heads of other devices that no `saw` of this device names yet; at most `most`.
    pub fn unsaid(&self, most: usize) -> Vec<(DeviceId, u64, Hash)> {
        let heads = self.devices.iter().filter_map(|(device, state)| Some((*device, state.head?)));
        let others = heads.filter(|(device, _)| self.mine.device != Some(*device));
        let news =
            others.filter(|(device, (seq, _))| self.mine.said.get(device).is_none_or(|said| said < seq));
        news.take(most).map(|(device, (seq, hash))| (device, seq, hash)).collect()
    }

    /// Numbers that occur twice in one log, with different hashes.
    pub fn forks(&self) -> Vec<(DeviceId, u64)> {
        let sorted = self.numbers();
        let mut forks: Vec<_> =
            sorted.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| pair[0]).collect();
        forks.dedup();
        forks
    }

    /// What is missing between the entries here, and what others have seen of a log but is not here.
    pub fn notes(&self) -> Vec<Note> {
        let mut notes = Vec::new();
        let mut last: Option<(DeviceId, u64)> = None;
        for (device, seq) in self.numbers() {
            let before = last.filter(|(same, _)| *same == device).map_or(0, |(_, seq)| seq);
            if seq > before + 1 {
                notes.push(Note::of_range(NoteKind::Gap, device, before + 1, seq - 1));
            }
            last = Some((device, seq));
        }
        for (device, claim) in &self.claims {
            let head = self.devices.get(device).and_then(|device| device.head).map_or(0, |(seq, _)| seq);
            if *claim > head {
                notes.push(Note::of_range(NoteKind::BehindNeighbours, *device, head + 1, *claim));
            }
        }
        notes
    }

    fn numbers(&self) -> Vec<(DeviceId, u64)> {
        let entries = self.lines.values().filter(|kept| kept.seq > 0);
        let mut numbers: Vec<_> = entries.map(|kept| (kept.device, kept.seq)).collect();
        numbers.sort_unstable();
        numbers
    }

    /// Lines of a device: hash and number (0 for headers and seals).
    pub fn lines_of(&self, device: DeviceId) -> impl Iterator<Item = (Hash, u64)> + '_ {
        self.lines.iter().filter(move |(_, kept)| kept.device == device).map(|(hash, kept)| (*hash, kept.seq))
    }

    /// How many lines are known.
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// Whether no line is known.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }
}

fn raise(numbers: &mut BTreeMap<DeviceId, u64>, device: DeviceId, seq: u64) {
    let number = numbers.entry(device).or_default();
    *number = (*number).max(seq);
}
