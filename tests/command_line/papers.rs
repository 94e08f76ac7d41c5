//! Both papers of the command line, read back with the tools of others: `qpdf --check` and `pdftotext`.

use std::path::Path;
use std::process::Command;

use crate::demo::{planted, read};
use crate::yard::Yard;

/// Whether the tools are there; `cargo xtask test` installs them.
fn tools() -> bool {
    let there = |name: &str| {
        Command::new(name).arg("--version").output().is_ok() || {
            println!("skipped: there is no {name} here; `cargo xtask test` installs it");
            false
        }
    };
    there("qpdf") && there("pdftotext")
}

/// The words of a paper, white space folded, after qpdf has accepted it.
fn words_of(paper: &Path) -> String {
    let checked = Command::new("qpdf").arg("--check").arg(paper).output().expect("qpdf runs");
    assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stdout));
    let text = Command::new("pdftotext").arg(paper).arg("-").output().expect("pdftotext runs");
    assert!(text.status.success());
    let text = String::from_utf8(text.stdout).expect("UTF-8");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Width and height of the first page, in points.
fn page_size(paper: &Path) -> (f64, f64) {
    let said = Command::new("pdfinfo").arg(paper).output().expect("pdfinfo runs");
    let said = String::from_utf8(said.stdout).expect("UTF-8");
    let line = said.lines().find_map(|line| line.strip_prefix("Page size:")).expect("a page size");
    let mut numbers = line.split_whitespace().filter_map(|word| word.parse::<f64>().ok());
    (numbers.next().expect("a width"), numbers.next().expect("a height"))
}

/// Moment and start of the hash of every step, as `show` prints them.
fn steps(yard: &Yard, piece: &str) -> Vec<(String, String)> {
    let shown = read(yard, "show", &["--piece", piece]).good().out;
    let lines = shown.lines().filter(|line| line.starts_with("  ") && line.matches(" · ").count() >= 4);
    let step = |line: &str| {
        let parts: Vec<&str> = line.trim().split(" · ").collect();
        let start = parts[0].split(" – ").next().unwrap_or_default().to_owned();
        (start, parts[parts.len() - 1].to_owned())
    };
    lines.map(step).collect()
}

fn pages(words: &str, page: &str, of: &str) -> usize {
    let mut count = 0;
    while words.contains(&format!("{page} {} {of} ", count + 1)) {
        count += 1;
    }
    assert!(words.contains(&format!("{page} {count} {of} {count}")), "the last page says so: {count}");
    count
}

#[test]
fn the_record_reads_back_piece_steps_dates_findings_and_pages() {
    if !tools() {
        return;
    }
    let yard = Yard::new();
    let planted = planted();
    let showpiece = planted["showpiece"].as_str().expect("a showpiece");
    for piece in [showpiece, "K-02", "K-03"] {
        let paper = yard.path("record.pdf");
        let said = read(&yard, "record", &["--piece", piece, "--out", paper.to_str().expect("text")]).good();
        assert!(said.out.starts_with("Written: "), "{said:?}");
        let words = words_of(&paper);
        assert!(words.contains(&format!("Process record {piece}")), "{piece}");
        assert!(pages(&words, "Page", "of") >= 2, "{piece}");
        let steps = steps(&yard, piece);
        assert!(steps.len() >= 10, "{piece}: {} steps", steps.len());
        for (moment, hash) in &steps {
            assert!(words.contains(moment), "{piece}: the moment {moment} of {hash}");
            assert!(words.contains(&format!("entry {hash}")), "{piece}: the entry {hash}");
        }
        let findings = read(&yard, "check", &["--piece", piece, "--json"]).json()["findings"].clone();
        let findings = findings.as_array().expect("findings");
        assert_eq!(findings.is_empty(), piece == showpiece);
        for finding in findings {
            let title = finding["title"].as_str().expect("a title");
            assert!(words.contains(title), "{piece}: {title}");
        }
    }
}

#[test]
fn the_care_sheet_reads_back_in_both_languages_and_sizes() {
    if !tools() {
        return;
    }
    let yard = Yard::new();
    for (lang, paper, size, page, of, title) in [
        ("en", "a4", (595.0, 842.0), "Page", "of", "Care sheet"),
        ("es", "letter", (612.0, 792.0), "Página", "de", "Hoja de cuidados"),
    ] {
        let out = yard.word("care.pdf");
        let form = ["--lang", lang, "--paper", paper, "--out", &out];
        read(&yard, "care", &[&["--piece", "K-01"][..], &form].concat()).good();
        let words = words_of(Path::new(&out));
        assert!(words.contains(title) && words.contains("K-01"), "{words}");
        pages(&words, page, of);
        let (width, height) = page_size(Path::new(&out));
        assert!((width - size.0).abs() < 1.0 && (height - size.1).abs() < 1.0, "{width} x {height}");
        read(&yard, "care", &[&["--job", "J-2022-04"][..], &form].concat()).good();
        let words = words_of(Path::new(&out));
        assert!(["K-01", "K-02", "K-03"].iter().all(|piece| words.contains(piece)), "{words}");
    }
}

#[test]
fn units_and_language_of_the_record_are_those_asked_for() {
    if !tools() {
        return;
    }
    let yard = Yard::new();
    let out = yard.word("record.pdf");
    let words = |more: &[&str]| {
        read(&yard, "record", &[&["--piece", "K-01", "--out", &out][..], more].concat()).good();
        words_of(Path::new(&out))
    };
    let (si, us) = (words(&["--units", "si"]), words(&["--units", "us"]));
    assert!(si.contains(" mm") && !si.contains(" psi"), "{si}");
    assert!(us.contains(" in ") && us.contains(" psi") && !us.contains(" MPa"), "{us}");
    let spanish = words(&["--lang", "es"]);
    assert!(spanish.contains("Página 1 de ") && spanish.contains("Registro del proceso"), "{spanish}");
}

#[test]
fn the_paper_of_an_unfinished_piece_says_so() {
    if !tools() {
        return;
    }
    let yard = Yard::founded();
    yard.add("ada", &crate::yard::piece("C-01")).good();
    let out = yard.word("care.pdf");
    yard.on_shop("ada", "care", &["--piece", "C-01", "--out", &out]).good();
    assert!(words_of(Path::new(&out)).contains("not yet handed over"));
    assert_eq!(
        yard.show("ada")["pieces"][0]["steps"].as_array().map(Vec::len),
        Some(1),
        "a paper adds no entry"
    );
}
