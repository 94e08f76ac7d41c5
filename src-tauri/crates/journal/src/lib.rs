//! The folder and the private journal: how entries are written, chained, signed, found again and merged.
//!
//! Two halves. The **format half** (`line`, `wire`, `keys`, `shopfile`, `recovery`, `veil`, `sight`, `segment`,
//! `index`, `excerpt`, `fault`) is pure: bytes in, typed lines and faults out. The **files half** (feature `files`)
//! is everything that touches the operating system: [`Home`], [`Shop`], [`read_folder`], [`watch`].
//! The byte rules stand in `schemas/FORMAT.md`.
//!
//! A caller with an identity:
//!
//! ```no_run
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let now = trowelogue_core::moment::parse("2025-03-04T10:20:00-06:00")?;
//! # let drafts = Vec::new();
//! let home = trowelogue_journal::Home::open("/path/to/home");
//! let mut shop = home.shop("/path/to/folder".as_ref())?;
//! let reading = shop.read()?;                 // merged records, breaks, notes
//! let appended = shop.append(drafts, now)?;   // durable here; perhaps not yet in the folder
//! let change = shop.sweep()?;                 // what arrived since
//! # Ok(()) }
//! ```
//!
//! Invariants: nobody writes another device's file; nothing is checked over a re-serialisation; an entry is
//! durable in the private journal before anything else sees it; a missing or shorter file never means
//! "deleted".

pub mod clock;
pub mod excerpt;
pub mod fault;
pub mod gather;
pub mod index;
pub mod keys;
pub mod line;
pub mod recovery;
pub mod segment;
pub mod shopfile;
pub mod sight;
pub mod veil;
pub mod wire;

#[cfg(feature = "files")]
pub mod disk;
#[cfg(feature = "files")]
pub mod error;
#[cfg(feature = "files")]
mod files;
#[cfg(feature = "files")]
mod home;
#[cfg(feature = "files")]
mod mirror;
#[cfg(feature = "files")]
mod scan;
#[cfg(feature = "files")]
mod shop;
#[cfg(feature = "files")]
pub mod watch;

pub use fault::{Break, BreakKind, Note, NoteKind};
pub use recovery::Recovery;
pub use shopfile::ShopFile;
pub use veil::Lockbox;
#[cfg(feature = "files")]
pub use {
    disk::{Disk, RealDisk},
    error::Error,
    home::{Entropy, Founded, Home, Place, SystemEntropy},
    shop::{
        Appended, Draft, Excerpt, Expected, NotPublished, PhotoSeen, Published, Reading, Report, Shop, Sweep,
        Written, excerpt_of_folder, photo_in, photo_place, photos_here, read_folder, read_folder_on,
        shop_file, shop_name, verify_folder, verify_folder_on,
    },
};
