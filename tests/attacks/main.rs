//! What somebody with write access to the folder, but without a key the owner accepted, may try; and what
//! becomes of it.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]
#![allow(
    clippy::disallowed_methods,
    reason = "a process that a test starts is told its place by the environment"
)]

mod bodies;
mod bulk;
mod formulas;
mod lines;
mod people;
mod places;
mod recovery;
mod vectors;

use std::collections::BTreeSet;
use std::path::Path;

use trowelogue_testkit::trowelogue_core::fold::fold;
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_core::shop::{Shop, Status};
use trowelogue_testkit::trowelogue_journal::{BreakKind, Expected, read_folder, verify_folder};

/// The shop a folder folds to.
fn folded(folder: &Path) -> Shop {
    fold(&read_folder(folder).unwrap().merged)
}

/// The entries that count.
fn counting(folder: &Path) -> BTreeSet<Hash> {
    let shop = folded(folder);
    let counts = shop.steps.iter().filter(|step| step.status == Status::Counts);
    counts.map(|step| step.hash).collect()
}

/// The kinds of break `verify` names.
fn breaks(folder: &Path) -> Vec<BreakKind> {
    verify_folder(folder, &Expected::default()).unwrap().breaks.iter().map(|it| it.kind).collect()
}
