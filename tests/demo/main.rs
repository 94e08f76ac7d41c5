//! The demo shop: what the rules find in it is exactly what was planted, today and a year from now.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use trowelogue_testkit::trowelogue_core::body::Body;
use trowelogue_testkit::trowelogue_core::entry::{Clock, Content, Entry, Merged, Record};
use trowelogue_testkit::trowelogue_core::fold::fold;
use trowelogue_testkit::trowelogue_core::id::{Hash, ObjectId};
use trowelogue_testkit::trowelogue_core::moment::{self, Span};
use trowelogue_testkit::trowelogue_core::plan;
use trowelogue_testkit::trowelogue_core::rules::{self, Finding, Severity, State};
use trowelogue_testkit::trowelogue_core::shop::Shop;
use trowelogue_testkit::trowelogue_core::text::Lang;
use trowelogue_testkit::trowelogue_journal::read_folder;

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-logs/demo-shop")
}

fn merged() -> Merged {
    let reading = read_folder(&demo()).unwrap();
    assert!(reading.breaks.is_empty(), "the demo has no broken line: {:?}", reading.breaks);
    reading.merged
}

fn planted() -> Value {
    let text = std::fs::read_to_string(demo().join("PLANTED.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// Rule, piece, entries, weight, state: what a planted mistake and a finding are compared by.
type Mark = (String, String, BTreeSet<String>, String, String);

fn mark_of_planted(it: &Value) -> Mark {
    let word = |field: &str| it[field].as_str().unwrap().to_owned();
    let entries = it["entries"].as_array().unwrap().iter().map(|hash| hash.as_str().unwrap().to_owned());
    (word("rule"), word("piece"), entries.collect(), word("severity"), word("state"))
}

fn mark_of_finding(shop: &Shop, it: &Finding) -> Mark {
    let piece = it.piece.map(|id| shop.pieces[&id].now().code.clone()).unwrap_or_default();
    let entries = it.entries.iter().map(ToString::to_string).collect();
    (it.rule.code.into(), piece, entries, it.severity.wire().into(), it.state.wire().into())
}

#[test]
fn the_rules_find_what_was_planted_and_nothing_else() {
    let shop = fold(&merged());
    let found: BTreeSet<Mark> =
        rules::check_shop(&shop).iter().map(|it| mark_of_finding(&shop, it)).collect();
    let planted: BTreeSet<Mark> =
        planted()["planted"].as_array().unwrap().iter().map(mark_of_planted).collect();
    let missing: Vec<_> = planted.difference(&found).collect();
    let surplus: Vec<_> = found.difference(&planted).collect();
    assert!(missing.is_empty() && surplus.is_empty(), "missing: {missing:#?}\nsurplus: {surplus:#?}");
}

#[test]
fn at_least_ten_mistakes_of_ten_rules_are_planted() {
    let page = planted();
    let planted = page["planted"].as_array().unwrap();
    let rules: BTreeSet<&str> = planted.iter().map(|it| it["rule"].as_str().unwrap()).collect();
    assert!(planted.len() >= 10 && rules.len() >= 10, "{} mistakes of {} rules", planted.len(), rules.len());
}

#[test]
fn there_are_enough_entries_from_three_devices() {
    let merged = merged();
    let devices: BTreeSet<_> = merged.records.iter().map(|it| it.entry.device).collect();
    assert!(merged.records.len() >= 300, "{} entries", merged.records.len());
    assert_eq!(devices.len(), 3);
}

#[test]
fn every_finding_explains_itself_in_both_languages() {
    for finding in rules::check_shop(&fold(&merged())) {
        for lang in [Lang::En, Lang::Es] {
            let rule = finding.rule;
            let texts =
                [rule.title.get(lang), rule.why.get(lang), rule.remedy.get(lang), &rule.basis.words(lang)];
            assert!(texts.iter().all(|text| !text.trim().is_empty()), "{}", rule.code);
        }
    }
}

/// An exception by the founder for every stop, written after everything else.
fn with_exceptions(mut merged: Merged) -> Merged {
    let shop = fold(&merged);
    let last = merged.records.iter().map(|it| it.entry.clock.ms).max().unwrap();
    let person = merged.records[0].entry.person;
    let stops = rules::check_shop(&shop).into_iter().filter(|it| it.severity == Severity::Stop);
    for (at, finding) in (1u64..).zip(stops) {
        let body =
            json!({ "rule": finding.rule.code, "accepted_by": "Ines Calder", "why": "seen and accepted" });
        merged.records.push(exception(
            &merged,
            at,
            last,
            person,
            finding.piece.into_iter().collect(),
            finding.entries,
            body,
        ));
    }
    merged
}

fn exception(
    merged: &Merged,
    at: u64,
    last: i64,
    person: ObjectId,
    pieces: Vec<ObjectId>,
    refs: Vec<Hash>,
    body: Value,
) -> Record {
    let done = moment::parse("2025-06-01T09:00:00-06:00").unwrap();
    let entry = Entry {
        version: 1,
        device: merged.founder,
        seq: 1_000_000 + at,
        clock: Clock { ms: last + at as i64, count: 0 },
        done: Span::at(done),
        wrote: done,
        person,
        kind: "exception".into(),
        object: None,
        pieces,
        peer: None,
        refs,
        body_hash: Hash([0; 32]),
        prev: Hash([0; 32]),
        saw: Vec::new(),
    };
    Record {
        hash: Hash::of(&[&at.to_be_bytes(), b"exception"]),
        entry,
        after: None,
        body: Content::Open(body),
    }
}

#[test]
fn an_exception_for_each_stop_leaves_no_stop_standing() {
    let shop = fold(&with_exceptions(merged()));
    let findings = rules::check_shop(&shop);
    let standing: Vec<_> = findings
        .iter()
        .filter(|it| it.severity == Severity::Stop && it.state == State::Stands)
        .map(|it| (it.rule.code, &it.entries))
        .collect();
    assert!(standing.is_empty(), "{standing:#?}");
    assert!(findings.iter().any(|it| matches!(it.state, State::Accepted(_))));
}

#[test]
fn the_showpiece_is_handed_over_without_a_finding() {
    let shop = fold(&merged());
    let code = planted()["showpiece"].as_str().unwrap().to_owned();
    let (piece, _) = shop.pieces.iter().find(|(_, it)| it.now().code == code).unwrap();
    assert_eq!(rules::check_piece(&shop, *piece), []);
    assert!(shop.history(*piece).iter().any(|it| it.wire == "handover"));
}

#[test]
fn every_choice_of_a_route_carries_its_copy_and_every_piece_knows_its_route() {
    let shop = fold(&merged());
    let mut choices = 0;
    for step in &shop.steps {
        let Some(Body::RouteChosen(chosen)) = step.body() else { continue };
        let copy = chosen.route.as_ref().unwrap().route().unwrap();
        assert_eq!((copy.code.as_str(), copy.version), (chosen.code.as_str(), chosen.version));
        choices += 1;
    }
    assert!(choices >= shop.pieces.len(), "{choices} choices");
    let at = moment::parse("2025-06-01T09:00:00-06:00").unwrap();
    for plan in plan::next_shop(&shop, at) {
        let handed_over = shop.history(plan.piece).iter().any(|it| it.wire == "handover");
        assert!(handed_over || plan.route.is_some(), "{}", shop.pieces[&plan.piece].now().code);
    }
}
