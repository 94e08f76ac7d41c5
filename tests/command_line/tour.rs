//! The tour in the README: every command of it is run, and what it shows is what is printed.

use std::path::Path;
use std::process::Command;

use crate::yard::Yard;

/// A command of the tour and the lines shown under it.
struct Stop {
    command: String,
    shown: Vec<String>,
}

/// The commands in the `console` blocks, in order.
fn stops(readme: &str) -> Vec<Stop> {
    let mut stops: Vec<Stop> = Vec::new();
    let mut inside = false;
    for line in readme.lines() {
        match line.strip_prefix("$ ") {
            _ if line.starts_with("```") => inside = line == "```console",
            Some(command) if inside => stops.push(Stop { command: command.to_owned(), shown: Vec::new() }),
            None if inside => stops.last_mut().expect("a command comes first").shown.push(line.to_owned()),
            _ => {}
        }
    }
    stops
}

/// Whether a line is as shown; `…` stands for what differs from run to run, or is left out.
fn is_as_shown(line: &str, shown: &str) -> bool {
    let mut parts = shown.split('…');
    let first = parts.next().unwrap_or_default();
    let Some(mut rest) = line.strip_prefix(first) else { return false };
    let mut last = first;
    for part in parts {
        match rest.find(part) {
            Some(at) => rest = &rest[at + part.len()..],
            None => return false,
        }
        last = part;
    }
    rest.is_empty() || (last.is_empty() && shown.ends_with('…'))
}

/// Whether the lines are as shown; a line of `…` alone stands for any number of lines.
fn are_as_shown(lines: &[&str], shown: &[String]) -> bool {
    match (shown.first().map(String::as_str), lines.first()) {
        (None, None) => true,
        (Some("…"), _) => (0..=lines.len()).any(|skip| are_as_shown(&lines[skip..], &shown[1..])),
        (Some(expected), Some(line)) => is_as_shown(line, expected) && are_as_shown(&lines[1..], &shown[1..]),
        _ => false,
    }
}

#[test]
fn every_command_of_the_tour_prints_what_the_readme_shows() {
    let checkout = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../..");
    let stops = stops(&std::fs::read_to_string(checkout.join("README.md")).expect("the README"));
    assert!(stops.len() >= 10, "{} commands", stops.len());
    let yard = Yard::new();
    crate::yard::copy(&checkout.join("sample-logs/demo-shop"), &yard.path("sample-logs/demo-shop"));
    let program = Path::new(env!("CARGO_BIN_EXE_trowelogue")).parent().expect("a folder");
    let path = std::env::var("PATH").unwrap_or_default();
    for Stop { command, shown } in &stops {
        let mut shell = Command::new("sh");
        shell.arg("-c").arg(command).current_dir(yard.path("")).env("TROWELOGUE_HOME", yard.path("own"));
        shell.env("PATH", format!("{}:{path}", program.display())).env("LANG", "C.UTF-8");
        let output = shell.output().expect("a shell");
        let text = String::from_utf8(output.stdout).expect("UTF-8").replace('\u{a0}', " ");
        let said = String::from_utf8_lossy(&output.stderr);
        let code = output.status.code();
        assert!(said.is_empty() && matches!(code, Some(0 | 1)), "{command}: {code:?}, {said}");
        assert_eq!(code == Some(1), command.starts_with("trowelogue check"), "{command}");
        assert!(are_as_shown(&text.lines().collect::<Vec<_>>(), shown), "{command} prints:\n{text}");
    }
}

#[test]
fn what_is_not_shown_is_told_from_what_is_wrong() {
    assert!(
        is_as_shown("This device: abc", "This device: …") && is_as_shown("a (12 bytes).", "a (… bytes).")
    );
    assert!(!is_as_shown("a (12 bytes).", "b (… bytes).") && !is_as_shown("a b", "a"));
    assert!(!is_as_shown("a (12 bytes). More", "a (… bytes)."));
    let shown = |lines: &[&str]| lines.iter().map(|it| (*it).to_owned()).collect::<Vec<_>>();
    assert!(are_as_shown(&["a", "b", "c"], &shown(&["a", "…", "c"])));
    assert!(!are_as_shown(&["a", "b"], &shown(&["a"])) && !are_as_shown(&["a"], &shown(&["a", "b"])));
}
