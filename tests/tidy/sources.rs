//! The form of source files: a head that says what it is, a length for one sitting, clean line ends.

use super::files::File;
use super::{faults_of, none};

/// More than this is not read in one sitting.
const LINES: usize = 600;
/// All of the shell: it forwards, and holds nothing of the trade.
const SHELL_LINES: usize = 800;

#[test]
fn every_rust_file_says_what_it_is() {
    none(&faults_of(|file| file.ends_with(&["rs"]), headless));
}

fn headless(file: &File) -> Vec<String> {
    let says = file
        .text
        .strip_prefix("//! ")
        .is_some_and(|rest| rest.lines().next().is_some_and(|line| line.len() > 5));
    if says { Vec::new() } else { vec![format!("{} does not begin with //! and what it is", file.path)] }
}

#[test]
fn no_source_is_longer_than_one_sitting() {
    let chosen = |file: &File| {
        file.ends_with(&["rs", "ts", "svelte", "mjs", "js", "css", "py"]) && !file.is_generated()
    };
    none(&faults_of(chosen, too_long));
}

fn too_long(file: &File) -> Vec<String> {
    let count = code_lines(&file.text);
    if count <= LINES {
        Vec::new()
    } else {
        vec![format!("{} has {count} lines of code; at most {LINES}", file.path)]
    }
}

/// Lines that are neither blank nor all comment.
fn code_lines(text: &str) -> usize {
    text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with("//")).count()
}

#[test]
fn no_line_ends_in_white_space() {
    none(&faults_of(|file| !file.is_generated() && !is_vendored(file), ragged));
}

/// Fonts and their licences come as their makers wrote them.
fn is_vendored(file: &File) -> bool {
    file.path.contains("/fonts/")
}

fn ragged(file: &File) -> Vec<String> {
    let mut faults = file.lines_where(|line| line.ends_with([' ', '\t', '\r']));
    if !file.text.is_empty() && (!file.text.ends_with('\n') || file.text.ends_with("\n\n")) {
        faults.push(format!("{} does not end in exactly one line end", file.path));
    }
    faults
}

#[test]
fn the_core_touches_nothing_outside() {
    none(&faults_of(|file| file.is_under("src-tauri/crates/core/src"), outside));
}

/// Files, network, processes, threads, the environment, the clock.
fn outside(file: &File) -> Vec<String> {
    let doors = [
        "std::fs",
        "std::net",
        "std::env",
        "std::process",
        "std::thread",
        "SystemTime",
        "Instant",
        "Utc::now",
        "Local::now",
        "println!",
    ];
    file.lines_where(|line| {
        !line.trim_start().starts_with("//") && doors.iter().any(|door| line.contains(door))
    })
}

#[test]
fn the_shell_is_thin() {
    let files = super::files::all();
    let shell = files.iter().filter(|file| file.is_under("src-tauri/src") && file.ends_with(&["rs"]));
    let count: usize = shell.map(|file| code_lines(&file.text)).sum();
    assert!(count > 0, "the shell was not found");
    assert!(count < SHELL_LINES, "the shell has {count} lines of code; fewer than {SHELL_LINES} are allowed");
}

#[test]
fn one_backend_module_knows_the_web_view() {
    none(&faults_of(|file| file.is_under("ui/src"), knows_the_web_view));
}

fn knows_the_web_view(file: &File) -> Vec<String> {
    if file.is_under("ui/src/backend") || file.is_under("ui/src/lib/backend") {
        return Vec::new();
    }
    file.lines_where(|line| line.contains("@tauri-apps/") || line.contains("__TAURI"))
}

#[test]
fn planted_faults_are_found() {
    let found =
        |check: fn(&File) -> Vec<String>, path: &str, text: &str| check(&File::planted(path, text)).len();
    assert_eq!(found(headless, "a.rs", "//! The fold of entries.\nfn a() {}\n"), 0);
    assert_eq!(found(headless, "a.rs", "fn a() {}\n"), 1);
    assert_eq!(found(headless, "a.rs", "//!\nfn a() {}\n"), 1);
    assert_eq!(found(too_long, "a.rs", &"a();\n\n// why\n".repeat(LINES)), 0);
    assert_eq!(found(too_long, "a.rs", &"a();\n".repeat(LINES + 1)), 1);
    assert_eq!(found(ragged, "a.md", "a\nb\n"), 0);
    assert_eq!(found(ragged, "a.md", "a \nb\t\nc\r\n"), 3);
    assert_eq!(found(ragged, "a.md", "a\n\n"), 1);
    assert_eq!(found(ragged, "a.md", "a"), 1);
    assert_eq!(found(outside, "a.rs", "// std::fs is not used\nuse std::fs;\nlet t = Utc::now();\n"), 2);
    assert_eq!(
        found(
            knows_the_web_view,
            "ui/src/day/Day.svelte",
            "import { invoke } from '@tauri-apps/api/core';\n"
        ),
        1
    );
    assert_eq!(found(knows_the_web_view, "ui/src/backend/window.ts", "import '@tauri-apps/api/core';\n"), 0);
}
