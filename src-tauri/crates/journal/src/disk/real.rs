//! The real file system.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::{Append, Disk, Kind, Open, Stat};

/// How long a waiting process sleeps between two tries for a lock.
const LOCK_PAUSE: Duration = Duration::from_millis(4);

/// The real file system.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn stat(&self, path: &Path) -> io::Result<Stat> {
        fs::symlink_metadata(path).map(|meta| stat(&meta))
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<(std::ffi::OsString, Stat)>> {
        let mut names = Vec::new();
        for item in fs::read_dir(dir)? {
            let item = item?;
            // A name that vanished between the two calls is simply not there.
            match item.metadata() {
                Ok(meta) => names.push((item.file_name(), stat(&meta))),
                Err(error) if error.kind() == io::ErrorKind::NotFound => {}
                Err(error) => return Err(error),
            }
        }
        Ok(names)
    }

    fn read(&self, path: &Path) -> io::Result<Box<dyn io::Read + Send>> {
        let file = File::open(path)?;
        if !file.metadata()?.is_file() {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "not a regular file"));
        }
        Ok(Box::new(file))
    }

    fn append(&self, path: &Path, how: Open) -> io::Result<Box<dyn Append>> {
        let mut options = OpenOptions::new();
        options.append(true).create_new(how != Open::Existing);
        #[cfg(unix)]
        if how == Open::NewPrivate {
            std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        }
        Ok(Box::new(Appending(options.open(path)?)))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn make_dir(&self, path: &Path) -> io::Result<()> {
        fs::create_dir(path)
    }

    #[cfg(unix)]
    fn sync_dir(&self, path: &Path) -> io::Result<()> {
        match File::open(path)?.sync_all() {
            // Some network and FUSE file systems have no such call for directories.
            Err(error)
                if matches!(error.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) =>
            {
                Ok(())
            }
            other => other,
        }
    }

    #[cfg(not(unix))]
    fn sync_dir(&self, _path: &Path) -> io::Result<()> {
        Ok(())
    }

    fn canonical(&self, path: &Path) -> io::Result<PathBuf> {
        fs::canonicalize(path)
    }

    fn lock(&self, path: &Path, wait: Duration) -> io::Result<Option<Box<dyn Send>>> {
        let file = OpenOptions::new().create(true).truncate(false).write(true).open(path)?;
        let until = Instant::now() + wait;
        loop {
            match file.try_lock() {
                Ok(()) => return Ok(Some(Box::new(file))),
                Err(TryLockError::Error(error)) => return Err(error),
                Err(TryLockError::WouldBlock) if Instant::now() >= until => return Ok(None),
                Err(TryLockError::WouldBlock) => std::thread::sleep(LOCK_PAUSE),
            }
        }
    }
}

struct Appending(File);

impl Append for Appending {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        io::Write::write(&mut self.0, bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.0.sync_all()
    }

    fn truncate(&mut self, len: u64) -> io::Result<()> {
        self.0.set_len(len)
    }
}

fn stat(meta: &fs::Metadata) -> Stat {
    let kind = match meta.file_type() {
        kind if kind.is_symlink() => Kind::Other,
        kind if kind.is_file() => Kind::File,
        kind if kind.is_dir() => Kind::Dir,
        _ => Kind::Other,
    };
    Stat { kind, len: meta.len(), stamp: stamp(meta), placeholder: placeholder(meta) }
}

#[cfg(unix)]
fn stamp(meta: &fs::Metadata) -> (i128, i128, u64) {
    use std::os::unix::fs::MetadataExt;
    let nanos = |seconds: i64, part: i64| i128::from(seconds) * 1_000_000_000 + i128::from(part);
    (nanos(meta.mtime(), meta.mtime_nsec()), nanos(meta.ctime(), meta.ctime_nsec()), meta.ino())
}

#[cfg(not(unix))]
fn stamp(meta: &fs::Metadata) -> (i128, i128, u64) {
    let since_1970 = |at: std::time::SystemTime| at.duration_since(std::time::UNIX_EPOCH).ok();
    let modified = meta.modified().ok().and_then(since_1970);
    (modified.map_or(0, |span| i128::try_from(span.as_nanos()).unwrap_or(i128::MAX)), 0, 0)
}

/// Windows: offline, recall on open, recall on data access.
#[cfg(windows)]
fn placeholder(meta: &fs::Metadata) -> bool {
    const AWAY: u32 = 0x0000_1000 | 0x0004_0000 | 0x0040_0000;
    std::os::windows::fs::MetadataExt::file_attributes(meta) & AWAY != 0
}

/// macOS: the content of a "dataless" file is not on this machine.
#[cfg(target_os = "macos")]
fn placeholder(meta: &fs::Metadata) -> bool {
    const SF_DATALESS: u32 = 0x4000_0000;
    std::os::macos::fs::MetadataExt::st_flags(meta) & SF_DATALESS != 0
}

#[cfg(not(any(windows, target_os = "macos")))]
fn placeholder(_meta: &fs::Metadata) -> bool {
    false
}
