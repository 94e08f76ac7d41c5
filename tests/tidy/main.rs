//! What a reader may rely on in every file of this checkout.
//!
//! The checks read files and nothing else. They are a test of the package `xtask`, which needs
//! seconds to compile, so they speak before anything costly is built:
//! `cargo test -p xtask --test tidy`. Each check is a function from a file to its faults; beside it
//! stands a test that shows it planted faults.

mod files;
mod layout;
mod sources;
mod words;

use files::File;

/// Fails with one line a fault, so that all are seen at once.
fn none(faults: &[String]) {
    assert!(faults.is_empty(), "{} faults:\n{}\n", faults.len(), faults.join("\n"));
}

/// The faults of those files that `chosen` picks; a check that looked at nothing has failed.
fn faults_of(chosen: impl Fn(&File) -> bool, check: impl Fn(&File) -> Vec<String>) -> Vec<String> {
    let files = files::all();
    let looked_at: Vec<&File> = files.iter().filter(|file| chosen(file)).collect();
    assert!(!looked_at.is_empty(), "no file to look at");
    looked_at.into_iter().flat_map(check).collect()
}
