//! A founding device lost, and a device that goes on for it by the recovery key.

use data_encoding::BASE64URL_NOPAD;
use ed25519_dalek::{Signer, SigningKey};

use super::*;
use crate::recovery::{CONTEXT, message};

fn sheet() -> SigningKey {
    SigningKey::from_bytes(&[77; 32])
}

impl Scene {
    fn with_sheet() -> Self {
        let mut scene = Self::new();
        scene.merged.recovery = Some(*sheet().verifying_key().as_bytes());
        scene
    }

    /// A recovery entry of `by`, whose proof was made with `key` for the device `named`.
    fn recover_as(&mut self, key: &SigningKey, (by, named): (u8, u8), head: Option<Hash>) -> Hash {
        let message = message(self.merged.shop, device(named), self.merged.founder, head);
        let proof = BASE64URL_NOPAD.encode(&key.sign(&[CONTEXT, &message].concat()).to_bytes());
        let body = json!({ "proof": proof });
        self.add(Line { peer: Some(1), refs: head.into_iter().collect(), ..line(by, "recover", body) })
    }

    fn recover(&mut self, by: u8, head: Hash) -> Hash {
        self.recover_as(&sheet(), (by, by), Some(head))
    }
}

fn stands(shop: &Shop, n: u8) -> (DeviceStatus, bool) {
    let device = &shop.devices[&device(n)];
    (device.status, device.role == crate::body::authority::Role::Owner)
}

#[test]
fn the_recovery_key_makes_an_owner_and_retires_the_founding_device() {
    let mut scene = Scene::with_sheet();
    let early = scene.rinse(2);
    let head = scene.rinse(1);
    let recover = scene.recover(2, head);
    let accept = scene.accept(2, 3, "crew");
    let late = scene.accept(1, 4, "owner");
    let shop = scene.shop();
    assert_eq!(stands(&shop, 2), (DeviceStatus::Accepted, true));
    assert_eq!(stands(&shop, 1).0, DeviceStatus::Retired);
    assert_eq!((status(&shop, early), status(&shop, head)), (Status::Counts, Status::Counts));
    assert_eq!((status(&shop, recover), status(&shop, accept)), (Status::Counts, Status::Counts));
    assert_eq!(status(&shop, late), Status::Apart, "whoever has the lost device decides nothing more");
    assert_eq!(shop.devices[&device(4)].status, DeviceStatus::Apart);
}

#[test]
fn a_recovery_without_the_key_or_for_another_device_counts_for_nothing() {
    for (key, named, by) in [([9; 32], 2, 2), ([77; 32], 3, 2)] {
        let mut scene = Scene::with_sheet();
        let head = scene.rinse(1);
        let forged = scene.recover_as(&SigningKey::from_bytes(&key), (by, named), Some(head));
        let shop = scene.shop();
        assert_eq!(status(&shop, forged), Status::Apart);
        assert_eq!(stands(&shop, 2).0, DeviceStatus::Apart);
        assert_eq!(stands(&shop, 1), (DeviceStatus::Accepted, true));
    }
}

#[test]
fn a_proof_is_good_for_one_shop_and_one_end_of_the_log() {
    let mut scene = Scene::with_sheet();
    let (first, head) = (scene.rinse(1), scene.rinse(1));
    let real = scene.recover(2, head);
    let mut moved = scene.merged.records.last().unwrap().clone();
    moved.entry.refs = vec![first];
    moved.hash = Hash([3; 32]);
    scene.merged.records.retain(|record| record.hash != real);
    scene.merged.records.push(moved);
    assert_eq!(stands(&scene.shop(), 2).0, DeviceStatus::Apart, "the cut cannot be moved");
    let mut other = Scene::with_sheet();
    let head = other.rinse(1);
    other.recover(2, head);
    other.merged.shop = ShopId::of_founding(&[1; 32], b"another");
    assert_eq!(stands(&other.shop(), 2).0, DeviceStatus::Apart, "nor another shop be taken with it");
}

#[test]
fn nothing_but_one_signature_is_a_proof() {
    for body in [json!({}), json!({ "proof": 7 }), json!({ "proof": "" }), json!({ "proof": "A".repeat(86) })]
    {
        let mut scene = Scene::with_sheet();
        let head = scene.rinse(1);
        scene.add(Line { peer: Some(1), refs: vec![head], ..line(2, "recover", body) });
        assert_eq!(stands(&scene.shop(), 2).0, DeviceStatus::Apart);
    }
}

#[test]
fn two_recoveries_make_two_owners_and_the_earlier_end_of_the_log_holds() {
    let mut scene = Scene::with_sheet();
    let first = scene.rinse(1);
    scene.recover(2, first);
    let unseen = scene.rinse(1);
    scene.recover(3, unseen);
    let shop = scene.shop();
    assert_eq!(
        (stands(&shop, 2), stands(&shop, 3)),
        ((DeviceStatus::Accepted, true), (DeviceStatus::Accepted, true))
    );
    assert_eq!(status(&shop, unseen), Status::Apart, "what the first one had not seen does not count");
    let before = digest(&shop);
    scene.merged.records.reverse();
    assert_eq!(digest(&scene.shop()), before, "in whatever order they arrive");
}

#[test]
fn a_retired_device_does_not_come_back_by_an_old_recovery_of_its_own() {
    let mut scene = Scene::with_sheet();
    let own = scene.rinse(2);
    let body = json!({ "reason": "lost" });
    scene.add(Line { peer: Some(2), refs: vec![own], ..line(1, "retire", body) });
    let head = scene.rinse(1);
    scene.recover(2, head);
    let shop = scene.shop();
    assert_eq!(stands(&shop, 2).0, DeviceStatus::Retired, "what it wrote after its end never counts");
    assert_eq!(stands(&shop, 1), (DeviceStatus::Accepted, true));
}

#[test]
fn a_shop_without_a_recovery_key_is_recovered_by_nobody() {
    let mut scene = Scene::new();
    let head = scene.rinse(1);
    scene.recover(2, head);
    assert_eq!(stands(&scene.shop(), 2).0, DeviceStatus::Apart);
}
