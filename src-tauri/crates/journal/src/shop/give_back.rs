//! Giving back: what the folder lost of other devices' logs goes under this device's own `restored/`.

use std::path::PathBuf;

use super::Shop;
use crate::disk::Open;
use crate::error::Error;
use crate::files::{make_dirs, read_small, write_atomic};
use crate::gather::MAX_FILE;
use crate::scan::{Root, Scanner};
use crate::segment::{Depth, Known};
use crate::sight::veiled;

impl Shop {
    /// Writes what the folder lost of other devices' logs under `logs/<own>/restored/`; returns the files
    /// written. Nobody's own file is touched: its device publishes it again when it comes by.
    pub fn give_back(&mut self) -> Result<Vec<PathBuf>, Error> {
        self.ensure_read()?;
        let home = self.home.clone();
        let _lock = home.lock()?;
        self.give_back_under_lock()
    }

    pub(super) fn give_back_under_lock(&self) -> Result<Vec<PathBuf>, Error> {
        if self.sight.keys.lacks_key() {
            // What was read before the passphrase was set would be readable in the folder again.
            return Ok(Vec::new());
        }
        let disk = self.home.disk.clone();
        let mut folder = Scanner::new(disk.clone(), &self.file, Depth::Newest, None);
        for key in self.scanner.index.keys().values() {
            folder.index.learn_key(*key);
        }
        folder.round(Root::Folder, &self.folder, "logs", None)?;
        let mut written = Vec::new();
        for source in self.lost_files(&folder)? {
            let bytes =
                read_small(disk.as_ref(), &source, 2 * MAX_FILE).map_err(|e| Error::io(&source, e))?;
            let bytes = veiled(bytes, self.sight.keys.current());
            let names = ["logs".to_string(), self.device().to_string(), "restored".to_string()];
            let dir =
                make_dirs(disk.as_ref(), &self.folder, &names).map_err(|e| Error::io(&self.folder, e))?;
            let path = dir.join(source.file_name().unwrap_or_default());
            write_atomic(disk.as_ref(), &path, &bytes, "new", Open::New).map_err(|e| Error::io(&path, e))?;
            written.push(path);
        }
        Ok(written)
    }

    /// Files of the mirror with a line that no file in the folder holds.
    fn lost_files(&self, folder: &Scanner) -> Result<Vec<PathBuf>, Error> {
        let mut mirror = Scanner::new(self.home.disk.clone(), &self.file, Depth::Newest, None);
        for key in self.scanner.index.keys().values() {
            mirror.index.learn_key(*key);
        }
        mirror.round(Root::Journal, &self.journal_dir(), "", None)?;
        let lost: std::collections::BTreeSet<_> = mirror
            .index
            .devices()
            .keys()
            .filter(|device| **device != self.device())
            .filter(|device| {
                mirror.index.lines_of(**device).any(|(hash, _)| folder.index.known(&hash) == Known::No)
            })
            .collect();
        let files = mirror
            .files(Root::Journal)
            .filter(|(_, tracked)| tracked.device.is_some_and(|d| lost.contains(&d)));
        let held = |range: (u64, u64), device| folder_holds(folder, &mirror, device, range);
        let lacking =
            files.filter(|(_, t)| !t.device.zip(t.range).is_some_and(|(device, range)| held(range, device)));
        Ok(lacking.map(|(_, tracked)| tracked.path.clone()).collect())
    }
}

/// Whether the folder holds every entry of the mirror with numbers in `range`.
fn folder_holds(
    folder: &Scanner,
    mirror: &Scanner,
    device: trowelogue_core::id::DeviceId,
    (from, to): (u64, u64),
) -> bool {
    let mut lines = mirror.index.lines_of(device).filter(|(_, seq)| from <= *seq && *seq <= to);
    lines.all(|(hash, _)| folder.index.known(&hash) != Known::No)
}
