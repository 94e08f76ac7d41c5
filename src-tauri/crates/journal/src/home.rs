//! A home: this device's own data, apart from every shared folder.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use trowelogue_core::id::ShopId;
use trowelogue_core::moment::Moment;

use crate::disk::{Disk, RealDisk};
use crate::error::Error;
use crate::recovery::Recovery;
use crate::shop::Shop;

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
    pub(crate) entropy: Arc<Mutex<dyn Entropy>>,
}

/// A shop just founded.
pub struct Founded {
    /// The shop, ready to append to.
    pub shop: Shop,
    /// The recovery secret: print its code now; it is stored nowhere.
    pub recovery: Recovery,
}

/// What a folder is to a home.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// The home joined this shop, at this path.
    Joined(ShopId),
    /// The home joined this shop at another path; this one is read on its own, without the mirror.
    Elsewhere {
        /// The shop.
        shop: ShopId,
        /// The path the home is bound to.
        bound: PathBuf,
    },
    /// A shop this home never joined.
    Stranger(ShopId),
}

impl Home {
    /// The home in `dir`. Nothing is read or written before it is needed; a missing directory is an empty home.
    pub fn open(dir: impl Into<PathBuf>) -> Self {
        Self::open_with(dir, Arc::new(RealDisk), SystemEntropy)
    }

    /// The home in `dir` over another file system and another source of random bytes (tests, demo data).
    pub fn open_with(dir: impl Into<PathBuf>, disk: Arc<dyn Disk>, entropy: impl Entropy + 'static) -> Self {
        Self { dir: dir.into(), disk, entropy: Arc::new(Mutex::new(entropy)) }
    }

    /// What `folder` is to this home. A folder that is out of reach is found by its path.
    pub fn locate(&self, folder: &Path) -> Result<Place, Error> {
        unimplemented!("{}", folder.display())
    }

    /// Founds a shop in `folder` (made if its parent is there) and makes this home its founding device.
    pub fn found(&self, folder: &Path, name: &str, now: Moment) -> Result<Founded, Error> {
        unimplemented!("{} {name} {now}", folder.display())
    }

    /// Makes this home a device of the shop in `folder`, bound to that path. Joined already: the same as [`Home::shop`].
    pub fn join(&self, folder: &Path) -> Result<Shop, Error> {
        unimplemented!("{}", folder.display())
    }

    /// Opens the shop this home joined in `folder`. Works without the folder too: then from the private journal.
    pub fn shop(&self, folder: &Path) -> Result<Shop, Error> {
        unimplemented!("{}", folder.display())
    }

    /// Opens a joined shop by its id.
    pub fn shop_by_id(&self, shop: ShopId) -> Result<Shop, Error> {
        unimplemented!("{shop}")
    }

    /// Every shop this home joined, with the folder it is bound to.
    pub fn shops(&self) -> Result<Vec<(ShopId, PathBuf)>, Error> {
        unimplemented!()
    }

    /// Binds a joined shop to another path: the folder was moved.
    pub fn rebind(&self, shop: ShopId, folder: &Path) -> Result<Shop, Error> {
        unimplemented!("{shop} {}", folder.display())
    }

    /// Goes on as a new device that replaces the old one: after [`Error::HomeBehind`] or [`Error::JournalDamaged`].
    /// The new device has to be accepted again.
    pub fn replace_device(&self, shop: ShopId) -> Result<Shop, Error> {
        unimplemented!("{shop}")
    }

    /// The directory for everything this home keeps about a shop (`shops/<shop>`).
    pub fn shop_dir(&self, shop: ShopId) -> PathBuf {
        self.dir.join("shops").join(shop.to_string())
    }
}
