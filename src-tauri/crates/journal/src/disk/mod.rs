//! Every call to the operating system's files, as a small trait, so that tests can make each one fail.

mod real;

use std::fmt::Debug;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

pub use real::RealDisk;

/// What a name in a folder is. Links are never followed and count as [`Kind::Other`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A regular file.
    File,
    /// A directory.
    Dir,
    /// Anything else: links, pipes, devices.
    Other,
}

/// What is known of a file without reading it. Never trusted to order anything; only to skip work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stat {
    /// What it is.
    pub kind: Kind,
    /// Bytes.
    pub len: u64,
    /// Modification time, change time (nanoseconds, 0 where the system has none) and file number.
    pub stamp: (i128, i128, u64),
    /// The content is not on this machine; reading would fetch it, or give zeros.
    pub placeholder: bool,
}

/// How a file is opened for appending.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Open {
    /// It must be there.
    Existing,
    /// It must not be there yet.
    New,
    /// It must not be there yet, and only the owner may read it (mode 0600 where there are modes).
    NewPrivate,
}

/// A file open for appending.
pub trait Append: Send {
    /// Writes at the end; may write less than asked, as the system may.
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize>;
    /// Returns once everything written stands on the medium.
    fn sync(&mut self) -> io::Result<()>;
    /// Cuts the file to `len` bytes.
    fn truncate(&mut self, len: u64) -> io::Result<()>;
}

/// The file system as the journal uses it.
pub trait Disk: Send + Sync + Debug {
    /// What stands at `path` itself; a link is not followed.
    fn stat(&self, path: &Path) -> io::Result<Stat>;
    /// Names in a directory with what they are.
    fn list(&self, dir: &Path) -> io::Result<Vec<(std::ffi::OsString, Stat)>>;
    /// Opens a regular file for reading from the start.
    fn read(&self, path: &Path) -> io::Result<Box<dyn io::Read + Send>>;
    /// Opens a file for appending.
    fn append(&self, path: &Path, how: Open) -> io::Result<Box<dyn Append>>;
    /// Renames over whatever stands at `to`.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Removes a file: this device's own temporary ones, and photos that were erased or stand under another name.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Makes one directory; its parent must be there.
    fn make_dir(&self, path: &Path) -> io::Result<()>;
    /// Returns once the names in a directory stand on the medium. Does nothing where systems have no such call.
    fn sync_dir(&self, path: &Path) -> io::Result<()>;
    /// The path without links and relative parts.
    fn canonical(&self, path: &Path) -> io::Result<PathBuf>;
    /// Takes the exclusive lock of the file at `path`, waiting at most `wait`; `None` if it stays taken.
    /// Held until the value is dropped.
    fn lock(&self, path: &Path, wait: Duration) -> io::Result<Option<Box<dyn Send>>>;
}
