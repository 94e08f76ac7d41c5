//! The operating system's key store, as an option: the home's secret moves into it, and out again.
//!
//! Nothing is moved silently: a store that does not answer is an error, never a reason to write the secret into a
//! file, and the secret leaves one place only when it was read back from the other.

use std::sync::Arc;

use super::Home;
use super::secret::{Kept, Secret};
use crate::error::Error;

/// A place of the operating system that keeps small secrets.
pub trait KeyStore: Send + Sync {
    /// Puts a secret under a name, over the former one.
    ///
    /// # Errors
    /// The store's own words for why it cannot.
    fn put(&self, name: &str, secret: &[u8]) -> Result<(), String>;

    /// The secret under a name; `None` where there is none.
    ///
    /// # Errors
    /// The store's own words for why it cannot.
    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, String>;

    /// Removes the secret under a name, if there is one.
    ///
    /// # Errors
    /// The store's own words for why it cannot.
    fn remove(&self, name: &str) -> Result<(), String>;
}

/// What is wrong with the key store.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum VaultFault {
    /// This program, or this home, has none.
    #[error("there is no key store here")]
    None,
    /// It does not answer, or refuses.
    #[error("the key store does not answer: {0}")]
    Silent(String),
    /// It no longer holds this home's key.
    #[error("the key store no longer holds the key of this device")]
    Lost,
}

/// Where a home's secret stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyPlace {
    /// Nowhere yet.
    Nowhere,
    /// In the home's file `key`.
    File,
    /// In the key store.
    Store,
}

impl Home {
    /// The same home, with the key store of the system.
    pub fn with_key_store(self, store: Arc<dyn KeyStore>) -> Self {
        Self { vault: Some(store), ..self }
    }

    pub(super) fn vault(&self) -> Result<&dyn KeyStore, Error> {
        self.vault.as_deref().ok_or(Error::KeyStore(VaultFault::None))
    }

    /// Where the secret stands.
    pub fn key_place(&self) -> Result<KeyPlace, Error> {
        Ok(match self.kept_key()? {
            None => KeyPlace::Nowhere,
            Some(Kept::Secret(_)) => KeyPlace::File,
            Some(Kept::InStore(_)) => KeyPlace::Store,
        })
    }

    /// Tries the key store with a secret of no worth, so that nothing is begun that cannot be finished.
    pub fn try_key_store(&self) -> Result<(), Error> {
        let (name, worthless) = (self.new_name()?, self.random::<16>()?);
        let vault = self.vault()?;
        let tried = vault.put(&name, &worthless).and_then(|()| vault.get(&name));
        let removed = vault.remove(&name);
        match tried.and_then(|found| removed.map(|()| found)) {
            Ok(Some(found)) if found == worthless => Ok(()),
            Ok(_) => Err(Error::KeyStore(VaultFault::Lost)),
            Err(why) => Err(Error::KeyStore(VaultFault::Silent(why))),
        }
    }

    /// Moves the secret into the key store; one that is there stays. A home without one gets one first.
    pub fn key_into_store(&self) -> Result<(), Error> {
        self.make_home()?;
        let _lock = self.lock()?;
        if let Some(Kept::InStore(name)) = self.kept_key()? {
            return self.secret_in_store(&name).map(|_| ());
        }
        self.try_key_store()?;
        let secret = self.secret_or_new()?;
        let name = self.new_name()?;
        self.vault()?.put(&name, &secret.0).map_err(|why| Error::KeyStore(VaultFault::Silent(why)))?;
        // Read back before the file lets it go.
        let Secret(there) = self.secret_in_store(&name)?;
        if there != secret.0 {
            return Err(Error::KeyStore(VaultFault::Lost));
        }
        self.keep_key(&Kept::InStore(name))
    }

    /// Moves the secret out of the key store into the file; one that is there stays.
    pub fn key_into_file(&self) -> Result<(), Error> {
        let _lock = self.lock()?;
        let Some(Kept::InStore(name)) = self.kept_key()? else { return Ok(()) };
        let secret = self.secret_in_store(&name)?;
        self.keep_key(&Kept::Secret(secret))?;
        // Left behind it opens nothing that the file does not; it is removed where the store allows it.
        let _ = self.vault()?.remove(&name);
        Ok(())
    }

    /// A name for an entry: no two homes of one person share one.
    fn new_name(&self) -> Result<String, Error> {
        Ok(data_encoding::HEXLOWER.encode(&self.random::<16>()?))
    }
}
