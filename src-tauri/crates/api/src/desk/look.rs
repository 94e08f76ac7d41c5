//! What is in a folder, before a shop is founded there, joined or opened.

use std::path::Path;

use trowelogue_core::text::{Text, text};
use trowelogue_journal::{self as journal, Home, Place};

use super::Desk;
use crate::dto::{FolderLook, KnownShop};
use crate::say::fill;
use crate::{Result, faults, key_store};

const NOTHING: Text = text(
    "There is no such folder yet; a shop may be founded there.",
    "Esa carpeta aún no existe; se puede fundar un taller ahí.",
);
const EMPTY: Text = text(
    "The folder is empty; a shop may be founded there.",
    "La carpeta está vacía; se puede fundar un taller ahí.",
);
const OTHER_FILES: Text = text(
    "There is no shop in this folder, but there are other files. Choose an empty folder.",
    "En esta carpeta no hay ningún taller, pero sí otros archivos. Elija una carpeta vacía.",
);
const JOINED: Text = text(
    "The shop {shop}. This device has joined it.",
    "El taller {shop}. Este dispositivo se ha unido a él.",
);
const ELSEWHERE: Text = text(
    "A copy of the shop {shop}, which this device uses at {path}. It can be read.",
    "Una copia del taller {shop}, que este dispositivo usa en {path}. Se puede leer.",
);
const STRANGER: Text = text(
    "The shop {shop}. This device may look at it, or join it.",
    "El taller {shop}. Este dispositivo puede mirarlo o unirse a él.",
);

impl Desk {
    /// What is in a folder.
    ///
    /// # Errors
    /// There is something in it that cannot be read: a damaged `shop.json`, one of a newer version, a file where
    /// the folder should be.
    pub fn look(&self, folder: &Path) -> Result<FolderLook> {
        let lang = self.setup().language().into();
        let home = key_store::open(self.keep().dir());
        let path = folder.display().to_string();
        let plain = |empty: bool, words: Text| {
            Ok(FolderLook {
                path: path.clone(),
                shop: None,
                joined: false,
                empty,
                say: words.get(lang).to_owned(),
            })
        };
        let place = match home.locate(folder) {
            Ok(place) => place,
            Err(journal::Error::FolderMissing { .. }) => return plain(true, NOTHING),
            Err(journal::Error::NotAShop { .. }) => {
                let empty = is_empty(folder).map_err(|error| faults::file(folder, &error, lang))?;
                return plain(empty, if empty { EMPTY } else { OTHER_FILES });
            }
            Err(error) => return Err(faults::journal(&error, lang)),
        };
        let shop = self.name_of(&home, folder, &place)?;
        let blanks: [(&str, &dyn std::fmt::Display); 1] = [("shop", &shop)];
        let say = match &place {
            Place::Joined(_) => fill(JOINED, lang, &blanks),
            Place::Stranger(_) => fill(STRANGER, lang, &blanks),
            Place::Elsewhere { bound, .. } => {
                fill(ELSEWHERE, lang, &[("shop", &shop), ("path", &bound.display())])
            }
        };
        let joined = matches!(place, Place::Joined(_));
        Ok(FolderLook { path, shop: Some(shop), joined, empty: false, say })
    }

    fn name_of(&self, home: &Home, folder: &Path, place: &Place) -> Result<String> {
        let lang = self.setup().language().into();
        let fault = |error: journal::Error| faults::journal(&error, lang);
        Ok(match place {
            Place::Joined(shop) => home.shop_by_id(*shop).map_err(fault)?.file().name.clone(),
            Place::Elsewhere { .. } | Place::Stranger(_) => journal::shop_name(folder).map_err(fault)?,
        })
    }

    /// The shops this home has joined.
    pub(super) fn known(&self) -> Vec<KnownShop> {
        let home = key_store::open(self.keep().dir());
        let shops = home.shops().unwrap_or_default();
        let row = |(id, folder): (trowelogue_core::id::ShopId, std::path::PathBuf)| {
            let name = home.shop_by_id(id).ok()?.file().name.clone();
            let reachable = folder.join("shop.json").is_file();
            Some(KnownShop { id: id.to_string(), name, folder: folder.display().to_string(), reachable })
        };
        shops.into_iter().filter_map(row).collect()
    }
}

/// Whether a folder holds nothing but what systems put into every folder.
fn is_empty(folder: &Path) -> std::io::Result<bool> {
    let mut seen = std::fs::read_dir(folder)?.filter_map(|entry| entry.ok());
    Ok(seen.all(|entry| {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        name.starts_with('.') || ["desktop.ini", "Thumbs.db"].contains(&name.as_ref())
    }))
}
