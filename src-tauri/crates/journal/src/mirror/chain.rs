//! The lines of one segment as a set with an order, and how two such sets fit together.

use std::collections::BTreeMap;

use trowelogue_core::id::Hash;

use crate::keys::SIGNATURE_CHARS;
use crate::line::Raw;
use crate::segment::{Body, Line};
use crate::wire::{self, Signed};

/// Where a line belongs in its segment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Slot {
    Header,
    Entry(u64),
    Seal,
}

/// What is needed of a line that counts to keep it.
#[derive(Debug, Clone)]
pub(crate) struct Outline {
    slot: Slot,
    hash: Hash,
    prev: Hash,
    range: std::ops::Range<usize>,
    usable: bool,
}

impl Outline {
    pub(crate) fn of(line: &Line) -> Self {
        let usable = line.body != Body::Bad;
        Self {
            slot: slot(&line.signed),
            hash: line.hash,
            prev: line.signed.prev(),
            range: line.range.clone(),
            usable,
        }
    }
}

fn slot(signed: &Signed) -> Slot {
    match signed {
        Signed::Header(_) => Slot::Header,
        Signed::Entry(entry) => Slot::Entry(entry.seq),
        Signed::Seal(_) => Slot::Seal,
    }
}

/// The lines of a segment in their order.
#[derive(Debug, Clone, Default)]
pub(crate) struct Chain<'a> {
    lines: BTreeMap<(Slot, Hash), (Hash, &'a [u8])>,
    /// The bytes end with a whole line.
    whole: bool,
}

/// How the lines of one chain fit to another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Fit {
    /// They bring nothing.
    Nothing,
    /// They go on where the other ends.
    Append(Vec<u8>),
    /// They fill holes.
    Merge,
    /// They contradict the other; this is the first line that does.
    Conflict(Hash),
}

impl<'a> Chain<'a> {
    /// The usable lines among `lines`, cut from `bytes`.
    pub(crate) fn of(lines: &[Outline], bytes: &'a [u8]) -> Self {
        let usable = lines.iter().filter(|line| line.usable);
        let lines = usable
            .filter_map(|line| Some(((line.slot, line.hash), (line.prev, bytes.get(line.range.clone())?))));
        Self { lines: lines.collect(), whole: true }
    }

    /// Reads a file of the mirror. It was written by this home, so its form is enough to go by here; reading
    /// for the fold checks signatures again.
    pub(crate) fn parse(bytes: &'a [u8]) -> Self {
        let lines = bytes.split_inclusive(|&b| b == b'\n').filter_map(|line| {
            let line = line.strip_suffix(b"\n")?;
            let raw = Raw::split(std::str::from_utf8(line).ok()?)?;
            let signed = wire::parse(raw.entry).ok()?;
            Some(((slot(&signed), raw.hash()), (signed.prev(), line)))
        });
        Self { lines: lines.collect(), whole: bytes.is_empty() || bytes.ends_with(b"\n") }
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    pub(crate) fn is_whole(&self) -> bool {
        self.whole
    }

    /// How `other` fits to this chain. A chain that is `closed` takes no line at all.
    pub(crate) fn fit(&self, other: &Self, closed: bool) -> Fit {
        let new: Vec<_> = other.lines.iter().filter(|(key, (_, line))| self.lacks(key, line)).collect();
        let Some(((first, hash), _)) = new.first() else { return Fit::Nothing };
        if closed {
            return Fit::Conflict(*hash);
        }
        let contradicts = |((slot, hash), (prev, _)): &(&(Slot, Hash), &(Hash, &[u8]))| {
            let mut in_slot = self.lines.range((*slot, Hash([0; 32]))..=(*slot, Hash([255; 32])));
            in_slot.any(|((_, there), _)| there != hash) || self.follows_elsewhere(hash, prev)
        };
        if let Some(((_, hash), _)) = new.iter().find(|line| contradicts(line)) {
            return Fit::Conflict(*hash);
        }
        if self.lines.last_key_value().is_none_or(|((last, _), _)| last < first) {
            return Fit::Append(new.iter().flat_map(|(_, (_, line))| [*line, b"\n"].concat()).collect());
        }
        Fit::Merge
    }

    /// Whether a line is not here, or only with less of its body.
    fn lacks(&self, key: &(Slot, Hash), line: &[u8]) -> bool {
        self.lines.get(key).is_none_or(|(_, there)| says(there) < says(line))
    }

    /// Whether another line here already follows the one that `hash` follows.
    fn follows_elsewhere(&self, hash: &Hash, prev: &Hash) -> bool {
        self.lines.iter().any(|((_, there), (before, _))| before == prev && there != hash)
    }

    /// The lines of both, in order.
    pub(crate) fn merged(&self, other: &Self) -> Vec<u8> {
        let mut lines = self.lines.clone();
        let new = other.lines.iter().filter(|(key, (_, line))| self.lacks(key, line));
        lines.extend(new.map(|(key, value)| (*key, *value)));
        lines.values().flat_map(|(_, line)| [*line, b"\n"].concat()).collect()
    }
}

/// How much a line says: nothing of its body, its body encrypted, or its body.
fn says(line: &[u8]) -> u8 {
    let frame = SIGNATURE_CHARS + "\"}".len();
    let before = line.len().checked_sub(frame).map_or(line, |end| &line[..end]);
    match before {
        head if head.ends_with(b",\"b\":null,\"s\":\"") => 0,
        head if head.ends_with(b"\"},\"s\":\"") && holds(head, b",\"b\":{\"x\":\"") => 1,
        _ => 2,
    }
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
