//! Power cuts, kills, full and read-only media, clocks set back: what was acknowledged is there afterwards.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]
#![allow(
    clippy::disallowed_methods,
    reason = "a process that a test starts is told its place by the environment"
)]
#![allow(clippy::print_stderr, reason = "a test that is skipped says so")]

mod cuts;
mod hiccups;
mod kill;
mod medium;
mod power;

use std::collections::BTreeSet;
use std::path::Path;

use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Expected, Published, Shop, verify_folder};
use trowelogue_testkit::yard::{append, note};

/// Every acknowledged entry is in the shop; it goes on; and then the folder holds without a break.
fn recovered(shop: &mut Shop, acked: &[Hash], when: &str) {
    goes_on(shop, acked, when);
    whole(shop.folder(), when);
}

/// The folder holds without a break.
fn whole(folder: &Path, when: &str) {
    let report = verify_folder(folder, &Expected::default()).unwrap();
    assert_eq!(report.breaks, vec![], "{when}");
}

/// Every acknowledged entry is in the shop, and it goes on.
fn goes_on(shop: &mut Shop, acked: &[Hash], when: &str) {
    let found: BTreeSet<Hash> = shop.read().unwrap().merged.records.iter().map(|it| it.hash).collect();
    let lost: Vec<&Hash> = acked.iter().filter(|hash| !found.contains(hash)).collect();
    assert!(lost.is_empty(), "{when}: {} of {} acknowledged entries are lost", lost.len(), acked.len());
    append(shop, note("goes on"), 9_000).unwrap_or_else(|error| panic!("{when}: {error}"));
    assert!(!matches!(shop.publish().unwrap(), Published::NotYet(_)), "{when}");
}
