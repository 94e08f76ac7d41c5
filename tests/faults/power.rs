//! The power goes at the nth fsync, for every n until the work is done without a cut.

use std::sync::Arc;

use trowelogue_testkit::faulty::{FaultyDisk, Loss};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{BreakKind, Error, Expected, Home, verify_folder};
use trowelogue_testkit::yard::{Outcome, Yard, acceptance, append, at, note};

use super::{goes_on, whole};

/// What each of two devices was told is durable.
#[derive(Default)]
struct Acked {
    anna: Vec<Hash>,
    ben: Vec<Hash>,
}

/// A morning's work: founding, appending, a segment that fills up, a second device, sweeping, a new device.
fn work(yard: &Yard, disk: &FaultyDisk, rotates: bool, acked: &mut Acked) -> Outcome<()> {
    let home = |name: &str| yard.home_on(name, Arc::new(disk.clone()));
    let mut anna = home("anna").found(&yard.folder(), "North Yard Castings", at(0))?.shop;
    acked.anna.push(append(&mut anna, note("first"), 1)?);
    let mut ben = home("ben").join(&yard.folder())?;
    acked.ben.push(append(&mut ben, note("of Ben"), 2)?);
    acked.anna.push(append(&mut anna, acceptance(ben.device(), "owner"), 3)?);
    if rotates {
        let long = "z".repeat(45_000);
        let batch = anna.append((0..24).map(|_| note(&long)).collect(), at(4))?;
        acked.anna.extend(batch.written().iter().map(|it| it.hash));
        // This one seals the segment and opens the next.
        acked.anna.push(append(&mut anna, note("in the second segment"), 5)?);
    }
    ben.sweep()?;
    acked.ben.push(append(&mut ben, note("after reading"), 6)?);
    anna.sweep()?;
    let mut ben = home("ben").replace_device(ben.id())?;
    acked.ben.push(append(&mut ben, note("as a new device"), 7)?);
    Ok(())
}

/// What `verify` may say of the last, unfinished write before anybody mends it.
fn is_of_a_tail(kind: BreakKind) -> bool {
    use BreakKind as Kind;
    matches!(
        kind,
        Kind::TornTail
            | Kind::BadLine
            | Kind::NotUtf8
            | Kind::BadHash
            | Kind::BadSignature
            | Kind::HeaderInvalid
            | Kind::TooLong
            | Kind::ShopFileBad
    )
}

fn cut_once(nth: u64, loss: Loss) -> bool {
    let when = format!("{loss:?} at fsync {nth}");
    let yard = Yard::new().unwrap();
    let disk = FaultyDisk::cut_at(nth, loss);
    let mut acked = Acked::default();
    let done = work(&yard, &disk, loss == Loss::Torn, &mut acked);
    if !disk.is_off() {
        done.unwrap();
        return true;
    }
    if let Ok(report) = verify_folder(&yard.folder(), &Expected::default()) {
        let strange: Vec<_> = report.breaks.iter().filter(|it| !is_of_a_tail(it.kind)).collect();
        assert!(strange.is_empty(), "{when}: {strange:?}");
    }
    restart(&yard, "anna", &acked.anna, &when);
    if yard.dir.path().join("ben").exists() {
        restart(&yard, "ben", &acked.ben, &when);
    }
    whole(&yard.folder(), &when);
    false
}

/// After the cut, with the power back on.
fn restart(yard: &Yard, name: &str, acked: &[Hash], when: &str) {
    let home: Home = yard.home(name);
    let mut shop = match home.shop(&yard.folder()) {
        Ok(shop) => shop,
        Err(error) => {
            // Cut while founding or joining: nothing was acknowledged, and doing it again works.
            assert!(acked.is_empty(), "{when}: {error}");
            match home.found(&yard.folder(), "North Yard Castings", at(0)) {
                Err(Error::AlreadyAShop { .. }) => home.join(&yard.folder()).unwrap(),
                founded => founded.unwrap_or_else(|error| panic!("{when}: {error}")).shop,
            }
        }
    };
    goes_on(&mut shop, acked, &format!("{when}, {name}"));
}

#[test]
fn nothing_acknowledged_is_lost_whenever_the_power_goes() {
    for loss in Loss::ALL {
        let mut nth = 1;
        while !cut_once(nth, loss) {
            nth += 1;
        }
        assert!(nth > 40, "the work asks for {nth} fsyncs: too few to have been durable");
    }
}
