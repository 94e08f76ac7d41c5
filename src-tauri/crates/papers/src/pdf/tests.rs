//! The files, judged by two independent validators. They come with the test stage's Python environment, which
//! `TROWELOGUE_VENV` names; without it the files are made and checked for their claim alone.

use std::path::{Path, PathBuf};
use std::process::Command;

use super::Claim;
use crate::model::Options;
use crate::sample;

fn file(name: &str, bytes: &[u8]) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).unwrap();
    (folder, path)
}

/// What the validators say of a file for a profile: true for a pass. `None` where they are not installed.
fn verdict(profile: &str, path: &Path) -> Option<(bool, String)> {
    let python = PathBuf::from(std::env::var_os("TROWELOGUE_VENV")?).join("bin/python");
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/validate.py");
    let output = Command::new(python).arg(script).arg(profile).arg(path).output().unwrap();
    let code = output.status.code();
    assert!(
        matches!(code, Some(0 | 3)),
        "the validator broke down: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    Some((code == Some(0), String::from_utf8_lossy(&output.stdout).into_owned()))
}

fn papers(claim: Claim) -> [(&'static str, Vec<u8>); 2] {
    let record = crate::record::make(&sample::record(40), &Options::default(), claim, None).unwrap();
    let care = crate::care::make(&sample::care(), &Options::default(), claim).unwrap();
    [("record.pdf", record), ("care.pdf", care)]
}

fn contains(bytes: &[u8], needle: &str) -> bool {
    bytes.windows(needle.len()).any(|window| window == needle.as_bytes())
}

#[test]
fn both_papers_pass_as_accessible_archives() {
    for (name, bytes) in papers(Claim::AccessibleArchive) {
        assert!(contains(&bytes, "<pdfaid:conformance>A<") && contains(&bytes, "<pdfuaid:part>1<"));
        let (_folder, path) = file(name, &bytes);
        for profile in ["3a", "ua1"] {
            if let Some((passed, said)) = verdict(profile, &path) {
                assert!(passed, "{name} {profile}: {said}");
            }
        }
    }
}

#[test]
fn both_papers_pass_as_basic_archives_with_both_validators() {
    for (name, bytes) in papers(Claim::BasicArchive) {
        assert!(contains(&bytes, "<pdfaid:conformance>B<"));
        let (_folder, path) = file(name, &bytes);
        for profile in ["3b", "pikepdf"] {
            if let Some((passed, said)) = verdict(profile, &path) {
                assert!(passed, "{name} {profile}: {said}");
            }
        }
    }
}

/// Breaks a good file and asks whether a validator notices.
fn broken(break_it: impl Fn(&mut lopdf::Document)) -> Vec<u8> {
    let [(_, record), _] = papers(Claim::AccessibleArchive);
    let mut doc = lopdf::Document::load_mem(&record).unwrap();
    break_it(&mut doc);
    let mut bytes = Vec::new();
    doc.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn a_file_without_intent_tags_relation_or_font_fails() {
    type Break = fn(&mut lopdf::Document);
    let breaks: [(&str, Break); 4] = [
        ("output intent", |doc| drop(doc.catalog_mut().unwrap().remove(b"OutputIntents"))),
        ("tags", |doc| drop(doc.catalog_mut().unwrap().remove(b"StructTreeRoot"))),
        ("relation", |doc| strip(doc, b"AFRelationship")),
        ("font", |doc| strip(doc, b"FontFile2")),
    ];
    for (what, break_it) in breaks {
        let bytes = broken(break_it);
        let (_folder, path) = file("broken.pdf", &bytes);
        if let Some((passed, said)) = verdict("3a", &path) {
            assert!(!passed, "{what}: {said}");
        }
    }
}

fn strip(doc: &mut lopdf::Document, key: &[u8]) {
    for object in doc.objects.values_mut() {
        if let Ok(dictionary) = object.as_dict_mut() {
            dictionary.remove(key);
        }
    }
}
