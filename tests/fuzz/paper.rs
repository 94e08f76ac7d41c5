//! Papers as `verify` reads them.

use std::fs;
use std::path::Path;

use trowelogue_api::dto::{Lang, PaperAsk, PaperKind, PaperSize, UnitsChoice};
use trowelogue_api::{Clock, Session, Setup, verify_paper};
use trowelogue_testkit::demo;

use super::{root, run};

/// A sealed record and an unsealed care sheet of one demo piece, made by a home that never joined.
fn papers(setup: &Setup, out: &Path) -> Vec<Vec<u8>> {
    let folder = root().join("sample-logs/demo-shop");
    let kinds = [PaperKind::Record, PaperKind::Care];
    let make = |kind| {
        let (lang, paper, units) = (Lang::En, PaperSize::A4, UnitsChoice::Si);
        let ask = PaperAsk { kind, piece: Some(demo::SHOWPIECE.into()), job: None, lang, paper, units };
        Session::open(setup, &folder).unwrap().write_paper(&ask, out).unwrap();
        fs::read(out).unwrap()
    };
    kinds.map(make).to_vec()
}

#[test]
fn a_paper() {
    let place = tempfile::tempdir().unwrap();
    let setup = Setup { home: place.path().join("home"), clock: Clock::System, lang: None, units: None };
    let file = place.path().join("paper.pdf");
    let papers = papers(&setup, &file);
    assert!(verify_paper(&setup, &file, None).is_err(), "a care sheet carries no seal");
    run("paper", &papers, |bytes| {
        fs::write(&file, bytes).unwrap();
        let _ = verify_paper(&setup, &file, None);
    });
}

#[test]
fn a_gigabyte_is_not_read_to_its_end() {
    let place = tempfile::tempdir().unwrap();
    let setup = Setup { home: place.path().join("home"), clock: Clock::System, lang: None, units: None };
    let file = place.path().join("huge.pdf");
    fs::write(&file, b"%PDF-1.7\n").unwrap();
    fs::OpenOptions::new().write(true).open(&file).unwrap().set_len(1 << 30).unwrap();
    let error = verify_paper(&setup, &file, None).unwrap_err();
    assert!(error.message.contains("64 MiB"), "{}", error.message);
}
