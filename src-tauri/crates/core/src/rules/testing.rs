//! A small shop for the tests of rules: one piece, one pour, a few products, any steps.
//!
//! Bodies are read as a person's entry would be, so a misspelt field fails the test. Time is hours after the
//! pour.

pub(crate) use serde_json::json;

use chrono::TimeDelta;
use serde_json::Value;

use super::{Finding, Gate, Planned, Rule, Severity, State, Verdict};
use crate::body::{Details, Kind, input};
use crate::entry::{Clock, Content, Entry, Merged, Record};
use crate::fold::fold;
use crate::id::{DeviceId, Hash, ObjectId, ShopId};
use crate::moment::{Moment, Span};
use crate::shop::Shop;

/// The moment so many hours after the pour, 3 March 2025, eight in the morning.
pub(crate) fn at(hours: f64) -> Moment {
    let pour = crate::moment::parse("2025-03-03T08:00:00-06:00").unwrap();
    pour + TimeDelta::seconds((hours * 3600.0).round() as i64)
}

/// The id that belongs to a name in these tests.
pub(crate) fn id(name: &str) -> ObjectId {
    let hash = Hash::of(&[name.as_bytes()]);
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&hash.0[..16]);
    ObjectId(uuid::Builder::from_bytes(bytes).into_uuid())
}

/// One body laid over another.
pub(crate) fn with(mut body: Value, more: Value) -> Value {
    let (Value::Object(map), Value::Object(more)) = (&mut body, more) else { panic!("both are objects") };
    map.extend(more);
    body
}

/// A wet resin pass over the face that cut out, on a guarded mains tool.
pub(crate) fn pass(grit: u32) -> Value {
    json!({ "region": "face", "grit": grit, "scale": "pad", "bond": "resin", "wet": true, "result": "cut_out",
            "power": "electric", "rcd": "yes", "dust": "water" })
}

/// The same with a metal bond.
pub(crate) fn metal(grit: u32) -> Value {
    with(pass(grit), json!({ "bond": "metal" }))
}

/// A wet pass with paper, by hand.
pub(crate) fn hand_paper(grit: u32) -> Value {
    json!({ "region": "face", "grit": grit, "scale": "p", "bond": "paper", "wet": true, "result": "cut_out", "power": "hand" })
}

/// A coat of the reactive sealer in good air, its lot in date.
pub(crate) fn coat(number: u32) -> Value {
    json!({ "product": id("sealer"), "lot": "S-7", "coat": number, "air_c": 20, "rh_pct": 50, "surface_c": 20,
            "surface_steady": "yes", "expires": "2026-01-31", "to_refusal": "yes" })
}

/// A coat of the two-part film in good air, its lot in date.
pub(crate) fn film_coat(number: u32) -> Value {
    let film = json!({ "product": id("film"), "mixed_before_min": 30, "hardener_parts": 25 });
    let mut body = with(coat(number), film);
    body.as_object_mut().unwrap().remove("to_refusal");
    body
}

/// A cement fill of the face, its lot in date.
pub(crate) fn cement_fill() -> Value {
    json!({ "region": "face", "material": "cement_fill", "product": id("fill"), "lot": "F-2", "method": "slurry",
            "expires": "2026-01-31" })
}

/// A wash of 20:1 over the face, prepared as it should be.
pub(crate) fn wash() -> Value {
    json!({ "region": "face", "acid": "hydrochloric", "concentrate_pct": 31, "water_parts": 20, "acid_parts": 1,
            "cream_lost": "trace", "pre_wetted": "yes", "metal_masked": "yes", "trial_spot": "yes" })
}

/// A rinse that left no puddles.
pub(crate) fn rinse() -> Value {
    json!({ "standing_water_removed": "yes" })
}

/// Household ammonia, 10:1.
pub(crate) fn neutralise() -> Value {
    json!({ "agent": "ammonia", "water_parts": 10, "agent_parts": 1, "concentrate_pct": 8 })
}

/// A shop with one piece.
pub(crate) struct Bench {
    records: Vec<Record>,
}

impl Bench {
    /// A shop with a piece of these facts that is not poured yet.
    pub(crate) fn with_piece(facts: Value) -> Self {
        let mut bench = Self { records: Vec::new() };
        bench.object("person", "worker", json!({ "name": "Worker" }));
        bench.object("job", "job", json!({ "code": "J-1", "name": "Job" }));
        let mix = json!({ "name": "Mix", "aggregates": ["siliceous"], "pozzolan_pct": 10 });
        bench.object("mix", "mix", mix.clone());
        bench.object("mix", "vein mix", mix);
        bench.product("sealer", json!({ "class": "reactive_sealer" }));
        bench.product("film", json!({ "class": "waterborne_urethane" }));
        bench.product("densifier", json!({ "class": "silicate_densifier" }));
        bench.product("fill", json!({ "class": "cement_fill" }));
        let plain = json!({ "code": "P-1", "name": "Piece", "job": id("job"), "mix": id("mix"), "finish": "salt_pepper",
                            "length_mm": 1000, "width_mm": 600, "thickness_mm": 30 });
        bench.object("piece", "piece", with(plain, facts));
        bench
    }

    /// A shop with an ordinary piece, poured at hour 0.
    pub(crate) fn poured() -> Self {
        Self::with_piece(json!({})).pour()
    }

    /// Pours the piece at hour 0.
    pub(crate) fn pour(self) -> Self {
        self.pour_with(json!({}))
    }

    /// Pours the piece at hour 0, with more to say about it.
    pub(crate) fn pour_with(mut self, more: Value) -> Self {
        let body = with(json!({ "mix": id("mix"), "batch": "B-1", "lots": { "cement": "C-1" } }), more);
        self.push(at(0.0), None, at(0.1), "worker", "pour", Some("pour"), &["piece"], body, &[]);
        self
    }

    /// Enters an object of the shop, long before the pour.
    pub(crate) fn object(&mut self, kind: &str, name: &str, body: Value) -> Hash {
        self.push(at(-2000.0), None, at(-2000.0), "worker", kind, Some(name), &[], body, &[])
    }

    /// Enters a product, or a newer sheet of one.
    pub(crate) fn product(&mut self, name: &str, more: Value) -> Hash {
        self.object("product", name, with(json!({ "name": name }), more))
    }

    /// Sets shop settings.
    pub(crate) fn settings(&mut self, body: Value) -> Hash {
        self.push(at(-1000.0), None, at(-1000.0), "worker", "settings", None, &[], body, &[])
    }

    /// A step on the piece, written down a few minutes later.
    pub(crate) fn step(&mut self, hours: f64, kind: &str, body: Value) -> Hash {
        self.push(at(hours), None, at(hours + 0.1), "worker", kind, None, &["piece"], body, &[])
    }

    /// A step on another piece.
    pub(crate) fn step_on(&mut self, piece: &str, hours: f64, kind: &str, body: Value) -> Hash {
        self.push(at(hours), None, at(hours + 0.1), "worker", kind, None, &[piece], body, &[])
    }

    /// A step on the piece, written down at another time.
    pub(crate) fn written(&mut self, hours: f64, wrote: f64, kind: &str, body: Value) -> Hash {
        self.push(at(hours), None, at(wrote), "worker", kind, None, &["piece"], body, &[])
    }

    /// An entry about the pour.
    pub(crate) fn pour_step(&mut self, hours: f64, kind: &str, body: Value) -> Hash {
        self.push(at(hours), None, at(hours + 0.1), "worker", kind, Some("pour"), &[], body, &[])
    }

    /// An entry about the job.
    pub(crate) fn job_step(&mut self, hours: f64, kind: &str, body: Value) -> Hash {
        self.push(at(hours), None, at(hours + 0.1), "worker", kind, Some("job"), &[], body, &[])
    }

    /// An entry about the pour that lasted until another hour.
    pub(crate) fn pour_span(&mut self, hours: f64, until: f64, kind: &str, body: Value) -> Hash {
        self.push(at(hours), Some(at(until)), at(until + 0.1), "worker", kind, Some("pour"), &[], body, &[])
    }

    /// An entry that refers to others.
    pub(crate) fn about(&mut self, hours: f64, kind: &str, refs: &[Hash], body: Value) -> Hash {
        self.push(at(hours), None, at(hours + 0.1), "worker", kind, None, &["piece"], body, refs)
    }

    /// Breaks and temperatures of another pour of the same mix, kept at 20 °C, so that equivalent age is age.
    /// Strengths near the hyperbolic curve with Su 50 MPa, k 0.30 per day, t0 0.25 days.
    pub(crate) fn curve_of_the_mix(&mut self) {
        self.curve(&[(1.0, 9.2), (2.0, 17.2), (3.0, 22.6), (7.0, 33.5), (14.0, 40.2), (28.0, 44.6)]);
    }

    /// The same for a mix that gets as hard as granite: near Su 95 MPa, k 0.38 per day, t0 0.2 days.
    pub(crate) fn curve_of_a_hard_mix(&mut self) {
        self.curve(&[(1.0, 22.2), (2.0, 38.5), (3.0, 48.9), (7.0, 68.6), (14.0, 79.7), (28.0, 86.8)]);
    }

    fn curve(&mut self, breaks: &[(f64, f64)]) {
        let start = -960.0;
        let body = json!({ "mix": id("mix"), "batch": "B-0" });
        self.push(at(start), None, at(start), "worker", "pour", Some("tested"), &["other"], body, &[]);
        let readings =
            json!([{ "after_h": 336, "temperature_c": 20 }, { "after_h": 672, "temperature_c": 20 }]);
        let series = json!({ "of": "concrete", "reading_c": 20, "series": readings });
        self.push(at(start), None, at(start), "worker", "temperature", Some("tested"), &[], series, &[]);
        for &(day, mpa) in breaks {
            let when = at(start + day * 24.0);
            let body = json!({ "method": "cylinder", "result_mpa": mpa });
            self.push(when, None, when, "worker", "strength", Some("tested"), &[], body, &[]);
        }
    }

    /// The worker confirms cautions.
    pub(crate) fn confirm(&mut self, hours: f64, topics: &[&str]) -> Hash {
        self.confirm_by("worker", hours, topics)
    }

    /// Somebody confirms cautions.
    pub(crate) fn confirm_by(&mut self, person: &str, hours: f64, topics: &[&str]) -> Hash {
        let (done, body) = (at(hours), json!({ "topics": topics }));
        self.push(done, None, done, person, "safety_confirmed", None, &[], body, &[])
    }

    /// The last entry.
    pub(crate) fn last(&self) -> Hash {
        self.records.last().unwrap().hash
    }

    /// Sets the logical clock of the last entry to another moment than its wall clock.
    pub(crate) fn clock_of_last(&mut self, hours: f64) {
        self.records.last_mut().unwrap().entry.clock.ms = at(hours).timestamp_millis();
    }

    /// Makes the body of the last entry unreadable here.
    pub(crate) fn lock_last(&mut self) {
        self.records.last_mut().unwrap().body = Content::Locked;
    }

    #[allow(clippy::too_many_arguments)]
    fn push(
        &mut self,
        done: Moment,
        until: Option<Moment>,
        wrote: Moment,
        person: &str,
        kind: &str,
        object: Option<&str>,
        pieces: &[&str],
        body: Value,
        refs: &[Hash],
    ) -> Hash {
        let stored = stored(kind, body);
        let seq = self.records.len() as u64 + 1;
        let hash = Hash::of(&[b"line", &seq.to_le_bytes()]);
        let prev = self.records.last().map(|it| it.hash);
        let entry = Entry {
            version: crate::entry::FORMAT,
            device: device(),
            seq,
            clock: Clock { ms: wrote.timestamp_millis(), count: seq as u32 },
            done: Span { start: done, end: until },
            wrote,
            person: id(person),
            kind: kind.to_owned(),
            object: object.map(id),
            pieces: pieces.iter().map(|it| id(it)).collect(),
            peer: None,
            refs: refs.to_vec(),
            body_hash: Hash::of(&[stored.to_string().as_bytes()]),
            prev: prev.unwrap_or(Hash([0; 32])),
            saw: Vec::new(),
        };
        self.records.push(Record { hash, entry, after: prev, body: Content::Open(stored) });
        hash
    }

    /// The shop, folded.
    pub(crate) fn shop(&self) -> Shop {
        let shop = ShopId::of_founding(&[1; 32], b"test");
        let founder = device();
        let merged = Merged {
            shop,
            name: "Shop".into(),
            founder,
            recovery: None,
            devices: vec![(founder, None)],
            records: self.records.clone(),
        };
        fold(&merged)
    }

    /// What a rule finds on the piece.
    pub(crate) fn findings(&self, rule: &Rule) -> Vec<Finding> {
        let findings = super::check_piece(&self.shop(), id("piece"));
        findings.into_iter().filter(|it| it.rule == rule).collect()
    }

    /// What a rule says about a planned step.
    pub(crate) fn gate(&self, rule: &Rule, hours: f64, kind: &str, body: &Value) -> Option<Gate> {
        let kind = Kind::parse(kind).unwrap();
        let details = Details::from_stored(kind, &stored(kind.wire(), body.clone())).unwrap();
        let planned =
            Planned { kind, region: details.common.region, body: Some(&details.body), product: None };
        let gates = super::gates(&self.shop(), id("piece"), &planned, at(hours));
        gates.into_iter().find(|it| it.rule == rule)
    }

    /// What a rule says about a planned step of which nothing is known but its kind.
    pub(crate) fn bare_gate(&self, rule: &Rule, hours: f64, kind: &str) -> Option<Gate> {
        let planned = Planned { kind: Kind::parse(kind).unwrap(), region: None, body: None, product: None };
        let gates = super::gates(&self.shop(), id("piece"), &planned, at(hours));
        gates.into_iter().find(|it| it.rule == rule)
    }

    /// The rule finds nothing.
    #[track_caller]
    pub(crate) fn expect_clear(&self, rule: &Rule) {
        assert_eq!(self.findings(rule), [], "{} should be clear", rule.code);
    }

    /// The rule finds exactly this, resting on these entries.
    #[track_caller]
    pub(crate) fn expect(&self, rule: &Rule, verdict: Verdict, severity: Severity, entries: &[&[Hash]]) {
        let findings = self.findings(rule);
        let found: Vec<&[Hash]> = findings.iter().map(|it| &it.entries[..]).collect();
        assert_eq!(found, entries, "{}: {findings:#?}", rule.code);
        for finding in &findings {
            assert_eq!(
                (finding.verdict, finding.severity, finding.state),
                (verdict, severity, State::Stands),
                "{finding:#?}"
            );
        }
    }

    /// The rule finds a breach, whatever it rests on.
    #[track_caller]
    pub(crate) fn expect_violated(&self, rule: &Rule) {
        let findings = self.findings(rule);
        assert!(findings.iter().any(|it| it.verdict == Verdict::Violated), "{}: {findings:#?}", rule.code);
    }

    /// The rule says that it cannot tell, and nothing worse.
    #[track_caller]
    pub(crate) fn expect_cannot_tell(&self, rule: &Rule) {
        let findings = self.findings(rule);
        let told = !findings.is_empty() && findings.iter().all(|it| it.verdict == Verdict::CannotTell);
        assert!(told, "{}: {findings:#?}", rule.code);
    }

    /// After an exception by a named person everything the rule found is accepted.
    #[track_caller]
    pub(crate) fn expect_accepted(&mut self, rule: &Rule) {
        assert!(!self.findings(rule).is_empty(), "{} has nothing to accept", rule.code);
        let body = json!({ "rule": rule.code, "accepted_by": "Owner", "why": "seen and accepted" });
        let exception = self.about(9000.0, "exception", &[], body);
        for finding in self.findings(rule) {
            assert_eq!(finding.state, State::Accepted(exception), "{finding:#?}");
        }
    }
}

fn device() -> DeviceId {
    DeviceId::of_key(&[1; 32])
}

/// The body as it would be stored after a person entered it.
fn stored(kind: &str, body: Value) -> Value {
    let Value::Object(map) = body else { panic!("a body is an object") };
    let kind = Kind::parse(kind).unwrap_or_else(|| panic!("{kind} is not a kind"));
    let details = input::read(kind, map).unwrap_or_else(|error| panic!("{}: {error}", kind.wire()));
    Value::Object(details.to_stored())
}
