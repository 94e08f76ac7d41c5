//! Sample logs: good ones, ones with one fault each, and ones of every format version.
//!
//! `samples/shop.json` is the shop of all of them. A file in `invalid/` is named after the break that `verify`
//! must report; the files in `valid/` and `versions/` must be read without one. Readers find logs by their
//! content, so the names do not disturb them. `versions/v1.jsonl` has an entry of every kind, once with what must
//! be given and once with everything: what later versions must read for ever.

mod example;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::json;
use trowelogue_core::body::{Kind, input};
use trowelogue_core::fold;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::{self, Moment, Span};
use trowelogue_journal::{Draft, Home, RealDisk, Shop, read_folder};

use crate::entropy::Seeded;

type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

/// Keys and salts of the samples are derived from this.
const SEED: &str = "sample logs, format 1";

/// Writes `valid/`, `invalid/`, `versions/` and the `shop.json` they belong to into `into`.
///
/// # Errors
/// Whatever the file system or the journal refuses.
pub fn write(into: &Path) -> Outcome<()> {
    let scratch = tempfile::tempdir()?;
    let log = log_of_a_shop(&scratch.path().join("own"), SEED)?;
    let every_kind = log_of_every_kind(&scratch.path().join("every"))?;
    let foreign = log_of_a_shop(&scratch.path().join("other"), "another shop")?;
    fs::create_dir_all(into)?;
    fs::write(into.join("shop.json"), &log.shop)?;
    put(into, "valid", "one-device", &log.lines)?;
    put(into, "versions", "v1", &every_kind.lines)?;
    fs::write(into.join("versions").join("v1.digest"), format!("{}\n", every_kind.digest))?;
    for (fault, lines) in faults(&log.lines, &foreign.lines) {
        put(into, "invalid", fault, &lines)?;
    }
    Ok(())
}

fn put(into: &Path, folder: &str, name: &str, bytes: &[u8]) -> Outcome<()> {
    let folder = into.join(folder);
    fs::create_dir_all(&folder)?;
    fs::write(folder.join(format!("{name}.jsonl")), bytes)?;
    Ok(())
}

struct Log {
    shop: Vec<u8>,
    digest: Hash,
    lines: Vec<u8>,
}

/// A shop of one device.
struct Desk {
    shop: Shop,
    folder: PathBuf,
    now: Moment,
}

impl Desk {
    /// The same seed makes the same shop: its key, its id, its `shop.json`.
    fn found(scratch: &Path, seed: &str) -> Outcome<Self> {
        let (folder, now) = (scratch.join("folder"), moment::parse("2025-03-04T08:00:00-06:00")?);
        fs::create_dir_all(scratch)?;
        let home = Home::open_with(scratch.join("home"), Arc::new(RealDisk), Seeded::new(seed));
        let shop = home.found(&folder, "Sample shop", now)?.shop;
        Ok(Self { shop, folder, now })
    }

    fn log(self) -> Outcome<Log> {
        let logs = files_below(&self.folder.join("logs"))?;
        let file = logs.first().ok_or("the shop has no log")?;
        let digest = fold::digest(&fold::fold(&read_folder(&self.folder)?.merged));
        Ok(Log { shop: fs::read(self.folder.join("shop.json"))?, digest, lines: fs::read(file)? })
    }
}

/// A person, a mix, a piece, and its course from the pour to the first coat.
fn log_of_a_shop(scratch: &Path, seed: &str) -> Outcome<Log> {
    let mut desk = Desk::found(scratch, seed)?;
    desk.shop.append(drafts(desk.now)?, desk.now)?;
    desk.log()
}

/// The same shop, and after its course two entries of every kind.
fn log_of_every_kind(scratch: &Path) -> Outcome<Log> {
    let mut desk = Desk::found(scratch, SEED)?;
    let now = desk.now;
    let records = desk.shop.append(drafts(now)?, now)?.records;
    let target = records.iter().find(|it| it.entry.kind == Kind::Rinse.wire()).ok_or("a rinse")?;
    let scene = example::Scene {
        done: Span::at(now),
        person: id(1),
        piece: id(3),
        peer: "aaaaaaaaaaaaaaaaaaaa".parse()?,
        target: target.hash,
    };
    let mut next = 99;
    let examples = example::of_every_kind(&scene, || {
        next += 1;
        id(next)
    })?;
    desk.shop.append(examples, now)?;
    desk.log()
}

/// Ids of the sample shop's things, by number.
fn id(n: u8) -> ObjectId {
    ObjectId(uuid::Builder::from_unix_timestamp_millis(1_741_097_000_000, &[n; 10]).into_uuid())
}

fn files_below(folder: &Path) -> Outcome<Vec<PathBuf>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() { found.extend(files_below(&path)?) } else { found.push(path) }
    }
    found.sort();
    Ok(found)
}

fn drafts(now: Moment) -> Outcome<Vec<Draft>> {
    let (person, mix, piece, pour, sealer) = (id(1), id(2), id(3), id(4), id(5));
    let bodies: Vec<(&str, Option<ObjectId>, bool, serde_json::Value)> = vec![
        ("person", Some(person), false, json!({ "name": "Ada Fell" })),
        ("mix", Some(mix), false, json!({ "name": "Face mix", "aggregates": ["siliceous"] })),
        ("product", Some(sealer), false, json!({ "name": "Sealer", "class": "reactive_sealer" })),
        (
            "piece",
            Some(piece),
            false,
            json!({ "code": "S-01", "name": "Sample slab", "mix": mix.to_string() }),
        ),
        ("pour", Some(pour), true, json!({ "mix": mix.to_string(), "batch": "1" })),
        ("demould", None, true, json!({ "face": ["clean"] })),
        ("strength", Some(pour), false, json!({ "method": "cylinder", "result_mpa": 31.5, "age_h": 96 })),
        (
            "grit_pass",
            None,
            true,
            json!({ "region": "face", "grit": 100, "scale": "pad", "bond": "resin", "wet": true,
            "result": "cut_out", "power": "electric", "rcd": "yes", "dust": "water", "notes": "área, ñ, ≥ 20 °C, 12 m²" }),
        ),
        ("rinse", None, true, json!({ "standing_water_removed": "yes" })),
        ("climate", None, true, json!({ "air_c": "68 °F", "rh_pct": 50, "surface_c": 19 })),
        (
            "seal_coat",
            None,
            true,
            json!({ "product": sealer.to_string(), "lot": "A1", "coat": 1, "air_c": 20, "rh_pct": 50, "surface_c": 19.5 }),
        ),
    ];
    let mut drafts = Vec::new();
    for (hours, (kind, object, on_piece, body)) in bodies.into_iter().enumerate() {
        let known = Kind::parse(kind).ok_or("a kind that exists")?;
        let body = input::read(known, body.as_object().cloned().unwrap_or_default())?.to_stored();
        let start = now - chrono::TimeDelta::hours(20 - hours as i64);
        let pieces = if on_piece { vec![piece] } else { Vec::new() };
        drafts.push(Draft {
            done: Span::at(start),
            person,
            kind: kind.into(),
            object,
            pieces,
            peer: None,
            refs: Vec::new(),
            body,
        });
    }
    // A kind nobody knows yet, as a newer version might write it: readers carry it along.
    let unknown = json!({ "sweep": [1, 2, 3] }).as_object().cloned().unwrap_or_default();
    drafts.push(Draft {
        done: Span::at(now),
        person,
        kind: "surface_scan".into(),
        object: None,
        pieces: vec![piece],
        peer: None,
        refs: Vec::new(),
        body: unknown,
    });
    Ok(drafts)
}

/// One fault each, made from good lines by the damage its name says.
fn faults(good: &[u8], foreign: &[u8]) -> BTreeMap<&'static str, Vec<u8>> {
    let lines: Vec<&[u8]> = good.split_inclusive(|byte| *byte == b'\n').collect();
    let edit = |at: usize, from: &str, to: &str| {
        let mut copy: Vec<Vec<u8>> = lines.iter().map(|line| line.to_vec()).collect();
        let text = String::from_utf8_lossy(&copy[at]).replacen(from, to, 1);
        copy[at] = text.into_bytes();
        copy.concat()
    };
    let mut swapped = lines.clone();
    swapped.swap(5, 6);
    let mut doubled = lines.clone();
    doubled.insert(6, lines[5]);
    let mut removed = lines.clone();
    removed.remove(5);
    let mut not_utf8: Vec<Vec<u8>> = lines.iter().map(|line| line.to_vec()).collect();
    not_utf8[5][40] = 0xff;
    let mut long = lines[..6].concat();
    long.extend(vec![b'x'; 70_000]);
    long.push(b'\n');
    long.extend(lines[6..].concat());
    BTreeMap::from([
        ("bad_signature", edit(5, "\"kind\":\"pour\"", "\"kind\":\"pouR\"")),
        ("bad_hash", edit(8, "\"grit\":100", "\"grit\":200")),
        ("bad_line", edit(5, "{\"e\":{", "{ \"e\":{")),
        ("sequence_gap", removed.concat()),
        ("duplicate_line", doubled.concat()),
        ("out_of_order", swapped.concat()),
        ("header_invalid", edit(0, "\"segment\":1", "\"segment\":2")),
        ("torn_tail", good[..good.len() - 40].to_vec()),
        ("not_utf8", not_utf8.concat()),
        ("too_long", long),
        ("foreign_shop", foreign.to_vec()),
    ])
}
