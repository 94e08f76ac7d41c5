//! The demo shop on the command line: what was planted, what an exception does, and the same a year later.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::yard::{Said, Yard};

/// The demo shop as it is committed. Commands that only read leave it as it is.
pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../sample-logs/demo-shop")
}

pub(crate) fn planted() -> Value {
    let text = std::fs::read_to_string(folder().join("PLANTED.json")).expect("PLANTED.json");
    serde_json::from_str(&text).expect("JSON")
}

/// A command on the committed demo shop, by a reader who has joined nothing.
pub(crate) fn read(yard: &Yard, command: &str, words: &[&str]) -> Said {
    yard.run("nobody", &[command]).args([folder()]).args(words).say()
}

/// Rule, code of the piece, entries, weight, state.
type Mark = (String, String, BTreeSet<String>, String, String);

fn marks(list: &Value, piece: &str) -> BTreeSet<Mark> {
    let word = |it: &Value, field: &str| it[field].as_str().unwrap_or_default().to_owned();
    let entries = |it: &Value| {
        let hashes = it["entries"].as_array().expect("entries").iter();
        hashes.map(|hash| hash.as_str().expect("a hash").to_owned()).collect()
    };
    let mark = |it: &Value| {
        (word(it, "rule"), word(it, piece), entries(it), word(it, "severity"), word(it, "state"))
    };
    list.as_array().expect("a list").iter().map(mark).collect()
}

#[test]
fn check_reports_exactly_what_was_planted_and_explains_each() {
    let yard = Yard::new();
    let said = read(&yard, "check", &["--json"]);
    assert_eq!((said.code, said.err.as_str()), (1, ""), "stops stand");
    let findings = said.json()["findings"].clone();
    assert_eq!(marks(&findings, "piece_code"), marks(&planted()["planted"], "piece"));
    for finding in findings.as_array().expect("findings") {
        for part in ["title", "basis", "why", "remedy"] {
            assert!(finding[part].as_str().is_some_and(|it| it.len() > 10), "{part}: {finding}");
        }
        assert!(finding.get("clears_at").is_some());
    }
}

#[test]
fn a_year_later_the_findings_are_the_same() {
    let yard = Yard::new();
    let now = read(&yard, "check", &["--json"]);
    let later =
        yard.run("nobody", &["check"]).args([folder()]).args(["--json"]).at("2026-06-02T08:00:00-06:00");
    let later = later.say();
    assert_eq!((later.code, &later.out), (1, &now.out), "a year later by the clock");
    let as_of = read(&yard, "check", &["--json", "--as-of", "2026-06-02T08:00:00-06:00"]);
    assert_eq!(as_of.code, 1);
    let done: Vec<Value> = as_of.json()["findings"].as_array().expect("findings").clone();
    let done = Value::Array(done.into_iter().filter(|it| it["state"] != "waiting").collect());
    assert_eq!(marks(&done, "piece_code"), marks(&now.json()["findings"], "piece_code"), "as of then");
}

/// A copy of the demo shop, and a home of it that its owner has accepted.
fn taken_in() -> Yard {
    let yard = Yard::new();
    crate::yard::copy(&folder(), &yard.path("shop"));
    trowelogue_testkit::demo::take_in(&[yard.path("ada").as_path()], &yard.path("shop"))
        .expect("the demo's owner accepts");
    yard
}

/// Code of a piece that one of the entries is about: findings about a person's day name none of their own.
fn piece_of(show: &Value, finding: &Value) -> String {
    if let Some(code) = finding["piece_code"].as_str() {
        return code.to_owned();
    }
    let concerned = |piece: &&Value| {
        let steps = piece["steps"].as_array().expect("steps");
        steps.iter().any(|step| finding["entries"].as_array().is_some_and(|it| it.contains(&step["hash"])))
    };
    let piece = show["pieces"].as_array().expect("pieces").iter().find(concerned).expect("a piece concerned");
    piece["code"].as_str().expect("a code").to_owned()
}

#[test]
fn with_an_exception_for_each_stop_check_ends_with_0_and_shows_them_as_accepted() {
    let yard = taken_in();
    let show = yard.show("ada");
    let before = yard.on_shop("ada", "check", &["--json"]);
    assert_eq!(before.code, 1);
    let findings = before.json()["findings"].clone();
    let stops: Vec<&Value> = findings.as_array().expect("findings").iter().collect();
    let stops: Vec<&Value> =
        stops.into_iter().filter(|it| it["severity"] == "stop" && it["state"] == "stands").collect();
    assert!(stops.len() >= 10, "{} stops", stops.len());
    let exception = |it: &&Value| {
        json!({ "kind": "exception", "pieces": [piece_of(&show, it)], "refs": it["entries"],
            "body": { "rule": it["rule"], "accepted_by": "Ines Calder", "why": "seen, agreed with the client" } })
    };
    // The demo's owner accepted this home just now, by the clock of this machine.
    let exceptions: Value = stops.iter().map(exception).collect();
    let add = yard.run("ada", &["add", &yard.shop(), "-"]).input(exceptions.to_string());
    add.at("2150-06-02T08:00:00-06:00").say().good();
    let after = yard.on_shop("ada", "check", &["--json"]).good().json()["findings"].clone();
    let of_state = |list: &Value, state: &str| {
        marks(list, "piece_code")
            .into_iter()
            .filter(|it| it.4 == state)
            .map(|it| (it.0, it.1, it.2))
            .collect()
    };
    let accepted: BTreeSet<(String, String, BTreeSet<String>)> = of_state(&after, "accepted");
    for stop in marks(&json!(stops), "piece_code") {
        assert!(accepted.contains(&(stop.0.clone(), stop.1.clone(), stop.2.clone())), "{stop:?}");
    }
    assert_eq!(after.as_array().map(Vec::len), findings.as_array().map(Vec::len), "nothing vanishes");
    let words = yard.on_shop("ada", "check", &[]).good().out;
    assert!(words.contains("accepted by Ines Calder: seen, agreed with the client"), "{words}");
    assert!(words.contains("Stops that stand: 0."), "{words}");
    let later = yard.run("ada", &["check", &yard.shop()]).at("2151-06-02T08:00:00-06:00").say().good();
    assert_eq!(later.out, words, "the same a year later");
}

#[test]
fn the_demo_verifies_clean_and_reading_changes_nothing() {
    let yard = Yard::new();
    let verify = read(&yard, "verify", &["--json"]).good().json();
    assert_eq!((verify["breaks"].clone(), verify["notes"].clone()), (json!([]), json!([])));
    assert!(read(&yard, "verify", &[]).good().out.starts_with("Nothing is broken. Entries: "));
    assert!(read(&yard, "verify", &["--lang", "es"]).good().out.starts_with("No hay nada roto. Entradas: "));
    for command in ["show", "next", "digest"] {
        read(&yard, command, &[]).good();
    }
    assert!(!yard.path("nobody").exists());
}

#[test]
fn answers_are_in_the_language_and_units_asked_for() {
    let yard = Yard::new();
    let shown = |units| {
        let said = read(&yard, "show", &["--piece", "K-02", "--units", units]).good();
        said.out.replace('\u{a0}', " ")
    };
    let (si, us) = (shown("si"), shown("us"));
    assert!(si.contains("length 1,800 mm") && !si.contains("70.87 in"), "{si}");
    assert!(us.contains("length 70.87 in") && !us.contains("mm;"), "{us}");
    assert!(si.contains("steepest rise per hour 3.0 K/h"), "{si}");
    assert!(us.contains("steepest rise per hour 5.4 °F/h"), "{us}");
    let spanish = read(&yard, "check", &["--lang", "es"]);
    assert_eq!(spanish.code, 1);
    assert!(spanish.out.contains("por qué: ") && spanish.out.contains("Altos vigentes: "), "{}", spanish.out);
    assert!(!spanish.out.contains("why: "), "{}", spanish.out);
    let (en, es) =
        (read(&yard, "check", &["--json"]).json(), read(&yard, "check", &["--json", "--lang", "es"]).json());
    assert_eq!(marks(&en["findings"], "piece_code"), marks(&es["findings"], "piece_code"));
    assert_ne!(en["findings"][0]["why"], es["findings"][0]["why"]);
}

#[test]
fn rules_are_listed_with_basis_and_why() {
    let yard = Yard::new();
    let rules = yard.run("nobody", &["rules", "--json"]).say().good().json();
    let rules = rules["rules"].as_array().expect("rules").clone();
    assert!(rules.len() >= 16, "{} rules", rules.len());
    for rule in &rules {
        for part in ["code", "title", "basis", "why", "remedy"] {
            assert!(rule[part].as_str().is_some_and(|it| !it.is_empty()), "{part}: {rule}");
        }
        let code = rule["code"].as_str().expect("a code");
        assert!(yard.run("nobody", &["rules", code]).say().good().out.starts_with(code));
    }
    let said = yard.run("nobody", &["rules", "no-such-rule", "--json"]).say();
    assert_eq!((said.code, said.error()["code"].clone()), (2, json!("unknown")), "{said:?}");
}
