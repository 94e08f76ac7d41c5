//! The top level, the packages' common settings, the licences.

use super::files::{self, File};
use super::{faults_of, none};

/// All that may lie at the top beside dot files and what cargo builds.
const TOP: [&str; 11] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE-MIT",
    "LICENSE-APACHE",
    "src-tauri",
    "ui",
    "tests",
    "schemas",
    "sample-logs",
];
const SHELL: &str = "src-tauri/Cargo.toml";

#[test]
fn the_top_level_holds_what_the_layout_says() {
    let found: Vec<String> = std::fs::read_dir(files::root())
        .expect("the checkout can be listed")
        .map(|entry| entry.expect("the checkout can be listed").file_name().to_string_lossy().into_owned())
        .collect();
    let missing = TOP.iter().filter(|name| !found.iter().any(|had| had == *name));
    let strange = found.iter().filter(|name| !may_lie_at_the_top(name));
    let faults = missing.map(|name| format!("{name} is missing at the top"));
    none(&faults.chain(strange.map(|name| format!("{name} does not belong at the top"))).collect::<Vec<_>>());
}

fn may_lie_at_the_top(name: &str) -> bool {
    TOP.contains(&name) || name.starts_with('.') || name == "target"
}

#[test]
fn every_package_takes_the_common_settings() {
    let chosen = |file: &File| file.path.ends_with("Cargo.toml") && file.text.contains("[package]");
    none(&faults_of(chosen, own_settings));
}

/// Version, edition, licence and lints come from the workspace. Only the shell may write its own
/// lints, since a macro of the web view may need an `allow` that `forbid` refuses; then it denies.
fn own_settings(file: &File) -> Vec<String> {
    let common = ["version", "edition", "rust-version", "license", "publish"];
    let mut faults: Vec<String> = common
        .iter()
        .filter(|key| !file.text.lines().any(|line| line == format!("{key}.workspace = true")))
        .map(|key| format!("{}: {key} is not the workspace's", file.path))
        .collect();
    let common_lints = section(&file.text, "[lints]").contains("workspace = true");
    let denies = section(&file.text, "[lints.rust]").contains("unsafe_code = \"deny\"");
    let own_lints = file.path == SHELL && denies;
    if !common_lints && !own_lints {
        faults.push(format!("{}: the lints are not the workspace's", file.path));
    }
    faults
}

#[test]
fn versions_stand_in_one_table() {
    let chosen = |file: &File| file.path.ends_with("Cargo.toml") && file.text.contains("[package]");
    none(&faults_of(chosen, own_versions));
}

/// A member names a dependency; its version stands in the root.
fn own_versions(file: &File) -> Vec<String> {
    let sections = ["[dependencies]", "[dev-dependencies]", "[build-dependencies]"];
    let lines = sections.iter().flat_map(|head| section(&file.text, head).lines());
    let faults = lines.filter(|line| line.contains('=') && !line.contains("workspace = true"));
    faults
        .filter(|line| !line.trim_start().starts_with('#'))
        .map(|line| format!("{}: {line}", file.path))
        .collect()
}

/// What stands between a heading and the next one.
fn section<'a>(text: &'a str, head: &str) -> &'a str {
    let body = text.split_once(&format!("{head}\n")).map_or("", |(_, body)| body);
    body.split_once("\n[").map_or(body, |(section, _)| section)
}

#[test]
fn both_licences_are_whole() {
    let text = |name: &str| {
        let path = files::root().join(name);
        std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
    };
    let mit = text("LICENSE-MIT");
    assert!(mit.contains("The Trowelogue authors") && mit.contains("WITHOUT WARRANTY OF ANY KIND"));
    let apache = text("LICENSE-APACHE");
    assert!(apache.contains("Version 2.0, January 2004") && apache.contains("END OF TERMS AND CONDITIONS"));
    let manifest = text("Cargo.toml");
    assert!(manifest.contains("license = \"MIT OR Apache-2.0\""));
}

#[test]
fn planted_faults_are_found() {
    let right = "[package]\nname = \"a\"\nversion.workspace = true\nedition.workspace = true\n\
        rust-version.workspace = true\nlicense.workspace = true\npublish.workspace = true\n\n\
        [lints]\nworkspace = true\n\n[dependencies]\nb.workspace = true\nc = { workspace = true, features = [\"d\"] }\n";
    let settings = |text: &str| own_settings(&File::planted("a/Cargo.toml", text)).len();
    let versions = |text: &str| own_versions(&File::planted("a/Cargo.toml", text)).len();
    assert_eq!((settings(right), versions(right)), (0, 0));
    assert_eq!(settings(&right.replace("license.workspace = true", "license = \"MIT\"")), 1);
    assert_eq!(settings(&right.replace("[lints]\nworkspace = true\n", "")), 1);
    assert_eq!(versions(&right.replace("b.workspace = true", "b = \"1\"")), 1);
    assert!(may_lie_at_the_top(".gitignore") && !may_lie_at_the_top("notes.txt"));
}
