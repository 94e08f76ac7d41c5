//! This device's own log in the private journal: where it ends, and appending to it.

use std::collections::HashSet;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trowelogue_core::id::{DeviceId, Hash};

use crate::disk::{Disk, Kind, Open, Stat};
use crate::error::Error;
use crate::fault::BreakKind;
use crate::files::{self, SEAL_AT, append_durably, parse_segment_name, segment_name};
use crate::gather;
use crate::keys::PublicKey;
use crate::segment::{self, Context, Depth, Known, Segment};
use crate::wire::Signed;

/// The end of the own log.
#[derive(Debug, Clone, Default)]
pub(super) struct Own {
    /// The current segment; 0 before the first.
    pub(super) segment: u32,
    /// Bytes of the current segment up to its last whole line.
    pub(super) size: u64,
    /// Entries in the current segment.
    pub(super) entries: u64,
    /// The last sequence number; 0 before the first entry.
    pub(super) last_seq: u64,
    /// The last line; `None` before the first.
    pub(super) head: Option<Hash>,
    /// The current segment ends with its seal.
    pub(super) sealed: bool,
    /// Something stands after the last whole line.
    pub(super) torn: bool,
    /// The current segment is not written to any more: its disk failed.
    pub(super) tainted: bool,
    pub(super) stat: Option<Stat>,
}

/// What is to be written for a batch.
#[derive(Clone)]
pub(super) struct Plan {
    /// Closes the current segment; with its hash.
    pub(super) seal: Option<(String, Hash)>,
    /// Opens the next one.
    pub(super) header: Option<String>,
    /// The entries.
    pub(super) lines: String,
    /// Where the log ends afterwards.
    pub(super) end: Own,
}

/// Where the own log stands and how it is reached.
pub(super) struct OwnLog {
    disk: Arc<dyn Disk>,
    dir: PathBuf,
    device: DeviceId,
    key: PublicKey,
    /// The hash of `shop.json`.
    shop: Hash,
    pub(super) end: Own,
}

impl Own {
    /// Whether the next batch begins a new segment.
    pub(super) fn is_due_for_rotation(&self) -> bool {
        self.segment == 0 || self.sealed || self.tainted || self.size >= SEAL_AT
    }
}

impl OwnLog {
    pub(super) fn new(disk: Arc<dyn Disk>, journal: &Path, key: PublicKey, shop: Hash) -> Self {
        let device = key.device();
        Self { disk, dir: journal.join(device.to_string()), device, key, shop, end: Own::default() }
    }

    pub(super) fn path(&self, segment: u32) -> PathBuf {
        self.dir.join(segment_name(self.device, segment))
    }

    /// Reads again where the log ends, if another process wrote to it. True if it did.
    pub(super) fn refresh(&mut self) -> Result<bool, Error> {
        let next_is_there = self.disk.stat(&self.path(self.end.segment + 1)).is_ok();
        let now = self.disk.stat(&self.path(self.end.segment)).ok();
        if self.end.segment > 0 && now == self.end.stat && !next_is_there {
            return Ok(false);
        }
        let before = std::mem::take(&mut self.end);
        self.load()?;
        self.end.tainted |= before.tainted && before.segment == self.end.segment;
        Ok(true)
    }

    fn load(&mut self) -> Result<(), Error> {
        let numbers = self.segments()?;
        if numbers.iter().zip(1..).any(|(there, expected)| *there != expected) {
            return Err(Error::JournalDamaged { path: self.dir.clone() });
        }
        // Newest first: one without a single good line was being made when the power went, and holds nothing
        // that was ever acknowledged.
        for segment in numbers.into_iter().rev() {
            let path = self.path(segment);
            let (found, stat) = self.read(&path)?;
            if found.lines.is_empty() {
                self.clear(&path)?;
                continue;
            }
            self.end = self.end_of(segment, &found, stat).ok_or(Error::JournalDamaged { path })?;
            return Ok(());
        }
        Ok(())
    }

    /// The numbers of the segments there are, ascending.
    pub(super) fn segments(&self) -> Result<Vec<u32>, Error> {
        let names = match self.disk.list(&self.dir) {
            Ok(names) => names,
            Err(error) if error.kind() == io::ErrorKind::NotFound => Vec::new(),
            Err(error) => return Err(Error::io(&self.dir, error)),
        };
        let own = names.iter().filter(|(_, stat)| stat.kind == Kind::File);
        let named = own.filter_map(|(name, _)| parse_segment_name(name.to_str()?));
        let mut numbers: Vec<u32> =
            named.filter(|(device, number)| *device == self.device && *number > 0).map(|(_, n)| n).collect();
        numbers.sort_unstable();
        Ok(numbers)
    }

    fn read(&self, path: &Path) -> Result<(Segment, Stat), Error> {
        let failed = |error| Error::io(path, error);
        let stat = self.disk.stat(path).map_err(failed)?;
        let source = self.disk.read(path).map_err(failed)?;
        let gathered = gather::gather(source, true).map_err(failed)?;
        let keys = [(self.device, self.key)].into();
        let known = |_: &Hash| Known::No;
        let context = Context { shop: self.shop, keys: &keys, known: &known, depth: Depth::Newest };
        Ok((segment::read(&gathered, &context), stat))
    }

    /// Where a segment ends. `None` where it is broken before its end: then nobody can say what was lost.
    /// Broken lines after the last good one were never acknowledged; they are left where they are, and the
    /// log goes on in the next segment.
    fn end_of(&self, number: u32, found: &Segment, stat: Stat) -> Option<Own> {
        let header = found.header.as_ref()?;
        let last = found.lines.last()?;
        let inside = |(line, kind): &(Option<u64>, BreakKind)| {
            *kind != BreakKind::TornTail && line.is_none_or(|line| line <= last.number)
        };
        if header.segment != number || found.faults.iter().any(inside) {
            return None;
        }
        let entries =
            found.lines.iter().filter(|line| matches!(line.signed, Signed::Entry(_))).count() as u64;
        let size = last.range.end as u64 + 1;
        let only_torn = found.faults.iter().all(|(_, kind)| *kind == BreakKind::TornTail);
        Some(Own {
            segment: number,
            size,
            entries,
            last_seq: header.first - 1 + entries,
            head: Some(last.hash),
            sealed: matches!(last.signed, Signed::Seal(_)),
            torn: only_torn && stat.len > size,
            tainted: !only_torn,
            stat: Some(stat),
        })
    }

    fn clear(&self, path: &Path) -> Result<(), Error> {
        self.disk.remove(path).map_err(|error| Error::io(path, error))
    }

    /// Writes a batch: one write, one fsync. A failure leaves the log where it was, save for a seal.
    pub(super) fn write(&mut self, plan: Plan) -> Result<(), Error> {
        let done = self.try_write(plan);
        if done.is_err() {
            // The next refresh looks at the file again.
            self.end.stat = None;
        }
        done
    }

    fn try_write(&mut self, plan: Plan) -> Result<(), Error> {
        let Plan { seal, header, lines, mut end } = plan;
        if let Some((seal, hash)) = seal {
            self.append(&seal)?;
            self.end.sealed = true;
            self.end.head = Some(hash);
            self.end.size += seal.len() as u64;
        }
        let path = self.path(end.segment);
        match header {
            Some(header) => self.create(&path, &(header + &lines))?,
            None => self.append(&lines)?,
        }
        end.stat = self.disk.stat(&path).ok();
        self.end = end;
        Ok(())
    }

    /// The bytes of a segment up to its last good line: what is published of it.
    pub(super) fn bytes(&self, segment: u32) -> Result<Vec<u8>, Error> {
        let path = self.path(segment);
        let mut bytes = files::read_small(self.disk.as_ref(), &path, 2 * gather::MAX_FILE)
            .map_err(|error| Error::io(&path, error))?;
        let good = if segment == self.end.segment { self.end.size } else { self.good_len(&path)? };
        bytes.truncate(usize::try_from(good).unwrap_or(usize::MAX));
        Ok(bytes)
    }

    /// How long a segment is here; of one that is no longer written to, with whatever its disk left after its end.
    pub(super) fn len(&self, segment: u32) -> u64 {
        let whole = || self.disk.stat(&self.path(segment)).map_or(0, |stat| stat.len);
        if segment == self.end.segment { self.end.size } else { whole() }
    }

    fn good_len(&self, path: &Path) -> Result<u64, Error> {
        let (found, _) = self.read(path)?;
        Ok(found.lines.last().map_or(0, |line| line.range.end as u64 + 1))
    }

    /// Which of the hashes stand in no file of the own log.
    pub(super) fn lacks(&self, mut hashes: HashSet<Hash>) -> Result<HashSet<Hash>, Error> {
        for segment in self.segments()? {
            for line in self.read(&self.path(segment))?.0.lines {
                hashes.remove(&line.hash);
            }
        }
        Ok(hashes)
    }

    fn create(&mut self, path: &Path, text: &str) -> Result<(), Error> {
        let failed = |error| Error::io(path, error);
        let done = self.disk.append(path, Open::New).and_then(|mut file| {
            files::write_all(file.as_mut(), text.as_bytes())?;
            file.sync()?;
            self.disk.sync_dir(&self.dir)
        });
        done.map_err(|error| {
            // What cannot be removed holds no acknowledged line and is seen by the next load.
            let _ = self.disk.remove(path);
            failed(error)
        })
    }

    fn append(&mut self, text: &str) -> Result<(), Error> {
        let path = self.path(self.end.segment);
        if self.end.torn {
            // The one place where bytes are cut: an own file, after its last whole line.
            self.cut_tail(&path).map_err(|error| Error::io(&path, error))?;
            self.end.torn = false;
        }
        append_durably(self.disk.as_ref(), &path, self.end.size, text.as_bytes()).map_err(|why| {
            self.end.torn = !why.rolled_back;
            self.end.tainted = why.sync_failed || !why.rolled_back;
            Error::io(&path, why.error)
        })
    }

    fn cut_tail(&self, path: &Path) -> io::Result<()> {
        let mut file = self.disk.append(path, Open::Existing)?;
        file.truncate(self.end.size)?;
        file.sync()
    }
}
