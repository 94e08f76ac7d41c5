//! The mirror: every verified line of the others ever seen, kept in the private journal.
//!
//! `journal/<device>/<device>-<segment>.jsonl` holds the first chain seen of a segment, in order, each line
//! once. A line that contradicts it (a fork) goes with its whole chain into a file of its own,
//! `<device>-<segment>.<8 digits of its hash>.jsonl`. Of this device's own log only such branches are written
//! here: its own files are written by appending alone.

mod chain;

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trowelogue_core::id::{DeviceId, Hash};

use crate::disk::{Disk, Open};
use crate::files::{append_durably, make_dirs, read_small, segment_name, write_atomic};
use crate::gather::MAX_FILE;
use crate::home::Home;
use crate::keys::PublicKey;

pub(crate) use chain::Outline;
use chain::{Chain, Fit};

/// The most branches kept of one segment.
const MAX_BRANCHES: usize = 64;
const TAG: &str = "new";

/// Writes verified lines into the private journal, under the home's lock.
pub(crate) struct Mirror {
    home: Home,
    disk: Arc<dyn Disk>,
    dir: PathBuf,
    own: DeviceId,
    /// Taken when the first line has to be written.
    lock: Option<Box<dyn Send>>,
}

impl Mirror {
    pub(crate) fn new(home: &Home, dir: PathBuf, own: DeviceId) -> Self {
        Self { home: home.clone(), disk: home.disk.clone(), dir, own, lock: None }
    }

    /// Whether lines may have been written.
    pub(crate) fn was_used(&self) -> bool {
        self.lock.is_some()
    }

    /// Takes the lines of one file that count. What is there already is left alone.
    pub(crate) fn take(
        &mut self,
        device: DeviceId,
        segment: Option<u32>,
        key: Option<&PublicKey>,
        lines: &[Outline],
        bytes: &[u8],
    ) -> io::Result<()> {
        let want = Chain::of(lines, bytes);
        if want.is_empty() {
            return Ok(());
        }
        if self.lock.is_none() {
            self.lock = Some(self.home.lock().map_err(io::Error::other)?);
        }
        let dir = make_dirs(self.disk.as_ref(), &self.dir, &[device.to_string()])?;
        self.keep_key(&dir, key)?;
        // Lines whose segment is not known are kept under number 0, which no header has.
        self.keep(&dir.join(segment_name(device, segment.unwrap_or(0))), device, &want)
    }

    /// The key stands beside the lines, so that they can be checked if their header is lost.
    fn keep_key(&self, dir: &Path, key: Option<&PublicKey>) -> io::Result<()> {
        let path = dir.join("key");
        match key {
            Some(key) if self.disk.stat(&path).is_err() => {
                write_atomic(self.disk.as_ref(), &path, format!("{key}\n").as_bytes(), TAG, Open::New)
            }
            _ => Ok(()),
        }
    }

    fn keep(&self, main: &Path, device: DeviceId, want: &Chain) -> io::Result<()> {
        let mut path = main.to_path_buf();
        for branch in 0..MAX_BRANCHES {
            let bytes = self.bytes_at(&path)?;
            let have = Chain::parse(&bytes);
            let sealed_off = branch == 0 && device == self.own;
            match have.fit(want, sealed_off) {
                Fit::Nothing => return Ok(()),
                Fit::Append(rest) if have.is_whole() => return self.grow(&path, bytes.len(), &rest),
                Fit::Append(_) | Fit::Merge => {
                    return write_atomic(self.disk.as_ref(), &path, &have.merged(want), TAG, Open::New);
                }
                Fit::Conflict(first) => path = branch_path(main, &first),
            }
        }
        Err(io::Error::other("more branches of one segment than are kept"))
    }

    fn bytes_at(&self, path: &Path) -> io::Result<Vec<u8>> {
        match read_small(self.disk.as_ref(), path, 2 * MAX_FILE) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Vec::new()),
            other => other,
        }
    }

    fn grow(&self, path: &Path, len: usize, rest: &[u8]) -> io::Result<()> {
        if len == 0 {
            return write_atomic(self.disk.as_ref(), path, rest, TAG, Open::New);
        }
        append_durably(self.disk.as_ref(), path, len as u64, rest).map_err(|failed| failed.error)
    }
}

fn branch_path(main: &Path, first: &Hash) -> PathBuf {
    let stem = main.file_stem().unwrap_or_default().to_string_lossy();
    main.with_file_name(format!("{stem}.{}.jsonl", &first.to_string()[..8]))
}

/// Whether a file name in a device's mirror is that of a branch.
pub(crate) fn is_branch(name: &str) -> bool {
    name.ends_with(".jsonl") && crate::files::parse_segment_name(name).is_none()
}
