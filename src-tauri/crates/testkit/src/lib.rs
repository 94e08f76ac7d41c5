//! What tests, sample data and the demo are made with: seeded randomness, the demo shop, broken logs.
//!
//! Nothing here is part of the product; no released binary links it. The keys of the demo shop are derived
//! from a seed that stands in this crate alone.

pub mod demo;
pub mod entropy;
pub mod samples;
pub mod schemas;
