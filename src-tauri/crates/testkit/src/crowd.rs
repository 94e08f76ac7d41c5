//! A shop with many pieces, as the fold takes it: what benchmarks of a whole shop look at.
//!
//! Twelve pieces share a pour; each has got a different way along a ground, filled and sealed route. The entries
//! are made as records, not as signed lines: what is measured with them starts at the fold.

mod years;

pub use years::{long_years, write_down, years};

use chrono::TimeDelta;
use serde_json::{Value, json};
use trowelogue_core::entry::{Clock, Content, Entry, Merged, Record};
use trowelogue_core::id::{DeviceId, Hash, ObjectId, ShopId};
use trowelogue_core::moment::{Moment, Span, parse};
use trowelogue_core::routes::shipped;

const PER_POUR: usize = 12;
const ROUTE: &str = "salt_pepper";

/// A shop with this many pieces, each with the entries of its history, 24 at the most.
///
/// # Panics
/// Never: the one moment written here is well formed.
pub fn merged(pieces: usize) -> Merged {
    let mut crowd = Crowd::new();
    crowd.stock();
    for first in (0..pieces).step_by(PER_POUR) {
        crowd.pour(first, PER_POUR.min(pieces - first));
    }
    crowd.merged
}

struct Crowd {
    merged: Merged,
    now: Moment,
    route: Value,
    /// The number of the person who logs.
    person: usize,
}

fn object(family: u128, number: usize) -> ObjectId {
    ObjectId(uuid::Uuid::from_u128((family << 64) | number as u128))
}

fn piece(number: usize) -> ObjectId {
    object(1, number)
}

const MIX: u128 = 2;
const SEALER: u128 = 3;
const POUR: u128 = 4;
const PERSON: u128 = 5;
const JOB: u128 = 6;
const CLIENT: u128 = 7;

impl Crowd {
    fn new() -> Self {
        let founder = DeviceId::of_key(&[7; 32]);
        let shop = ShopId::of_founding(&[7; 32], b"crowd");
        let devices = vec![(founder, None)];
        let route = shipped().iter().find(|route| route.code == ROUTE);
        let route = route.map_or(Value::Null, |route| json!(route));
        let merged =
            Merged { shop, name: "Crowd".into(), founder, recovery: None, devices, records: Vec::new() };
        // The text is a constant of this file.
        #[expect(clippy::expect_used)]
        let now = parse("2025-03-03T07:00:00-06:00").expect("a moment");
        Self { merged, now, route, person: 0 }
    }

    fn stock(&mut self) {
        self.push("person", Some(object(PERSON, 0)), &[], json!({ "name": "Person" }));
        let mix =
            json!({ "name": "Mix", "aggregates": ["siliceous"], "supplementary_pct": { "silica_fume": 8 } });
        self.push("mix", Some(object(MIX, 0)), &[], mix);
        let sealer = json!({ "name": "Sealer", "class": "acrylic_film", "coats": 2, "recoat_min_h": 4,
            "recoat_max_h": 24, "pot_life_min": 90, "water_h": 72, "full_use_h": 168 });
        self.push("product", Some(object(SEALER, 0)), &[], sealer);
    }

    fn pour(&mut self, first: usize, count: usize) {
        let start = self.now;
        let pieces: Vec<ObjectId> = (first..first + count).map(piece).collect();
        for number in first..first + count {
            let body = json!({ "code": format!("P-{number:05}"), "name": "counter", "mix": object(MIX, 0),
                "finish": ROUTE, "length_mm": 1800, "width_mm": 620, "thickness_mm": 40 });
            self.push("piece", Some(piece(number)), &[], body);
        }
        let pour = json!({ "mix": object(MIX, 0), "batch": "B" });
        self.push("pour", Some(object(POUR, first)), &pieces, pour);
        for (number, id) in (first..).zip(&pieces) {
            self.now = start + TimeDelta::hours(3);
            self.history(*id, 4 + number % 20);
        }
        self.now = start + TimeDelta::hours(5);
    }

    /// The first so many steps of a piece.
    fn history(&mut self, id: ObjectId, steps: usize) {
        let chosen = json!({ "code": ROUTE, "version": 1, "route": self.route });
        let script: [(i64, &str, Value); 23] = [
            (0, "route_chosen", chosen),
            (24, "demould", json!({ "face": ["clean"] })),
            (1, "inspection", json!({ "checklist": [{ "what": "face", "result": "pass" }] })),
            (72, "strength", json!({ "method": "cylinder", "result_mpa": 52, "age_h": 120 })),
            (1, "grit_pass", pass(50)),
            (2, "flush", json!({ "pad_cleaned": "yes" })),
            (1, "grit_pass", pass(100)),
            (2, "fill", json!({ "material": "cement_fill", "lot": "F1", "method": "spot" })),
            (26, "grit_pass", pass(100)),
            (2, "grit_pass", pass(200)),
            (2, "grit_pass", pass(400)),
            (1, "rinse", json!({ "standing_water_removed": "yes" })),
            (1, "dry", json!({ "at": "bench" })),
            (30, "moisture", json!({ "method": "impedance", "value": 3.1, "verdict": "pass" })),
            (1, "climate", json!({ "air_c": 20, "rh_pct": 50, "surface_c": 20 })),
            (1, "seal_coat", coat(1)),
            (6, "climate", json!({ "air_c": 20, "rh_pct": 50, "surface_c": 20 })),
            (1, "seal_coat", coat(2)),
            (1, "water_drop", json!({ "result": "beads" })),
            (90, "storage", json!({ "condition": "good", "position": "flat" })),
            (2, "packing", json!({ "condition": "good", "wrap": "breathable" })),
            (2, "loading", json!({ "condition": "good", "position": "flat" })),
            (2, "install", json!({ "base_level": "yes" })),
        ];
        for (hours, kind, body) in script.into_iter().take(steps) {
            self.now += TimeDelta::hours(hours);
            self.push(kind, None, &[id], body);
        }
    }

    fn push(&mut self, kind: &str, object: Option<ObjectId>, pieces: &[ObjectId], body: Value) {
        let seq = self.merged.records.len() as u64 + 1;
        let entry = Entry {
            version: 1,
            device: self.merged.founder,
            seq,
            clock: Clock { ms: self.now.timestamp_millis() + 40_000_000_000, count: 0 },
            done: Span::at(self.now),
            wrote: self.now,
            person: self::object(PERSON, self.person),
            kind: kind.to_owned(),
            object,
            pieces: pieces.to_vec(),
            peer: None,
            refs: Vec::new(),
            body_hash: Hash([0; 32]),
            prev: Hash([0; 32]),
            saw: Vec::new(),
        };
        let after = self.merged.records.last().map(|record| record.hash);
        let hash = Hash::of(&[&seq.to_be_bytes(), b"crowd"]);
        self.merged.records.push(Record { hash, entry, after, body: Content::Open(body) });
    }
}

fn pass(grit: u32) -> Value {
    json!({ "grit": grit, "scale": "pad", "bond": "resin", "wet": true, "dust": "water", "result": "cut_out",
        "region": "face", "power": "air" })
}

fn coat(number: u32) -> Value {
    json!({ "product": object(SEALER, 0), "lot": "L1", "coat": number, "air_c": 20, "rh_pct": 50,
        "surface_c": 20, "region": "face" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use trowelogue_core::fold::fold;

    #[test]
    fn every_entry_of_the_crowd_can_be_read_and_counts() {
        let shop = fold(&merged(25));
        assert_eq!(shop.pieces.len(), 25);
        let unread: Vec<_> =
            shop.steps.iter().filter(|step| step.body().is_none()).map(|it| &it.wire).collect();
        assert!(unread.is_empty(), "{unread:?}");
        assert!(shop.steps.iter().all(|step| step.in_force));
    }
}
