//! Finding the files that may be logs: by content, whatever their names.

use std::io;
use std::path::{Path, PathBuf};

use crate::disk::{Disk, Kind, Stat};
use crate::fault::{Note, NoteKind};

/// How deep below `logs/` files are looked for.
const MAX_DEPTH: usize = 6;

/// A file that may be a log.
#[derive(Debug, Clone)]
pub(crate) struct Listed {
    /// Relative to the root, with `/` between the parts.
    pub(crate) name: String,
    /// Where it is.
    pub(crate) path: PathBuf,
    /// What is known of it.
    pub(crate) stat: Stat,
}

/// The files below `root/under`, in the order of their names, and what was passed over.
pub(crate) fn list(disk: &dyn Disk, root: &Path, under: &str) -> io::Result<(Vec<Listed>, Vec<Note>)> {
    let mut found = Finder { disk, files: Vec::new(), notes: Vec::new() };
    let start = root.join(under);
    if !crate::files::is_dir(disk, &start) {
        return Ok((Vec::new(), Vec::new()));
    }
    let names = disk.list(&start)?;
    found.take(&start, under, names, 0);
    found.files.sort_by(|a, b| a.name.cmp(&b.name));
    Ok((found.files, found.notes))
}

struct Finder<'a> {
    disk: &'a dyn Disk,
    files: Vec<Listed>,
    notes: Vec<Note>,
}

impl Finder<'_> {
    fn take(&mut self, dir: &Path, prefix: &str, names: Vec<(std::ffi::OsString, Stat)>, depth: usize) {
        for (name, stat) in names {
            let path = dir.join(&name);
            let name = name.to_string_lossy();
            let full = if prefix.is_empty() { name.to_string() } else { format!("{prefix}/{name}") };
            if is_stub(&name) {
                self.notes.push(Note::of_file(NoteKind::NotHereYet, &full));
            } else if !is_ignored(&name) {
                self.one(path, full, stat, depth);
            }
        }
    }

    fn one(&mut self, path: PathBuf, name: String, stat: Stat, depth: usize) {
        match stat.kind {
            Kind::File if stat.placeholder => self.notes.push(Note::of_file(NoteKind::NotHereYet, &name)),
            Kind::File => self.files.push(Listed { name, path, stat }),
            Kind::Dir if depth < MAX_DEPTH => match self.disk.list(&path) {
                Ok(names) => self.take(&path, &name, names, depth + 1),
                // Gone between two calls: an engine is at work.
                Err(error) if error.kind() == io::ErrorKind::NotFound => {}
                Err(_) => self.notes.push(Note::of_file(NoteKind::Unreadable, &name)),
            },
            Kind::Dir | Kind::Other => self.notes.push(Note::of_file(NoteKind::StrayFile, &name)),
        }
    }
}

/// Temporary and hidden files of sync engines and systems.
fn is_ignored(name: &str) -> bool {
    name.starts_with(['.', '~'])
        || name.eq_ignore_ascii_case("desktop.ini")
        || name.eq_ignore_ascii_case("thumbs.db")
}

/// A stub that an engine leaves for a log whose content is elsewhere.
fn is_stub(name: &str) -> bool {
    name.starts_with('.') && name.ends_with(".icloud")
}

/// Whether a name speaks of a log, so that its file is read to the end even if it begins wrongly.
pub(crate) fn named_like_a_log(name: &str) -> bool {
    name.to_ascii_lowercase().contains(".jsonl")
}
