//! What tests, sample data and the demo are made with: seeded randomness, the demo shop, broken logs, failing
//! disks, forged lines and a sync engine that misbehaves.
//!
//! Nothing here is part of the product; no released binary links it. The keys of the demo shop are derived
//! from a seed that stands in this crate alone.

pub mod crowd;
pub mod demo;
pub mod dice;
pub mod engine;
pub mod entropy;
pub mod faulty;
pub mod forge;
pub mod mutate;
pub mod samples;
pub mod schemas;
pub mod yard;

// The tests that cross crates may name this crate, the command line and `api` alone.
pub use {trowelogue_core, trowelogue_journal};
