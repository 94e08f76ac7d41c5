//! A shop with one piece, written step by step for the tests of routes and plan.

use chrono::TimeDelta;
use serde_json::{Value, json};

use crate::body::Kind;
use crate::entry::{Clock, Content, Entry, Merged, Record};
use crate::fold::fold;
use crate::id::{DeviceId, Hash, ObjectId, ShopId};
use crate::moment::{self, Moment, Span};
use crate::rules::safety::{Prospect, confirmations};
use crate::shop::Shop;

/// Entries of one device, an hour apart unless said otherwise.
pub(crate) struct Probe {
    merged: Merged,
    /// When the next step is done.
    pub(crate) now: Moment,
}

const fn id(n: u128) -> ObjectId {
    ObjectId(uuid::Uuid::from_u128(n))
}

impl Probe {
    /// The piece.
    pub(crate) const PIECE: ObjectId = id(1);
    /// A sealer with two coats, a recoat window of 4 to 24 hours and no age it asks of the concrete.
    pub(crate) const SEALER: ObjectId = id(3);
    const MIX: ObjectId = id(2);
    const POUR: ObjectId = id(4);

    /// A piece of this finish: its sample agreed, its form prepared, not poured.
    pub(crate) fn new(finish: &str) -> Self {
        let founder = DeviceId::of_key(&[1; 32]);
        let shop = ShopId::of_founding(&[1; 32], b"nonce");
        let merged = Merged {
            shop,
            name: "Probe".into(),
            founder,
            recovery: None,
            devices: vec![(founder, None)],
            records: vec![],
        };
        let mut probe = Self { merged, now: moment::parse("2025-03-04T08:00:00-06:00").unwrap() };
        probe.object(
            "mix",
            Self::MIX,
            json!({ "name": "M", "aggregates": ["siliceous"], "pozzolan_pct": 10 }),
        );
        let sealer = json!({ "name": "S", "class": "acrylic_film", "coats": 2, "recoat_min_h": 4,
            "recoat_max_h": 24, "pot_life_min": 90, "min_age_d": 0 });
        probe.object("product", Self::SEALER, sealer);
        let piece = json!({ "code": "P-1", "name": "top", "mix": Self::MIX, "finish": finish, "metal_near": "no",
                "length_mm": 400, "width_mm": 300, "thickness_mm": 30 });
        probe.object("piece", Self::PIECE, piece);
        probe.add("sample_agreed", json!({ "samples": ["middle"], "agreed_by": "client" }));
        let form = json!({ "material": "board", "joints_sealed": "yes", "sealant_cured": "yes" });
        probe.add("form_prepared", form);
        probe
    }

    /// The same, poured, demoulded five days later and looked over.
    pub(crate) fn cast(finish: &str) -> Self {
        let mut probe = Self::new(finish);
        probe.pour();
        probe.wait_h(120.0);
        probe.add("demould", json!({ "face": ["clean"] }));
        probe.add("inspection", json!({ "checklist": [{ "what": "face", "result": "pass" }] }));
        probe
    }

    /// The pour of the piece.
    pub(crate) fn pour(&mut self) {
        self.push(
            "pour",
            Some(Self::POUR),
            json!({ "mix": Self::MIX, "batch": "B1", "lots": { "cement": "C1" } }),
        );
    }

    /// Lets time pass.
    pub(crate) fn wait_h(&mut self, hours: f64) {
        self.now = moment::add_hours(self.now, hours).unwrap();
    }

    /// A step on the piece, done now; an hour passes.
    pub(crate) fn add(&mut self, kind: &str, body: Value) -> Hash {
        self.push(kind, None, body)
    }

    /// Confirms, at the moment of a step, whatever cautions it asks for.
    pub(crate) fn confirm(&mut self, kind: Kind, body: &Value) {
        let Value::Object(values) = body else { panic!("a body is an object") };
        let prospect = Prospect { kind, values };
        let asked = confirmations(&self.shop(), id(900), &prospect, self.now);
        let topics: Vec<&str> = asked.iter().map(|it| it.topic.wire()).collect();
        if !topics.is_empty() {
            self.push("safety_confirmed", None, json!({ "topics": topics }));
            self.now -= TimeDelta::hours(1);
        }
    }

    /// A grit pass on the face.
    pub(crate) fn pass(&mut self, grit: f64, result: &str) -> Hash {
        let body = json!({ "grit": grit, "scale": "pad", "bond": "resin", "wet": true, "dust": "water",
            "result": result, "region": "face" });
        self.add("grit_pass", body)
    }

    /// An acid wash of the face, ten minutes' dwell.
    pub(crate) fn wash(&mut self) -> Hash {
        let body = json!({ "acid": "hydrochloric", "concentrate_pct": 31, "water_parts": 20, "acid_parts": 1,
            "cream_lost": "none", "dwell_min": 10, "pre_wetted": "yes", "trial_spot": "yes", "region": "face" });
        self.confirm(Kind::AcidWash, &body);
        self.add("acid_wash", body)
    }

    /// A rinse.
    pub(crate) fn rinse(&mut self) -> Hash {
        self.add("rinse", json!({ "standing_water_removed": "yes" }))
    }

    /// Neutralising.
    pub(crate) fn neutralise(&mut self) -> Hash {
        self.add("neutralise", json!({ "agent": "ammonia", "water_parts": 10, "agent_parts": 1 }))
    }

    /// A coat of the sealer.
    pub(crate) fn coat(&mut self, number: u32) -> Hash {
        let body = json!({ "product": Self::SEALER, "lot": "L1", "coat": number, "air_c": 20, "rh_pct": 50,
            "surface_c": 20 });
        self.add("seal_coat", body)
    }

    fn object(&mut self, kind: &str, object: ObjectId, body: Value) {
        self.push(kind, Some(object), body);
    }

    fn push(&mut self, kind: &str, object: Option<ObjectId>, body: Value) -> Hash {
        let seq = self.merged.records.len() as u64 + 1;
        let done = self.now;
        let hash = Hash::of(&[&seq.to_be_bytes(), kind.as_bytes()]);
        let about_piece = (object.is_none() && kind != "safety_confirmed") || kind == "pour";
        let entry = Entry {
            version: 1,
            device: self.merged.founder,
            seq,
            clock: Clock { ms: done.timestamp_millis(), count: 0 },
            done: Span::at(done),
            wrote: done,
            person: id(900),
            kind: kind.to_owned(),
            object,
            pieces: if about_piece { vec![Self::PIECE] } else { vec![] },
            peer: None,
            refs: vec![],
            body_hash: Hash([0; 32]),
            prev: Hash([0; 32]),
            saw: vec![],
        };
        let after = self.merged.records.last().map(|it| it.hash);
        self.merged.records.push(Record { hash, entry, after, body: Content::Open(body) });
        self.now += TimeDelta::hours(1);
        hash
    }

    /// The shop as recorded.
    pub(crate) fn shop(&self) -> Shop {
        fold(&self.merged)
    }
}
