//! The papers as they are issued, judged for PDF/A-3a and PDF/UA-1 by an independent validator. It comes with the test
//! stage's Python environment, which `TROWELOGUE_VENV` names.

use std::path::{Path, PathBuf};
use std::process::Command;

use trowelogue_api::dto::PaperKind;

use crate::shop::{Desk, Variant, codes};

#[test]
fn every_demo_paper_passes_as_an_accessible_archive() {
    let Some(venv) = std::env::var_os("TROWELOGUE_VENV").map(PathBuf::from) else {
        eprintln!("passed over: no validator here; `cargo xtask test` installs it");
        return;
    };
    let desk = Desk::of_demo();
    let mut session = desk.open(Variant::FIRST);
    let mut papers = Vec::new();
    for code in codes(&session) {
        for kind in [PaperKind::Record, PaperKind::Care] {
            papers.push(desk.make(&mut session, kind, &code, Variant::FIRST).path);
        }
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../src-tauri/crates/papers/tests/validate.py");
    for profile in ["3a", "ua1"] {
        let judged =
            Command::new(venv.join("bin/python")).arg(&script).arg(profile).args(&papers).output().unwrap();
        let (said, errors) =
            (String::from_utf8_lossy(&judged.stdout), String::from_utf8_lossy(&judged.stderr));
        assert!(judged.status.success(), "{profile}: {said}{errors}");
    }
}
