//! A yard: a temporary place with a shop folder and any number of homes, for tests of journal and folder.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use serde_json::{Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::fold;
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{Moment, Span, parse};
use trowelogue_journal::{Disk, Draft, Home, RealDisk, Shop, read_folder};

use crate::entropy::Seeded;

/// What a helper of the tests gives back.
pub type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

static HOMES: AtomicU64 = AtomicU64::new(0);

/// A temporary place with a folder and any number of homes.
pub struct Yard {
    /// Removed with everything in it when the yard is dropped.
    pub dir: tempfile::TempDir,
}

impl Yard {
    /// An empty yard.
    ///
    /// # Errors
    /// The temporary directory cannot be made.
    pub fn new() -> Outcome<Self> {
        Ok(Self { dir: tempfile::tempdir()? })
    }

    /// Where the shop folder stands.
    pub fn folder(&self) -> PathBuf {
        self.dir.path().join("shop")
    }

    /// The home of this name, over the real file system.
    pub fn home(&self, name: &str) -> Home {
        self.home_on(name, Arc::new(RealDisk))
    }

    /// The home of this name, over another file system.
    pub fn home_on(&self, name: &str, disk: Arc<dyn Disk>) -> Home {
        let turn = HOMES.fetch_add(1, Ordering::Relaxed);
        Home::open_with(self.dir.path().join(name), disk, Seeded::new(format!("yard {name} {turn}")))
    }

    /// Founds the shop on the home of this name.
    ///
    /// # Errors
    /// Whatever the journal refuses.
    pub fn found(&self, name: &str) -> Outcome<Shop> {
        Ok(self.home(name).found(&self.folder(), "North Yard Castings", at(0))?.shop)
    }

    /// Makes the home of this name a device of the shop.
    ///
    /// # Errors
    /// Whatever the journal refuses.
    pub fn join(&self, name: &str) -> Outcome<Shop> {
        Ok(self.home(name).join(&self.folder())?)
    }
}

/// `seconds` after the morning of the test day.
pub fn at(seconds: i64) -> Moment {
    // The text is a time; the alternative is never taken.
    let morning = parse("2025-03-04T08:00:00-06:00").unwrap_or_default();
    morning + chrono::TimeDelta::seconds(seconds)
}

/// An entry of this kind with this body.
pub fn draft_of(kind: Kind, body: &Value) -> Draft {
    Draft {
        done: Span::at(at(0)),
        person: ObjectId(uuid::Uuid::from_u128(7)),
        kind: kind.wire().into(),
        object: None,
        pieces: Vec::new(),
        peer: None,
        refs: Vec::new(),
        body: body.as_object().cloned().unwrap_or_default(),
    }
}

/// A note with these words.
pub fn note(words: &str) -> Draft {
    draft_of(Kind::Note, &json!({ "text": words }))
}

/// An owner's acceptance of a device.
pub fn acceptance(device: DeviceId, role: &str) -> Draft {
    Draft { peer: Some(device), ..draft_of(Kind::Accept, &json!({ "role": role })) }
}

/// Appends one entry; gives its hash.
///
/// # Errors
/// Whatever the journal refuses.
pub fn append(shop: &mut Shop, draft: Draft, seconds: i64) -> Outcome<Hash> {
    let written = shop.append(vec![draft], at(seconds))?.written();
    Ok(written.first().ok_or("nothing was written")?.hash)
}

/// The published file of a shop's own segment.
pub fn own_file(shop: &Shop, segment: u32) -> PathBuf {
    log_file(shop.folder(), shop.device(), segment)
}

/// Where a device's segment stands in a folder.
pub fn log_file(folder: &Path, device: DeviceId, segment: u32) -> PathBuf {
    folder.join(format!("logs/{device}/{device}-{segment:04}.jsonl"))
}

/// The hashes of all entries a folder shows to somebody without a home.
///
/// # Errors
/// The folder cannot be read.
pub fn hashes_in(folder: &Path) -> Outcome<BTreeSet<Hash>> {
    Ok(read_folder(folder)?.merged.records.iter().map(|record| record.hash).collect())
}

/// The digest of what a folder shows to somebody without a home.
///
/// # Errors
/// The folder cannot be read.
pub fn digest_of(folder: &Path) -> Outcome<Hash> {
    Ok(fold::digest(&fold::fold(&read_folder(folder)?.merged)))
}

/// Copies a directory with everything in it.
///
/// # Errors
/// Whatever the file system refuses.
pub fn copy_dir(from: &Path, to: &Path) -> std::io::Result<()> {
    std::fs::create_dir_all(to)?;
    for item in std::fs::read_dir(from)? {
        let item = item?;
        let target = to.join(item.file_name());
        if item.file_type()?.is_dir() {
            copy_dir(&item.path(), &target)?;
        } else {
            std::fs::copy(item.path(), target)?;
        }
    }
    Ok(())
}

/// Every regular file below a directory, relative to it, in order.
pub fn files_below(dir: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![dir.to_path_buf()];
    while let Some(next) = open.pop() {
        for item in std::fs::read_dir(&next).into_iter().flatten().flatten() {
            match item.file_type() {
                Ok(kind) if kind.is_dir() => open.push(item.path()),
                Ok(kind) if kind.is_file() => {
                    found.extend(item.path().strip_prefix(dir).map(Path::to_path_buf));
                }
                _ => {}
            }
        }
    }
    found.sort();
    found
}
