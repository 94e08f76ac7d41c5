//! Both papers, read back by the tools people read them with.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

mod sample;

use std::path::PathBuf;
use std::process::Command;

use trowelogue_core::text::Lang;
use trowelogue_papers::model::{Options, Paper};
use trowelogue_papers::{care_sheet, process_record};

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

/// A photo of so many pixels.
fn photo(width: u16, height: u16) -> Vec<u8> {
    let pixels: Vec<u8> =
        (0..height).flat_map(|y| (0..width).flat_map(move |x| [x as u8, y as u8, 90])).collect();
    let mut file = Vec::new();
    let encoder = jpeg_encoder::Encoder::new(&mut file, 90);
    encoder.encode(&pixels, width, height, jpeg_encoder::ColorType::Rgb).unwrap();
    file
}

/// Width in pixels of every picture in a file.
fn widths(bytes: &[u8]) -> Vec<i64> {
    let file = lopdf::Document::load_mem(bytes).unwrap();
    let pictures = file.objects.values().filter_map(|it| it.as_stream().ok()).filter(|stream| {
        stream.dict.get(b"Subtype").and_then(lopdf::Object::as_name).is_ok_and(|name| name == b"Image")
    });
    let mut widths: Vec<i64> = pictures.map(|it| it.dict.get(b"Width").unwrap().as_i64().unwrap()).collect();
    widths.sort_unstable();
    widths
}

#[test]
fn no_photo_is_finer_than_200_pixels_to_the_inch_where_it_stands() {
    let sizes = [(2560, 1920), (1600, 1200), (600, 450), (439, 329), (120, 90)];
    let mut record = sample::record(3);
    record.photos = sizes
        .iter()
        .map(|(width, height)| trowelogue_papers::model::Photo {
            hash: "aa".repeat(32),
            caption: "A photo".into(),
            alt: "A slope of colours".into(),
            jpeg: Some(photo(*width, *height)),
        })
        .collect();
    let bytes = process_record(&record, &Options::default()).unwrap();
    // Three to a row of 496 points with two gaps of ten: 158.7 points, 440 pixels at the finest.
    assert_eq!(widths(&bytes), [120, 439, 440, 440, 440]);
    assert_eq!(bytes, process_record(&record, &Options::default()).unwrap());
    let path = write("record-photos.pdf", &bytes);
    let Some((_, said)) = run("pdfimages", &["-list", path.to_str().unwrap()]) else { return };
    let rows: Vec<Vec<&str>> = said.lines().skip(2).map(|line| line.split_whitespace().collect()).collect();
    assert_eq!(rows.len(), sizes.len(), "{said}");
    for row in rows {
        let finest = row[12].parse::<u32>().unwrap().max(row[13].parse().unwrap());
        assert!(row[8] == "jpeg" && finest <= 200, "{said}");
    }
}
