//! Thirty-two devices whose clocks are up to three days off, twenty thousand entries, everything delivered in
//! part and out of order: whoever holds the same entries sees the same state.

use std::collections::BTreeMap;

use trowelogue_testkit::dice::{Dice, rounds};
use trowelogue_testkit::trowelogue_core::body::Kind;
use trowelogue_testkit::trowelogue_core::entry::{Clock, Content, Entry, FORMAT, Merged, Record};
use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
use trowelogue_testkit::trowelogue_core::id::{DeviceId, Hash, ShopId};
use trowelogue_testkit::trowelogue_core::moment::Span;
use trowelogue_testkit::trowelogue_journal::clock;
use trowelogue_testkit::yard::{at, note};

const DEVICES: usize = 32;
const ENTRIES: usize = 20_000;
const SKEW_MS: usize = 3 * 86_400_000;

struct Device {
    id: DeviceId,
    skew_ms: i64,
    clock: Clock,
    seq: u64,
    last: Option<Hash>,
}

/// All entries of a shop, in the order in which they were written.
struct Simulated {
    devices: Vec<Device>,
    records: Vec<Record>,
    dice: Dice,
}

impl Simulated {
    fn new(seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let device = |number: usize, skew: usize| Device {
            id: DeviceId::of_key(&Hash::of(&[&seed.to_be_bytes(), &number.to_be_bytes()]).0),
            skew_ms: skew as i64 - SKEW_MS as i64,
            clock: Clock { ms: 0, count: 0 },
            seq: 0,
            last: None,
        };
        let devices = (0..DEVICES).map(|number| device(number, dice.below(2 * SKEW_MS))).collect();
        let mut shop = Self { devices, records: Vec::new(), dice };
        // The founder accepts all but the last two; every fourth as an owner.
        for number in 1..DEVICES - 2 {
            let role = if number % 4 == 0 { "owner" } else { "crew" };
            let peer = shop.devices[number].id;
            shop.write(0, 0, Kind::Accept, &[], Some(peer), serde_json::json!({ "role": role }));
        }
        for number in shop.records.len()..ENTRIES {
            shop.something(number);
        }
        shop
    }

    fn something(&mut self, number: usize) {
        let who = self.dice.below(DEVICES);
        // Now and then a device hears of what another one wrote: its clock follows, if it is not a day ahead.
        if self.dice.once_in(4) {
            let heard = self.devices[self.dice.below(DEVICES)].clock;
            let device = &mut self.devices[who];
            let wall = at(number as i64 * 60).timestamp_millis() + device.skew_ms;
            if clock::is_followed(heard, wall) {
                device.clock = device.clock.max(heard);
            }
        }
        let earlier = self.records[self.dice.below(self.records.len())].hash;
        let words = serde_json::json!({ "text": format!("note {number}") });
        let wrong = serde_json::json!({ "why": "wrong piece" });
        match self.dice.below(40) {
            0 => self.write(who, number, Kind::Strike, &[earlier], None, wrong),
            1 => {
                let body = serde_json::json!({ "why": "misread", "body": words });
                self.write(who, number, Kind::Correction, &[earlier], None, body);
            }
            2 => {
                let peer = self.devices[self.dice.below(DEVICES)].id;
                self.write(who, number, Kind::Role, &[], Some(peer), serde_json::json!({ "role": "crew" }));
            }
            _ => self.write(who, number, Kind::Note, &[], None, words),
        }
    }

    fn write(
        &mut self,
        who: usize,
        number: usize,
        kind: Kind,
        refs: &[Hash],
        peer: Option<DeviceId>,
        body: serde_json::Value,
    ) {
        let device = &mut self.devices[who];
        let wall = at(number as i64 * 60) + chrono::TimeDelta::milliseconds(device.skew_ms);
        device.clock = clock::tick(device.clock, wall.timestamp_millis());
        device.seq += 1;
        let hash = Hash::of(&[device.id.to_string().as_bytes(), &device.seq.to_be_bytes()]);
        let entry = Entry {
            version: FORMAT,
            device: device.id,
            seq: device.seq,
            clock: device.clock,
            done: Span::at(wall),
            wrote: wall,
            person: note("").person,
            kind: kind.wire().into(),
            object: None,
            pieces: Vec::new(),
            peer,
            refs: refs.to_vec(),
            body_hash: hash,
            prev: device.last.unwrap_or(hash),
            saw: Vec::new(),
        };
        let after = device.last.replace(hash);
        self.records.push(Record { hash, entry, after, body: Content::Open(body) });
    }

    fn merged(&self, records: Vec<Record>) -> Merged {
        Merged {
            shop: ShopId::of_founding(&[1; 32], &[1; 16]),
            name: "Thirty-two".into(),
            founder: self.devices[0].id,
            recovery: None,
            devices: self.devices.iter().map(|device| (device.id, None)).collect(),
            records,
        }
    }
}

#[test]
fn thirty_two_devices_agree_once_they_hold_the_same_entries() {
    for seed in 0..rounds("TROWELOGUE_MANY_ROUNDS", 5) {
        let mut shop = Simulated::new(seed as u64);
        let mut all: BTreeMap<usize, Hash> = BTreeMap::new();
        // Two receivers of the same part, in two orders, and two of everything, one with doubles.
        let part: Vec<usize> = (0..ENTRIES).filter(|_| !shop.dice.once_in(3)).collect();
        let whole: Vec<usize> = (0..ENTRIES).collect();
        for (receiver, set) in [&part, &part, &whole, &whole].into_iter().enumerate() {
            let mut order = set.clone();
            shop.dice.shuffle(&mut order);
            if receiver % 2 == 1 {
                order.extend_from_within(..order.len() / 4);
            }
            let records = order.iter().map(|at| shop.records[*at].clone()).collect();
            all.insert(receiver, digest(&fold(&shop.merged(records))));
        }
        assert_eq!(all[&0], all[&1], "seed {seed}: the same part, another order");
        assert_eq!(all[&2], all[&3], "seed {seed}: everything, another order");
        assert_ne!(all[&0], all[&2], "seed {seed}: what is missing shows");
    }
}
