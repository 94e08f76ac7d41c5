//! The order of the lines in one file: gaps, doubles, swaps, forks, chain, seal. One fault, one name.

use std::collections::{BTreeMap, HashSet};

use trowelogue_core::id::Hash;

use super::{Line, Segment};
use crate::fault::BreakKind;
use crate::wire::{Header, Seal, Signed};

/// Looks at the lines that count, in the order of the file; drops doubles.
pub(super) fn order(segment: &mut Segment) {
    let doubles = doubles(segment);
    segment.lines.retain(|line| !doubles.contains(&line.number));
    let walk = Walk::new(&segment.lines, &segment.faults);
    let faults = walk.run(&segment.lines);
    let headless = segment.header.is_none() && !segment.faults.iter().any(|(line, _)| *line == Some(1));
    for (number, kind) in faults {
        segment.fault(Some(number), kind);
    }
    if headless {
        segment.fault(Some(1), BreakKind::HeaderInvalid);
    }
}

fn doubles(segment: &mut Segment) -> HashSet<u64> {
    let mut seen = HashSet::new();
    let twice: Vec<u64> =
        segment.lines.iter().filter(|line| !seen.insert(line.hash)).map(|line| line.number).collect();
    for number in &twice {
        segment.fault(Some(*number), BreakKind::DuplicateLine);
    }
    twice.into_iter().collect()
}

/// A walk over a file from its first line to its last.
struct Walk<'a> {
    /// Hashes of the entries with each sequence number in this file.
    entries: BTreeMap<u64, Vec<Hash>>,
    header: Option<(&'a Header, Hash)>,
    /// Numbers of lines already found broken, ascending.
    broken: Vec<u64>,
    faults: Vec<(u64, BreakKind)>,
    /// The greatest sequence number so far; before the first entry the one before the header's first.
    last: Option<u64>,
    last_line: u64,
    sealed: bool,
    gaps: u64,
}

impl<'a> Walk<'a> {
    fn new(lines: &'a [Line], faults: &[(Option<u64>, BreakKind)]) -> Self {
        let mut entries = BTreeMap::<u64, Vec<Hash>>::new();
        for line in lines {
            if let Signed::Entry(entry) = &line.signed {
                entries.entry(entry.seq).or_default().push(line.hash);
            }
        }
        let header = lines.iter().find_map(|line| match &line.signed {
            Signed::Header(header) => Some((&**header, line.hash)),
            _ => None,
        });
        let costs_a_line = |kind: BreakKind| !matches!(kind, BreakKind::DuplicateLine | BreakKind::BadHash);
        let broken = faults.iter().filter(|(_, kind)| costs_a_line(*kind)).filter_map(|(line, _)| *line);
        let last = header.map(|(header, _)| header.first - 1);
        Self {
            entries,
            header,
            broken: broken.collect(),
            faults: Vec::new(),
            last,
            last_line: 0,
            sealed: false,
            gaps: 0,
        }
    }

    fn run(mut self, lines: &[Line]) -> Vec<(u64, BreakKind)> {
        for (at, line) in lines.iter().enumerate() {
            match &line.signed {
                Signed::Header(_) => self.header_line(line, at),
                Signed::Entry(entry) => self.entry_line(line, entry.seq, entry.prev),
                Signed::Seal(seal) => self.seal_line(line, seal),
            }
            self.last_line = self.last_line.max(line.number);
        }
        self.faults
    }

    fn fault(&mut self, line: &Line, kind: BreakKind) {
        self.faults.push((line.number, kind));
    }

    fn header_line(&mut self, line: &Line, at: usize) {
        let is_the_header = self.header.is_some_and(|(_, hash)| hash == line.hash);
        if !is_the_header {
            self.fault(line, BreakKind::HeaderInvalid);
        } else if at > 0 || line.number > 1 {
            self.fault(line, BreakKind::OutOfOrder);
        }
    }

    fn entry_line(&mut self, line: &Line, seq: u64, prev: Hash) {
        if self.sealed {
            self.fault(line, BreakKind::SealMismatch);
        }
        let first_of_its_number = self.entries.get(&seq).and_then(|all| all.first()) == Some(&line.hash);
        if !first_of_its_number {
            self.fault(line, BreakKind::Fork);
        } else if self.last.is_some_and(|last| seq <= last) {
            self.fault(line, BreakKind::OutOfOrder);
        } else if let Some(last) = self.last {
            self.gap(line, last, seq);
        }
        if self.breaks_chain(seq, prev) {
            self.fault(line, BreakKind::ChainBroken);
        }
        self.last = self.last.max(Some(seq));
    }

    /// A gap is named where more numbers are missing than broken lines stand in their place.
    fn gap(&mut self, line: &Line, last: u64, seq: u64) {
        let elsewhere = self.entries.range(last + 1..seq).count() as u64;
        let missing = seq - last - 1 - elsewhere;
        let broken = self.broken.iter().filter(|&&n| n > self.last_line && n < line.number).count() as u64;
        if missing > broken {
            self.gaps += missing - broken;
            self.fault(line, BreakKind::SequenceGap);
        }
    }

    /// Whether the line before stands in this file and is not the one this line names.
    fn breaks_chain(&self, seq: u64, prev: Hash) -> bool {
        match (self.entries.get(&(seq - 1)), self.header) {
            (Some(before), _) => !before.contains(&prev),
            (None, Some((header, hash))) => header.first == seq && hash != prev,
            (None, None) => false,
        }
    }

    fn seal_line(&mut self, line: &Line, seal: &Seal) {
        let right_segment = self.header.is_none_or(|(header, _)| header.segment == seal.segment);
        let follows = match (self.entries.get(&seal.last), self.header) {
            (Some(before), _) => before.contains(&seal.prev),
            (None, Some((_, hash))) => seal.count > 0 || hash == seal.prev,
            (None, None) => true,
        };
        let have = self.entries.len() as u64;
        let explained = self.gaps + self.broken.iter().filter(|&&n| n < line.number).count() as u64;
        let last_is_here = self.entries.contains_key(&seal.last) || seal.count == 0;
        let complete =
            have == seal.count && last_is_here || have < seal.count && have + explained >= seal.count;
        if self.sealed || !right_segment || !follows || !complete {
            self.fault(line, BreakKind::SealMismatch);
        }
        self.sealed = true;
    }
}
