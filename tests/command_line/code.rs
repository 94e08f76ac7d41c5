//! Texts that are code somewhere else, in every text a shop writes: the papers show them as the texts they are, and
//! hold nothing that acts.

use std::process::Command;

use serde_json::{Value, json};

use crate::yard::Yard;

/// The texts, each with a word of its own.
const CODE: [&str; 5] = [
    "<img src=x onerror=alert(1)>",
    "</script><script>alert(2)</script>",
    "{{constructor.constructor('alert(3)')()}}",
    "javascript:alert(4)",
    ") /JS (app.alert(5)) /S /JavaScript /OpenAction <<",
];
/// Names under which a PDF acts by itself or sends a reader elsewhere (ISO 32000-2, 12.6).
const ACTING: [&str; 12] = [
    "/JavaScript",
    "/JS",
    "/OpenAction",
    "/AA",
    "/Launch",
    "/URI",
    "/SubmitForm",
    "/ImportData",
    "/GoToR",
    "/GoToE",
    "/RichMedia",
    "/XFA",
];

/// Entries of many kinds, whose every free text is one of the texts.
fn entries() -> Value {
    let code = |number: usize| CODE[number % CODE.len()];
    json!([
        { "kind": "client", "body": { "name": code(0), "address": code(1), "contact": code(3) } },
        { "kind": "job", "body": { "code": "J-1", "name": code(1), "client": code(0), "site": code(2) } },
        { "kind": "mix", "body": { "name": code(2), "aggregates": ["siliceous"], "notes": code(4) } },
        { "kind": "piece", "body": { "code": "C-01", "name": code(0), "job": "J-1", "mix": code(2), "length_mm": 1200,
            "width_mm": 600, "thickness_mm": 40, "finish": "honed", "notes": code(1) } },
        { "kind": "pour", "pieces": ["C-01"], "done": "2025-05-01T09:00:00-06:00",
            "body": { "mix": code(2), "batch": code(3), "notes": code(4) } },
        { "kind": "demould", "pieces": ["C-01"], "done": "2025-05-03T09:00:00-06:00",
            "body": { "face": ["clean"], "notes": code(4) } },
        { "kind": "note", "pieces": ["C-01"], "done": "2025-05-03T10:00:00-06:00",
            "body": { "text": code(1), "notes": code(3) } },
        { "kind": "incident", "pieces": ["C-01"], "done": "2025-05-20T10:00:00-06:00", "body": { "what": code(2), "who": code(0) } },
    ])
}

fn shop_of_code() -> Yard {
    let yard = Yard::new();
    let words = ["new", &yard.shop(), "--shop", CODE[0], "--person", CODE[1]];
    yard.run("ada", &words).say().good();
    for entry in entries().as_array().expect("entries") {
        // A field a kind does not have is left out: what is refused is not shown.
        let said = yard.add("ada", entry);
        assert_eq!(said.code, 0, "{entry}: {said:?}");
    }
    yard
}

/// The text of a paper without white space: a long word may be cut at the end of a line.
fn words_of(paper: &str) -> String {
    let text = Command::new("pdftotext").args(["-layout", paper, "-"]).output().expect("pdftotext runs");
    String::from_utf8(text.stdout).expect("UTF-8").split_whitespace().collect()
}

#[test]
fn a_paper_shows_code_as_text_and_does_nothing() {
    let there = |name: &str| Command::new(name).arg("--version").output().is_ok();
    if !there("qpdf") || !there("pdftotext") {
        println!("skipped: there is no qpdf or pdftotext here; `cargo xtask test` installs them");
        return;
    }
    let yard = shop_of_code();
    for (command, shown) in [("record", 4), ("care", 1)] {
        let out = yard.word("paper.pdf");
        yard.on_shop("ada", command, &["--piece", "C-01", "--out", &out]).good();
        let words = words_of(&out);
        let literal = CODE.iter().filter(|code| words.contains(&code.replace(' ', "")));
        let found: Vec<_> = literal.collect();
        assert!(found.len() >= shown, "{command}: only {found:?} stand in it as they were written");
        let plain = yard.word("plain.pdf");
        let opened = ["--qdf", "--object-streams=disable", "--stream-data=uncompress", &out, &plain];
        assert!(Command::new("qpdf").args(opened).status().expect("qpdf runs").success());
        let objects = dictionaries(&std::fs::read(&plain).expect("the opened paper"));
        for name in ACTING {
            let acts =
                objects.split(|c: char| c.is_whitespace() || "[]<>()".contains(c)).any(|it| it == name);
            assert!(!acts, "{command} holds {name}");
        }
    }
}

/// The dictionaries of a PDF laid open by qpdf: everything but streams and strings, which hold what people wrote.
fn dictionaries(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let mut kept = String::new();
    let mut in_stream = false;
    for line in text.lines() {
        match line {
            "stream" => in_stream = true,
            _ if line.starts_with("endstream") => in_stream = false,
            _ if !in_stream => kept.push_str(&without_strings(line)),
            _ => {}
        }
        kept.push('\n');
    }
    kept
}

/// A line without its literal strings; brackets in them are escaped or balanced (ISO 32000-2, 7.3.4.2).
fn without_strings(line: &str) -> String {
    let (mut kept, mut depth, mut escaped) = (String::new(), 0, false);
    for letter in line.chars() {
        match letter {
            _ if escaped => escaped = false,
            '\\' if depth > 0 => escaped = true,
            '(' => depth += 1,
            ')' if depth > 0 => depth -= 1,
            _ if depth == 0 => kept.push(letter),
            _ => {}
        }
    }
    kept
}

#[test]
fn what_acts_is_found_where_it_is_and_not_in_what_people_wrote() {
    let paper = b"1 0 obj\n<< /Title (a \\) /JS \\( b) /OpenAction 5 0 R >>\nstream\n/Launch\nendstream\n";
    let kept = dictionaries(paper);
    assert!(kept.contains("/OpenAction") && !kept.contains("/JS") && !kept.contains("/Launch"), "{kept}");
}
