//! Small steps on files that must either happen or leave nothing behind.

use std::ffi::OsStr;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use trowelogue_core::id::DeviceId;

use crate::disk::{Append, Disk, Kind, Open};

/// How long a segment may get before it is sealed, in bytes.
pub(crate) const SEAL_AT: u64 = 1 << 20;

/// The name of a segment's file.
pub(crate) fn segment_name(device: DeviceId, segment: u32) -> String {
    format!("{device}-{segment:04}.jsonl")
}

/// Device and number from the name of a segment's file.
pub(crate) fn parse_segment_name(name: &str) -> Option<(DeviceId, u32)> {
    let (device, number) = name.strip_suffix(".jsonl")?.split_once('-')?;
    let device: DeviceId = device.parse().ok()?;
    let number: u32 = number.parse().ok()?;
    (segment_name(device, number) == name).then_some((device, number))
}

/// Reads a file of at most `most` bytes.
pub(crate) fn read_small(disk: &dyn Disk, path: &Path, most: usize) -> io::Result<Vec<u8>> {
    if disk.stat(path)?.kind != Kind::File {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "not a regular file"));
    }
    let mut bytes = Vec::new();
    disk.read(path)?.take(most as u64 + 1).read_to_end(&mut bytes)?;
    if bytes.len() > most {
        return Err(io::Error::new(io::ErrorKind::InvalidData, "longer than it may be"));
    }
    Ok(bytes)
}

/// Puts a whole file in place: temporary file, fsync, rename, fsync of the directory. `tag` keeps two devices
/// from using one temporary name.
pub(crate) fn write_atomic(
    disk: &dyn Disk,
    path: &Path,
    bytes: &[u8],
    tag: &str,
    how: Open,
) -> io::Result<()> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let temp = path.with_file_name(format!(".{name}.{tag}.tmp"));
    let done = write_new(disk, &temp, bytes, how).and_then(|()| disk.rename(&temp, path));
    if let Err(error) = done {
        // What cannot be removed is overwritten by the next try; readers pass over its name.
        let _ = disk.remove(&temp);
        return Err(error);
    }
    sync_parent(disk, path)
}

fn write_new(disk: &dyn Disk, path: &Path, bytes: &[u8], how: Open) -> io::Result<()> {
    let mut file = match disk.append(path, how) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            disk.remove(path)?;
            disk.append(path, how)?
        }
        other => other?,
    };
    write_all(file.as_mut(), bytes)?;
    file.sync()
}

/// Why an append did not happen.
#[derive(Debug)]
pub(crate) struct AppendFailed {
    /// What the system said.
    pub(crate) error: io::Error,
    /// The file is as long as before; otherwise it may end in part of a line.
    pub(crate) rolled_back: bool,
    /// The bytes were written but not made durable: the file is not to be trusted any more.
    pub(crate) sync_failed: bool,
}

impl From<io::Error> for AppendFailed {
    fn from(error: io::Error) -> Self {
        Self { error, rolled_back: true, sync_failed: false }
    }
}

/// Appends in one open-write-fsync-close. A short or failed write, or a failed fsync, is rolled back to `len`.
pub(crate) fn append_durably(
    disk: &dyn Disk,
    path: &Path,
    len: u64,
    bytes: &[u8],
) -> Result<(), AppendFailed> {
    let mut file = disk.append(path, Open::Existing)?;
    let written = write_all(file.as_mut(), bytes);
    let sync_failed = written.is_ok();
    match written.and_then(|()| file.sync()) {
        Ok(()) => Ok(()),
        Err(error) => {
            let rolled_back = file.truncate(len).is_ok() && file.sync().is_ok();
            Err(AppendFailed { error, rolled_back, sync_failed })
        }
    }
}

/// Writes all bytes, in one call where the system takes them in one.
pub(crate) fn write_all(file: &mut dyn Append, mut bytes: &[u8]) -> io::Result<()> {
    while !bytes.is_empty() {
        match file.write(bytes) {
            Ok(0) => return Err(io::ErrorKind::WriteZero.into()),
            Ok(count) => bytes = &bytes[count.min(bytes.len())..],
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(())
}

/// Makes the directories `names` below `base`, one after the other. A link in their place is refused.
pub(crate) fn make_dirs<S: AsRef<OsStr>>(disk: &dyn Disk, base: &Path, names: &[S]) -> io::Result<PathBuf> {
    let mut path = base.to_path_buf();
    for name in names {
        path.push(name.as_ref());
        match disk.make_dir(&path) {
            Ok(()) => sync_parent(disk, &path)?,
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            // A read-only medium refuses before it looks whether the directory is there.
            Err(error) if !is_dir(disk, &path) => return Err(error),
            Err(_) => {}
        }
        if !is_dir(disk, &path) {
            return Err(io::Error::new(io::ErrorKind::NotADirectory, "not a directory"));
        }
    }
    Ok(path)
}

/// Whether a directory, not a link to one, stands there.
pub(crate) fn is_dir(disk: &dyn Disk, path: &Path) -> bool {
    disk.stat(path).is_ok_and(|stat| stat.kind == Kind::Dir)
}

fn sync_parent(disk: &dyn Disk, path: &Path) -> io::Result<()> {
    path.parent().map_or(Ok(()), |dir| disk.sync_dir(dir))
}
