//! The folder's passphrase and what was erased, as this home keeps them: `passphrase.json` and `erased.json`.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use trowelogue_core::id::{Hash, ShopId};

use super::Shop;
use super::own::Own;
use crate::disk::{Disk, Kind, Open};
use crate::error::Error;
use crate::files::{read_small, write_atomic};
use crate::gather::MAX_FILE;
use crate::home::Home;
use crate::scan::list;
use crate::sight::Sight;
use crate::veil::{FolderKey, Keyring, Lockbox};

const TAG: &str = "new";
/// The most bytes either file may have: a hundred thousand hashes.
const MOST: usize = 8 << 20;

impl Home {
    fn keyring_path(&self, shop: ShopId) -> PathBuf {
        self.shop_dir(shop).join("passphrase.json")
    }

    fn erased_path(&self, shop: ShopId) -> PathBuf {
        self.shop_dir(shop).join("erased.json")
    }

    /// What this home may see of a shop's files. A file that is damaged is one without content: keys are asked
    /// for again, and what was erased is told by the entries.
    pub(crate) fn sight(&self, shop: ShopId) -> Sight {
        let read = |path: &Path| read_small(self.disk.as_ref(), path, MOST).unwrap_or_default();
        let keys = Keyring::read(&read(&self.keyring_path(shop))).unwrap_or_default();
        let erased = serde_json::from_slice(&read(&self.erased_path(shop))).unwrap_or_default();
        Sight { keys, erased }
    }
}

impl Shop {
    /// Makes the lockbox for a new passphrase, with the keys of those before it. It takes effect with an owner's
    /// entry that carries it: see [`Shop::take_passphrase`].
    pub fn lockbox(&self, passphrase: &str) -> Result<(Lockbox, FolderKey), Error> {
        Lockbox::new(passphrase, self.home.random()?, &self.sight.keys).map_err(Error::Passphrase)
    }

    /// Keeps the key of the passphrase that the entry with this hash set.
    pub fn take_passphrase(&mut self, entry: Hash, key: FolderKey) -> Result<(), Error> {
        let mut keys = self.sight.keys.clone();
        keys.take(entry, key);
        self.keep_keys(keys)
    }

    /// Opens the lockbox that the entry with this hash carries, and keeps its keys. What could not be read
    /// before is read with the next [`Shop::read`].
    pub fn unlock(&mut self, entry: Hash, lockbox: &Lockbox, passphrase: &str) -> Result<(), Error> {
        let (key, earlier) = lockbox.open(passphrase).map_err(Error::Passphrase)?;
        let mut keys = self.sight.keys.clone();
        keys.take(entry, key);
        keys.take_all(earlier);
        self.keep_keys(keys)
    }

    /// Says which entry's passphrase is in force, by the fold. Under a new one everything is published again.
    pub fn set_passphrase_in_force(&mut self, entry: Option<Hash>) -> Result<(), Error> {
        let mut keys = self.sight.keys.clone();
        if keys.set_in_force(entry) { self.keep_keys(keys) } else { Ok(()) }
    }

    /// Whether the shop has a passphrase that this device does not know.
    pub fn lacks_passphrase(&self) -> bool {
        self.sight.keys.lacks_key()
    }

    fn keep_keys(&mut self, keys: Keyring) -> Result<(), Error> {
        let home = self.home.clone();
        let _lock = home.lock()?;
        let path = self.home.keyring_path(self.file.id);
        let text = keys.write() + "\n";
        write_atomic(self.home.disk.as_ref(), &path, text.as_bytes(), TAG, Open::NewPrivate)
            .map_err(|error| Error::io(&path, error))?;
        self.look_anew(Sight { keys, ..(*self.sight).clone() });
        Ok(())
    }

    /// Everything read from now on is seen this way, and everything published is looked at again.
    fn look_anew(&mut self, sight: Sight) {
        self.sight = Arc::new(sight);
        self.scanner.sight = self.sight.clone();
        self.left.clear();
        self.photos_there.clear();
    }

    /// Takes the bodies of these entries out of everything this home keeps, and the photos with them; the folder
    /// follows when it is published next. The lines stay, and their chain. True if something was taken out that
    /// was there: then the shop is read again.
    pub fn erase(&mut self, erased: &BTreeSet<Hash>, photos: &BTreeSet<Hash>) -> Result<bool, Error> {
        self.remove_photos(photos)?;
        if *erased == self.sight.erased {
            return Ok(false);
        }
        let home = self.home.clone();
        let lock = home.lock()?;
        // Seen this way first: what is taken out now must not come back from the folder.
        self.look_anew(Sight { erased: erased.clone(), ..(*self.sight).clone() });
        let disk = self.home.disk.clone();
        let journal = self.journal_dir();
        let (files, _) =
            list::list(disk.as_ref(), &journal, "").map_err(|error| Error::io(&journal, error))?;
        for file in files.iter().filter(|file| list::named_like_a_log(&file.name)) {
            self.take_out(disk.as_ref(), &file.path)?;
        }
        let path = self.home.erased_path(self.file.id);
        let text = serde_json::to_string(erased).unwrap_or_default();
        self.home.put(&path, text.as_bytes(), TAG)?;
        self.own.end = Own::default();
        self.own.refresh()?;
        drop(lock);
        Ok(true)
    }

    fn take_out(&self, disk: &dyn Disk, path: &Path) -> Result<(), Error> {
        let failed = |error| Error::io(path, error);
        let bytes = read_small(disk, path, 2 * MAX_FILE).map_err(failed)?;
        match self.sight.without_erased(&bytes) {
            Some(rest) => write_atomic(disk, path, &rest, TAG, Open::New).map_err(failed),
            None => Ok(()),
        }
    }

    /// Removes photos from this home and from the folder, under every name they have there. One that cannot be
    /// removed now is removed the next time.
    fn remove_photos(&mut self, photos: &BTreeSet<Hash>) -> Result<(), Error> {
        let disk = self.home.disk.clone();
        for photo in photos {
            let own = self.own_photo(photo);
            if disk.stat(&own).is_ok_and(|stat| stat.kind == Kind::File) {
                disk.remove(&own).map_err(|error| Error::io(&own, error))?;
            }
            for place in super::photo::places(&self.folder, &self.sight.keys, photo) {
                let _ = disk.remove(&place);
            }
            self.photos_there.remove(photo);
        }
        Ok(())
    }
}
