//! The check is shown layouts that are right and layouts with one planted fault.

use super::*;
use serde_json::{Value, json};

/// Metadata of a workspace with all packages of the layout and the arrows given, each
/// `(from, to, kind)`; a name outside the layout is a library.
fn metadata(arrows: &[(&str, &str, Option<&str>)]) -> Graph {
    let members: Vec<&str> = ARROWS.iter().map(|(package, _)| *package).collect();
    graph(&members, arrows)
}

fn graph(members: &[&str], arrows: &[(&str, &str, Option<&str>)]) -> Graph {
    let mut names: Vec<&str> = members.to_vec();
    names.extend(arrows.iter().flat_map(|(from, to, _)| [*from, *to]));
    names.sort_unstable();
    names.dedup();
    let node = |name: &str| {
        let deps: Vec<Value> = arrows
            .iter()
            .filter(|(from, ..)| *from == name)
            .map(|(_, to, kind)| json!({ "pkg": to, "dep_kinds": [{ "kind": kind }] }))
            .collect();
        json!({ "id": name, "deps": deps })
    };
    let value = json!({
        "packages": names.iter().map(|name| json!({ "id": name, "name": name })).collect::<Vec<_>>(),
        "workspace_members": members,
        "resolve": { "nodes": names.iter().map(|name| node(name)).collect::<Vec<_>>() },
    });
    Graph::read(&value.to_string()).unwrap()
}

#[test]
fn the_layout_itself_is_right() {
    let mut arrows = Vec::new();
    for (package, allowed) in ARROWS {
        arrows.extend(allowed.iter().map(|to| (package, *to, None)));
    }
    arrows.push(("trowelogue-app", "tauri", None));
    arrows.push(("trowelogue-app", "trowelogue-testkit", Some("dev")));
    arrows.push(("trowelogue-store", "rusqlite", None));
    arrows.push(("rusqlite", "libsqlite3-sys", None));
    assert_eq!(faults(&metadata(&arrows)), [""; 0]);
}

#[test]
fn an_arrow_against_the_layout_is_named() {
    for (from, to) in [
        ("trowelogue-core", "trowelogue-journal"),
        ("trowelogue-journal", "trowelogue-store"),
        ("trowelogue-papers", "trowelogue-api"),
        ("trowelogue-cli", "trowelogue-core"),
        ("trowelogue-app", "trowelogue-store"),
        ("trowelogue-testkit", "trowelogue-cli"),
        ("trowelogue-tests", "trowelogue-journal"),
        ("xtask", "trowelogue-core"),
    ] {
        let found = faults(&metadata(&[(from, to, None)]));
        assert_eq!(found.len(), 1, "{from} -> {to}: {found:?}");
        assert!(found[0].starts_with(&format!("{from} depends on {to};")), "{found:?}");
    }
}

#[test]
fn the_testkit_is_for_tests_alone() {
    assert!(faults(&metadata(&[("trowelogue-cli", FOR_TESTS, Some("dev"))])).is_empty());
    assert_eq!(faults(&metadata(&[("trowelogue-cli", FOR_TESTS, None)])).len(), 1);
    assert_eq!(faults(&metadata(&[("trowelogue-cli", FOR_TESTS, Some("build"))])).len(), 1);
}

#[test]
fn a_kept_library_is_found_through_others() {
    let found = faults(&metadata(&[("trowelogue-api", "helper", None), ("helper", "tauri-utils", None)]));
    assert_eq!(found, ["only trowelogue-app may bring in tauri: trowelogue-api -> helper -> tauri-utils"]);
    let found = faults(&metadata(&[("trowelogue-tests", "rusqlite", Some("dev"))]));
    assert_eq!(found, ["only trowelogue-store may bring in rusqlite: trowelogue-tests -> rusqlite"]);
}

#[test]
fn what_the_keeper_brings_in_is_not_held_against_those_who_use_it() {
    let arrows = [("trowelogue-api", "trowelogue-store", None), ("trowelogue-store", "rusqlite", None)];
    assert!(faults(&metadata(&arrows)).is_empty());
}

#[test]
fn a_name_that_only_begins_alike_is_another_library() {
    assert!(faults(&metadata(&[("trowelogue-core", "taurine", None)])).is_empty());
}

#[test]
fn unknown_and_missing_packages_are_named() {
    let members: Vec<&str> = ARROWS.iter().skip(1).map(|(package, _)| *package).chain(["extra"]).collect();
    assert_eq!(
        faults(&graph(&members, &[])),
        [
            "extra is a package the layout does not know",
            "trowelogue-core of the layout is not in the workspace",
        ]
    );
}

#[test]
fn other_output_is_refused_in_words() {
    for output in ["", "{}", "[1]", "{\"packages\": 3}"] {
        let said = Graph::read(output).err().unwrap().to_string();
        assert!(said.starts_with("cargo metadata"), "{said}");
    }
}
