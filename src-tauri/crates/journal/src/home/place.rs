//! Which folder belongs to which shop of a home: `shops/<shop>/binding.json`.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use trowelogue_core::id::ShopId;

use super::Home;
use crate::error::Error;
use crate::files::read_small;

const MOST: usize = 65_536;

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

#[derive(Serialize, Deserialize)]
struct Binding {
    folder: String,
}

impl Home {
    /// What `folder` is to this home. A folder that is out of reach, or has lost its `shop.json`, is found by
    /// its path.
    pub fn locate(&self, folder: &Path) -> Result<Place, Error> {
        match self.shop_file(folder) {
            Ok(file) => self.place_of(file.id, folder),
            Err(error) => self.bound_to(folder)?.map(Place::Joined).ok_or(error),
        }
    }

    fn place_of(&self, shop: ShopId, folder: &Path) -> Result<Place, Error> {
        let Ok(bound) = self.bound(shop) else { return Ok(Place::Stranger(shop)) };
        if bound == self.canonical(folder)? {
            return Ok(Place::Joined(shop));
        }
        Ok(Place::Elsewhere { shop, bound })
    }

    /// The shop bound to a path.
    fn bound_to(&self, folder: &Path) -> Result<Option<ShopId>, Error> {
        let folder = self.canonical(folder)?;
        Ok(self.shops()?.into_iter().find(|(_, bound)| *bound == folder).map(|(shop, _)| shop))
    }

    pub(super) fn bound(&self, shop: ShopId) -> Result<PathBuf, Error> {
        let path = self.shop_dir(shop).join("binding.json");
        let bytes = read_small(self.disk.as_ref(), &path, MOST).map_err(|error| Error::io(&path, error))?;
        let binding: Binding = serde_json::from_slice(&bytes).map_err(|_| Error::HomeDamaged { path })?;
        Ok(binding.folder.into())
    }

    pub(super) fn bind(&self, shop: ShopId, folder: &Path) -> Result<(), Error> {
        let text = as_text(folder)?;
        let binding = serde_json::to_string(&Binding { folder: text.into() }).unwrap_or_default();
        self.put(&self.shop_dir(shop).join("binding.json"), format!("{binding}\n").as_bytes(), super::TAG)
    }

    /// The path without links and relative parts, also where its last parts are not there.
    pub(super) fn canonical(&self, folder: &Path) -> Result<PathBuf, Error> {
        let absolute = std::path::absolute(folder).map_err(|error| Error::io(folder, error))?;
        let mut missing = Vec::new();
        let mut at = absolute.as_path();
        loop {
            if let Ok(mut path) = self.disk.canonical(at) {
                path.extend(missing.iter().rev());
                return Ok(path);
            }
            match (at.parent(), at.file_name()) {
                (Some(parent), Some(name)) => {
                    missing.push(name);
                    at = parent;
                }
                _ => return Ok(absolute),
            }
        }
    }

    /// Makes the folder of a new shop, if its parent is there.
    pub(super) fn make_folder(&self, folder: &Path) -> Result<PathBuf, Error> {
        let folder = self.canonical(folder)?;
        if self.disk.canonical(&folder).is_err() {
            self.disk.make_dir(&folder).map_err(|error| match error.kind() {
                std::io::ErrorKind::NotFound => Error::FolderMissing { path: folder.clone() },
                _ => Error::io(&folder, error),
            })?;
        }
        if crate::files::is_dir(self.disk.as_ref(), &folder) {
            return Ok(folder);
        }
        Err(Error::NotAFolder { path: folder })
    }
}

/// A home remembers its folders as text.
pub(super) fn as_text(folder: &Path) -> Result<&str, Error> {
    folder.to_str().ok_or_else(|| {
        let shown = folder.display();
        Error::BadInput(format!("The path {shown} is not Unicode text; use another folder."))
    })
}
