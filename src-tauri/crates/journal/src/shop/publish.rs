//! Publishing: the own log in the folder is a copy of the own log in the private journal.
//!
//! What is missing, shorter or different there is written again; what is a good beginning is appended to. A
//! file of another device is never touched.

use std::io;
use std::path::{Path, PathBuf};

use super::{NotPublished, Published, Shop};
use crate::disk::{Kind, Open, Stat};
use crate::error::{Error, Trouble};
use crate::files::{append_durably, make_dirs, parse_segment_name, read_small, segment_name, write_atomic};
use crate::gather::{self, MAX_FILE};
use crate::home::SHOP_FILE;
use crate::scan::{Root, canonical_place};
use crate::segment::{self, Context, Depth, Known};
use crate::sight::veiled;
use crate::wire::Signed;

/// What stands at the folder's path.
pub(super) enum Look {
    /// This shop.
    Here,
    /// A folder without a readable `shop.json`: new, emptied, or damaged.
    Bare,
    /// Nothing.
    Missing,
}

/// A published segment as it was left or found: while its stamp stays, so do its bytes.
/// Beside the stamp, how long the segment was here.
pub(super) type Left = (Stat, u64);

impl Shop {
    /// Looks at the folder; the error says why nothing can be published there.
    pub(super) fn look_at_folder(&self) -> Result<Look, NotPublished> {
        match self.home.shop_file(&self.folder) {
            Ok(file) if file.id == self.file.id => Ok(Look::Here),
            Ok(_) => Err(NotPublished::OtherShop),
            Err(Error::NewerFormat { .. }) => Err(NotPublished::NewerFormat),
            Err(Error::NotAShop { .. } | Error::ShopFile { .. }) => Ok(Look::Bare),
            Err(Error::FolderMissing { .. }) => Ok(Look::Missing),
            Err(error) => Err(reason(&error)),
        }
    }

    /// Publishes; the home's lock is held and the end of the own log is known.
    pub(super) fn publish_under_lock(&mut self) -> Published {
        let done = self.try_publish();
        self.last_published = done.unwrap_or_else(Published::NotYet);
        self.last_published
    }

    fn try_publish(&mut self) -> Result<Published, NotPublished> {
        if self.behind.is_some() {
            return Err(NotPublished::HomeBehind);
        }
        let look = self.look_at_folder()?;
        let disk = self.home.disk.clone();
        let rebuilt =
            !matches!(look, Look::Here) && !crate::files::is_dir(disk.as_ref(), &self.folder.join("logs"));
        if !matches!(look, Look::Here) {
            self.place_shop_file(&look)?;
        }
        if self.sight.keys.lacks_key() {
            self.announce()?;
            return Err(NotPublished::NoPassphrase);
        }
        self.publish_photos()?;
        let segments = self.own.segments().map_err(|error| reason(&error))?;
        if !segments.is_empty() {
            let names = ["logs".to_string(), self.device().to_string()];
            let dir = make_dirs(disk.as_ref(), &self.folder, &names).map_err(|error| why(&error))?;
            for segment in segments {
                self.publish_segment(segment, &dir)?;
            }
        }
        if rebuilt {
            self.give_back_under_lock().map_err(|error| reason(&error))?;
            return Ok(Published::Rebuilt);
        }
        Ok(Published::Yes)
    }

    /// Puts the first header of the own log into the folder, where nothing of it is there: so that an owner sees
    /// a device that was not told the passphrase yet. It says no more than id and key.
    fn announce(&self) -> Result<(), NotPublished> {
        let disk = self.home.disk.as_ref();
        let place = self.folder.join("logs").join(canonical_place(self.device(), 1));
        if self.own.end.segment == 0 || disk.stat(&place).is_ok() {
            return Ok(());
        }
        let bytes = self.own.bytes(1).map_err(|error| reason(&error))?;
        let header = bytes.split_inclusive(|&byte| byte == b'\n').next().unwrap_or_default();
        let names = ["logs".to_string(), self.device().to_string()];
        make_dirs(disk, &self.folder, &names).map_err(|error| why(&error))?;
        self.rewrite(&place, header)
    }

    /// Puts `shop.json` back, byte for byte as it was founded. The folder itself is made if its parent is there:
    /// a medium that is not plugged in has none.
    fn place_shop_file(&self, look: &Look) -> Result<(), NotPublished> {
        let disk = self.home.disk.as_ref();
        if matches!(look, Look::Missing) {
            disk.make_dir(&self.folder).map_err(|error| why(&error))?;
        }
        let path = self.folder.join(SHOP_FILE);
        let tag = self.device().to_string();
        write_atomic(disk, &path, self.file.text.as_bytes(), &tag, Open::New).map_err(|error| why(&error))
    }

    fn publish_segment(&mut self, segment: u32, dir: &Path) -> Result<(), NotPublished> {
        let path = dir.join(segment_name(self.device(), segment));
        let stat = self.home.disk.stat(&path).ok();
        let is_current = segment == self.own.end.segment;
        match (stat, self.left.get(&segment)) {
            (Some(stat), Some((left, len))) if stat == *left && *len == self.own.len(segment) => {
                return Ok(());
            }
            (Some(stat), _) if stat.kind != Kind::File => return Err(NotPublished::Failed),
            _ => {}
        }
        let known_len =
            self.left.remove(&segment).filter(|(left, _)| Some(*left) == stat).map(|(left, _)| left.len);
        let bytes = self.own.bytes(segment).map_err(|error| reason(&error))?;
        let bytes = veiled(bytes, self.sight.keys.current());
        self.bring_up(&path, &bytes, known_len, segment)?;
        let stat = self.home.disk.stat(&path).map_err(|error| why(&error))?;
        if stat.len != bytes.len() as u64 {
            // Exchanged between two calls; the next publishing finds out what it is now.
            return Err(NotPublished::Failed);
        }
        self.left.insert(segment, (stat, self.own.len(segment)));
        self.suspect.remove(&segment);
        if let (true, Some(head)) = (is_current, self.own.end.head) {
            let name = format!("logs/{}", canonical_place(self.device(), segment));
            self.scanner.grew(Root::Folder, &name, stat, (self.own.end.last_seq, head));
        }
        Ok(())
    }

    /// Makes the file at `path` hold `bytes`: by appending where it holds their beginning.
    fn bring_up(
        &mut self,
        path: &Path,
        bytes: &[u8],
        known_len: Option<u64>,
        segment: u32,
    ) -> Result<(), NotPublished> {
        let there = match known_len {
            Some(len) => {
                Some(bytes.get(..usize::try_from(len).unwrap_or(usize::MAX)).unwrap_or_default().to_vec())
            }
            None => self.published_bytes(path)?,
        };
        match there {
            Some(there) if there == bytes && !self.suspect.contains(&segment) => Ok(()),
            Some(there)
                if !there.is_empty() && bytes.starts_with(&there) && !self.suspect.contains(&segment) =>
            {
                self.append_rest(path, &there, bytes, segment)
            }
            _ => self.rewrite(path, bytes),
        }
    }

    fn rewrite(&self, path: &Path, bytes: &[u8]) -> Result<(), NotPublished> {
        let tag = self.device().to_string();
        write_atomic(self.home.disk.as_ref(), path, bytes, &tag, Open::New).map_err(|error| why(&error))
    }

    fn append_rest(
        &mut self,
        path: &Path,
        there: &[u8],
        bytes: &[u8],
        segment: u32,
    ) -> Result<(), NotPublished> {
        let (len, rest) = (there.len() as u64, &bytes[there.len()..]);
        append_durably(self.home.disk.as_ref(), path, len, rest).map_err(|failed| {
            if failed.sync_failed {
                // What the system says of this file can no longer be believed: next time it is written anew.
                self.suspect.insert(segment);
            }
            why(&failed.error)
        })
    }

    fn published_bytes(&self, path: &Path) -> Result<Option<Vec<u8>>, NotPublished> {
        match read_small(self.home.disk.as_ref(), path, 2 * MAX_FILE) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::InvalidData) => {
                Ok(None)
            }
            Err(error) => Err(why(&error)),
        }
    }

    /// Before the first write after any change: whether the folder holds entries of this device that its home
    /// does not. Then the home was lost, set back or copied, and writing on would fork the log.
    pub(super) fn refuse_if_behind(&mut self) -> Result<(), Error> {
        if self.behind.is_none() && matches!(self.look_at_folder(), Ok(Look::Here | Look::Bare)) {
            for path in self.changed_own_files() {
                self.behind = self.behind.max(self.unknown_own_entry(&path));
            }
        }
        match self.behind {
            Some(folder) => {
                Err(Error::HomeBehind { device: self.device(), own: self.own.end.last_seq, folder })
            }
            None => Ok(()),
        }
    }

    /// Own files in the folder that are not as this process left them.
    fn changed_own_files(&self) -> Vec<PathBuf> {
        let disk = self.home.disk.as_ref();
        let dir = self.folder.join("logs").join(self.device().to_string());
        let names =
            if crate::files::is_dir(disk, &dir) { disk.list(&dir).unwrap_or_default() } else { Vec::new() };
        let changed = names.into_iter().filter(|(name, stat)| {
            let segment = name.to_str().and_then(parse_segment_name).map(|(_, segment)| segment);
            let left = segment.and_then(|segment| self.left.get(&segment));
            stat.kind == Kind::File && !stat.placeholder && left.is_none_or(|(left, _)| left != stat)
        });
        changed.map(|(name, _)| dir.join(name)).collect()
    }

    /// The greatest number among the own entries in a file that the index does not know.
    fn unknown_own_entry(&self, path: &Path) -> Option<u64> {
        let source = self.home.disk.read(path).ok()?;
        let gathered = gather::gather(source, false).ok()?;
        let keys = [(self.device(), self.identity.key.public())].into();
        let known = |hash: &trowelogue_core::id::Hash| self.scanner.index.known(hash);
        let context = Context { shop: self.file.hash(), keys: &keys, known: &known, depth: Depth::Newest };
        let found = segment::read(&gathered, &context);
        let unknown = found.lines.iter().filter(|line| known(&line.hash) == Known::No);
        let numbers = unknown.filter_map(|line| match &line.signed {
            Signed::Entry(entry) if entry.device == self.device() => Some(entry.seq),
            _ => None,
        });
        numbers.max()
    }
}

pub(super) fn reason(error: &Error) -> NotPublished {
    match error {
        Error::ReadOnly { .. } => NotPublished::ReadOnly,
        Error::DiskFull { .. } => NotPublished::DiskFull,
        Error::FolderMissing { .. } | Error::NotAFolder { .. } => NotPublished::FolderMissing,
        Error::Io { source, .. } => why(source),
        _ => NotPublished::Failed,
    }
}

pub(super) fn why(error: &io::Error) -> NotPublished {
    match Trouble::of(error) {
        Trouble::Full => NotPublished::DiskFull,
        Trouble::ReadOnly => NotPublished::ReadOnly,
        Trouble::Missing => NotPublished::FolderMissing,
        Trouble::Other => NotPublished::Failed,
    }
}
