//! Photos: kept by this home first, then put into the folder under their hash, encrypted where the shop has a
//! passphrase.

use std::io::Read as _;
use std::path::{Path, PathBuf};

use trowelogue_core::id::Hash;

use super::publish::{Look, reason, why};
use super::{NotPublished, Shop};
use crate::disk::{Disk, Kind, Open, RealDisk};
use crate::error::Error;
use crate::files::{make_dirs, read_small, write_atomic};
use crate::veil::{FolderKey, Keyring};

/// The most bytes a photo may have.
const MAX_PHOTO: usize = 64 << 20;
const TAG: &str = "new";

/// What was found where a photo should be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PhotoSeen {
    /// The photo, its bytes matching its name.
    Here(Vec<u8>),
    /// Something else stands under its name.
    Wrong,
    /// Nothing: it has not arrived, or was erased.
    Missing,
}

/// Where a photo stands in the folder: `photos/<first two digits>/<hash>.jpg`.
pub fn photo_place(hash: &Hash) -> String {
    place(hash, "jpg")
}

/// Where an encrypted photo stands: under a name made with the key.
fn sealed_place(key: &FolderKey, hash: &Hash) -> String {
    place(&key.photo_name(hash), "sealed")
}

fn place(name: &Hash, ending: &str) -> String {
    let name = name.to_string();
    format!("photos/{}/{name}.{ending}", &name[..2])
}

/// Every place in a folder where a photo may stand.
pub(super) fn places(folder: &Path, keys: &Keyring, photo: &Hash) -> Vec<PathBuf> {
    let sealed = keys.keys().map(|key| folder.join(sealed_place(key, photo)));
    std::iter::once(folder.join(photo_place(photo))).chain(sealed).collect()
}

/// Looks for a photo in a folder, plain or under one of the keys.
pub(super) fn look(disk: &dyn Disk, folder: &Path, keys: &Keyring, photo: &Hash) -> PhotoSeen {
    let plain = read(disk, &folder.join(photo_place(photo)));
    let mut seen = match plain {
        Some(bytes) if Hash::of(&[&bytes]) == *photo => return PhotoSeen::Here(bytes),
        Some(_) => PhotoSeen::Wrong,
        None => PhotoSeen::Missing,
    };
    for key in keys.keys() {
        let Some(sealed) = read(disk, &folder.join(sealed_place(key, photo))) else { continue };
        match key.open_photo(photo, &sealed).filter(|bytes| Hash::of(&[bytes]) == *photo) {
            Some(bytes) => return PhotoSeen::Here(bytes),
            None => seen = PhotoSeen::Wrong,
        }
    }
    seen
}

/// Looks for a photo in a folder this home has not joined.
pub fn photo_in(folder: &Path, photo: &Hash) -> PhotoSeen {
    look(&RealDisk, folder, &Keyring::default(), photo)
}

/// The bytes of a regular file; one that is longer than a photo may be counts as cut there, and so as wrong.
fn read(disk: &dyn Disk, path: &Path) -> Option<Vec<u8>> {
    let stat = disk.stat(path).ok()?;
    if stat.kind != Kind::File || stat.placeholder {
        return None;
    }
    let mut bytes = Vec::new();
    disk.read(path).ok()?.take(MAX_PHOTO as u64).read_to_end(&mut bytes).ok()?;
    Some(bytes)
}

impl Shop {
    /// Keeps a photo (JPEG, ready to be shown) and puts it into the folder, where that can be reached; gives its
    /// hash. Before the entry that names it.
    pub fn put_photo(&mut self, bytes: &[u8]) -> Result<Hash, Error> {
        if bytes.len() > MAX_PHOTO {
            return Err(Error::BadInput(format!("a photo has at most {} MiB", MAX_PHOTO >> 20)));
        }
        let photo = Hash::of(&[bytes]);
        let path = self.own_photo(&photo);
        let home = self.home.clone();
        let _lock = home.lock()?;
        let name = photo.to_string();
        let dirs = ["photos", &name[..2]];
        make_dirs(home.disk.as_ref(), &self.dir(), &dirs).map_err(|error| Error::io(&path, error))?;
        if self.home.disk.stat(&path).is_err() {
            write_atomic(home.disk.as_ref(), &path, bytes, TAG, Open::New)
                .map_err(|error| Error::io(&path, error))?;
        }
        if matches!(self.look_at_folder(), Ok(Look::Here)) {
            // Where the folder is out of reach, the next publishing does it.
            let _ = self.publish_photos();
        }
        Ok(photo)
    }

    /// The photo with this hash, from this home or from the folder.
    pub fn photo(&self, photo: &Hash) -> PhotoSeen {
        let disk = self.home.disk.as_ref();
        match read(disk, &self.own_photo(photo)) {
            Some(bytes) if Hash::of(&[&bytes]) == *photo => PhotoSeen::Here(bytes),
            _ => look(disk, &self.folder, &self.sight.keys, photo),
        }
    }

    pub(super) fn own_photo(&self, photo: &Hash) -> PathBuf {
        self.dir().join(photo_place(photo))
    }

    /// The photos this home has put in.
    fn own_photos(&self) -> Vec<Hash> {
        let disk = self.home.disk.as_ref();
        let dirs = disk.list(&self.dir().join("photos")).unwrap_or_default();
        let names = dirs
            .into_iter()
            .flat_map(|(dir, _)| disk.list(&self.dir().join("photos").join(dir)).unwrap_or_default());
        names.filter_map(|(name, _)| name.to_str()?.strip_suffix(".jpg")?.parse().ok()).collect()
    }

    /// Puts own photos into the folder that are not there, before the entries that name them.
    pub(super) fn publish_photos(&mut self) -> Result<(), NotPublished> {
        if self.sight.keys.lacks_key() {
            return Err(NotPublished::NoPassphrase);
        }
        for photo in self.own_photos() {
            if !self.photos_there.contains(&photo) {
                self.publish_photo(&photo)?;
                self.photos_there.insert(photo);
            }
        }
        Ok(())
    }

    fn publish_photo(&self, photo: &Hash) -> Result<(), NotPublished> {
        let disk = self.home.disk.as_ref();
        let key = self.sight.keys.current();
        let name = key.map_or_else(|| photo_place(photo), |key| sealed_place(key, photo));
        let target = self.folder.join(&name);
        if !disk.stat(&target).is_ok_and(|stat| stat.kind == Kind::File && stat.len > 0) {
            let own = self.own_photo(photo);
            let bytes = read_small(disk, &own, MAX_PHOTO).map_err(|error| why(&error))?;
            let bytes = match key {
                Some(key) => key.seal_photo(photo, &bytes).ok_or(NotPublished::Failed)?,
                None => bytes,
            };
            let dirs: Vec<&str> = name.split('/').take(2).collect();
            make_dirs(disk, &self.folder, &dirs).map_err(|error| why(&error))?;
            let tag = self.device().to_string();
            write_atomic(disk, &target, &bytes, &tag, Open::New)
                .map_err(|error| reason(&Error::io(&target, error)))?;
        }
        self.remove_other_names(photo, &target);
        Ok(())
    }

    /// What was published plain, or under a passphrase before, goes once the photo stands under its name.
    fn remove_other_names(&self, photo: &Hash, target: &Path) {
        let others =
            places(&self.folder, &self.sight.keys, photo).into_iter().filter(|place| place != target);
        for other in others {
            // Not there, or read-only for the moment: looked at again when this home starts anew.
            let _ = self.home.disk.remove(&other);
        }
    }
}
