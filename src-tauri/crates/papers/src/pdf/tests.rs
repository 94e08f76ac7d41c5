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
fn broken(claim: Claim, break_it: impl Fn(&mut lopdf::Document)) -> Vec<u8> {
    let [(_, record), _] = papers(claim);
    let mut doc = lopdf::Document::load_mem(&record).unwrap();
    break_it(&mut doc);
    let mut bytes = Vec::new();
    doc.save_to(&mut bytes).unwrap();
    bytes
}

type Break = fn(&mut lopdf::Document);

const BREAKS: [(&str, Break); 3] = [
    ("output intent", |doc| drop(doc.catalog_mut().unwrap().remove(b"OutputIntents"))),
    ("relation", |doc| strip(doc, b"AFRelationship")),
    ("font", |doc| strip(doc, b"FontFile2")),
];

#[test]
fn a_file_without_intent_relation_or_font_fails_with_both_validators() {
    for (claim, profile) in
        [(Claim::AccessibleArchive, "3a"), (Claim::BasicArchive, "3b"), (Claim::BasicArchive, "pikepdf")]
    {
        for (what, break_it) in BREAKS {
            let (_folder, path) = file("broken.pdf", &broken(claim, break_it));
            if let Some((passed, said)) = verdict(profile, &path) {
                assert!(!passed, "{profile}, {what}: {said}");
            }
        }
    }
}

#[test]
fn a_file_without_its_tags_or_without_one_of_them_fails() {
    let breaks: [(&str, &str, Break); 4] = [
        ("3a", "tags", |doc| drop(doc.catalog_mut().unwrap().remove(b"StructTreeRoot"))),
        ("ua1", "tags", |doc| drop(doc.catalog_mut().unwrap().remove(b"StructTreeRoot"))),
        ("ua1", "text of a figure", |doc| strip(doc, b"Alt")),
        ("ua1", "one tag", untag),
    ];
    for (profile, what, break_it) in breaks {
        let (_folder, path) = file("broken.pdf", &broken(Claim::AccessibleArchive, break_it));
        if let Some((passed, said)) = verdict(profile, &path) {
            assert!(!passed, "{profile}, {what}: {said}");
        }
    }
}

/// Takes the tag of the first heading out of the tree.
fn untag(doc: &mut lopdf::Document) {
    let is_heading = |object: &lopdf::Object| {
        let tag = object.as_dict().and_then(|it| it.get(b"S")).and_then(lopdf::Object::as_name);
        tag.is_ok_and(|tag| tag == b"H1")
    };
    let heading = *doc.objects.iter().find(|(_, object)| is_heading(object)).unwrap().0;
    for object in doc.objects.values_mut() {
        if let Ok(dictionary) = object.as_dict_mut()
            && let Ok(kids) = dictionary.get_mut(b"K").and_then(lopdf::Object::as_array_mut)
        {
            kids.retain(|kid| kid.as_reference().ok() != Some(heading));
        }
    }
    doc.objects.remove(&heading);
}

fn strip(doc: &mut lopdf::Document, key: &[u8]) {
    for object in doc.objects.values_mut() {
        if let Ok(dictionary) = object.as_dict_mut() {
            dictionary.remove(key);
        }
    }
}

#[test]
fn no_packed_stream_ends_in_a_carriage_return() {
    let mut met = 0;
    for n in 0..2000 {
        let plain = format!("{n} {}", "0 0 m 10 10 l S ".repeat(40 + n % 61)).into_bytes();
        let mut stream = lopdf::Stream::new(lopdf::dictionary! {}, plain.clone());
        stream.compress().unwrap();
        met += usize::from(stream.content.ends_with(b"\r"));
        let mut object = lopdf::Object::Stream(stream);
        super::end_plainly(&mut object);
        let lopdf::Object::Stream(stream) = object else { unreachable!("it was one") };
        assert!(!stream.content.ends_with(b"\r"));
        assert_eq!(stream.get_plain_content().unwrap(), plain);
    }
    assert!(met > 0, "the case was met");
}
