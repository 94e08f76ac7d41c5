//! A recovery nobody has the right to: without the code, with somebody else's proof, with another shop's.

use std::fs;

use serde_json::json;
use trowelogue_testkit::forge::Forger;
use trowelogue_testkit::trowelogue_core::body::Kind;
use trowelogue_testkit::trowelogue_core::id::{DeviceId, Hash};
use trowelogue_testkit::trowelogue_core::shop::DeviceStatus;
use trowelogue_testkit::trowelogue_journal::{Draft, Recovery, Shop, wire};
use trowelogue_testkit::yard::{Yard, append, at, digest_of, draft_of, log_file, note};

use super::{breaks, counting, folded};

/// A shop with one entry of its founder, and the recovery secret.
fn founded(yard: &Yard) -> (Shop, Recovery, Hash) {
    let founded = yard.home("anna").found(&yard.folder(), "North Yard Castings", at(0)).unwrap();
    let mut anna = founded.shop;
    let head = append(&mut anna, note("the last of the founder"), 0).unwrap();
    (anna, founded.recovery, head)
}

/// The recovery entry of a device.
fn recovery(proof: &str, founder: DeviceId, head: Option<Hash>) -> Draft {
    let draft = draft_of(Kind::Recover, &json!({ "proof": proof }));
    Draft { peer: Some(founder), refs: head.into_iter().collect(), ..draft }
}

fn status(yard: &Yard, device: DeviceId) -> DeviceStatus {
    folded(&yard.folder()).devices[&device].status
}

#[test]
fn a_recovery_signed_without_the_code_stands_apart() {
    let yard = Yard::new().unwrap();
    let (anna, _, _) = founded(&yard);
    let good = counting(&yard.folder());
    let founder = anna.device();
    let mut forger = Forger::new(8, anna.file());
    let guess = Recovery::new([8; 16]).proof(anna.id(), forger.device, founder, None);
    let header = forger.header(1);
    let body = json!({ "proof": guess }).as_object().cloned().unwrap();
    let body = wire::write_body(&body, &[1; 16]).unwrap();
    let entry = forger.entry("recover", Some(founder), &body);
    let path = log_file(&yard.folder(), forger.device, 1);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, header + &entry).unwrap();
    assert_eq!(counting(&yard.folder()), good);
    assert_eq!(status(&yard, forger.device), DeviceStatus::Apart);
    assert_eq!(status(&yard, founder), DeviceStatus::Accepted);
    assert_eq!(breaks(&yard.folder()), [], "the line is whole; it counts for nothing");
}

#[test]
fn the_proof_of_another_device_or_for_another_end_is_worth_nothing() {
    let yard = Yard::new().unwrap();
    let (mut anna, code, head) = founded(&yard);
    let founder = anna.device();
    let (mut cleo, mut thief) = (yard.join("cleo").unwrap(), yard.join("thief").unwrap());
    let later = append(&mut anna, note("later still"), 1).unwrap();
    let proof = code.proof(anna.id(), cleo.device(), founder, Some(later));
    // Copied by another device; used for an earlier end of the founder's log, which would cut off an entry.
    append(&mut thief, recovery(&proof, founder, Some(later)), 2).unwrap();
    append(&mut cleo, recovery(&proof, founder, Some(head)), 2).unwrap();
    for device in [cleo.device(), thief.device()] {
        assert_eq!(status(&yard, device), DeviceStatus::Apart);
    }
    assert!(counting(&yard.folder()).contains(&later));
    append(&mut cleo, recovery(&proof, founder, Some(later)), 3).unwrap();
    assert_eq!(status(&yard, cleo.device()), DeviceStatus::Accepted);
    assert_eq!(status(&yard, founder), DeviceStatus::Retired);
    assert!(counting(&yard.folder()).contains(&later));
}

#[test]
fn a_proof_of_another_shop_is_worth_nothing_here() {
    let (yard, elsewhere) = (Yard::new().unwrap(), Yard::new().unwrap());
    let (anna, _, head) = founded(&yard);
    let (_, other, _) = founded(&elsewhere);
    let mut cleo = yard.join("cleo").unwrap();
    let proof = other.proof(anna.id(), cleo.device(), anna.device(), Some(head));
    append(&mut cleo, recovery(&proof, anna.device(), Some(head)), 1).unwrap();
    assert_eq!(status(&yard, cleo.device()), DeviceStatus::Apart);
}

#[test]
fn two_recoveries_at_once_and_a_founder_who_writes_on_end_in_one_state() {
    let yard = Yard::new().unwrap();
    let (mut anna, code, head) = founded(&yard);
    let founder = anna.device();
    let (mut cleo, mut dora) = (yard.join("cleo").unwrap(), yard.join("dora").unwrap());
    for device in [&mut cleo, &mut dora] {
        device.read().unwrap();
        let proof = code.proof(device.id(), device.device(), founder, Some(head));
        append(device, recovery(&proof, founder, Some(head)), 5).unwrap();
    }
    append(&mut anna, note("after its end"), 6).unwrap();
    for _ in 0..2 {
        for device in [&mut anna, &mut cleo, &mut dora] {
            device.sweep().unwrap();
        }
    }
    let shop = folded(&yard.folder());
    let accepted = shop.devices.values().filter(|it| it.status == DeviceStatus::Accepted).count();
    assert_eq!((accepted, shop.devices[&founder].status), (2, DeviceStatus::Retired));
    let expected = digest_of(&yard.folder()).unwrap();
    for device in [&mut anna, &mut cleo, &mut dora] {
        use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
        assert_eq!(digest(&fold(&device.read().unwrap().merged)), expected);
    }
    assert_eq!(breaks(&yard.folder()), []);
}
