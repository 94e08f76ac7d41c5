//! A home: this device's own data, apart from every shared folder.

mod identity;
mod place;
mod reserve;
mod secret;
mod vault;

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use trowelogue_core::id::ShopId;
use trowelogue_core::moment::Moment;

use crate::disk::{Disk, Open, RealDisk};
use crate::error::Error;
use crate::files::{make_dirs, read_small, write_atomic};
use crate::recovery::Recovery;
use crate::shop::Shop;
use crate::shopfile::{self, MAX_SHOP_FILE, ShopFault, ShopFile};

pub(crate) use identity::Identity;
pub use place::Place;
pub use vault::{KeyPlace, KeyStore, VaultFault};

/// How long a writer waits for another process before it gives up.
const LOCK_WAIT: Duration = Duration::from_secs(10);
/// The name of a shop's file, in the folder and in the home.
pub(crate) const SHOP_FILE: &str = "shop.json";
const TAG: &str = "new";

/// Where random bytes come from.
pub trait Entropy: Send {
    /// Fills `bytes`.
    fn fill(&mut self, bytes: &mut [u8]) -> Result<(), Error>;
}

/// The operating system's random bytes.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemEntropy;

impl Entropy for SystemEntropy {
    fn fill(&mut self, bytes: &mut [u8]) -> Result<(), Error> {
        getrandom::fill(bytes).map_err(|e| Error::NoRandomness(e.to_string()))
    }
}

/// This device's own data: its secret, its lock, its private journals.
#[derive(Clone)]
pub struct Home {
    pub(crate) dir: PathBuf,
    pub(crate) disk: Arc<dyn Disk>,
    entropy: Arc<Mutex<dyn Entropy>>,
    /// The key store of the system, where this home may use it.
    vault: Option<Arc<dyn KeyStore>>,
}

/// A shop just founded.
pub struct Founded {
    /// The shop, ready to append to.
    pub shop: Shop,
    /// The recovery secret: print its code now; it is stored nowhere.
    pub recovery: Recovery,
}

impl Home {
    /// The home in `dir`. Nothing is read or written before it is needed; a missing directory is an empty home.
    pub fn open(dir: impl Into<PathBuf>) -> Self {
        Self::open_with(dir, Arc::new(RealDisk), SystemEntropy)
    }

    /// The home in `dir` over another file system and another source of random bytes (tests, demo data).
    pub fn open_with(dir: impl Into<PathBuf>, disk: Arc<dyn Disk>, entropy: impl Entropy + 'static) -> Self {
        let dir = dir.into();
        // The directories above it are made where they are missing, so they must have names.
        let dir = std::path::absolute(&dir).unwrap_or(dir);
        Self { dir, disk, entropy: Arc::new(Mutex::new(entropy)), vault: None }
    }

    /// Founds a shop in `folder` (made if its parent is there) and makes this home its founding device. Where
    /// the folder cannot be written, the home knows of no new shop.
    pub fn found(&self, folder: &Path, name: &str, now: Moment) -> Result<Founded, Error> {
        if !shopfile::name_is_good(name) {
            let most = shopfile::MAX_NAME;
            return Err(Error::BadInput(format!("A shop's name has 1 to {most} characters on one line.")));
        }
        place::as_text(folder)?;
        let folder = self.make_folder(folder)?;
        if self.disk.stat(&folder.join(SHOP_FILE)).is_ok() {
            return Err(Error::AlreadyAShop { path: folder });
        }
        self.make_home()?;
        let lock = self.lock()?;
        let identity = Identity::new(&self.secret_or_new()?, self.random()?, None);
        let recovery = Recovery::new(self.random()?);
        let file = ShopFile::found(name, now, &identity.key, &self.random()?, recovery.key().public());
        // The home knows its identity before the folder names it, and joins only once the folder does.
        self.settle(&file, &identity)?;
        let placed = self.put(&folder.join(SHOP_FILE), file.text.as_bytes(), &identity.device().to_string());
        if let Err(error) = placed.and_then(|()| self.bind(file.id, &folder)) {
            self.take_back(&file, &folder);
            return Err(error);
        }
        drop(lock);
        Ok(Founded { shop: Shop::new(self, file, folder, identity), recovery })
    }

    /// Makes this home a device of the shop in `folder`, bound to that path. Joined already: the same as
    /// [`Home::shop`].
    pub fn join(&self, folder: &Path) -> Result<Shop, Error> {
        let place = self.locate(folder)?;
        let Place::Stranger(id) = place else { return self.shop(folder) };
        let folder = self.canonical(folder)?;
        place::as_text(&folder)?;
        let file = self.shop_file(&folder)?;
        self.make_home()?;
        let lock = self.lock()?;
        // A home that is a device of the shop already, but lost its binding in a crash, stays that device.
        if self.identity(id).is_err() {
            let identity = Identity::new(&self.secret_or_new()?, self.random()?, None);
            self.settle(&file, &identity)?;
        }
        self.bind(id, &folder)?;
        drop(lock);
        self.shop_by_id(id)
    }

    /// Opens the shop this home joined in `folder`. Works without the folder too: then from the private journal.
    pub fn shop(&self, folder: &Path) -> Result<Shop, Error> {
        match self.locate(folder)? {
            Place::Joined(shop) => self.shop_by_id(shop),
            Place::Elsewhere { shop, bound } => {
                Err(Error::BoundElsewhere { shop, bound, path: folder.to_path_buf() })
            }
            Place::Stranger(shop) => Err(Error::NotJoined { path: folder.to_path_buf(), shop: Some(shop) }),
        }
    }

    /// Opens a joined shop by its id.
    pub fn shop_by_id(&self, shop: ShopId) -> Result<Shop, Error> {
        let file = self.pinned(shop)?;
        let folder = self.bound(shop)?;
        let identity = self.identity(shop)?;
        Ok(Shop::new(self, file, folder, identity))
    }

    /// Every shop this home joined, with the folder it is bound to.
    pub fn shops(&self) -> Result<Vec<(ShopId, PathBuf)>, Error> {
        let dir = self.dir.join("shops");
        let names = match self.disk.list(&dir) {
            Ok(names) => names,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(Error::io(&dir, error)),
        };
        let mut ids: Vec<ShopId> = names.iter().filter_map(|(name, _)| name.to_str()?.parse().ok()).collect();
        ids.sort();
        // A shop without a binding was left half made by a crash: it was never joined.
        Ok(ids.into_iter().filter_map(|id| Some((id, self.bound(id).ok()?))).collect())
    }

    /// Binds a joined shop to another path: the folder was moved.
    pub fn rebind(&self, shop: ShopId, folder: &Path) -> Result<Shop, Error> {
        let folder = self.canonical(folder)?;
        let found = self.shop_file(&folder)?.id;
        if found != self.pinned(shop)?.id {
            return Err(Error::NotJoined { path: folder, shop: Some(found) });
        }
        let lock = self.lock()?;
        self.bind(shop, &folder)?;
        drop(lock);
        self.shop_by_id(shop)
    }

    /// Goes on as a new device that replaces the old one: after [`Error::HomeBehind`] or
    /// [`Error::JournalDamaged`]. The new device has to be accepted again.
    pub fn replace_device(&self, shop: ShopId) -> Result<Shop, Error> {
        let file = self.pinned(shop)?;
        let folder = self.bound(shop)?;
        let lock = self.lock()?;
        let old = self.old_device(shop);
        let identity = Identity::new(&self.secret_or_new()?, self.random()?, old);
        self.keep_identity(shop, &identity)?;
        drop(lock);
        Ok(Shop::new(self, file, folder, identity))
    }

    /// The directory for everything this home keeps about a shop (`shops/<shop>`).
    pub fn shop_dir(&self, shop: ShopId) -> PathBuf {
        self.dir.join("shops").join(shop.to_string())
    }

    pub(crate) fn journal_dir(&self, shop: ShopId) -> PathBuf {
        self.shop_dir(shop).join("journal")
    }

    /// Takes the home's lock: one writer at a time, whichever process.
    pub(crate) fn lock(&self) -> Result<Box<dyn Send>, Error> {
        let path = self.dir.join("lock");
        let taken = self.disk.lock(&path, LOCK_WAIT).map_err(|error| Error::io(&path, error))?;
        taken.ok_or(Error::Locked { path })
    }

    pub(crate) fn random<const N: usize>(&self) -> Result<[u8; N], Error> {
        let mut bytes = [0; N];
        self.entropy.lock().unwrap_or_else(PoisonError::into_inner).fill(&mut bytes)?;
        Ok(bytes)
    }

    /// Reads the `shop.json` of a folder.
    pub(crate) fn shop_file(&self, folder: &Path) -> Result<ShopFile, Error> {
        read_shop_file(self.disk.as_ref(), folder)
    }

    /// The pinned copy of a joined shop's `shop.json`.
    fn pinned(&self, shop: ShopId) -> Result<ShopFile, Error> {
        let dir = self.shop_dir(shop);
        match read_shop_file(self.disk.as_ref(), &dir) {
            Err(Error::NotAShop { .. } | Error::FolderMissing { .. }) => {
                Err(Error::NotJoined { path: dir, shop: Some(shop) })
            }
            Ok(file) if file.id != shop => Err(Error::HomeDamaged { path: dir.join(SHOP_FILE) }),
            other => other,
        }
    }

    /// Writes down that this home is a device of a shop. It counts as joined once it is bound to a folder.
    fn settle(&self, file: &ShopFile, identity: &Identity) -> Result<(), Error> {
        let journal = ["shops".into(), file.id.to_string(), "journal".into()];
        make_dirs(self.disk.as_ref(), &self.dir, &journal).map_err(|error| Error::io(&self.dir, error))?;
        self.put(&self.shop_dir(file.id).join(SHOP_FILE), file.text.as_bytes(), TAG)?;
        self.keep_identity(file.id, identity)
    }

    /// Takes back a shop that could not be founded, so that it can be founded anew. Where its file cannot be
    /// taken out of the folder again, the home stays its founder: joining it goes on from there.
    fn take_back(&self, file: &ShopFile, folder: &Path) {
        let stands = self.shop_file(folder).is_ok_and(|there| there.id == file.id);
        if stands && self.disk.remove(&folder.join(SHOP_FILE)).is_err() {
            return;
        }
        let dir = self.shop_dir(file.id);
        for path in [dir.join("binding.json"), dir.join(SHOP_FILE), dir.join("journal").join("identity.json")]
        {
            // What stays behind is bound to nothing and never read.
            let _ = self.disk.remove(&path);
        }
    }

    pub(crate) fn put(&self, path: &Path, bytes: &[u8], tag: &str) -> Result<(), Error> {
        write_atomic(self.disk.as_ref(), path, bytes, tag, Open::New).map_err(|error| Error::io(path, error))
    }

    /// Makes the home's own directory and those above it.
    fn make_home(&self) -> Result<(), Error> {
        let mut missing = Vec::new();
        let mut dir = self.dir.as_path();
        while self.disk.canonical(dir).is_err() {
            let (Some(parent), Some(name)) = (dir.parent(), dir.file_name()) else { break };
            missing.push(name);
            dir = parent;
        }
        missing.reverse();
        make_dirs(self.disk.as_ref(), dir, &missing).map_err(|error| Error::io(&self.dir, error))?;
        Ok(())
    }
}

/// Reads and checks the `shop.json` in `folder`.
pub(crate) fn read_shop_file(disk: &dyn Disk, folder: &Path) -> Result<ShopFile, Error> {
    let path = folder.join(SHOP_FILE);
    let bytes = match read_small(disk, &path, MAX_SHOP_FILE) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            let here = disk.canonical(folder).is_ok();
            let path = folder.to_path_buf();
            return Err(if here { Error::NotAShop { path } } else { Error::FolderMissing { path } });
        }
        Err(error) if error.kind() == std::io::ErrorKind::NotADirectory => {
            return Err(Error::NotAFolder { path: folder.to_path_buf() });
        }
        Err(error) => return Err(Error::io(&path, error)),
    };
    ShopFile::parse(&bytes).map_err(|fault| match fault {
        ShopFault::Newer(format) => Error::NewerFormat { path, format },
        fault => Error::ShopFile { path, fault },
    })
}
