//! What can stop an operation: where it happened and what it means for the caller.

use std::io;
use std::path::{Path, PathBuf};

use trowelogue_core::id::{DeviceId, ShopId};

use crate::home::VaultFault;
use crate::shopfile::ShopFault;
use crate::veil::Shut;

/// A failed operation of the files half. Nothing was half written unless the text says so.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The folder is not there, or out of reach.
    #[error("the folder {} is not there or cannot be reached", path.display())]
    FolderMissing {
        /// The folder.
        path: PathBuf,
    },
    /// The folder is there, but holds no `shop.json`.
    #[error("{} is not a shop folder: it has no shop.json", path.display())]
    NotAShop {
        /// The folder.
        path: PathBuf,
    },
    /// A file stands where the folder should be.
    #[error("{} is a file, not a folder", path.display())]
    NotAFolder {
        /// The file.
        path: PathBuf,
    },
    /// `shop.json` cannot be taken.
    #[error("{}: {fault}", path.display())]
    ShopFile {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        fault: ShopFault,
    },
    /// The folder was made by a newer version.
    #[error("{} has format {format}; this version reads format 1. Install a newer version", path.display())]
    NewerFormat {
        /// The file that says so.
        path: PathBuf,
        /// The format it names.
        format: u32,
    },
    /// A shop was to be founded where one stands already.
    #[error("{} already holds a shop", path.display())]
    AlreadyAShop {
        /// The folder.
        path: PathBuf,
    },
    /// This home never joined the shop.
    #[error("this device has not joined the shop in {}", path.display())]
    NotJoined {
        /// The folder.
        path: PathBuf,
        /// The shop in it, where it could be read.
        shop: Option<ShopId>,
    },
    /// The home joined this shop at another path.
    #[error("this device uses the shop {shop} at {}; {} is another copy of it", bound.display(), path.display())]
    BoundElsewhere {
        /// The shop.
        shop: ShopId,
        /// The path the home is bound to.
        bound: PathBuf,
        /// The path that was named.
        path: PathBuf,
    },
    /// The folder holds entries of this device that its home does not: the home was lost, set back or copied.
    #[error(
        "the folder holds entries of this device {device} that its home does not have (home: up to {own}, \
         folder: up to {folder}); this device must go on as a new one"
    )]
    HomeBehind {
        /// The device.
        device: DeviceId,
        /// Last sequence number in the home.
        own: u64,
        /// Last sequence number found elsewhere.
        folder: u64,
    },
    /// The private journal of this device does not hold together.
    #[error("{}: the private journal is damaged; this device must go on as a new one", path.display())]
    JournalDamaged {
        /// The file.
        path: PathBuf,
    },
    /// The key file, or another small file of the home, is not what it should be.
    #[error("{} is damaged", path.display())]
    HomeDamaged {
        /// The file.
        path: PathBuf,
    },
    /// Another process held the home's lock for too long.
    #[error("{} is held by another process", path.display())]
    Locked {
        /// The lock file.
        path: PathBuf,
    },
    /// An entry does not fit on a line.
    #[error("entry {number} of the batch needs {bytes} bytes; a line has room for {room}")]
    TooLong {
        /// Place in the batch, from 1.
        number: usize,
        /// Bytes needed.
        bytes: usize,
        /// Bytes a line may have.
        room: usize,
    },
    /// More entries at once than one batch may hold.
    #[error("the batch needs {bytes} bytes; at most {room} are written at once. Split it")]
    BatchTooLong {
        /// Bytes needed.
        bytes: usize,
        /// Bytes a batch may have.
        room: usize,
    },
    /// A draft or a name that no line may carry.
    #[error("{0}")]
    BadInput(String),
    /// The medium cannot be written.
    #[error("{} cannot be written: the medium is read-only or access is refused", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The medium is full.
    #[error("{} cannot be written: the disk is full", path.display())]
    DiskFull {
        /// The file.
        path: PathBuf,
    },
    /// Any other failure of the operating system.
    #[error("{}: {source}", path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A passphrase that cannot be set, or does not open the folder.
    #[error("{0}")]
    Passphrase(Shut),
    /// The key of this device is, or is to be, in the system's key store.
    #[error("{0}")]
    KeyStore(VaultFault),
    /// The system gave no random bytes.
    #[error("the system gives no random bytes: {0}")]
    NoRandomness(String),
}

impl Error {
    /// The stable code of the error contract.
    pub fn code(&self) -> &'static str {
        match self {
            Self::FolderMissing { .. } | Self::NotAShop { .. } | Self::NotAFolder { .. } => "folder_missing",
            Self::ShopFile { .. } => "shop_file_bad",
            Self::NewerFormat { .. } => "newer_format",
            Self::AlreadyAShop { .. } | Self::BadInput(_) => "bad_input",
            Self::NotJoined { .. } | Self::BoundElsewhere { .. } => "not_joined",
            Self::HomeBehind { .. } | Self::JournalDamaged { .. } => "home_behind",
            Self::HomeDamaged { .. } => "home_damaged",
            Self::Locked { .. } => "locked",
            Self::TooLong { .. } | Self::BatchTooLong { .. } => "too_long",
            Self::ReadOnly { .. } => "read_only",
            Self::DiskFull { .. } => "disk_full",
            Self::Passphrase(_) => "bad_input",
            Self::Io { .. } | Self::KeyStore(_) | Self::NoRandomness(_) => "io",
        }
    }

    /// The file or folder concerned, where there is one.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::FolderMissing { path }
            | Self::NotAShop { path }
            | Self::NotAFolder { path }
            | Self::ShopFile { path, .. }
            | Self::NewerFormat { path, .. }
            | Self::AlreadyAShop { path }
            | Self::NotJoined { path, .. }
            | Self::BoundElsewhere { path, .. }
            | Self::JournalDamaged { path }
            | Self::HomeDamaged { path }
            | Self::Locked { path }
            | Self::ReadOnly { path }
            | Self::DiskFull { path }
            | Self::Io { path, .. } => Some(path),
            _ => None,
        }
    }

    /// Sorts a failure of the operating system at `path`.
    pub(crate) fn io(path: &Path, source: io::Error) -> Self {
        let path = path.to_path_buf();
        match Trouble::of(&source) {
            Trouble::Full => Self::DiskFull { path },
            Trouble::ReadOnly => Self::ReadOnly { path },
            _ => Self::Io { path, source },
        }
    }
}

/// Failures of the operating system, as far as they call for different words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Trouble {
    Full,
    ReadOnly,
    Missing,
    Other,
}

impl Trouble {
    pub(crate) fn of(error: &io::Error) -> Self {
        use io::ErrorKind as Kind;
        match error.kind() {
            Kind::StorageFull | Kind::QuotaExceeded | Kind::FileTooLarge | Kind::WriteZero => Self::Full,
            Kind::ReadOnlyFilesystem | Kind::PermissionDenied => Self::ReadOnly,
            Kind::NotFound | Kind::NotADirectory => Self::Missing,
            _ => Self::Other,
        }
    }
}
