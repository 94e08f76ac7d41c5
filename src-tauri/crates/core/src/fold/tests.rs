//! The fold: trust, corrections, strikes, forks, waiting, and that the order of arrival says nothing.

mod recovery;

use serde_json::{Value, json};

use super::{digest, fold};
use crate::entry::{Clock, Content, Entry, Merged, Record};
use crate::id::{DeviceId, Hash, ObjectId, ShopId};
use crate::moment::{self, Span};
use crate::shop::{DeviceStatus, Reading, Shop, Status};

/// A log written by hand: every call appends one entry with the next number and clock.
struct Scene {
    merged: Merged,
}

fn device(n: u8) -> DeviceId {
    DeviceId::of_key(&[n; 32])
}

fn id(n: u128) -> ObjectId {
    ObjectId(uuid::Uuid::from_u128(n))
}

struct Line {
    by: u8,
    kind: &'static str,
    object: Option<ObjectId>,
    pieces: Vec<ObjectId>,
    peer: Option<u8>,
    refs: Vec<Hash>,
    body: Value,
}

fn line(by: u8, kind: &'static str, body: Value) -> Line {
    Line { by, kind, object: None, pieces: vec![], peer: None, refs: vec![], body }
}

impl Scene {
    fn new() -> Self {
        let founder = device(1);
        let devices = (1..=4).map(|n| (device(n), None)).collect();
        let shop = ShopId::of_founding(&[1; 32], b"nonce");
        Self {
            merged: Merged { shop, name: "Probe".into(), founder, recovery: None, devices, records: vec![] },
        }
    }

    fn add(&mut self, line: Line) -> Hash {
        let at = self.merged.records.len() as i64;
        let of_device = |it: &&Record| it.entry.device == device(line.by);
        let last = self.merged.records.iter().rfind(of_device);
        let (seq, after) = last.map_or((1, None), |it| (it.entry.seq + 1, Some(it.hash)));
        self.add_at(line, at, seq, after)
    }

    fn add_at(&mut self, line: Line, clock: i64, seq: u64, after: Option<Hash>) -> Hash {
        let done = moment::parse("2025-03-04T10:00:00-06:00").unwrap() + chrono::TimeDelta::minutes(clock);
        let hash = Hash::of(&[
            &clock.to_be_bytes(),
            &seq.to_be_bytes(),
            &[line.by],
            line.kind.as_bytes(),
            line.body.to_string().as_bytes(),
        ]);
        let entry = Entry {
            version: 1,
            device: device(line.by),
            seq,
            clock: Clock { ms: 1_700_000_000_000 + clock, count: 0 },
            done: Span::at(done),
            wrote: done,
            person: id(900),
            kind: line.kind.into(),
            object: line.object,
            pieces: line.pieces,
            peer: line.peer.map(device),
            refs: line.refs,
            body_hash: Hash([0; 32]),
            prev: Hash([0; 32]),
            saw: vec![],
        };
        self.merged.records.push(Record { hash, entry, after, body: Content::Open(line.body) });
        hash
    }

    fn accept(&mut self, by: u8, peer: u8, role: &str) -> Hash {
        self.add(Line { peer: Some(peer), ..line(by, "accept", json!({ "role": role })) })
    }

    fn rinse(&mut self, by: u8) -> Hash {
        let body = json!({ "standing_water_removed": "yes" });
        self.add(Line { pieces: vec![id(1)], ..line(by, "rinse", body) })
    }

    fn strike(&mut self, by: u8, what: Hash) -> Hash {
        self.add(Line { refs: vec![what], ..line(by, "strike", json!({ "why": "wrong piece" })) })
    }

    fn correct(&mut self, by: u8, what: &[Hash], times: u32) -> Hash {
        let body =
            json!({ "why": "miscounted", "body": { "standing_water_removed": "yes", "times": times } });
        self.add(Line { refs: what.to_vec(), ..line(by, "correction", body) })
    }

    fn shop(&self) -> Shop {
        fold(&self.merged)
    }
}

fn status(shop: &Shop, hash: Hash) -> Status {
    shop.step(&hash).unwrap().status
}

#[test]
fn an_unknown_device_stands_apart_until_it_is_accepted() {
    let mut scene = Scene::new();
    let early = scene.rinse(2);
    assert_eq!(status(&scene.shop(), early), Status::Apart);
    scene.accept(1, 2, "crew");
    assert_eq!(status(&scene.shop(), early), Status::Counts, "acceptance counts for what came before, too");
    assert_eq!(scene.shop().devices[&device(2)].status, DeviceStatus::Accepted);
}

#[test]
fn crew_accepts_nobody() {
    let mut scene = Scene::new();
    scene.accept(1, 2, "crew");
    let overreach = scene.accept(2, 3, "crew");
    let shop = scene.shop();
    assert_eq!(status(&shop, overreach), Status::Apart);
    assert_eq!(shop.devices[&device(3)].status, DeviceStatus::Apart);
}

#[test]
fn an_owner_made_later_cannot_have_accepted_earlier() {
    let mut scene = Scene::new();
    let too_early = scene.accept(2, 3, "crew");
    scene.accept(1, 2, "owner");
    assert_eq!(status(&scene.shop(), too_early), Status::Apart);
}

#[test]
fn a_retired_device_counts_up_to_the_named_head_even_if_it_back_dates() {
    let mut scene = Scene::new();
    scene.accept(1, 2, "owner");
    let head = scene.rinse(2);
    let retire = Line { peer: Some(2), refs: vec![head], ..line(1, "retire", json!({ "reason": "lost" })) };
    scene.add(retire);
    // Back-dated: a clock before the retirement, a number after the named head.
    let accept = Line { peer: Some(3), ..line(2, "accept", json!({})) };
    let forged = scene.add_at(accept, 0, 2, Some(head));
    let shop = scene.shop();
    assert_eq!(status(&shop, head), Status::Counts);
    assert_eq!(status(&shop, forged), Status::Apart);
    assert_eq!(shop.devices[&device(3)].status, DeviceStatus::Apart);
    assert_eq!(shop.devices[&device(2)].status, DeviceStatus::Retired);
}

#[test]
fn two_owners_who_retire_each_other_end_the_same_way_everywhere() {
    let mut scene = Scene::new();
    scene.accept(1, 2, "owner");
    let (a, b) = (scene.rinse(1), scene.rinse(2));
    let of = |peer, head| Line {
        peer: Some(peer),
        refs: vec![head],
        ..line(3 - peer, "retire", json!({ "reason": "other" }))
    };
    scene.add(of(2, b));
    scene.add(of(1, a));
    let shop = scene.shop();
    assert_eq!(shop.devices[&device(2)].status, DeviceStatus::Retired, "the earlier one in the order wins");
    assert_eq!(shop.devices[&device(1)].status, DeviceStatus::Accepted);
}

#[test]
fn a_strike_takes_out_and_a_struck_strike_brings_back() {
    let mut scene = Scene::new();
    let rinse = scene.rinse(1);
    let strike = scene.strike(1, rinse);
    assert_eq!(status(&scene.shop(), rinse), Status::Struck);
    assert!(scene.shop().history(id(1)).is_empty());
    scene.strike(1, strike);
    assert_eq!(status(&scene.shop(), rinse), Status::Counts);
}

#[test]
fn a_strike_of_somebody_not_accepted_changes_nothing() {
    let mut scene = Scene::new();
    let rinse = scene.rinse(1);
    scene.strike(4, rinse);
    assert_eq!(status(&scene.shop(), rinse), Status::Counts);
}

#[test]
fn nobody_strikes_an_acceptance() {
    let mut scene = Scene::new();
    let accept = scene.accept(1, 2, "crew");
    scene.strike(2, accept);
    assert_eq!(status(&scene.shop(), accept), Status::Counts);
    assert_eq!(scene.shop().devices[&device(2)].status, DeviceStatus::Accepted);
}

#[test]
fn a_correction_replaces_and_the_first_version_stays_readable() {
    let mut scene = Scene::new();
    let rinse = scene.rinse(1);
    let fix = scene.correct(1, &[rinse], 3);
    let shop = scene.shop();
    assert_eq!(status(&shop, rinse), Status::Replaced);
    assert!(matches!(shop.step(&rinse).unwrap().reading, Reading::Read(_)));
    let history = shop.history(id(1));
    assert_eq!(history.len(), 1);
    assert_eq!((history[0].hash, history[0].corrects, history[0].wire.as_str()), (fix, Some(rinse), "rinse"));
}

#[test]
fn a_struck_correction_brings_the_first_version_back() {
    let mut scene = Scene::new();
    let rinse = scene.rinse(1);
    let fix = scene.correct(1, &[rinse], 3);
    scene.strike(1, fix);
    assert_eq!(status(&scene.shop(), rinse), Status::Counts);
    assert_eq!(scene.shop().history(id(1))[0].hash, rinse);
}

#[test]
fn two_corrections_of_one_entry_stay_open_until_one_names_both() {
    let mut scene = Scene::new();
    scene.accept(1, 2, "crew");
    let rinse = scene.rinse(1);
    let (a, b) = (scene.correct(1, &[rinse], 2), scene.correct(2, &[rinse], 3));
    let shop = scene.shop();
    assert!(shop.step(&a).unwrap().open && shop.step(&b).unwrap().open);
    assert_eq!(shop.history(id(1)).len(), 1, "the rules see one version only");
    let settled = scene.correct(1, &[a, b], 4);
    let shop = scene.shop();
    assert_eq!((status(&shop, a), status(&shop, b)), (Status::Replaced, Status::Replaced));
    assert!(!shop.step(&settled).unwrap().open);
}

#[test]
fn an_entry_waits_for_what_it_refers_to() {
    let mut scene = Scene::new();
    let missing = Hash::of(&[b"not here yet"]);
    let strike = scene.strike(1, missing);
    assert_eq!(status(&scene.shop(), strike), Status::Waiting);
}

#[test]
fn a_fork_is_kept_whole_until_an_owner_settles_it() {
    let mut scene = Scene::new();
    scene.accept(1, 2, "crew");
    let first = scene.rinse(2);
    let kept = scene.add_at(
        Line { pieces: vec![id(1)], ..line(2, "note", json!({"text": "a"})) },
        10,
        2,
        Some(first),
    );
    let lost = scene.add_at(
        Line { pieces: vec![id(1)], ..line(2, "note", json!({"text": "b"})) },
        11,
        2,
        Some(first),
    );
    let child = scene.add_at(
        Line { pieces: vec![id(1)], ..line(2, "note", json!({"text": "c"})) },
        12,
        3,
        Some(lost),
    );
    let shop = scene.shop();
    assert_eq!(shop.forks.len(), 1);
    assert!(!shop.forks[0].settled);
    assert_eq!(status(&shop, lost), Status::Counts);
    scene.add(Line { refs: vec![kept], ..line(1, "settle_fork", json!({"why": "old phone"})) });
    let shop = scene.shop();
    assert!(shop.forks[0].settled);
    assert_eq!((status(&shop, kept), status(&shop, lost)), (Status::Counts, Status::Apart));
    assert_eq!(status(&shop, child), Status::Apart, "what was chained on the lost branch goes with it");
}

#[test]
fn unknown_kinds_and_newer_formats_are_carried_along() {
    let mut scene = Scene::new();
    let hash = scene.add(Line { pieces: vec![id(1)], ..line(1, "laser_scan", json!({"points": 9})) });
    scene.rinse(1);
    scene.merged.records[1].entry.version = 2;
    let shop = scene.shop();
    assert_eq!(status(&shop, hash), Status::Counts);
    assert!(matches!(shop.step(&hash).unwrap().reading, Reading::Newer(_)));
    assert!(matches!(shop.steps[1].reading, Reading::Newer(_)));
}

#[test]
fn pour_level_entries_belong_to_every_piece_cast() {
    let mut scene = Scene::new();
    let pour = json!({ "mix": id(50).to_string(), "batch": "A" });
    scene.add(Line { object: Some(id(40)), pieces: vec![id(1), id(2)], ..line(1, "pour", pour) });
    let cure = json!({ "method": "covered" });
    let cure = scene.add(Line { object: Some(id(40)), ..line(1, "initial_cure", cure) });
    let shop = scene.shop();
    for piece in [id(1), id(2)] {
        assert_eq!(shop.history(piece).last().unwrap().hash, cure);
    }
}

#[test]
fn history_is_sorted_by_work_not_by_writing() {
    let mut scene = Scene::new();
    let second = scene.rinse(1);
    let first = scene.rinse(1);
    scene.merged.records[1].entry.done.start -= chrono::TimeDelta::hours(3);
    scene.merged.records[1].entry.wrote += chrono::TimeDelta::hours(30);
    let shop = scene.shop();
    let order: Vec<_> = shop.history(id(1)).iter().map(|it| it.hash).collect();
    assert_eq!(order, [first, second]);
    assert!(shop.step(&first).unwrap().late && !shop.step(&second).unwrap().late);
}

mod any_order {
    use proptest::prelude::*;

    use super::*;

    /// A scene with everything in it that could make the order of arrival matter.
    fn busy(ops: &[(u8, u8, usize)]) -> Scene {
        let mut scene = Scene::new();
        scene.accept(1, 2, "owner");
        let mut hashes = vec![scene.rinse(1)];
        for (by, what, pick) in ops {
            let target = hashes[pick % hashes.len()];
            let hash = match what % 7 {
                0 => scene.rinse(*by),
                1 => scene.strike(*by, target),
                2 => scene.correct(*by, &[target], u32::from(*what)),
                3 => scene.accept(*by, 1 + (*pick % 4) as u8, if what % 2 == 0 { "owner" } else { "crew" }),
                4 => {
                    let peer = 1 + (*pick % 4) as u8;
                    let body = json!({ "reason": "other" });
                    scene.add(Line { peer: Some(peer), refs: vec![target], ..line(*by, "retire", body) })
                }
                5 => {
                    let body = json!({ "text": format!("fork {pick} {what}") });
                    scene.add_at(line(*by, "note", body), *pick as i64, 1, None)
                }
                _ => {
                    scene.add(Line { refs: vec![target], ..line(*by, "settle_fork", json!({ "why": "x" })) })
                }
            };
            hashes.push(hash);
        }
        scene
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1000))]
        #[test]
        fn of_arrival_and_doubling_change_nothing(
            ops in prop::collection::vec((1u8..=4, 0u8..=20, 0usize..40), 1..24),
            shuffle in prop::collection::vec(any::<u32>(), 60),
            doubled in prop::collection::vec(0usize..30, 0..6),
        ) {
            let scene = busy(&ops);
            let straight = scene.shop();
            let mut other = scene.merged;
            let extra: Vec<_> = doubled.iter().filter_map(|at| other.records.get(*at).cloned()).collect();
            other.records.extend(extra);
            let mut keyed: Vec<_> = other.records.into_iter().enumerate()
                .map(|(at, it)| (shuffle[at % shuffle.len()].wrapping_mul(at as u32 + 1), it)).collect();
            keyed.sort_by_key(|it| it.0);
            other.records = keyed.into_iter().map(|it| it.1).collect();
            other.devices.reverse();
            let folded = fold(&other);
            prop_assert_eq!(digest(&folded), digest(&straight));
            prop_assert_eq!(folded, straight);
        }
    }
}

mod grown {
    use proptest::prelude::*;

    use super::*;
    use crate::fold::grow;

    /// What a shop's day is made of, with now and then something that reaches further.
    fn daily(ops: &[(u8, u8, usize)]) -> Scene {
        let mut scene = Scene::new();
        scene.accept(1, 2, "owner");
        scene.add(Line {
            object: Some(id(1)),
            ..line(1, "piece", json!({ "code": "C-1", "name": "Counter" }))
        });
        let mut hashes = vec![scene.rinse(1)];
        for (by, what, pick) in ops {
            let target = hashes[pick % hashes.len()];
            let made = |object: u128| Some(id(object + (*pick % 3) as u128));
            let hash = match what % 12 {
                0..=2 => scene.rinse(*by),
                3 | 4 => scene.strike(*by, target),
                5 | 6 => scene.correct(*by, &[target], u32::from(*what)),
                7 => scene.add(Line {
                    object: made(1),
                    ..line(*by, "piece", json!({ "code": "C-2", "name": "Basin" }))
                }),
                8 => {
                    let pour = json!({ "mix": id(50).to_string(), "batch": "A" });
                    scene.add(Line {
                        object: made(40),
                        pieces: vec![id(1), id(2)],
                        ..line(*by, "pour", pour)
                    })
                }
                9 => scene.add(Line {
                    object: made(40),
                    ..line(*by, "initial_cure", json!({ "method": "covered" }))
                }),
                10 => scene.add(line(*by, "device", json!({ "name": format!("phone {pick}") }))),
                _ => scene.accept(1, 1 + (*pick % 4) as u8, "crew"),
            };
            hashes.push(hash);
        }
        scene
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1000))]
        #[test]
        fn a_shop_equals_the_fold_of_all_and_taken_back_what_it_was(
            ops in prop::collection::vec((1u8..=2, 0u8..=23, 0usize..40), 1..20),
            last in 1usize..4,
        ) {
            let scene = daily(&ops);
            let whole = scene.shop();
            let mut before = scene.merged;
            let new = before.records.split_off(before.records.len().saturating_sub(last));
            let former = fold(&before);
            let mut shop = former.clone();
            if let Some(growth) = grow(&mut shop, &new) {
                prop_assert_eq!(digest(&shop), digest(&whole));
                prop_assert_eq!(&shop, &whole);
                growth.take_back(&mut shop);
            }
            prop_assert_eq!(shop, former);
        }
    }

    /// What is logged most may not fall back to a whole fold.
    #[test]
    fn a_step_its_strike_and_its_correction_need_no_fold() {
        let mut scene = Scene::new();
        scene.accept(1, 2, "crew");
        let mut shop = scene.shop();
        let first = scene.rinse(2);
        let second = scene.rinse(1);
        scene.strike(2, first);
        scene.correct(1, &[second], 3);
        for record in &scene.merged.records[1..] {
            assert!(grow(&mut shop, std::slice::from_ref(record)).is_some(), "{}", record.entry.kind);
        }
        assert_eq!(shop, scene.shop());
    }

    #[test]
    fn what_reaches_further_is_declined_and_changes_nothing() {
        let mut scene = Scene::new();
        let rinse = scene.rinse(1);
        let shop = scene.shop();
        let declined = |add: &dyn Fn(&mut Scene) -> Hash| {
            let mut other = Scene { merged: scene.merged.clone() };
            let had = other.merged.records.len();
            add(&mut other);
            let mut grown = shop.clone();
            assert!(grow(&mut grown, &other.merged.records[had..]).is_none());
            assert_eq!(grown, shop);
        };
        declined(&|scene| scene.accept(1, 2, "crew"));
        declined(&|scene| scene.add(line(1, "settings", json!({ "late_after_h": 1 }))));
        declined(&|scene| scene.rinse(3));
        declined(&|scene| scene.strike(1, Hash::of(&[b"not here yet"])));
        declined(&|scene| scene.add_at(line(1, "note", json!({ "text": "fork" })), 9, 1, None));
        declined(&|scene| scene.add_at(line(1, "note", json!({ "text": "early" })), -9, 2, Some(rinse)));
        declined(&|scene| {
            let strike = scene.strike(1, rinse);
            scene.strike(1, strike)
        });
    }
}
