//! The home's secret in a key store: in, out, and every way a store may fail.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Arc, Mutex};

use trowelogue_core::moment::{Moment, parse};
use trowelogue_journal::{Error, Home, KeyPlace, KeyStore, VaultFault};

/// A key store in memory that can be told to fail.
#[derive(Default)]
struct Memory {
    secrets: Mutex<BTreeMap<String, Vec<u8>>>,
    fails: Mutex<Option<Fails>>,
}

#[derive(Clone, Copy, PartialEq)]
enum Fails {
    /// It answers nothing.
    Everything,
    /// It takes a secret and forgets it.
    Forgets,
    /// It takes a secret and gives another.
    Garbles,
}

impl Memory {
    fn fail(&self, fails: impl Into<Option<Fails>>) {
        *self.fails.lock().unwrap() = fails.into();
    }

    fn answers(&self) -> Result<(), String> {
        let silent = *self.fails.lock().unwrap() == Some(Fails::Everything);
        if silent { Err("locked".into()) } else { Ok(()) }
    }

    fn count(&self) -> usize {
        self.secrets.lock().unwrap().len()
    }
}

impl KeyStore for Memory {
    fn put(&self, name: &str, secret: &[u8]) -> Result<(), String> {
        self.answers()?;
        let mut kept = secret.to_vec();
        match *self.fails.lock().unwrap() {
            Some(Fails::Forgets) => return Ok(()),
            Some(Fails::Garbles) => kept[0] ^= 1,
            _ => {}
        }
        self.secrets.lock().unwrap().insert(name.into(), kept);
        Ok(())
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, String> {
        self.answers()?;
        Ok(self.secrets.lock().unwrap().get(name).cloned())
    }

    fn remove(&self, name: &str) -> Result<(), String> {
        self.answers()?;
        self.secrets.lock().unwrap().remove(name);
        Ok(())
    }
}

fn now() -> Moment {
    parse("2025-03-04T08:00:00-06:00").unwrap()
}

fn home(dir: &Path, store: &Arc<Memory>) -> Home {
    Home::open(dir.join("home")).with_key_store(store.clone())
}

/// A shop founded with the key in the file; the device, and the secret.
fn founded(dir: &Path, store: &Arc<Memory>) -> (String, Vec<u8>) {
    let founded = home(dir, store).found(&dir.join("shop"), "North Yard Castings", now()).unwrap();
    (founded.shop.device().to_string(), std::fs::read(dir.join("home/key")).unwrap())
}

fn device(dir: &Path, store: &Arc<Memory>) -> Result<String, Error> {
    home(dir, store).shop(&dir.join("shop")).map(|shop| shop.device().to_string())
}

#[test]
fn a_key_moves_into_the_store_and_out_and_the_device_stays_the_same() {
    let (place, store) = (tempfile::tempdir().unwrap(), Arc::new(Memory::default()));
    let dir = place.path();
    assert_eq!(home(dir, &store).key_place().unwrap(), KeyPlace::Nowhere);
    let (own, secret) = founded(dir, &store);
    assert_eq!(home(dir, &store).key_place().unwrap(), KeyPlace::File);
    for _ in 0..2 {
        home(dir, &store).key_into_store().unwrap();
    }
    assert_eq!((home(dir, &store).key_place().unwrap(), store.count()), (KeyPlace::Store, 1));
    let file = std::fs::read(dir.join("home/key")).unwrap();
    assert!(
        !file.windows(8).any(|part| secret.windows(8).any(|of| of == part)),
        "nothing of it is in the file"
    );
    assert_eq!(device(dir, &store).unwrap(), own);
    for _ in 0..2 {
        home(dir, &store).key_into_file().unwrap();
    }
    assert_eq!((home(dir, &store).key_place().unwrap(), store.count()), (KeyPlace::File, 0));
    assert_eq!(std::fs::read(dir.join("home/key")).unwrap(), secret);
    assert_eq!(device(dir, &store).unwrap(), own);
}

#[test]
fn a_store_that_fails_is_said_and_the_key_stays_in_its_file() {
    let (place, store) = (tempfile::tempdir().unwrap(), Arc::new(Memory::default()));
    let dir = place.path();
    let (own, secret) = founded(dir, &store);
    for fails in [Fails::Everything, Fails::Forgets, Fails::Garbles] {
        store.fail(fails);
        assert!(matches!(home(dir, &store).try_key_store(), Err(Error::KeyStore(_))));
        assert!(matches!(home(dir, &store).key_into_store(), Err(Error::KeyStore(_))));
        store.fail(None);
        assert_eq!(std::fs::read(dir.join("home/key")).unwrap(), secret);
        assert_eq!(device(dir, &store).unwrap(), own);
    }
    assert!(matches!(Home::open(dir.join("home")).key_into_store(), Err(Error::KeyStore(VaultFault::None))));
}

#[test]
fn a_key_in_a_store_that_is_silent_or_has_lost_it_is_an_error_and_nothing_is_made_anew() {
    let (place, store) = (tempfile::tempdir().unwrap(), Arc::new(Memory::default()));
    let dir = place.path();
    let (own, _) = founded(dir, &store);
    home(dir, &store).key_into_store().unwrap();
    let file = std::fs::read(dir.join("home/key")).unwrap();
    store.fail(Fails::Everything);
    assert!(matches!(device(dir, &store), Err(Error::KeyStore(VaultFault::Silent(why))) if why == "locked"));
    assert!(home(dir, &store).key_into_file().is_err());
    // Another shop would need the secret too: none is made silently.
    assert!(home(dir, &store).found(&dir.join("second"), "Second", now()).is_err());
    store.fail(None);
    assert_eq!(device(dir, &store).unwrap(), own);
    assert!(matches!(
        Home::open(dir.join("home")).shop(&dir.join("shop")).map(|_| ()),
        Err(Error::KeyStore(VaultFault::None))
    ));
    store.secrets.lock().unwrap().clear();
    assert!(matches!(device(dir, &store), Err(Error::KeyStore(VaultFault::Lost))));
    assert_eq!(std::fs::read(dir.join("home/key")).unwrap(), file, "the file still names the entry");
}

#[test]
fn a_key_file_with_something_else_in_it_is_damaged() {
    let (place, store) = (tempfile::tempdir().unwrap(), Arc::new(Memory::default()));
    let dir = place.path();
    founded(dir, &store);
    for bytes in [&b""[..], b"short", &[7; 31], &[7; 200], b"trowelogue-key-store-1 ../../etc\n"] {
        std::fs::write(dir.join("home/key"), bytes).unwrap();
        assert!(matches!(device(dir, &store), Err(Error::HomeDamaged { .. })), "{bytes:?}");
    }
}
