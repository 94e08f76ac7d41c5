//! Faults that pass: a write that finds no room, an fsync that reports an error. The work goes on after each.

use std::sync::Arc;

use trowelogue_testkit::faulty::{FaultyDisk, Hiccup};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Error, Home};
use trowelogue_testkit::yard::{Yard, at, note};

use super::recovered;

/// Founds and appends; every refusal must be a clear one. Gives what was acknowledged.
fn work(yard: &Yard, disk: &FaultyDisk, rotates: bool) -> (Home, Vec<Hash>) {
    let home = yard.home_on("anna", Arc::new(disk.clone()));
    let found = || home.found(&yard.folder(), "North Yard Castings", at(0));
    let mut shop = match found() {
        Ok(founded) => founded.shop,
        Err(error) => {
            assert!(matches!(error, Error::DiskFull { .. } | Error::Io { .. }), "{error}");
            match found() {
                Err(Error::AlreadyAShop { .. }) => home.join(&yard.folder()).unwrap(),
                founded => founded.unwrap().shop,
            }
        }
    };
    let mut acked = Vec::new();
    let long = "z".repeat(45_000);
    for second in 1..8 {
        let batch = if rotates && second == 4 { vec![note(&long); 24] } else { vec![note("short")] };
        match shop.append(batch, at(second)) {
            Ok(done) => acked.extend(done.written().iter().map(|it| it.hash)),
            Err(error) => assert!(matches!(error, Error::DiskFull { .. } | Error::Io { .. }), "{error}"),
        }
    }
    (home, acked)
}

fn survives(hiccup: Hiccup, rotates: bool) -> u64 {
    let yard = Yard::new().unwrap();
    let disk = FaultyDisk::with(hiccup);
    let (home, acked) = work(&yard, &disk, rotates);
    assert!(acked.len() >= 6, "{hiccup:?}: one fault costs one batch at most");
    // The process that saw the fault goes on, and so does the next one.
    recovered(&mut home.shop(&yard.folder()).unwrap(), &acked, &format!("{hiccup:?}"));
    recovered(
        &mut yard.home("anna").shop(&yard.folder()).unwrap(),
        &acked,
        &format!("{hiccup:?}, restarted"),
    );
    disk.syncs()
}

#[test]
fn a_write_that_finds_no_room_is_rolled_back() {
    for nth in 1..24 {
        survives(Hiccup::Full(nth), nth % 4 == 0);
    }
}

#[test]
fn an_fsync_that_fails_is_not_believed_the_next_time() {
    let mut nth = 1;
    while nth <= survives(Hiccup::Sync(nth), nth % 4 == 0).min(48) {
        nth += 1;
    }
}
