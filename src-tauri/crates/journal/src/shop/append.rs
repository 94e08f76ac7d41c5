//! Appending: under the home's lock, privately first, then to the folder.

use chrono::Datelike;
use trowelogue_core::moment::Moment;

use super::compose::Batch;
use super::{Appended, Draft, Published, Shop};
use crate::error::Error;
use crate::files::make_dirs;
use crate::scan::Root;

/// From how far ahead of the wall the log's clock is spoken of: ten minutes, in milliseconds.
const CLOCK_JUMP_MS: i64 = 10 * 60_000;

impl Shop {
    /// Appends a batch, all or nothing: one write and one fsync in the private journal, then publishing. A
    /// folder out of reach or read-only is no error: see [`Appended::published`].
    pub fn append(&mut self, drafts: Vec<Draft>, now: Moment) -> Result<Appended, Error> {
        if !(1970..=2200).contains(&now.year()) {
            return Err(Error::BadInput(format!("the clock shows the year {}; set it first", now.year())));
        }
        self.ensure_read()?;
        let home = self.home.clone();
        let lock = home.lock()?;
        self.refresh_own()?;
        self.refuse_if_behind()?;
        let mut records = Vec::new();
        if !drafts.is_empty() {
            let Batch { plan, lines } = self.compose(drafts, now)?;
            self.make_own_dir()?;
            self.write_privately(plan)?;
            records.extend(lines.into_iter().filter_map(|line| self.scanner.index.absorb(line).record));
            self.note_own_growth();
        }
        let published = self.publish_under_lock();
        drop(lock);
        let ahead = records.first().map_or(0, |record| record.entry.clock.ms - now.timestamp_millis());
        let clock_ahead_ms = (ahead > CLOCK_JUMP_MS).then_some(ahead);
        Ok(Appended { records, published, clock_ahead_ms, low_disk: std::mem::take(&mut self.low_disk) })
    }

    /// Publishes this device's log: what is missing, shorter or different in the folder is written again.
    pub fn publish(&mut self) -> Result<Published, Error> {
        self.ensure_read()?;
        let home = self.home.clone();
        let _lock = home.lock()?;
        self.refresh_own()?;
        Ok(self.publish_under_lock())
    }

    /// Takes in what another process of this home wrote since.
    pub(super) fn refresh_own(&mut self) -> Result<(), Error> {
        if self.own.refresh()? {
            let journal = self.journal_dir();
            let device = self.device().to_string();
            let round = self.scanner.round(Root::Journal, &journal, &device, None)?;
            self.pending.join(round);
        }
        Ok(())
    }

    fn make_own_dir(&self) -> Result<(), Error> {
        let journal = self.journal_dir();
        make_dirs(self.home.disk.as_ref(), &journal, &[self.device().to_string()])
            .map_err(|error| Error::io(&journal, error))?;
        Ok(())
    }

    /// Writes to the private journal. Where the disk is full, the home's reserve is given up for it.
    fn write_privately(&mut self, plan: super::own::Plan) -> Result<(), Error> {
        let spare = plan.clone();
        match self.own.write(plan) {
            Err(Error::DiskFull { .. }) if self.home.give_up_reserve() => {
                self.low_disk = true;
                // A seal that was written before the disk was full is not written again.
                let spare = super::own::Plan { seal: spare.seal.filter(|_| !self.own.end.sealed), ..spare };
                self.own.write(spare)
            }
            other => {
                self.home.keep_reserve();
                other
            }
        }
    }

    /// The file this process appended to need not be read again for that.
    fn note_own_growth(&mut self) {
        let (end, device) = (&self.own.end, self.device());
        let name = crate::scan::canonical_place(device, end.segment);
        if let (Some(head), Ok(stat)) = (end.head, self.home.disk.stat(&self.own.path(end.segment))) {
            self.scanner.grew(Root::Journal, &name, stat, (end.last_seq, head));
        }
    }
}
