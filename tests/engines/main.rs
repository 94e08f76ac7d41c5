//! What carries the folder between devices: a sync engine, a copying hand, a real engine; and what the devices
//! make of it. In the end all hold the same entries and the same state, and nothing is lost.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

mod carried;
mod crew;
mod fake;
mod many;
mod real;
