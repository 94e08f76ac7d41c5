//! The trade: pieces, steps, routes, rules, sums and the fold that turns entries into a shop's state.
//!
//! Nothing here opens a file, reads a clock or looks at the environment: entries, settings and the moment
//! are passed in, and the same input gives the same answer on every machine.

#[macro_use]
pub mod body;
pub mod chart;
pub mod column;
pub mod drawing;
pub mod entry;
pub mod fold;
pub mod form;
pub mod hazard;
pub mod id;
pub mod materials;
pub mod moment;
pub mod picture;
pub mod plan;
pub mod recovery;
pub mod routes;
pub mod rules;
pub mod shop;
pub mod silhouette;
pub mod sums;
pub mod text;
pub mod units;
