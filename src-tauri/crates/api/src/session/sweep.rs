//! Taking in what others wrote, and publishing what is still due here.

use trowelogue_journal as journal;

use super::Session;
use crate::{Result, faults};

impl Session {
    /// Looks at what arrived in the folder since it was read last, takes it in, and publishes what is due.
    ///
    /// # Errors
    /// The private journal cannot be read, or, for a folder never joined, the folder.
    pub(crate) fn sweep(&mut self) -> Result<()> {
        let lang = self.voice.lang;
        let fault = |error: journal::Error| faults::journal(&error, lang);
        let Some(link) = &mut self.link else {
            let reading = journal::read_folder(&self.folder).map_err(fault)?;
            self.look_again(reading);
            return Ok(());
        };
        let sweep = link.sweep().map_err(fault)?;
        self.published = Some(sweep.published);
        if sweep.reread {
            let reading = link.read().map_err(fault)?;
            self.view.replace(reading);
            return self.obey();
        }
        self.view.take(sweep.records, sweep.devices);
        self.view.breaks = sweep.breaks;
        self.view.notes = sweep.notes;
        self.view.folder_here = sweep.folder_here;
        self.obey()
    }

    /// Puts back into the folder what it has lost of other devices' logs, as copies under this device's own name;
    /// their own files are theirs to mend. Gives the files written.
    ///
    /// # Errors
    /// This home has not joined, or the folder cannot be written.
    pub fn restore(&mut self) -> Result<Vec<String>> {
        self.joined()?;
        let lang = self.voice.lang;
        let Some(link) = &mut self.link else { return Ok(Vec::new()) };
        let written = link.give_back().map_err(|error| faults::journal(&error, lang))?;
        Ok(written.iter().map(|path| path.display().to_string()).collect())
    }

    /// A folder that is only looked at is read anew; what is the same as before changes nothing.
    fn look_again(&mut self, reading: journal::Reading) {
        if reading.merged != self.view.merged {
            self.view.replace(reading);
        } else {
            self.view.breaks = reading.breaks;
            self.view.notes = reading.notes;
            self.view.folder_here = reading.folder_here;
        }
    }

    /// Entries of this device that have not been seen in the folder yet.
    pub(crate) fn not_in_folder(&self) -> u64 {
        use journal::Published;
        match (&self.link, self.published) {
            (None, _) | (_, Some(Published::Yes | Published::Rebuilt)) => 0,
            (Some(link), _) => self.last_own().saturating_sub(link.last_in_folder()),
        }
    }

    /// The number of this device's newest entry.
    pub(crate) fn last_own(&self) -> u64 {
        let own = self.device().and_then(|device| self.shop().devices.get(&device));
        own.map_or(0, |device| device.last_seq)
    }

    /// Whether an entry stands in the folder; those of other devices came from there.
    pub(crate) fn is_in_folder(&self, step: &trowelogue_core::shop::Step) -> bool {
        Some(step.device) != self.device() || step.order.seq + self.not_in_folder() <= self.last_own()
    }
}
