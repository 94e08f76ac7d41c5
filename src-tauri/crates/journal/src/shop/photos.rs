//! Which photos lie in a folder, by their names alone.

use std::collections::BTreeSet;
use std::io;
use std::path::Path;

use trowelogue_core::id::Hash;

use super::photo::photo_place;
use crate::disk::{Disk, Kind, RealDisk};

/// Where photos stand in a folder.
const PHOTOS: &str = "photos";

/// The ending of an encrypted photo; its name is made with the key.
const SEALED: &str = ".sealed";

/// Those of the `named` photos whose files are in the folder; `None` where that cannot be told: the folder cannot
/// be looked into, or holds encrypted photos, whose names say nothing. Only `verify` reads the bytes.
pub fn photos_here(folder: &Path, named: &BTreeSet<Hash>) -> Option<BTreeSet<Hash>> {
    let places = places(&RealDisk, folder).ok()?;
    if places.iter().any(|place| place.ends_with(SEALED)) {
        return None;
    }
    Some(named.iter().copied().filter(|hash| places.contains(&photo_place(hash))).collect())
}

/// Every file below `photos`, as a path in the folder.
fn places(disk: &dyn Disk, folder: &Path) -> io::Result<BTreeSet<String>> {
    let mut places = BTreeSet::new();
    if !names(disk, folder, Kind::Dir)?.iter().any(|name| name == PHOTOS) {
        return Ok(places);
    }
    let photos = folder.join(PHOTOS);
    for part in names(disk, &photos, Kind::Dir)? {
        let files = names(disk, &photos.join(&part), Kind::File)?;
        places.extend(files.into_iter().map(|file| format!("{PHOTOS}/{part}/{file}")));
    }
    Ok(places)
}

/// The names of one kind in a directory. Names that are no UTF-8 are no photo's.
fn names(disk: &dyn Disk, dir: &Path, kind: Kind) -> io::Result<Vec<String>> {
    let listed = disk.list(dir)?.into_iter().filter(|(_, stat)| stat.kind == kind && !stat.placeholder);
    Ok(listed.filter_map(|(name, _)| name.into_string().ok()).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_photo_is_here_when_its_file_is() {
        let (here, gone) = (Hash([1; 32]), Hash([2; 32]));
        let named = BTreeSet::from([here, gone]);
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(photos_here(folder.path(), &named), Some(BTreeSet::new()), "no photo was ever taken");
        let place = folder.path().join(photo_place(&here));
        std::fs::create_dir_all(place.parent().unwrap()).unwrap();
        std::fs::write(&place, b"a photo").unwrap();
        std::fs::write(folder.path().join("photos/stray"), b"").unwrap();
        assert_eq!(photos_here(folder.path(), &named), Some(BTreeSet::from([here])));
        assert_eq!(photos_here(&folder.path().join("nowhere"), &named), None);
        std::fs::write(place.with_extension("sealed"), b"a photo under a key").unwrap();
        assert_eq!(photos_here(folder.path(), &named), None, "names made with a key say nothing");
    }
}
