//! A sync engine that misbehaves: it carries one folder between replicas the way engines were seen to.
//!
//! A file arrives as a whole under a temporary name, the old one is deleted, the new one is renamed into
//! place. Of two versions one keeps the name and the other becomes a conflict copy, or is simply gone. Now and
//! then an older version comes back, a copy is torn, a file vanishes. Everything depends on the seed.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::dice::Dice;
use crate::yard::files_below;

/// How engines name a conflict copy of `stem.ext`.
const PATTERNS: [fn(&str, &str, usize) -> String; 8] = [
    |stem, ext, n| format!("{stem}.sync-conflict-20261125-0907{n:02}-LXMEAEU.{ext}"),
    |stem, ext, n| format!("{stem} (conflicted copy 2018-04-10 0936{n:02}).{ext}"),
    |stem, ext, n| format!("{stem} (YARD-PC's conflicted copy 2014-09-{n:02}).{ext}"),
    |stem, ext, n| format!("{stem}-YARD-PC{n}.{ext}"),
    |stem, ext, n| format!("{stem} ({n}).{ext}"),
    |stem, ext, n| format!("{stem} {n}.{ext}"),
    |stem, ext, n| format!("{stem} - Copy ({n}).{ext}"),
    |stem, ext, n| format!("{stem}_conflict-{n}.{ext}"),
];

/// The engine between some replicas of one folder.
pub struct Engine {
    replicas: Vec<PathBuf>,
    dice: Dice,
    /// Earlier contents of each file, oldest first.
    past: BTreeMap<PathBuf, Vec<Vec<u8>>>,
    conflicts: usize,
}

impl Engine {
    /// An engine over these replicas.
    pub fn new(replicas: Vec<PathBuf>, seed: u64) -> Self {
        Self { replicas, dice: Dice::new(seed), past: BTreeMap::new(), conflicts: 0 }
    }

    /// How many conflict copies were made.
    pub fn conflicts(&self) -> usize {
        self.conflicts
    }

    /// Does one thing an engine does: mostly carries a file, sometimes harms one.
    ///
    /// # Errors
    /// Whatever the file system refuses.
    pub fn step(&mut self) -> std::io::Result<()> {
        let (from, to) = (self.dice.below(self.replicas.len()), self.dice.below(self.replicas.len()));
        let files = logs_of(&self.replicas[from]);
        let Some(file) = self.dice.pick(&files).cloned() else { return Ok(()) };
        let bytes = fs::read(self.replicas[from].join(&file))?;
        self.remember(&file, &bytes);
        match self.dice.below(12) {
            0 => self.rewind(&file, to),
            1 => fs::remove_file(self.replicas[from].join(&file)),
            2 => self.tear(&bytes, &self.replicas[to].join(&file)),
            3 => self.leave_temporary(&bytes, &self.replicas[to].join(&file)),
            4 => fs::write(make_room(&self.replicas[to].join(&file))?, vec![0; bytes.len().min(4096)]),
            _ => self.carry(&file, &bytes, to),
        }
    }

    fn remember(&mut self, file: &Path, bytes: &[u8]) {
        let past = self.past.entry(file.to_path_buf()).or_default();
        if past.last().is_none_or(|last| last != bytes) && past.len() < 64 {
            past.push(bytes.to_vec());
        }
    }

    fn rewind(&mut self, file: &Path, to: usize) -> std::io::Result<()> {
        let past = self.past.get(file).cloned().unwrap_or_default();
        match self.dice.pick(&past) {
            Some(older) => replace(&self.replicas[to].join(file), older),
            None => Ok(()),
        }
    }

    fn tear(&self, bytes: &[u8], target: &Path) -> std::io::Result<()> {
        let mut dice = self.dice.clone();
        fs::write(make_room(target)?, &bytes[..dice.below(bytes.len())])
    }

    fn leave_temporary(&self, bytes: &[u8], target: &Path) -> std::io::Result<()> {
        let name = target.file_name().unwrap_or_default().to_string_lossy();
        let temp = target.with_file_name(format!(".syncthing.{name}.tmp"));
        fs::write(make_room(&temp)?, bytes)
    }

    /// Brings one version of a file to another replica; of two that differ, the seed says which wins.
    fn carry(&mut self, file: &Path, bytes: &[u8], to: usize) -> std::io::Result<()> {
        let target = self.replicas[to].join(file);
        match fs::read(&target) {
            Ok(there) if there == bytes => Ok(()),
            Ok(there) => {
                let loser = if self.dice.once_in(2) { there } else { bytes.to_vec() };
                if self.dice.once_in(2) {
                    self.keep_copy(&target, &loser)?;
                }
                if loser == bytes { Ok(()) } else { replace(&target, bytes) }
            }
            Err(_) => replace(&target, bytes),
        }
    }

    fn keep_copy(&mut self, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
        let stem = target.file_stem().unwrap_or_default().to_string_lossy();
        let ending = target.extension().unwrap_or_default().to_string_lossy();
        // Conflicts of conflicts nest until names are too long for a file system.
        if stem.len() > 120 {
            return Ok(());
        }
        self.conflicts += 1;
        let pattern = PATTERNS[self.conflicts % PATTERNS.len()];
        fs::write(target.with_file_name(pattern(&stem, &ending, self.conflicts % 90 + 2)), bytes)
    }

    /// Carries everything faithfully: afterwards all replicas hold the same files. Of versions that differ the
    /// one written last is kept, of two at once the longer.
    ///
    /// # Errors
    /// Whatever the file system refuses.
    pub fn settle(&mut self) -> std::io::Result<()> {
        let mut best: BTreeMap<PathBuf, (SystemTime, Vec<u8>)> = BTreeMap::new();
        for replica in &self.replicas {
            for file in files_below(replica).into_iter().filter(|file| !is_temporary(file)) {
                let version =
                    (fs::metadata(replica.join(&file))?.modified()?, fs::read(replica.join(&file))?);
                let newer =
                    |there: &(SystemTime, Vec<u8>)| (there.0, there.1.len()) < (version.0, version.1.len());
                if best.get(&file).is_none_or(newer) {
                    best.insert(file, version);
                }
            }
        }
        for (file, (_, bytes)) in &best {
            let targets = self.replicas.iter().map(|replica| replica.join(file));
            for target in targets.filter(|target| fs::read(target).ok().as_ref() != Some(bytes)) {
                replace(&target, bytes)?;
            }
        }
        Ok(())
    }
}

fn is_temporary(file: &Path) -> bool {
    file.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
}

fn logs_of(replica: &Path) -> Vec<PathBuf> {
    files_below(replica).into_iter().filter(|file| file.starts_with("logs") && !is_temporary(file)).collect()
}

fn make_room(target: &Path) -> std::io::Result<&Path> {
    if let Some(dir) = target.parent() {
        fs::create_dir_all(dir)?;
    }
    Ok(target)
}

/// Temporary file, deletion, rename: for a moment the name is not there.
fn replace(target: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let name = target.file_name().unwrap_or_default().to_string_lossy();
    let temp = target.with_file_name(format!(".syncthing.{name}.tmp"));
    fs::write(make_room(&temp)?, bytes)?;
    if target.exists() {
        fs::remove_file(target)?;
    }
    fs::rename(temp, target)
}
