//! The home's secret: 32 random bytes from which each device's key is made. It stands in the file `key`; or that file
//! names the entry of the operating system's key store that holds it.

use super::Home;
use super::vault::VaultFault;
use crate::disk::Open;
use crate::error::Error;
use crate::files::{read_small, write_atomic};

pub(super) const SECRET: usize = 32;
/// The most bytes the file has.
const MOST: usize = 128;
/// Characters of an entry's name: 16 random bytes in hexadecimal.
const NAME_CHARS: usize = 32;
/// What stands before the name of the entry in the key store.
const IN_STORE: &[u8] = b"trowelogue-key-store-1 ";

/// The home's secret. Never shown, never in a message.
pub(crate) struct Secret(pub(crate) [u8; SECRET]);

/// What the file `key` holds.
pub(super) enum Kept {
    /// The secret itself.
    Secret(Secret),
    /// The name of the entry in the key store.
    InStore(String),
}

impl Home {
    pub(super) fn key_path(&self) -> std::path::PathBuf {
        self.dir.join("key")
    }

    /// What the key file holds; `None` where there is none yet.
    pub(super) fn kept_key(&self) -> Result<Option<Kept>, Error> {
        let path = self.key_path();
        let bytes = match read_small(self.disk.as_ref(), &path, MOST) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
            Err(error) if error.kind() == std::io::ErrorKind::InvalidData => {
                return Err(Error::HomeDamaged { path });
            }
            Err(error) => return Err(Error::io(&path, error)),
        };
        if let Ok(secret) = <[u8; SECRET]>::try_from(bytes.as_slice()) {
            return Ok(Some(Kept::Secret(Secret(secret))));
        }
        let named = bytes.strip_prefix(IN_STORE).and_then(|rest| std::str::from_utf8(rest).ok());
        let name = named.map(str::trim_end).filter(|name| is_name(name));
        name.map(|name| Some(Kept::InStore(name.to_owned()))).ok_or(Error::HomeDamaged { path })
    }

    /// Reads the secret; `None` where there is none yet.
    fn secret_if_any(&self) -> Result<Option<Secret>, Error> {
        match self.kept_key()? {
            None => Ok(None),
            Some(Kept::Secret(secret)) => Ok(Some(secret)),
            Some(Kept::InStore(name)) => self.secret_in_store(&name).map(Some),
        }
    }

    /// The secret an entry of the key store holds.
    pub(super) fn secret_in_store(&self, name: &str) -> Result<Secret, Error> {
        let found = self.vault()?.get(name).map_err(|why| Error::KeyStore(VaultFault::Silent(why)))?;
        let bytes = found.and_then(|bytes| <[u8; SECRET]>::try_from(bytes.as_slice()).ok());
        bytes.map(Secret).ok_or(Error::KeyStore(VaultFault::Lost))
    }

    /// The secret of a home that joined a shop: it must be there.
    pub(super) fn secret(&self) -> Result<Secret, Error> {
        let path = self.key_path();
        self.secret_if_any()?.ok_or(Error::HomeDamaged { path })
    }

    /// The secret, made now if there is none. Under the home's lock, so that two processes cannot both make one.
    pub(super) fn secret_or_new(&self) -> Result<Secret, Error> {
        if let Some(secret) = self.secret_if_any()? {
            return Ok(secret);
        }
        let secret = Secret(self.random::<SECRET>()?);
        self.keep_key(&Kept::Secret(Secret(secret.0)))?;
        Ok(secret)
    }

    /// Replaces the key file: whole, or not at all; readable by nobody else.
    pub(super) fn keep_key(&self, key: &Kept) -> Result<(), Error> {
        let path = self.key_path();
        let bytes = match key {
            Kept::Secret(secret) => secret.0.to_vec(),
            Kept::InStore(name) => [IN_STORE, name.as_bytes(), b"\n"].concat(),
        };
        write_atomic(self.disk.as_ref(), &path, &bytes, super::TAG, Open::NewPrivate)
            .map_err(|error| Error::io(&path, error))
    }
}

/// Whether this is a name as this program gives one to an entry.
fn is_name(name: &str) -> bool {
    name.len() == NAME_CHARS
        && name.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte))
}
