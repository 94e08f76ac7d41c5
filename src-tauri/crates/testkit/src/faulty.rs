//! A file system whose power can be cut: it loses, tears or garbles what was not made durable.
//!
//! It stands over a real directory. Writes go through at once; what a medium would have held back is
//! remembered, and at the cut it is taken away again. From then on every call fails, until the test looks at
//! the directory with the real file system, as after a restart.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use trowelogue_journal::RealDisk;
use trowelogue_journal::disk::{Append, Disk, Open, Stat};

/// What becomes of writes that were not made durable before the cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss {
    /// Bytes and names are gone.
    Dropped,
    /// Names stay; of the bytes the first half is there.
    Torn,
    /// Names and lengths stay; the second half of the bytes is zeros.
    Zeroed,
    /// Names and lengths stay; the bytes are something else.
    Garbled,
}

impl Loss {
    /// Every kind of loss.
    pub const ALL: [Self; 4] = [Self::Dropped, Self::Torn, Self::Zeroed, Self::Garbled];
}

/// A fault that passes: the call fails, the system goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hiccup {
    /// The nth write takes half its bytes, and then there is no room.
    Full(u64),
    /// The nth fsync reports an error.
    Sync(u64),
}

type Hook = Box<dyn Fn(&Path) + Send + Sync>;

/// A file system that fails when told to. Cheap to clone; clones share one state.
#[derive(Clone)]
pub struct FaultyDisk {
    state: Arc<Mutex<State>>,
    hook: Option<Arc<Hook>>,
}

#[derive(Default)]
struct State {
    syncs: u64,
    writes: u64,
    cut: Option<(u64, Loss)>,
    hiccup: Option<Hiccup>,
    off: bool,
    /// Lengths up to which files are durable, where they have more than that.
    loose: BTreeMap<PathBuf, u64>,
    /// Changes of names that are not durable yet, oldest first.
    names: Vec<Change>,
}

enum Change {
    Made(PathBuf),
    MadeDir(PathBuf),
    Renamed { from: PathBuf, to: PathBuf, over: Option<Vec<u8>> },
    Removed(PathBuf, Vec<u8>),
}

impl FaultyDisk {
    /// One that never fails. It does not wait for the medium either, so tests over it are quick.
    pub fn sound() -> Self {
        Self { state: Arc::default(), hook: None }
    }

    /// One whose power is cut when the nth fsync is asked for, counted from 1.
    pub fn cut_at(nth: u64, loss: Loss) -> Self {
        let disk = Self::sound();
        disk.state().cut = Some((nth, loss));
        disk
    }

    /// One with a fault that passes.
    pub fn with(hiccup: Hiccup) -> Self {
        let disk = Self::sound();
        disk.state().hiccup = Some(hiccup);
        disk
    }

    /// Calls `hook` each time an existing file was opened for appending and before anything is written: there an
    /// engine may exchange the file.
    #[must_use]
    pub fn on_open(self, hook: impl Fn(&Path) + Send + Sync + 'static) -> Self {
        Self { hook: Some(Arc::new(Box::new(hook))), ..self }
    }

    /// Whether the power is off.
    pub fn is_off(&self) -> bool {
        self.state().off
    }

    /// How often an fsync was asked for.
    pub fn syncs(&self) -> u64 {
        self.state().syncs
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn on(&self) -> io::Result<MutexGuard<'_, State>> {
        let state = self.state();
        if state.off { Err(power_off()) } else { Ok(state) }
    }

    /// Counts an fsync; at the fatal one the power goes.
    fn sync(&self, settle: impl FnOnce(&mut State)) -> io::Result<()> {
        let mut state = self.on()?;
        state.syncs += 1;
        if state.hiccup == Some(Hiccup::Sync(state.syncs)) {
            return Err(io::Error::other("the medium reports a failure"));
        }
        if let Some((nth, loss)) = state.cut
            && state.syncs == nth
        {
            state.lose(loss);
            state.off = true;
            return Err(power_off());
        }
        settle(&mut state);
        Ok(())
    }
}

impl fmt::Debug for FaultyDisk {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("FaultyDisk")
    }
}

fn power_off() -> io::Error {
    io::Error::other("the power is off")
}

impl State {
    fn lose(&mut self, loss: Loss) {
        for (path, durable) in std::mem::take(&mut self.loose) {
            // A file that vanished meanwhile has nothing left to lose.
            let _ = spoil(&path, durable, loss);
        }
        if loss == Loss::Dropped {
            while let Some(change) = self.names.pop() {
                let _ = change.undo();
            }
        }
    }
}

impl Change {
    fn undo(self) -> io::Result<()> {
        match self {
            Self::Made(path) => fs::remove_file(path),
            Self::MadeDir(path) => fs::remove_dir(path),
            Self::Removed(path, bytes) => fs::write(path, bytes),
            Self::Renamed { from, to, over } => {
                fs::rename(&to, from)?;
                over.map_or(Ok(()), |bytes| fs::write(to, bytes))
            }
        }
    }

    fn dir(&self) -> Option<&Path> {
        match self {
            Self::Made(path) | Self::MadeDir(path) | Self::Removed(path, _) => path.parent(),
            Self::Renamed { to, .. } => to.parent(),
        }
    }
}

fn spoil(path: &Path, durable: u64, loss: Loss) -> io::Result<()> {
    let mut bytes = fs::read(path)?;
    let from = usize::try_from(durable).unwrap_or(usize::MAX).min(bytes.len());
    let half = from + (bytes.len() - from) / 2;
    match loss {
        Loss::Dropped => bytes.truncate(from),
        Loss::Torn => bytes.truncate(half),
        Loss::Zeroed => bytes[half..].fill(0),
        Loss::Garbled => bytes[from..].iter_mut().for_each(|byte| *byte = byte.rotate_left(3) ^ 0xa5),
    }
    fs::write(path, bytes)
}

impl Disk for FaultyDisk {
    fn stat(&self, path: &Path) -> io::Result<Stat> {
        drop(self.on()?);
        RealDisk.stat(path)
    }

    fn list(&self, dir: &Path) -> io::Result<Vec<(OsString, Stat)>> {
        drop(self.on()?);
        RealDisk.list(dir)
    }

    fn read(&self, path: &Path) -> io::Result<Box<dyn io::Read + Send>> {
        drop(self.on()?);
        RealDisk.read(path)
    }

    fn append(&self, path: &Path, how: Open) -> io::Result<Box<dyn Append>> {
        let mut state = self.on()?;
        let file = RealDisk.append(path, how)?;
        if how == Open::Existing {
            if let Some(hook) = &self.hook {
                hook(path);
            }
        } else {
            state.names.push(Change::Made(path.to_path_buf()));
        }
        Ok(Box::new(Opened { file, path: path.to_path_buf(), disk: self.clone() }))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut state = self.on()?;
        let over = fs::read(to).ok();
        RealDisk.rename(from, to)?;
        if let Some(durable) = state.loose.remove(from) {
            state.loose.insert(to.to_path_buf(), durable);
        }
        state.names.push(Change::Renamed { from: from.to_path_buf(), to: to.to_path_buf(), over });
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        let mut state = self.on()?;
        let bytes = fs::read(path)?;
        RealDisk.remove(path)?;
        state.loose.remove(path);
        state.names.push(Change::Removed(path.to_path_buf(), bytes));
        Ok(())
    }

    fn make_dir(&self, path: &Path) -> io::Result<()> {
        let mut state = self.on()?;
        RealDisk.make_dir(path)?;
        state.names.push(Change::MadeDir(path.to_path_buf()));
        Ok(())
    }

    fn sync_dir(&self, path: &Path) -> io::Result<()> {
        self.sync(|state| state.names.retain(|change| change.dir() != Some(path)))
    }

    fn canonical(&self, path: &Path) -> io::Result<PathBuf> {
        drop(self.on()?);
        RealDisk.canonical(path)
    }

    fn lock(&self, path: &Path, wait: Duration) -> io::Result<Option<Box<dyn Send>>> {
        drop(self.on()?);
        RealDisk.lock(path, wait)
    }
}

struct Opened {
    file: Box<dyn Append>,
    path: PathBuf,
    disk: FaultyDisk,
}

impl Append for Opened {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut state = self.disk.on()?;
        state.writes += 1;
        let len = fs::metadata(&self.path).map_or(0, |meta| meta.len());
        state.loose.entry(self.path.clone()).or_insert(len);
        match state.hiccup {
            Some(Hiccup::Full(nth)) if state.writes == nth => self.file.write(&bytes[..bytes.len() / 2]),
            Some(Hiccup::Full(nth)) if state.writes == nth + 1 => Err(io::ErrorKind::StorageFull.into()),
            _ => self.file.write(bytes),
        }
    }

    fn sync(&mut self) -> io::Result<()> {
        self.disk.sync(|state| {
            state.loose.remove(&self.path);
        })
    }

    fn truncate(&mut self, len: u64) -> io::Result<()> {
        drop(self.disk.on()?);
        self.file.truncate(len)
    }
}
