//! Builders shared by the tests of the journal.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    reason = "each test file uses a part; a test may panic"
)]

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use trowelogue_core::entry::Record;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::{Moment, Span, parse};
use trowelogue_journal::{Draft, Entropy, Error, Home, RealDisk, Shop};

/// Bytes from a counter: the same in every run.
pub struct Counted(pub u64);

impl Entropy for Counted {
    fn fill(&mut self, bytes: &mut [u8]) -> Result<(), Error> {
        for part in bytes.chunks_mut(32) {
            self.0 += 1;
            part.copy_from_slice(&Hash::of(&[&self.0.to_be_bytes()]).0[..part.len()]);
        }
        Ok(())
    }
}

static SEEDS: AtomicU64 = AtomicU64::new(1);

/// A temporary place with a folder and any number of homes.
pub struct Yard {
    pub dir: tempfile::TempDir,
}

impl Yard {
    pub fn new() -> Self {
        Self { dir: tempfile::tempdir().unwrap() }
    }

    pub fn folder(&self) -> PathBuf {
        self.dir.path().join("shop")
    }

    pub fn home(&self, name: &str) -> Home {
        let seed = SEEDS.fetch_add(1, Ordering::Relaxed) << 32;
        Home::open_with(self.dir.path().join(name), Arc::new(RealDisk), Counted(seed))
    }

    pub fn found(&self, name: &str) -> Shop {
        self.home(name).found(&self.folder(), "North Yard Castings", at(0)).unwrap().shop
    }

    pub fn join(&self, name: &str) -> Shop {
        self.home(name).join(&self.folder()).unwrap()
    }
}

/// `seconds` after the morning of the test day.
pub fn at(seconds: i64) -> Moment {
    parse("2025-03-04T08:00:00-06:00").unwrap() + chrono::TimeDelta::seconds(seconds)
}

pub fn draft(note: &str) -> Draft {
    let body = serde_json::json!({ "note": note, "value": 21.5 });
    Draft {
        done: Span::at(at(0)),
        person: ObjectId(uuid::Uuid::from_u128(7)),
        kind: "climate".into(),
        object: None,
        pieces: vec![ObjectId(uuid::Uuid::from_u128(9))],
        peer: None,
        refs: Vec::new(),
        body: body.as_object().unwrap().clone(),
    }
}

pub fn add(shop: &mut Shop, note: &str, seconds: i64) -> Vec<Record> {
    shop.append(vec![draft(note)], at(seconds)).unwrap().records
}

/// The published file of a shop's own segment.
pub fn own_file(shop: &Shop, segment: u32) -> PathBuf {
    let device = shop.device();
    shop.folder().join(format!("logs/{device}/{device}-{segment:04}.jsonl"))
}

pub fn hashes(records: &[Record]) -> Vec<Hash> {
    let mut hashes: Vec<Hash> = records.iter().map(|record| record.hash).collect();
    hashes.sort();
    hashes
}

/// Hashes of everything in a folder, read without a home.
pub fn in_folder(folder: &Path) -> Vec<Hash> {
    hashes(&trowelogue_journal::read_folder(folder).unwrap().merged.records)
}
