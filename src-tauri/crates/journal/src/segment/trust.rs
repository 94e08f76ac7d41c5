//! Whose key, whose line, which signature.

use std::ops::Range;

use trowelogue_core::id::{DeviceId, Hash};

use super::{Context, Depth, Known, Line, Segment};
use crate::fault::{BreakKind, NoteKind};
use crate::gather::Gathered;
use crate::keys::{LINE_CONTEXT, PublicKey};
use crate::line::Raw;
use crate::wire::Signed;

/// Finds the file's device and its key. A key proves itself: the device id is made from it. So even a header
/// whose signature is bad may lend its key, and a header with another device's key is set aside.
pub(super) fn key_of(segment: &mut Segment, context: &Context<'_>) -> Option<PublicKey> {
    let header = segment.lines.iter().find_map(|line| match &line.signed {
        Signed::Header(header) => Some((line.number, header.device, header.key)),
        _ => None,
    });
    let own = header.filter(|(_, device, key)| key.device() == *device).map(|(_, _, key)| key);
    if let (Some((number, ..)), None) = (header, own) {
        segment.fault(Some(number), BreakKind::DeviceKeyMismatch);
        segment.lines.retain(|line| line.number != number);
    }
    let device = own.map(|key| key.device()).or_else(|| most_named(&segment.lines))?;
    segment.device = Some(device);
    let key = own.or_else(|| context.keys.get(&device).copied());
    if key.is_none() {
        segment.note(None, NoteKind::NoHeader);
    }
    key
}

/// The device most lines name: one line slipped in from elsewhere does not decide whose file it is.
fn most_named(lines: &[Line]) -> Option<DeviceId> {
    let mut votes = std::collections::BTreeMap::<DeviceId, usize>::new();
    for line in lines {
        *votes.entry(line.signed.device()).or_default() += 1;
    }
    votes.into_iter().max_by_key(|(_, count)| *count).map(|(device, _)| device)
}

/// Drops what is not this device's, and what no good signature stands for.
pub(super) fn keep_trusted(
    segment: &mut Segment,
    gathered: &Gathered,
    key: &PublicKey,
    depth: Depth,
    known: &(dyn Fn(&Hash) -> Known + Sync),
) {
    let device = key.device();
    let (own, others): (Vec<Line>, Vec<Line>) =
        std::mem::take(&mut segment.lines).into_iter().partition(|line| line.signed.device() == device);
    for line in &others {
        segment.fault(Some(line.number), BreakKind::DeviceKeyMismatch);
    }
    let judge = Judge { bytes: &gathered.bytes, key, known };
    let mut kept = judge.vouched(&own);
    if depth == Depth::Every {
        // A line whose own signature is bad may still count, vouched for; checking everything names it.
        judge.each(&own, &kept, segment);
    } else {
        name_dropped(&own, &kept, segment);
    }
    segment.lines = own.into_iter().filter(|_| kept.pop_front().unwrap_or(false)).collect();
    segment.header = segment.lines.iter().find_map(|line| match &line.signed {
        Signed::Header(header) => Some((**header).clone()),
        _ => None,
    });
    let lines = &segment.lines;
    segment.withheld.retain(|(number, _)| lines.binary_search_by_key(number, |line| line.number).is_ok());
}

fn name_dropped(lines: &[Line], kept: &std::collections::VecDeque<bool>, segment: &mut Segment) {
    for (line, _) in lines.iter().zip(kept).filter(|(_, kept)| !**kept) {
        segment.fault(Some(line.number), bad_signature(line));
    }
}

fn bad_signature(line: &Line) -> BreakKind {
    match line.signed {
        Signed::Header(_) => BreakKind::HeaderInvalid,
        _ => BreakKind::BadSignature,
    }
}

struct Judge<'a> {
    bytes: &'a [u8],
    key: &'a PublicKey,
    known: &'a (dyn Fn(&Hash) -> Known + Sync),
}

impl Judge<'_> {
    /// For each line, whether a good signature stands for it: its own or that of a later line in the same
    /// unbroken run. From the end of each run backwards, so that one good signature settles the rest.
    fn vouched(&self, lines: &[Line]) -> std::collections::VecDeque<bool> {
        let mut kept = vec![false; lines.len()];
        let mut settled = false;
        for at in (0..lines.len()).rev() {
            let next = lines.get(at + 1).filter(|_| settled);
            let covered = next.is_some_and(|next| next.signed.prev() == lines[at].hash);
            settled = covered || self.stands(&lines[at]);
            kept[at] = settled;
        }
        kept.into()
    }

    fn stands(&self, line: &Line) -> bool {
        (self.known)(&line.hash) != Known::No || own_signature(self.bytes, &line.range, self.key)
    }

    fn each(&self, lines: &[Line], kept: &std::collections::VecDeque<bool>, segment: &mut Segment) {
        for (line, kept) in lines.iter().zip(kept) {
            if !kept || !own_signature(self.bytes, &line.range, self.key) {
                segment.fault(Some(line.number), bad_signature(line));
            }
        }
    }
}

/// Whether the line's own signature is good.
pub(super) fn own_signature(bytes: &[u8], range: &Range<usize>, key: &PublicKey) -> bool {
    let text = bytes.get(range.clone()).and_then(|bytes| std::str::from_utf8(bytes).ok());
    text.and_then(Raw::split).is_some_and(|raw| key.verify(LINE_CONTEXT, raw.entry.as_bytes(), raw.signature))
}

/// Whether a good first header says that this log belongs to another shop.
pub(super) fn is_foreign(segment: &Segment, shop: Hash) -> bool {
    segment.header.as_ref().is_some_and(|header| header.segment == 1 && header.prev != shop)
}
