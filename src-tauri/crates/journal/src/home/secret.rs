//! The home's secret: 32 random bytes in `key`, from which each device's key is made.

use super::Home;
use crate::disk::Open;
use crate::error::Error;
use crate::files::{read_small, write_atomic};

const SECRET: usize = 32;

/// The home's secret. Never shown, never in a message.
pub(crate) struct Secret(pub(crate) [u8; SECRET]);

impl Home {
    fn key_path(&self) -> std::path::PathBuf {
        self.dir.join("key")
    }

    /// Reads the secret; `None` where there is none yet.
    fn secret_if_any(&self) -> Result<Option<Secret>, Error> {
        let path = self.key_path();
        match read_small(self.disk.as_ref(), &path, SECRET) {
            Ok(bytes) => match bytes.try_into() {
                Ok(bytes) => Ok(Some(Secret(bytes))),
                Err(_) => Err(Error::HomeDamaged { path }),
            },
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(error) if error.kind() == std::io::ErrorKind::InvalidData => Err(Error::HomeDamaged { path }),
            Err(error) => Err(Error::io(&path, error)),
        }
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
        let secret = self.random::<SECRET>()?;
        let path = self.key_path();
        write_atomic(self.disk.as_ref(), &path, &secret, super::TAG, Open::NewPrivate)
            .map_err(|error| Error::io(&path, error))?;
        Ok(Secret(secret))
    }
}
