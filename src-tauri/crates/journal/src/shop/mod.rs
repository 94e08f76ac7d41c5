//! A shop as one home holds it: reading, sweeping, appending, publishing.

mod append;
mod compose;
mod exposed;
mod folder;
mod give_back;
mod own;
mod passphrase;
mod photo;
mod photos;
mod publish;
mod read;
mod stand;
mod verify;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trowelogue_core::entry::{Merged, OrderKey, Record};
use trowelogue_core::id::{DeviceId, Hash, ObjectId, ShopId};
use trowelogue_core::moment::Span;

use crate::error::Error;
use crate::fault::{Break, Note};
use crate::home::{Home, Identity};
use crate::keys::{self, PublicKey};
use crate::scan::{Round, Scanner};
use crate::segment::Depth;
use crate::shopfile::ShopFile;
use crate::sight::Sight;

pub use folder::{Excerpt, excerpt_of_folder, read_folder, read_folder_on, shop_file, shop_name};
use own::OwnLog;
pub use photo::{PhotoSeen, photo_in, photo_place};
pub use photos::photos_here;
pub use verify::{verify_folder, verify_folder_on};

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
    /// The disk of this device is full; the home's reserve was given up for these entries.
    pub low_disk: bool,
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
    /// The folder was changed by a newer version.
    NewerFormat,
    /// The shop has a passphrase that was not given to this device.
    NoPassphrase,
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
    /// A passphrase is in force: nothing else should be readable in the folder.
    pub passphrase: bool,
}

/// One shop as this home holds it.
pub struct Shop {
    home: Home,
    file: ShopFile,
    folder: PathBuf,
    identity: Identity,
    scanner: Scanner,
    own: OwnLog,
    /// Whether the caller has been given everything once, so that a sweep is about what came since.
    was_read: bool,
    /// Taken in while appending, not yet handed out.
    pending: Round,
    /// The greatest number of this device found outside its private journal.
    behind: Option<u64>,
    /// Published segments as they were left.
    left: BTreeMap<u32, publish::Left>,
    /// Published segments whose fsync failed.
    suspect: BTreeSet<u32>,
    last_published: Published,
    low_disk: bool,
    /// What this home may see: keys of passphrases, erased entries.
    sight: Arc<Sight>,
    /// Own photos known to stand in the folder.
    photos_there: BTreeSet<Hash>,
}

impl Shop {
    pub(crate) fn new(home: &Home, file: ShopFile, folder: PathBuf, identity: Identity) -> Self {
        let disk = home.disk.clone();
        let scanner = Scanner::new(disk.clone(), &file, Depth::Newest, Some(identity.device()));
        let sight = Arc::new(home.sight(file.id));
        let scanner = scanner.seeing(sight.clone());
        let own = OwnLog::new(disk, &home.journal_dir(file.id), identity.key.public(), file.hash());
        Self {
            home: home.clone(),
            file,
            folder,
            identity,
            scanner,
            own,
            was_read: false,
            pending: Round::default(),
            behind: None,
            left: BTreeMap::new(),
            suspect: BTreeSet::new(),
            last_published: Published::Yes,
            low_disk: false,
            sight,
            photos_there: BTreeSet::new(),
        }
    }

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
        self.identity.device()
    }

    /// The folder this home is bound to.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Whether the folder was found to hold entries of this device that its home lacks: the home was lost or set
    /// back, and the device must go on as a new one. Told after a read.
    pub fn is_behind(&self) -> bool {
        self.behind.is_some()
    }

    /// The directory for everything the home keeps about this shop.
    pub fn dir(&self) -> PathBuf {
        self.home.shop_dir(self.file.id)
    }

    /// Signs `message` with this device's key (for the seal of a paper). `context` keeps what is signed for one
    /// purpose from passing for another; contexts of log lines and shop files are refused.
    pub fn sign(&self, context: &[u8], message: &[u8]) -> Option<String> {
        let reserved = [keys::LINE_CONTEXT, keys::SHOP_CONTEXT];
        let taken = reserved.iter().any(|own| own.starts_with(context) || context.starts_with(own));
        (!taken).then(|| self.identity.key.sign(context, message))
    }

    /// The public key of this device.
    pub fn public_key(&self) -> PublicKey {
        self.identity.key.public()
    }

    /// The exact lines with the given hashes, and a header for each device among them.
    pub fn excerpt(&mut self, wanted: &BTreeSet<Hash>) -> Result<Excerpt, Error> {
        self.ensure_read()?;
        self.look_at_own_log()?;
        Ok(folder::excerpt(&self.scanner, self.home.disk.as_ref(), wanted))
    }

    fn journal_dir(&self) -> PathBuf {
        self.home.journal_dir(self.file.id)
    }
}
