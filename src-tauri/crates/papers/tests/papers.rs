//! Both papers, read back by the tools people read them with.

mod sample;

use std::path::PathBuf;
use std::process::Command;

use trowelogue_core::text::Lang;
use trowelogue_papers::model::{Options, Paper};
use trowelogue_papers::{care_sheet, process_record};

#[expect(clippy::unwrap_used, reason = "a test helper")]
fn write(name: &str, bytes: &[u8]) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

fn run(tool: &str, args: &[&str]) -> Option<(bool, String)> {
    let output = Command::new(tool).args(args).output().ok()?;
    Some((output.status.success(), String::from_utf8_lossy(&output.stdout).into_owned()))
}

fn every_variant() -> Vec<Options> {
    let langs = [Lang::En, Lang::Es];
    let papers = [Paper::A4, Paper::Letter];
    langs.iter().flat_map(|lang| papers.iter().map(|paper| Options { lang: *lang, paper: *paper })).collect()
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

#[test]
fn both_papers_pass_qpdf_and_are_byte_identical_when_made_again() {
    for options in every_variant() {
        let record = process_record(&sample::record(40), &options).unwrap();
        let care = care_sheet(&sample::care(), &options).unwrap();
        assert_eq!(record, process_record(&sample::record(40), &options).unwrap());
        assert_eq!(care, care_sheet(&sample::care(), &options).unwrap());
        let tag = format!("{:?}-{:?}", options.lang, options.paper);
        for (name, bytes) in [("record", record), ("care", care)] {
            let path = write(&format!("{name}-{tag}.pdf"), &bytes);
            if let Some((good, said)) = run("qpdf", &["--check", path.to_str().unwrap()]) {
                assert!(good, "{said}");
            }
        }
    }
}

#[test]
fn a_record_reads_back_with_every_step_value_finding_and_page_number() {
    let record = sample::record(40);
    let bytes = process_record(&record, &Options::default()).unwrap();
    let path = write("record-read.pdf", &bytes);
    let Some((_, text)) = run("pdftotext", &["-raw", path.to_str().unwrap(), "-"]) else { return };
    let text = squeezed(&text);
    for step in &record.steps {
        assert!(text.contains(&squeezed(&step.what)) && text.contains(&step.hash), "{step:?}");
        for fact in &step.values {
            assert!(text.contains(&squeezed(&fact.value)), "{fact:?}");
        }
    }
    for finding in &record.findings {
        for part in [&finding.title, &finding.why, &finding.basis, &finding.remedy] {
            assert!(text.contains(&squeezed(part)), "{part}");
        }
    }
    for layer in &record.column.as_ref().unwrap().layers {
        assert!(text.contains(&squeezed(&layer.words.title)), "{layer:?}");
    }
    assert!(text.contains("C-014") && text.contains("Page1of"), "{text}");
}

#[test]
fn hostile_input_neither_fails_nor_loses_a_character() {
    let mut record = sample::record(400);
    record.piece.name = Some("W".repeat(4000));
    record.piece.client = "漢字 שלום \u{202E}abc".into();
    record.steps[3].note = Some("lorem ipsum ".repeat(2000));
    record.steps[4].values.clear();
    record.summary.clear();
    record.products.clear();
    let bytes = process_record(&record, &Options::default()).unwrap();
    let path = write("record-hostile.pdf", &bytes);
    let Some((_, text)) = run("pdftotext", &["-raw", path.to_str().unwrap(), "-"]) else { return };
    let text = squeezed(&text);
    for mark in ["[U+6F22][U+5B57]", "[U+05E9]", "[U+202E]abc"] {
        assert!(text.contains(mark), "{mark}");
    }
    // A page may end between the two words; neither is ever lost.
    assert_eq!((text.matches("lorem").count(), text.matches("ipsum").count()), (2000, 2000));
}

#[test]
fn an_unfinished_piece_is_said_to_be_one() {
    let mut care = sample::care();
    care.groups[0].handed_over = None;
    let path = write("care-draft.pdf", &care_sheet(&care, &Options::default()).unwrap());
    let Some((_, text)) = run("pdftotext", &[path.to_str().unwrap(), "-"]) else { return };
    assert!(text.contains("Not yet handed over"), "{text}");
    let path = write("care-done.pdf", &care_sheet(&sample::care(), &Options::default()).unwrap());
    let Some((_, text)) = run("pdftotext", &[path.to_str().unwrap(), "-"]) else { return };
    assert!(!text.contains("Not yet handed over") && text.contains("Page 2 of 2"), "{text}");
}
