//! Every recorded value and every finding reads back from every paper, in order, and a second making is the same.

use std::fs;

use trowelogue_api::Session;
use trowelogue_api::dto::report::{PieceRow, StepRow};
use trowelogue_api::dto::{Lang, PaperKind};

use crate::places;
use crate::reader::{Read, squeezed, tools};
use crate::shop::{Desk, Variant, about, codes};

#[test]
fn every_demo_piece_reads_back_whole() {
    if !tools() {
        return;
    }
    let desk = Desk::of_demo();
    let mut session = desk.open(Variant::FIRST);
    for code in codes(&session) {
        check(&desk, &mut session, &code, Variant::FIRST);
    }
}

#[test]
fn three_pieces_read_back_in_all_eight_variants() {
    if !tools() {
        return;
    }
    for variant in Variant::all() {
        let desk = Desk::of_demo();
        let mut session = desk.open(variant);
        for code in ["K-01", "K-02", "F-01"] {
            check(&desk, &mut session, code, variant);
        }
    }
}

/// Makes every paper of a piece twice, and reads them.
fn check(desk: &Desk, session: &mut Session, code: &str, variant: Variant) {
    for kind in [PaperKind::Record, PaperKind::Care, PaperKind::Labels] {
        let paper = desk.make(session, kind, code, variant);
        let first = fs::read(&paper.path).unwrap();
        let again = desk.make(session, kind, code, variant);
        assert!(first == fs::read(&again.path).unwrap(), "{code} {kind:?} {variant:?}: not the same twice");
        let read = paper.read();
        let (page, of) = if variant.lang == Lang::En { ("Page", "of") } else { ("Página", "de") };
        assert!(read.is_numbered(page, of), "{code} {kind:?} {variant:?}: pages");
        places::measure(&paper);
        match kind {
            PaperKind::Record => record(session, code, &read),
            PaperKind::Care => care(session, code, &read),
            PaperKind::Labels => label(session, code, &read),
        }
    }
}

/// Everything recorded of a piece and every finding, as `api` shows it.
fn record(session: &Session, code: &str, read: &Read) {
    let text = read.flowing();
    let piece = piece_of(session, code);
    let mut down = 0;
    for step in piece.steps.iter().filter(|step| stands(step)) {
        let entry = &step.hash[..12];
        for value in values(step) {
            assert!(
                text.contains(&squeezed(&value)) || read.holds(&value),
                "{code} {}: {value:?} of {entry} is not there",
                step.kind
            );
        }
        // Steps stand in the order of work.
        let found = text[down..].find(&squeezed(&step.shown.done));
        down += found.unwrap_or_else(|| panic!("{code}: {entry} out of order"));
        assert!(text[down..].contains(entry) && read.mupdf.contains(entry), "{code}: {entry}");
    }
    let findings = session.check(&about(code), None).unwrap().findings;
    for finding in findings.iter().filter(|it| it.piece_code.as_deref() == Some(code)) {
        let facts = finding.facts.iter().map(|it| format!("{}: {}", it.label, it.value));
        let words = [&finding.title, &finding.why, &finding.basis, &finding.remedy].map(Clone::clone);
        let more = finding.shown.entries.iter().cloned().chain(finding.shown.clears_at.clone());
        for said in words.into_iter().chain(facts).chain(more) {
            let there = text.contains(&squeezed(&said)) || read.holds(&said);
            assert!(there, "{code} {}: {said}", finding.rule);
            assert!(read.mupdf.contains(finding.rule), "{code} {}", finding.rule);
        }
    }
}

/// Whether an entry may stand in a paper: no cost, nothing internal.
fn stands(step: &StepRow) -> bool {
    step.kind != "quote" && step.body["internal"] != true
}

/// The words of a step.
fn values(step: &StepRow) -> Vec<String> {
    let cost = |label: &str| step.kind == "change_agreed" && ["price", "precio"].contains(&label);
    let facts = step.shown.facts.iter().filter(|it| !cost(&it.label));
    let said = facts.flat_map(|it| [it.label.clone(), it.value.clone()]);
    // The paper begins what was done with a capital.
    let title: String = step.shown.title.chars().skip(1).collect();
    let more = [title, step.person_name.clone(), step.shown.device.clone()];
    said.chain(more).chain(step.shown.note.clone()).collect()
}

fn piece_of(session: &Session, code: &str) -> PieceRow {
    session.show(&about(code)).unwrap().pieces.remove(0)
}

/// What tells the piece apart on a shelf.
fn label(session: &Session, code: &str, read: &Read) {
    let (text, piece) = (read.flowing(), piece_of(session, code));
    for word in [&piece.code, &piece.name] {
        assert!(text.contains(&squeezed(word)), "{code}: {word}");
    }
}

/// What the client has to find: piece, client, and the sealer with its lot.
fn care(session: &Session, code: &str, read: &Read) {
    let text = read.flowing();
    let shown = session.show(&about(code)).unwrap();
    let piece = &shown.pieces[0];
    let client =
        shown.jobs.iter().find(|it| Some(&it.id) == piece.job.as_ref()).and_then(|it| it.client.clone());
    let mut wanted = vec![piece.code.clone(), piece.name.clone()];
    wanted.extend(client);
    let counts = |kind: &'static str| {
        piece.steps.iter().rev().find(move |it| it.kind == kind && it.status == "counts")
    };
    if let Some(coat) = counts("seal_coat") {
        let product = coat.body["product"].as_str().unwrap();
        let product = shown.things["products"].iter().find(|it| it.id == product);
        wanted.extend(product.map(|it| it.name.clone()));
        wanted.extend(coat.body["lot"].as_str().map(str::to_owned));
    }
    for word in wanted {
        assert!(text.contains(&squeezed(&word)), "{code}: {word}");
        assert!(read.mupdf.contains(&squeezed(&word)), "{code}: {word} for mupdf");
    }
}
