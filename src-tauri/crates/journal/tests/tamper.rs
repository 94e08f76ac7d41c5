//! Damage to logs, all of it and in every place: `verify` names file, line and kind, and every good entry still
//! loads.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

mod common;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use common::{Counted, Yard, add, draft, own_file};
use trowelogue_core::id::Hash;
use trowelogue_journal::{Break, BreakKind, Entropy as _, Expected, Shop, read_folder, verify_folder};

/// One log in a folder of its own, with what each of its lines is.
struct Log {
    yard: Yard,
    file: PathBuf,
    name: String,
    good: Vec<u8>,
    /// Hash of the entry on each line; none for a header or a seal.
    entries: Vec<Option<Hash>>,
}

impl Log {
    /// The founder's log: a header and `count` entries.
    fn of(count: i64) -> Self {
        let yard = Yard::new();
        let mut shop = yard.found("anna");
        for number in 0..count {
            add(&mut shop, &format!("entry {number}, área ≥ 2 m²"), number);
        }
        Self::at(yard, &shop, 1)
    }

    /// Three segments, two of them sealed; the log is the segment with this number.
    fn sealed(segment: u32) -> Self {
        let yard = Yard::new();
        let mut shop = yard.found("anna");
        let long = "z".repeat(46_000);
        for batch in 0..8 {
            shop.append((0..10).map(|_| draft(&long)).collect(), common::at(batch)).unwrap();
        }
        assert!(own_file(&shop, 3).exists() && !own_file(&shop, 4).exists());
        Self::at(yard, &shop, segment)
    }

    fn at(yard: Yard, shop: &Shop, segment: u32) -> Self {
        let file = own_file(shop, segment);
        let name = file.strip_prefix(yard.folder()).unwrap().to_str().unwrap().to_owned();
        let good = fs::read(&file).unwrap();
        let entries = lines_of(&good).into_iter().map(entry_hash).collect();
        let log = Self { yard, file, name, good, entries };
        let (breaks, loaded) = log.now();
        assert!(breaks.is_empty() && log.hashes().is_subset(&loaded));
        log
    }

    fn lines(&self) -> Vec<&[u8]> {
        lines_of(&self.good)
    }

    fn hashes(&self) -> BTreeSet<Hash> {
        self.entries.iter().flatten().copied().collect()
    }

    /// What `verify` finds and which entries load, as the file stands.
    fn now(&self) -> (Vec<Break>, BTreeSet<Hash>) {
        let breaks = verify_folder(&self.yard.folder(), &Expected::default()).unwrap().breaks;
        (breaks, loaded(&self.yard.folder()))
    }

    fn damaged(&self, bytes: &[u8]) -> (Vec<Break>, BTreeSet<Hash>) {
        fs::write(&self.file, bytes).unwrap();
        self.now()
    }

    /// Writes the damage; some break of one of `kinds` is named on `line`, and all entries but those on the lines
    /// `lost` still load.
    #[track_caller]
    fn shows(&self, what: &str, bytes: &[u8], line: u64, kinds: &[BreakKind], lost: &[usize]) {
        let (breaks, loaded) = self.damaged(bytes);
        let named = |it: &Break| it.file == self.name && it.line == Some(line) && kinds.contains(&it.kind);
        assert!(breaks.iter().any(named), "{what}: {kinds:?} on line {line} is not in {breaks:?}");
        let wanted: BTreeSet<Hash> = self
            .entries
            .iter()
            .enumerate()
            .filter(|(at, _)| !lost.contains(at))
            .filter_map(|(_, it)| *it)
            .collect();
        assert!(wanted.is_subset(&loaded), "{what}: a good entry is lost");
    }
}

fn lines_of(bytes: &[u8]) -> Vec<&[u8]> {
    bytes.split_inclusive(|byte| *byte == b'\n').collect()
}

fn loaded(folder: &Path) -> BTreeSet<Hash> {
    read_folder(folder).unwrap().merged.records.iter().map(|record| record.hash).collect()
}

fn entry_hash(line: &[u8]) -> Option<Hash> {
    let raw = trowelogue_journal::line::Raw::split(std::str::from_utf8(line).unwrap().trim_end()).unwrap();
    raw.entry.contains("\"seq\":").then(|| raw.hash())
}

/// Flips one bit; `verify` must name the line it stands on, and every entry of another line must load.
#[track_caller]
fn flip(log: &Log, byte: usize, bit: u8) {
    let mut bytes = log.good.clone();
    bytes[byte] ^= 1 << bit;
    let at = log.good[..byte].iter().filter(|it| **it == b'\n').count();
    let (breaks, loaded) = log.damaged(&bytes);
    let what = format!("byte {byte}, bit {bit}, line {}", at + 1);
    let named = |it: &Break| it.file == log.name && it.line == Some(at as u64 + 1);
    assert!(breaks.iter().any(named), "{what}: {breaks:?}");
    // A line end that was flipped away costs the two lines it stood between.
    let joined = log.good[byte] == b'\n';
    let touched = |line: usize| line == at || (joined && line == at + 1);
    for (line, entry) in log.entries.iter().enumerate() {
        let wanted = entry.is_some_and(|entry| !loaded.contains(&entry));
        assert!(touched(line) || !wanted, "{what}: the entry on line {} is lost", line + 1);
    }
    assert!(loaded.is_subset(&log.hashes()), "{what}: nothing that was not written may load");
}

#[test]
fn every_bit_of_a_short_log_is_covered() {
    let log = Log::of(2);
    for byte in 0..log.good.len() {
        (0..8).for_each(|bit| flip(&log, byte, bit));
    }
}

#[test]
fn any_bit_of_a_long_log_is_covered() {
    let log = Log::of(60);
    let mut random = Counted(77);
    for _ in 0..250 {
        let mut bytes = [0; 8];
        random.fill(&mut bytes).unwrap();
        let at = u64::from_be_bytes(bytes);
        flip(&log, (at >> 3) as usize % log.good.len(), (at & 7) as u8);
    }
}

#[test]
fn a_line_removed_is_a_gap_where_it_stood() {
    let log = Log::of(8);
    let count = log.lines().len();
    for at in 1..count - 1 {
        let mut lines = log.lines();
        lines.remove(at);
        log.shows("removed", &lines.concat(), at as u64 + 1, &[BreakKind::SequenceGap], &[at]);
    }
    let mut lines = log.lines();
    lines.remove(0);
    // The founder's key stands in `shop.json`, so that its entries load without their header.
    log.shows("header removed", &lines.concat(), 1, &[BreakKind::HeaderInvalid], &[]);
    // Several in a row, and every second one.
    let mut lines = log.lines();
    lines.drain(3..6);
    log.shows("three removed", &lines.concat(), 4, &[BreakKind::SequenceGap], &[3, 4, 5]);
}

#[test]
fn a_line_doubled_anywhere_is_named_and_counts_once() {
    let log = Log::of(6);
    let count = log.lines().len();
    for line in 0..count {
        for to in line + 1..=count {
            let mut lines = log.lines();
            lines.insert(to, lines[line]);
            log.shows("doubled", &lines.concat(), to as u64 + 1, &[BreakKind::DuplicateLine], &[]);
        }
    }
    let doubled = [log.good.clone(), log.good.clone()].concat();
    log.shows("the whole log twice", &doubled, count as u64 + 1, &[BreakKind::DuplicateLine], &[]);
}

#[test]
fn two_lines_swapped_are_out_of_order() {
    let log = Log::of(6);
    let count = log.lines().len();
    for first in 0..count {
        for second in first + 1..count {
            let mut lines = log.lines();
            lines.swap(first, second);
            log.shows("swapped", &lines.concat(), second as u64 + 1, &[BreakKind::OutOfOrder], &[]);
        }
    }
}

#[test]
fn a_line_slipped_in_is_named_and_never_loads() {
    let log = Log::of(5);
    // Another device of the shop, another shop, and things that are no line at all.
    let mut ben = log.yard.join("ben");
    add(&mut ben, "of another device", 9);
    let other_device = fs::read(own_file(&ben, 1)).unwrap();
    fs::remove_dir_all(log.yard.folder().join("logs").join(ben.device().to_string())).unwrap();
    let elsewhere = Log::of(2);
    let entry = |bytes: &[u8]| lines_of(bytes)[1].to_vec();
    let by_others = [BreakKind::DeviceKeyMismatch, BreakKind::BadSignature];
    let no_line = [BreakKind::BadLine, BreakKind::NotUtf8, BreakKind::HeaderInvalid];
    let slipped: [(&str, Vec<u8>, &[BreakKind]); 7] = [
        ("another device", entry(&other_device), &by_others),
        ("another shop", entry(&elsewhere.good), &by_others),
        ("an empty object", b"{}\n".to_vec(), &no_line),
        ("an empty line", b"\n".to_vec(), &no_line),
        ("NUL bytes", b"\0\0\0\0\n".to_vec(), &no_line),
        ("no text", b"\xff\xfe\n".to_vec(), &no_line),
        ("a line that is too long", [vec![b'x'; 65 * 1024], vec![b'\n']].concat(), &[BreakKind::TooLong]),
    ];
    for (what, line, kinds) in &slipped {
        for to in 1..=log.lines().len() {
            let mut lines = log.lines();
            lines.insert(to, line);
            log.shows(what, &lines.concat(), to as u64 + 1, kinds, &[]);
            assert_eq!(loaded(&log.yard.folder()), log.hashes(), "{what}: nothing else loads");
        }
    }
}

#[test]
fn a_header_edited_is_named() {
    let log = Log::of(4);
    let text = String::from_utf8(log.good.clone()).unwrap();
    let device = log.name.split('/').nth(1).unwrap().to_owned();
    let stranger = format!("{}{}", if device.starts_with('a') { 'b' } else { 'a' }, &device[1..]);
    let edits = [
        ("\"segment\":1", "\"segment\":2".to_owned()),
        ("\"first\":1", "\"first\":2".to_owned()),
        ("\"v\":1", "\"v\":2".to_owned()),
        (device.as_str(), stranger),
        ("\"b\":null", "\"b\":{}".to_owned()),
        ("\"key\":", "\"kex\":".to_owned()),
        ("\"wrote\":\"2025", "\"wrote\":\"2015".to_owned()),
    ];
    let kinds = [BreakKind::HeaderInvalid, BreakKind::DeviceKeyMismatch];
    for (from, to) in edits {
        let edited = text.replacen(from, &to, 1);
        assert_ne!(edited, text, "{from}");
        log.shows(from, edited.as_bytes(), 1, &kinds, &[]);
    }
}

#[test]
fn a_file_cut_at_any_byte_of_its_last_line_loses_only_that_line() {
    let log = Log::of(4);
    let last = log.lines().len() - 1;
    let before: usize = log.lines()[..last].iter().map(|line| line.len()).sum();
    for end in before + 1..log.good.len() {
        log.shows("cut", &log.good[..end], last as u64 + 1, &[BreakKind::TornTail], &[last]);
    }
    // At the very end of a line nothing tells that more was there: what a reader has never seen is not missed.
    let (breaks, loaded) = log.damaged(&log.good[..before]);
    assert!(breaks.is_empty() && loaded.len() == last - 1);
}

#[test]
fn a_sealed_segment_that_is_missing_is_named_and_costs_only_its_own_entries() {
    for segment in 1..=2 {
        let log = Log::sealed(segment);
        let all = loaded(&log.yard.folder());
        fs::remove_file(&log.file).unwrap();
        let (breaks, loaded) = log.now();
        let missing = Break { file: log.name.clone(), line: None, kind: BreakKind::SegmentMissing };
        assert!(breaks.contains(&missing), "{breaks:?}");
        let rest: BTreeSet<Hash> = all.difference(&log.hashes()).copied().collect();
        assert_eq!(loaded, rest);
    }
}

#[test]
fn a_sealed_segment_shows_lines_taken_from_its_end() {
    let log = Log::sealed(1);
    let count = log.lines().len();
    let (breaks, _) = log.damaged(&log.lines()[..count - 1].concat());
    // Without its seal the segment says nothing, but the next one follows a line that is not there.
    let next = log.name.replace("-0001", "-0002");
    assert!(
        breaks.contains(&Break { file: next, line: Some(1), kind: BreakKind::ChainBroken }),
        "{breaks:?}"
    );
    let mut lines = log.lines();
    lines.remove(count - 2);
    log.shows(
        "entry before the seal removed",
        &lines.concat(),
        count as u64 - 1,
        &[BreakKind::SealMismatch],
        &[count - 2],
    );
    let edited = String::from_utf8(log.good.clone()).unwrap().replacen("\"count\":", "\"count\":1", 1);
    log.shows("seal edited", edited.as_bytes(), count as u64, &[BreakKind::BadSignature], &[]);
}

#[test]
fn a_home_that_has_seen_more_names_what_the_folder_lacks() {
    let log = Log::of(6);
    let mut ben = log.yard.join("ben");
    let all = ben.read().unwrap().merged.records.len();
    let whole = log.lines().len();
    for left in 1..whole {
        fs::write(&log.file, log.lines()[..left].concat()).unwrap();
        let breaks = ben.verify(&Expected::default()).unwrap().breaks;
        let short = Break { file: log.name.clone(), line: None, kind: BreakKind::FileTooShortOfKnown };
        assert!(breaks.contains(&short), "{left} lines left: {breaks:?}");
        assert_eq!(ben.read().unwrap().merged.records.len(), all, "{left} lines left: nothing is lost");
    }
    fs::remove_file(&log.file).unwrap();
    let breaks = ben.verify(&Expected::default()).unwrap().breaks;
    assert!(breaks.iter().any(|it| it.kind == BreakKind::SegmentMissing), "{breaks:?}");
}

#[test]
fn a_copy_torn_anywhere_adds_nothing_and_is_no_break() {
    let log = Log::of(2);
    let copy = log.file.with_file_name("torn (copy).jsonl");
    for end in (1..log.good.len()).step_by(29) {
        fs::write(&copy, &log.good[..end]).unwrap();
        let (breaks, loaded) = log.now();
        assert_eq!(breaks, [], "cut after {end} bytes");
        assert!(log.hashes().is_subset(&loaded));
    }
}
