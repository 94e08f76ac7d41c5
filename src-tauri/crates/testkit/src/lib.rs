//! What tests, sample data and the demo are made with: seeded randomness, the demo shop, broken logs.
//!
//! Nothing here is part of the product; no released binary links it. The keys of the demo shop are derived
//! from a seed that stands in this crate alone.

pub mod crowd;
pub mod demo;
pub mod entropy;
pub mod samples;
pub mod schemas;

// The tests that cross crates may name this crate, the command line and `api` alone.
pub use {trowelogue_core, trowelogue_journal};
