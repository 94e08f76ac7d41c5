//! A Spanish reader meets no English: every sentence the desk gives, rendered in Spanish, is looked at.
//!
//! What people wrote into the demo shop is theirs and stays as they wrote it; so do codes, paths, ids and units.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use trowelogue_api::dto::{Lang, Settings, StepDraft};
use trowelogue_api::{ApiError, Clock, Desk, Setup, rules, verify_paper};
use trowelogue_testkit::trowelogue_core::body::Kind;

use crate::Place;

/// Words that stand in English sentences and in no Spanish one.
const ENGLISH: [&str; 34] = [
    "the", "and", "of", "with", "is", "not", "for", "was", "this", "which", "from", "are", "been", "it",
    "that", "be", "to", "an", "by", "has", "have", "must", "needs", "lies", "given", "wait", "before",
    "after", "accepted", "crew", "owner", "invalid", "expected", "failed",
];

fn is_english(part: &str) -> bool {
    let words = part.split(|it: char| !it.is_alphabetic() && it != '_' && it != '/').map(str::to_lowercase);
    words.into_iter().any(|word| ENGLISH.contains(&word.as_str()))
}

/// Whether somebody wrote it: as it stands, or behind the label or code it is shown with.
fn is_theirs(part: &str, written: &str) -> bool {
    let part = part.trim().to_lowercase();
    written.contains(&part) || part.split_once(' ').is_some_and(|(_, rest)| written.contains(rest))
}

/// The sentences in an answer that have English words in them and that nobody wrote.
fn leftovers(answer: &Value, written: &str, found: &mut BTreeSet<String>) {
    match answer {
        Value::String(said) => {
            let parts = said.split([';', '·', ',', ':', '\n']).filter(|part| !is_theirs(part, written));
            if said.contains(' ') && parts.into_iter().any(is_english) {
                found.insert(said.clone());
            }
        }
        Value::Array(all) => all.iter().for_each(|it| leftovers(it, written, found)),
        Value::Object(map) => map.values().for_each(|it| leftovers(it, written, found)),
        _ => {}
    }
}

/// A desk that reads Spanish, and everything that was ever written in the shop.
fn spanish(place: &Place) -> (Desk, String) {
    let desk = place.desk("home");
    let settings = Settings { lang: Lang::Es, ..desk.start().settings };
    desk.set_settings(&settings).unwrap();
    let mut written: String = place.lines().into_iter().collect();
    written.push_str(&place.shop().display().to_string());
    (desk, written.replace("\\\"", "\"").to_lowercase())
}

fn none(found: &BTreeSet<String>) {
    assert!(
        found.is_empty(),
        "{} sentences:\n{}",
        found.len(),
        found.iter().cloned().collect::<Vec<_>>().join("\n")
    );
}

#[test]
fn every_screen_speaks_spanish() {
    let place = Place::new();
    let (desk, written) = spanish(&place);
    let mut found = BTreeSet::new();
    let mut look = |answer: Value| leftovers(&answer, &written, &mut found);
    look(json!(desk.words(None).words));
    look(json!(desk.day(None).unwrap()));
    look(json!(desk.folder().unwrap()));
    look(json!(desk.verify().unwrap()));
    look(json!(desk.shelves().unwrap()));
    for shelf in desk.shelves().unwrap() {
        for row in desk.shelf(&shelf.kind).unwrap().rows {
            look(json!(desk.object(&shelf.kind, &row.id).unwrap()));
        }
        if shelf.kind != "route" {
            look(json!(desk.object_form(&shelf.kind, None, false).unwrap()));
        }
    }
    look(json!(desk.object_form("settings", None, false).unwrap()));
    look(json!(desk.route_edit("floor", true).unwrap()));
    let pieces = desk.day(None).unwrap().groups.into_iter().flat_map(|group| group.pieces);
    for piece in pieces {
        look(json!(desk.piece(&piece.id).unwrap()));
    }
    for kind in Kind::ALL {
        look(json!(desk.form(kind.wire(), &["K-02".to_owned()]).unwrap()));
    }
    for rule in rules(Lang::Es) {
        look(json!(rule));
    }
    none(&found);
}

#[test]
fn every_refusal_speaks_spanish() {
    let place = Place::new();
    let (desk, _) = spanish(&place);
    let mut found = BTreeSet::new();
    let mut look = |error: Option<ApiError>| {
        let error = json!(error.expect("refused"));
        let said = json!([error["message"], error["kept"], error["remedy"]]);
        leftovers(&said, "", &mut found);
    };
    look(desk.piece("no existe").err());
    look(desk.object("client", "nadie").err());
    look(desk.object("pour", "nadie").err());
    look(desk.form("no_existe", &[]).err());
    look(desk.route_edit("no_existe", true).err());
    look(desk.series("K-02", 0).err());
    look(desk.accept("nadie").err());
    look(desk.set_passphrase("x").err());
    look(desk.settle("0", "").err());
    let values = [
        ("air_c", json!("caliente")),
        ("rh_pct", json!(400)),
        ("surface_c", json!("20 libras")),
        ("no_field", json!(1)),
    ];
    for (name, value) in values {
        let mut draft = StepDraft {
            kind: "climate".into(),
            pieces: vec!["K-02".into()],
            done: None,
            person: None,
            values: [("air_c", json!(20)), ("rh_pct", json!(50)), ("surface_c", json!(20))]
                .map(|(name, value)| (name.to_owned(), value))
                .into(),
            confirmed: Vec::new(),
            note: None,
        };
        draft.values.insert(name.to_owned(), value);
        look(desk.log(&draft).err());
        let late = StepDraft { done: Some("mañana".into()), ..draft };
        look(desk.log(&late).err());
    }
    let mut edit = desk.route_edit("floor", true).unwrap();
    edit.stages.clear();
    look(desk.log_route(&edit).err());
    let papers = [("none.pdf", None), ("no.pdf", Some("hola")), ("half.pdf", Some("%PDF-1.7\n1 0 obj\n<<"))];
    for (name, content) in papers {
        let file = place.home("home").join(name);
        if let Some(content) = content {
            std::fs::write(&file, content).unwrap();
        }
        let setup =
            Setup { home: place.home("home"), clock: Clock::System, lang: Some(Lang::Es), units: None };
        look(verify_paper(&setup, &file, None).err());
    }
    none(&found);
}
