//! Where the key of this device stands: in a file of its data, or in the operating system's key store.
//!
//! The key store serves the default place alone: it holds one key a person, and a home named by hand may be a stick
//! that is carried elsewhere. It is compiled in with the feature `key-store`.

use std::path::Path;

use trowelogue_core::text::{Text, text};
use trowelogue_journal::{Home, KeyPlace};

use crate::session::Setup;
use crate::{ApiError, ErrorCode, Result, default_home, faults};

const NOT_BUILT: Text = text(
    "This program was built without the system's key store.",
    "Este programa se compiló sin el almacén de claves del sistema.",
);
const NAMED_HOME: Text = text(
    "The system's key store serves the default place alone; a home named with --home keeps its key in its own file.",
    "El almacén de claves del sistema solo sirve al lugar habitual; los datos nombrados con --home guardan la clave en su propio archivo.",
);
const IN_FILE: Text = text(
    "The key of this device is in its own file, readable by this user alone.",
    "La clave de este dispositivo está en su propio archivo, legible solo para este usuario.",
);
const IN_STORE: Text = text(
    "The key of this device is in the system's key store.",
    "La clave de este dispositivo está en el almacén de claves del sistema.",
);
const NO_KEY: Text = text("This device has no key yet.", "Este dispositivo aún no tiene clave.");

/// Where a key stands or is to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyHolder {
    /// The file `key` in the home.
    File,
    /// The operating system's key store.
    Store,
}

/// Where the key of a home stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyAt {
    /// `nowhere`, `file` or `key_store`.
    pub place: &'static str,
    /// The words for it.
    pub say: String,
}

/// Where the key of this home stands.
///
/// # Errors
/// The home cannot be read.
pub fn key_at(setup: &Setup) -> Result<KeyAt> {
    let lang = setup.language().into();
    let place = open(&setup.home).key_place().map_err(|error| faults::journal(&error, lang))?;
    let (place, words) = match place {
        KeyPlace::Nowhere => ("nowhere", NO_KEY),
        KeyPlace::File => ("file", IN_FILE),
        KeyPlace::Store => ("key_store", IN_STORE),
    };
    Ok(KeyAt { place, say: words.get(lang).to_owned() })
}

/// Moves the key of this home; where it is there already, nothing is done.
///
/// # Errors
/// There is no key store for this home, or it does not answer. The key stays where it is then.
pub fn move_key(setup: &Setup, to: KeyHolder) -> Result<KeyAt> {
    let lang = setup.language().into();
    let home = open(&setup.home);
    let moved = match to {
        KeyHolder::File => home.key_into_file(),
        KeyHolder::Store => {
            may_use_store(setup)?;
            home.key_into_store()
        }
    };
    moved.map_err(|error| faults::journal(&error, lang))?;
    key_at(setup)
}

/// Refuses, before anything is begun, what could not be finished: a key store that is not there for this home.
///
/// # Errors
/// As [`move_key`].
pub fn key_store_answers(setup: &Setup) -> Result<()> {
    may_use_store(setup)?;
    let lang = setup.language().into();
    open(&setup.home).try_key_store().map_err(|error| faults::journal(&error, lang))
}

fn may_use_store(setup: &Setup) -> Result<()> {
    let refused = |words: Text| {
        let lang = setup.language().into();
        ApiError::new(ErrorCode::Usage, words.get(lang)).kept(crate::add::NOTHING.get(lang))
    };
    if !cfg!(feature = "key-store") {
        return Err(refused(NOT_BUILT));
    }
    if is_default(&setup.home) { Ok(()) } else { Err(refused(NAMED_HOME)) }
}

fn is_default(home: &Path) -> bool {
    default_home().is_ok_and(|own| own == home)
}

/// The home in `dir`, with the key store of the system where it may use one.
pub(crate) fn open(dir: &Path) -> Home {
    with_store(Home::open(dir), dir)
}

#[cfg(feature = "key-store")]
fn with_store(home: Home, dir: &Path) -> Home {
    if is_default(dir) { home.with_key_store(std::sync::Arc::new(system::SystemStore)) } else { home }
}

#[cfg(not(feature = "key-store"))]
fn with_store(home: Home, _: &Path) -> Home {
    home
}

#[cfg(feature = "key-store")]
mod system {
    use keyring_core::{Entry, Error};
    use trowelogue_journal::KeyStore;

    /// What entries of this program are filed under.
    const SERVICE: &str = "trowelogue";

    /// The key store of the operating system, or the one a test has set in its place.
    pub(super) struct SystemStore;

    fn entry(name: &str) -> Result<Entry, String> {
        if keyring_core::get_default_store().is_none()
            && let Err(error) = keyring::v1::Entry::store_status()
        {
            return Err(error.to_string());
        }
        Entry::new(SERVICE, name).map_err(|error| error.to_string())
    }

    impl KeyStore for SystemStore {
        fn put(&self, name: &str, secret: &[u8]) -> Result<(), String> {
            entry(name)?.set_secret(secret).map_err(|error| error.to_string())
        }

        fn get(&self, name: &str) -> Result<Option<Vec<u8>>, String> {
            match entry(name)?.get_secret() {
                Ok(secret) => Ok(Some(secret)),
                Err(Error::NoEntry) => Ok(None),
                Err(error) => Err(error.to_string()),
            }
        }

        fn remove(&self, name: &str) -> Result<(), String> {
            match entry(name)?.delete_credential() {
                Ok(()) | Err(Error::NoEntry) => Ok(()),
                Err(error) => Err(error.to_string()),
            }
        }
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        #[test]
        fn a_secret_goes_in_comes_out_and_is_gone_when_removed() {
            // The store of the library itself, in memory: no key store of this machine is asked.
            keyring_core::set_default_store(keyring_core::mock::Store::new().expect("a store in memory"));
            let store = SystemStore;
            assert_eq!(store.get("one"), Ok(None));
            store.put("one", &[0, 255, 7]).expect("kept");
            store.put("one", &[1; 32]).expect("kept over the former");
            assert_eq!(store.get("one"), Ok(Some(vec![1; 32])));
            assert_eq!(store.get("two"), Ok(None));
            store.remove("one").expect("removed");
            assert_eq!((store.get("one"), store.remove("one")), (Ok(None), Ok(())));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Clock;

    #[test]
    fn a_home_named_by_hand_keeps_its_key_in_its_file() {
        let place = tempfile::tempdir().expect("a folder");
        let clock = Clock::System;
        let setup = Setup { home: place.path().join("home"), clock, lang: None, units: None };
        assert_eq!(key_at(&setup).expect("told").place, "nowhere");
        for refused in [key_store_answers(&setup).err(), move_key(&setup, KeyHolder::Store).err()] {
            let error = refused.expect("refused");
            assert_eq!(error.code, ErrorCode::Usage);
            assert!(error.message.contains("key store"), "{error:?}");
        }
        assert!(!setup.home.exists(), "nothing is begun");
        crate::Session::found(&setup, &place.path().join("shop"), "North Yard", "Ada Fell").expect("founded");
        assert_eq!(key_at(&setup).expect("told").place, "file");
        assert_eq!(move_key(&setup, KeyHolder::File).expect("it is there").place, "file");
    }
}
