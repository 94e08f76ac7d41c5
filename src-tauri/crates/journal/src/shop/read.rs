//! Reading and sweeping: the union of private journal and folder.

use std::collections::{HashMap, HashSet};

use trowelogue_core::entry::{Merged, Record};
use trowelogue_core::id::Hash;

use super::publish::Look;
use super::{Reading, Shop, Sweep};
use crate::error::Error;
use crate::fault::{Break, BreakKind, Note, NoteKind};
use crate::index::Index;
use crate::mirror::{self, Mirror};
use crate::scan::{Root, Round, Scanner};
use crate::segment::Depth;
use crate::shopfile::ShopFile;

impl Shop {
    /// Reads everything: private journal and folder, merged; what is new in the folder goes into the journal.
    /// The folder itself is not written to.
    pub fn read(&mut self) -> Result<Reading, Error> {
        let mut round = self.read_journal()?;
        let folder_here = self.read_folder(&mut round)?;
        self.pending = Round::default();
        self.was_read = true;
        let merged = merged(&self.file, &self.scanner.index, round.records);
        let (breaks, notes) = self.report();
        Ok(Reading { merged, breaks, notes, folder_here })
    }

    /// Looks at what changed in the folder since the last [`Shop::read`] or sweep, and publishes what is due.
    /// Before any read, everything is new.
    pub fn sweep(&mut self) -> Result<Sweep, Error> {
        let mut round = if self.was_read {
            self.own_round()?
        } else {
            self.was_read = true;
            self.read_journal()?
        };
        round.join(std::mem::take(&mut self.pending));
        let folder_here = self.read_folder(&mut round)?;
        let published = self.publish()?;
        round.join(std::mem::take(&mut self.pending));
        let (breaks, notes) = self.report();
        let records = link(&self.scanner.index, round.records);
        Ok(Sweep {
            records,
            devices: round.devices,
            reread: round.reread,
            breaks,
            notes,
            folder_here,
            published,
        })
    }

    /// Reads the private journal if that was not done yet: appending needs its own log and the others' heads.
    pub(super) fn ensure_read(&mut self) -> Result<(), Error> {
        if self.scanner.index.is_empty() && self.scanner.tracked.is_empty() {
            self.read_journal()?;
        }
        Ok(())
    }

    fn own_round(&mut self) -> Result<Round, Error> {
        let journal = self.journal_dir();
        let device = self.device().to_string();
        self.scanner.round(Root::Journal, &journal, &device, None)
    }

    /// Looks at the files of the own log: what was written since the last look stands in files nobody has read yet.
    /// What comes of it waits for the next sweep.
    pub(super) fn look_at_own_log(&mut self) -> Result<(), Error> {
        let round = self.own_round()?;
        self.pending.join(round);
        Ok(())
    }

    fn read_journal(&mut self) -> Result<Round, Error> {
        let disk = self.home.disk.clone();
        self.scanner = Scanner::new(disk.clone(), &self.file, Depth::Newest, Some(self.device()))
            .seeing(self.sight.clone());
        self.behind = None;
        let journal = self.journal_dir();
        for (name, _) in disk.list(&journal).unwrap_or_default() {
            self.scanner.index.learn_key_file(disk.as_ref(), &journal.join(name).join("key"));
        }
        let round = self.scanner.round(Root::Journal, &journal, "", None)?;
        let own_dir = format!("{}/", self.device());
        let own = self.scanner.files(Root::Journal).filter(|(name, _)| name.starts_with(&own_dir));
        let branches = own.filter(|(name, _)| mirror::is_branch(name.rsplit('/').next().unwrap_or_default()));
        self.behind = branches.filter_map(|(_, tracked)| tracked.range).map(|(_, last)| last).max();
        Ok(round)
    }

    /// Reads the folder into `round`; false where it is out of reach.
    fn read_folder(&mut self, round: &mut Round) -> Result<bool, Error> {
        if !matches!(self.look_at_folder(), Ok(Look::Here | Look::Bare)) {
            return Ok(false);
        }
        let mut mirror = Mirror::new(&self.home, self.journal_dir(), self.device());
        let folder = self.folder.clone();
        match self.scanner.round(Root::Folder, &folder, "logs", Some(&mut mirror)) {
            Ok(found) => round.join(found),
            // Unplugged in the middle: the private journal goes on alone.
            Err(_) => return Ok(false),
        }
        let mirrored = mirror.was_used();
        drop(mirror);
        if mirrored {
            // So that the mirror is known when the folder is compared with it.
            let journal = self.journal_dir();
            round.join(self.scanner.round(Root::Journal, &journal, "", None)?);
        }
        self.settle_own_elsewhere()?;
        Ok(true)
    }

    /// Own entries that came from the folder: written by another process of this home a moment ago, or by a
    /// home that is ahead of this one.
    fn settle_own_elsewhere(&mut self) -> Result<(), Error> {
        let elsewhere = std::mem::take(&mut self.scanner.own_elsewhere);
        if elsewhere.is_empty() {
            return Ok(());
        }
        let unknown = self.own.lacks(elsewhere.iter().map(|(hash, _)| *hash).collect::<HashSet<Hash>>())?;
        let last = elsewhere.iter().filter(|(hash, _)| unknown.contains(hash)).map(|(_, seq)| *seq).max();
        self.behind = self.behind.max(last);
        Ok(())
    }

    fn report(&self) -> (Vec<Break>, Vec<Note>) {
        let (breaks, mut notes) = self.scanner.report();
        for behind in self.scanner.behind_the_mirror() {
            let own = behind.device == self.device();
            let kind = if own { NoteKind::NotInFolder } else { NoteKind::WentBackwards };
            let range = Some((behind.there + 1, behind.known.max(behind.there + 1)));
            notes.push(Note { device: Some(behind.device), range, ..Note::of_file(kind, &behind.file) });
        }
        (pending_tails(breaks, &mut notes), notes)
    }
}

/// While reading, a tail without its newline has simply not arrived in full.
pub(super) fn pending_tails(breaks: Vec<Break>, notes: &mut Vec<Note>) -> Vec<Break> {
    let (torn, rest): (Vec<Break>, Vec<Break>) =
        breaks.into_iter().partition(|found| found.kind == BreakKind::TornTail);
    let pending = |torn: Break| Note { line: torn.line, ..Note::of_file(NoteKind::PendingTail, &torn.file) };
    notes.extend(torn.into_iter().map(pending));
    notes.sort();
    notes.dedup();
    rest
}

/// The input of the fold.
pub(super) fn merged(file: &ShopFile, index: &Index, records: Vec<Record>) -> Merged {
    let devices = index.devices().iter().map(|(device, state)| (*device, state.replaces)).collect();
    let (shop, name, founder) = (file.id, file.name.clone(), file.founder());
    let recovery = Some(*file.recovery.bytes());
    Merged { shop, name, founder, recovery, devices, records: link(index, best(records)) }
}

/// Names for each entry the one before it, now that all lines are known.
fn link(index: &Index, mut records: Vec<Record>) -> Vec<Record> {
    for record in records.iter_mut().filter(|record| record.after.is_none()) {
        record.after = index.entry_before(record.entry.prev);
    }
    records
}

/// Each entry once; of two that differ in their body only, the one that says more came later.
fn best(records: Vec<Record>) -> Vec<Record> {
    let places: HashMap<Hash, usize> =
        records.iter().enumerate().map(|(at, record)| (record.hash, at)).collect();
    if places.len() == records.len() {
        return records;
    }
    let mut at = 0..;
    records.into_iter().filter(|record| places.get(&record.hash).copied() == at.next()).collect()
}

impl Index {
    /// Learns the key that the mirror keeps beside a device's lines.
    fn learn_key_file(&mut self, disk: &dyn crate::disk::Disk, path: &std::path::Path) {
        let bytes = crate::files::read_small(disk, path, 64).unwrap_or_default();
        let key =
            std::str::from_utf8(&bytes).ok().and_then(|text| crate::keys::PublicKey::parse(text.trim_end()));
        if let Some(key) = key {
            self.learn_key(key);
        }
    }
}
