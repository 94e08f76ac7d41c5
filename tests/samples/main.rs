//! Sample logs: each file in `valid/` and `versions/` reads clean; each in `invalid/` shows the break it is named
//! after, and every good line of it still loads.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::{Map, Value};
use trowelogue_testkit::trowelogue_core::body::{Details, Kind};
use trowelogue_testkit::trowelogue_core::entry::Content;
use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
use trowelogue_testkit::trowelogue_journal::{Expected, Reading, read_folder, verify_folder};

fn samples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-logs/samples")
}

fn files(folder: &str) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> =
        fs::read_dir(samples().join(folder)).unwrap().map(|it| it.unwrap().path()).collect();
    files.retain(|it| it.extension().is_some_and(|end| end == "jsonl"));
    files.sort();
    assert!(!files.is_empty(), "no sample in {folder}/");
    files
}

/// A folder that holds the samples' shop file and this one log.
fn folder_with(log: &Path) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::copy(samples().join("shop.json"), folder.path().join("shop.json")).unwrap();
    let logs = folder.path().join("logs").join("some-device");
    fs::create_dir_all(&logs).unwrap();
    fs::copy(log, logs.join("log.jsonl")).unwrap();
    folder
}

fn read(log: &Path) -> Reading {
    read_folder(folder_with(log).path()).unwrap()
}

#[test]
fn valid_samples_and_every_version_read_clean() {
    for file in files("valid").into_iter().chain(files("versions")) {
        let reading = read(&file);
        assert!(reading.breaks.is_empty(), "{}: {:?}", file.display(), reading.breaks);
        assert!(reading.merged.records.len() >= 10, "{}", file.display());
    }
}

#[test]
fn invalid_samples_show_the_fault_they_are_named_after() {
    for file in files("invalid") {
        let fault = file.file_stem().unwrap().to_str().unwrap().to_owned();
        let report = verify_folder(folder_with(&file).path(), &Expected::default()).unwrap();
        let seen: BTreeSet<&str> = report.breaks.iter().map(|it| it.kind.code()).collect();
        assert!(seen.contains(fault.as_str()), "{fault}: seen {seen:?}");
    }
}

#[test]
fn one_fault_costs_no_other_entry() {
    let whole = read(&files("valid")[0]).merged.records.len();
    for file in files("invalid") {
        let fault = file.file_stem().unwrap().to_str().unwrap().to_owned();
        let cost = match fault.as_str() {
            // Nothing of another shop's log belongs here, and without its header no line can be checked.
            "foreign_shop" | "header_invalid" => continue,
            "duplicate_line" | "out_of_order" | "too_long" => 0,
            _ => 1,
        };
        assert_eq!(read(&file).merged.records.len(), whole - cost, "{fault}");
    }
}

/// Two entries of every kind stand in the sample: one with what must be given, one with every field there is.
#[test]
fn version_1_has_every_kind_and_every_field() {
    let records = read(&samples().join("versions/v1.jsonl")).merged.records;
    for kind in Kind::ALL {
        let bodies: Vec<&Map<String, Value>> = records
            .iter()
            .filter(|it| it.entry.kind == kind.wire())
            .filter_map(|it| match &it.body {
                Content::Open(body) => body.as_object(),
                _ => None,
            })
            .collect();
        assert!(bodies.len() >= 2, "{}: {} entries", kind.wire(), bodies.len());
        for body in &bodies {
            let read = Details::from_stored(*kind, &Value::Object((*body).clone()));
            assert!(read.is_ok(), "{}: {read:?}", kind.wire());
        }
        let schema = kind.schema().to_value();
        for field in schema["properties"].as_object().into_iter().flatten().map(|(name, _)| name) {
            assert!(bodies.iter().any(|body| body.contains_key(field)), "{}: {field}", kind.wire());
        }
    }
}

/// The digest of version 1 is written down here: later code must fold the same file to the same state.
#[test]
fn version_1_folds_to_the_state_it_always_had() {
    let reading = read(&samples().join("versions/v1.jsonl"));
    let expected = fs::read_to_string(samples().join("versions/v1.digest")).unwrap();
    assert_eq!(digest(&fold(&reading.merged)).to_string(), expected.trim());
}
