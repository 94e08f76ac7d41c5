//! A shop as one home holds it: reading, sweeping, appending, publishing.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use trowelogue_core::entry::{Merged, OrderKey, Record};
use trowelogue_core::id::{DeviceId, Hash, ObjectId, ShopId};
use trowelogue_core::moment::{Moment, Span};

use crate::error::Error;
use crate::fault::{Break, Note};
use crate::home::Home;
use crate::shopfile::ShopFile;

/// An entry to be written: everything the writer decides. Device, number, clock, chain and signature are added.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// When the work was done.
    pub done: Span,
    /// Who did it.
    pub person: ObjectId,
    /// The kind of entry.
    pub kind: String,
    /// The object it creates or is about.
    pub object: Option<ObjectId>,
    /// The pieces it is about.
    pub pieces: Vec<ObjectId>,
    /// The device an authority entry is about.
    pub peer: Option<DeviceId>,
    /// Entries it refers to.
    pub refs: Vec<Hash>,
    /// The body, without `salt`.
    pub body: serde_json::Map<String, serde_json::Value>,
}

/// An entry that is durable in the private journal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Written {
    /// Its hash: what references name.
    pub hash: Hash,
    /// Its number in this device's log.
    pub seq: u64,
    /// Its place in the common order.
    pub order: OrderKey,
}

/// What became of a batch. Every entry of it is durable on this device.
#[derive(Debug, Clone, PartialEq)]
pub struct Appended {
    /// The entries as every reader will see them, in the order of the drafts.
    pub records: Vec<Record>,
    /// Whether they stand in the folder too.
    pub published: Published,
    /// How far the log's clock runs ahead of `now`, in milliseconds, where it is more than ten minutes: the
    /// device's clock was set back.
    pub clock_ahead_ms: Option<i64>,
}

impl Appended {
    /// Hash, number and order of each entry.
    pub fn written(&self) -> Vec<Written> {
        let written = |r: &Record| Written { hash: r.hash, seq: r.entry.seq, order: r.order() };
        self.records.iter().map(written).collect()
    }
}

/// Whether this device's log stands in the folder in full.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Published {
    /// It does.
    Yes,
    /// It does, and the folder was missing or empty and has been written again.
    Rebuilt,
    /// Not yet; the entries are safe on this device, and the next append or sweep tries again.
    NotYet(NotPublished),
}

/// Why a log is not in the folder yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotPublished {
    /// The folder is not there, or out of reach.
    FolderMissing,
    /// The folder cannot be written.
    ReadOnly,
    /// The folder's disk is full.
    DiskFull,
    /// Another shop stands at the folder's path.
    OtherShop,
    /// The folder holds entries of this device that the home does not; see [`Error::HomeBehind`].
    HomeBehind,
    /// The file system failed in another way.
    Failed,
}

/// Everything a folder holds, merged, with what was found on the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The input of the fold.
    pub merged: Merged,
    /// What is wrong with files.
    pub breaks: Vec<Break>,
    /// What there is to know.
    pub notes: Vec<Note>,
    /// Whether the folder itself could be read; if not, everything comes from the private journal.
    pub folder_here: bool,
}

/// What arrived since the last read or sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// New entries, each once.
    pub records: Vec<Record>,
    /// Devices whose first header arrived, with the device each replaces.
    pub devices: Vec<(DeviceId, Option<DeviceId>)>,
    /// An entry read before has changed (a line between arrived late, a withheld body was found): read again
    /// in full.
    pub reread: bool,
    /// Breaks and notes as they stand now.
    pub breaks: Vec<Break>,
    /// Notes as they stand now.
    pub notes: Vec<Note>,
    /// Whether the folder could be read.
    pub folder_here: bool,
    /// Whether this device's log stands in the folder.
    pub published: Published,
}

/// The result of checking everything.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Report {
    /// What is wrong: any entry here means exit code 1.
    pub breaks: Vec<Break>,
    /// What there is to know.
    pub notes: Vec<Note>,
}

/// What `verify` is told about the bodies, which it does not read itself.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Expected {
    /// Photos named in bodies, by the SHA-256 of their bytes.
    pub photos: BTreeSet<Hash>,
    /// Entries whose body was erased by a signed entry: a missing body is right there.
    pub erased: BTreeSet<Hash>,
}

/// One shop as this home holds it.
pub struct Shop {
    pub(crate) home: Home,
    pub(crate) file: ShopFile,
    pub(crate) folder: PathBuf,
}

impl Shop {
    /// The shop's id.
    pub fn id(&self) -> ShopId {
        self.file.id
    }

    /// The pinned `shop.json`.
    pub fn file(&self) -> &ShopFile {
        &self.file
    }

    /// This device's id in this shop.
    pub fn device(&self) -> DeviceId {
        unimplemented!()
    }

    /// The folder this home is bound to.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The directory for everything the home keeps about this shop.
    pub fn dir(&self) -> PathBuf {
        self.home.shop_dir(self.file.id)
    }

    /// Reads everything: private journal and folder, merged; what is new in the folder goes into the journal.
    pub fn read(&mut self) -> Result<Reading, Error> {
        unimplemented!()
    }

    /// Looks at what changed in the folder since the last [`Shop::read`] or sweep, and publishes what is due.
    pub fn sweep(&mut self) -> Result<Sweep, Error> {
        unimplemented!()
    }

    /// Appends a batch, all or nothing: one write and one fsync in the private journal, then publishing.
    pub fn append(&mut self, drafts: Vec<Draft>, now: Moment) -> Result<Appended, Error> {
        unimplemented!("{} {now}", drafts.len())
    }

    /// Publishes this device's log: what is missing, shorter or different in the folder is written again.
    pub fn publish(&mut self) -> Result<Published, Error> {
        unimplemented!()
    }

    /// Writes what the folder lost of other devices' logs under `logs/<own>/restored/`; returns the files written.
    pub fn give_back(&mut self) -> Result<Vec<PathBuf>, Error> {
        unimplemented!()
    }

    /// Checks everything in the folder: every signature, chain, seal, header, photo.
    pub fn verify(&mut self, expected: &Expected) -> Result<Report, Error> {
        unimplemented!("{}", expected.photos.len())
    }
}

/// Reads a folder without a home: nothing is written anywhere.
pub fn read_folder(folder: &Path) -> Result<Reading, Error> {
    unimplemented!("{}", folder.display())
}
