//! From the files as they were read to breaks and notes.

use std::collections::{BTreeMap, BTreeSet};

use trowelogue_core::id::{DeviceId, Hash};

use super::{Root, Scanner, Tracked, canonical_place};
use crate::fault::{Break, BreakKind, Note, NoteKind};
use crate::segment::State;

/// Segments of all logs, with the files that hold them.
type Segments<'a> = BTreeMap<(DeviceId, u32), Vec<(&'a str, &'a Tracked)>>;

impl Scanner {
    /// What is wrong in the folder and what there is to know, as far as the files themselves tell.
    pub(crate) fn report(&self) -> (Vec<Break>, Vec<Note>) {
        let mut breaks = Vec::new();
        let mut notes: Vec<Note> = self.passed.get(&Root::Folder).cloned().unwrap_or_default();
        for (name, tracked) in self.files(Root::Folder) {
            if tracked.counts_against_the_log() {
                breaks.extend(tracked.faults.iter().map(|(line, kind)| found(name, *line, *kind)));
            }
            notes.extend(
                tracked.notes.iter().map(|(line, kind)| Note { line: *line, ..Note::of_file(*kind, name) }),
            );
            notes.extend(tracked.note_of_its_kind().map(|kind| Note::of_file(kind, name)));
        }
        let segments = self.segments(Root::Folder);
        breaks.extend(missing_segments(&segments));
        breaks.extend(broken_links(&segments));
        breaks.extend(self.forks());
        notes.extend(self.index.notes());
        breaks.sort();
        breaks.dedup();
        (breaks, notes)
    }

    pub(crate) fn files(&self, root: Root) -> impl Iterator<Item = (&str, &Tracked)> + '_ {
        let of_root = self.tracked.iter().filter(move |((place, _), _)| *place == root);
        of_root.map(|((_, name), tracked)| (name.as_str(), tracked))
    }

    pub(crate) fn segments(&self, root: Root) -> Segments<'_> {
        let mut segments = Segments::new();
        for (name, tracked) in self.files(root).filter(|(_, tracked)| tracked.state == State::Log) {
            if let (Some(device), Some(segment)) = (tracked.device, tracked.segment) {
                segments.entry((device, segment)).or_default().push((name, tracked));
            }
        }
        segments
    }

    /// Segments of which this home holds more than the folder shows: the file it should stand in, its device,
    /// and the last number in the folder and here.
    pub(crate) fn behind_the_mirror(&self) -> Vec<Behind> {
        let folder = self.segments(Root::Folder);
        let mut behind = Vec::new();
        for ((device, segment), files) in
            self.segments(Root::Journal).into_iter().filter(|((_, n), _)| *n > 0)
        {
            let known = last_number(&files);
            let copies = folder.get(&(device, segment));
            let there = copies.map_or(0, |files| last_number(files));
            let broken =
                copies.map_or(0, |files| files.iter().map(|(_, tracked)| tracked.broken_lines()).sum());
            if known > there + broken || copies.is_none() {
                let file = format!("logs/{}", canonical_place(device, segment));
                behind.push(Behind { device, file, missing: copies.is_none(), there, known });
            }
        }
        behind
    }

    /// One break for each forked log: the file in which the second line of a number stands.
    fn forks(&self) -> Vec<Break> {
        let mut devices = BTreeSet::new();
        let first_of_each = self.index.forks().into_iter().filter(|(device, _)| devices.insert(*device));
        let mut breaks = Vec::new();
        for (device, seq) in first_of_each {
            let holds =
                |t: &Tracked| t.device == Some(device) && t.range.is_some_and(|(a, b)| a <= seq && seq <= b);
            let files: Vec<_> = self.files(Root::Folder).filter(|(_, tracked)| holds(tracked)).collect();
            let named = files.iter().any(|(_, t)| t.faults.iter().any(|(_, kind)| *kind == BreakKind::Fork));
            let file = files
                .into_iter()
                .max_by_key(|(_, tracked)| !tracked.canonical)
                .map(|(name, _)| name.to_string());
            if !named {
                let file = file.unwrap_or_else(|| format!("logs/{device}"));
                breaks.push(Break { file, line: None, kind: BreakKind::Fork });
            }
        }
        breaks
    }
}

/// A segment of which the folder shows less than is known.
pub(crate) struct Behind {
    pub(crate) device: DeviceId,
    pub(crate) file: String,
    /// No copy of it is in the folder.
    pub(crate) missing: bool,
    pub(crate) there: u64,
    pub(crate) known: u64,
}

impl Tracked {
    /// Faults of a copy that adds nothing are nobody's loss.
    fn counts_against_the_log(&self) -> bool {
        let keyless = self.state == State::NoKey && !self.is_a_torn_beginning();
        self.canonical || self.adds || self.state == State::Foreign || keyless
    }

    /// A copy of which not even the first line is whole: it says nothing yet, and loses nothing.
    fn is_a_torn_beginning(&self) -> bool {
        !self.canonical && self.state == State::NoKey && self.faults == [(Some(1), BreakKind::TornTail)]
    }

    fn note_of_its_kind(&self) -> Option<NoteKind> {
        let restored = || self.path.iter().any(|part| part == "restored");
        match self.state {
            State::NotHereYet if !self.notes.is_empty() => None,
            State::NotHereYet => Some(NoteKind::NotHereYet),
            State::Stray => Some(NoteKind::StrayFile),
            State::Log if self.canonical => None,
            State::Log if self.adds => Some(NoteKind::CopyAddsLines),
            State::Log if restored() => None,
            State::Log => Some(NoteKind::CopyAddsNothing),
            State::NoKey if self.is_a_torn_beginning() => Some(NoteKind::PendingTail),
            State::Foreign | State::NoKey => None,
        }
    }

    /// Lines found broken: so many of those that are missing are named already.
    fn broken_lines(&self) -> u64 {
        let costs_a_line = |kind: &BreakKind| {
            use BreakKind as Kind;
            matches!(
                kind,
                Kind::TornTail | Kind::BadLine | Kind::BadSignature | Kind::NotUtf8 | Kind::TooLong
            )
        };
        self.faults.iter().filter(|(_, kind)| costs_a_line(kind)).count() as u64
    }
}

fn last_number(files: &[(&str, &Tracked)]) -> u64 {
    files.iter().filter_map(|(_, tracked)| tracked.range).map(|(_, last)| last).max().unwrap_or(0)
}

fn found(file: &str, line: Option<u64>, kind: BreakKind) -> Break {
    Break { file: file.into(), line, kind }
}

/// Segments before the last one of a log that no file holds.
fn missing_segments(segments: &Segments<'_>) -> Vec<Break> {
    let mut last = BTreeMap::<DeviceId, u32>::new();
    for (device, segment) in segments.keys() {
        last.insert(*device, *segment);
    }
    let mut breaks = Vec::new();
    for (device, last) in last {
        let absent = (1..last).filter(|segment| !segments.contains_key(&(device, *segment)));
        let place = |segment| format!("logs/{}", canonical_place(device, segment));
        let named = absent.take(crate::segment::MAX_FAULTS);
        breaks.extend(named.map(|segment| found(&place(segment), None, BreakKind::SegmentMissing)));
    }
    breaks
}

/// Headers that do not follow the last line of the segment before, where that segment is there without a fault.
fn broken_links(segments: &Segments<'_>) -> Vec<Break> {
    let mut breaks = Vec::new();
    for ((device, segment), files) in segments.iter().filter(|((_, segment), _)| *segment > 1) {
        let Some(before) = segments.get(&(*device, segment - 1)) else { continue };
        let tails: BTreeSet<Option<Hash>> = before.iter().map(|(_, tracked)| tracked.tail).collect();
        let faulty = before.iter().any(|(_, tracked)| !tracked.faults.is_empty());
        for (name, tracked) in files.iter().filter(|(_, t)| t.follows.is_some() && !faulty) {
            if !tails.contains(&tracked.follows) {
                breaks.push(found(name, Some(1), BreakKind::ChainBroken));
            }
        }
    }
    breaks
}
