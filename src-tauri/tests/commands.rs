//! The commands on tauri's mock runtime: answers, refusals, and what the window may not call.

mod common;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc;

use serde_json::{Value, json};
use tauri::WebviewWindow;
use tauri::test::MockRuntime;
use tempfile::TempDir;
use trowelogue_api::{Clock, Desk, Session, Setup};
use trowelogue_app::COMMANDS;

use common::call;

type Page = WebviewWindow<MockRuntime>;

/// The page over the desk of a home.
fn window(label: &str, home: PathBuf) -> Page {
    common::window(label, Desk::new(home, Clock::System), None)
}

/// A home that vanishes after the test.
fn home() -> (TempDir, PathBuf) {
    let all = tempfile::tempdir().expect("a folder");
    let home = all.path().join("home");
    (all, home)
}

/// A page on a shop with one piece, ground with 100 this morning; all of it vanishes after the test.
fn shop_with_a_piece() -> (TempDir, Page) {
    let (all, home) = home();
    let shop = all.path().join("shop");
    let page = window("main", home.clone());
    let asked = json!({"folder": shop, "shop": "Quarry Lane", "person": "Ada Brook"});
    call(&page, "found", asked).expect("founded");
    let setup = Setup { home, clock: Clock::System, lang: None, units: None };
    let mut session = Session::open(&setup, &shop).expect("opened");
    let entries = json!([
        { "kind": "piece", "body": { "code": "C-1", "name": "Island", "finish": "honed" } },
        { "kind": "grit_pass", "pieces": ["C-1"], "body": pass(100) },
    ]);
    session.add(entries.to_string().as_bytes(), "test").expect("added");
    call(&page, "sweep", json!({})).expect("swept");
    (all, page)
}

fn pass(grit: u32) -> Value {
    json!({ "region": "face", "grit": grit, "scale": "pad", "bond": "resin", "wet": true, "result": "cut_out" })
}

/// The form of a grit pass on C-1, filled in.
fn step(page: &Page, grit: u32) -> Value {
    json!({ "kind": "grit_pass", "pieces": [piece(page)["id"]], "done": null, "person": null, "values": pass(grit),
        "confirmed": [], "note": null })
}

fn piece(page: &Page) -> Value {
    call(page, "piece", json!({"id": "C-1"})).expect("a sheet")
}

fn logs(all: &Path) -> String {
    let mut found = String::new();
    let mut open = vec![all.join("shop/logs")];
    while let Some(dir) = open.pop() {
        for entry in std::fs::read_dir(dir).expect("a folder").flatten() {
            match entry.path() {
                dir if dir.is_dir() => open.push(dir),
                file => found += &std::fs::read_to_string(file).expect("a log"),
            }
        }
    }
    found
}

#[test]
fn a_new_home_has_no_shop_and_keeps_its_settings() {
    let (_all, home) = home();
    let first = window("main", home.clone());
    let started = call(&first, "start", json!({})).expect("an answer");
    assert_eq!(started["standing"], "none");
    let mut settings = started["settings"].clone();
    settings["lang"] = json!("es");
    call(&first, "set_settings", json!({"settings": settings})).expect("kept");
    let again = window("main", home);
    assert_eq!(call(&again, "words", json!({"lang": null})).expect("words")["words"]["places.day"], "Hoy");
}

#[test]
fn a_shop_is_looked_at_founded_opened_and_joined() {
    let (all, home) = home();
    let shop = all.path().join("shop");
    let page = window("main", home);
    let looked = call(&page, "look", json!({"folder": shop})).expect("a look");
    assert_eq!((&looked["empty"], &looked["shop"]), (&json!(true), &Value::Null));
    let asked = json!({"folder": shop, "shop": "Quarry Lane", "person": "Ada Brook"});
    let founded = call(&page, "found", asked).expect("founded");
    assert_eq!(founded["start"]["standing"], "owner");
    assert!(shop.join("shop.json").is_file());
    let opened = call(&page, "open_shop", json!({"folder": shop})).expect("opened");
    assert_eq!(opened["shop"]["name"], "Quarry Lane");
    assert_eq!(opened["known"][0]["name"], "Quarry Lane");
    let crew = window("main", all.path().join("crew"));
    assert_eq!(call(&crew, "look", json!({"folder": shop})).expect("a look")["shop"], "Quarry Lane");
    let joined = call(&crew, "join", json!({"folder": shop, "person": "Ben Marsh"})).expect("joined");
    assert_eq!(joined["start"]["standing"], "apart");
}

#[test]
fn the_folder_named_at_the_start_is_opened() {
    let (all, _page) = shop_with_a_piece();
    let desk = Desk::new(all.path().join("reader"), Clock::System);
    let reader = common::window("main", desk, Some(all.path().join("shop")));
    let started = call(&reader, "start", json!({})).expect("an answer");
    assert_eq!((&started["standing"], &started["shop"]["name"]), (&json!("reader"), &json!("Quarry Lane")));
}

#[test]
fn a_planted_jump_is_logged_found_explained_and_struck() {
    let (all, page) = shop_with_a_piece();
    let day = call(&page, "day", json!({"ask": {"find": "island"}})).expect("a day");
    let listed = day["groups"].as_array().expect("groups").iter().flat_map(|it| it["pieces"].as_array());
    assert_eq!(listed.flatten().filter(|it| it["code"] == "C-1").count(), 1);
    let logged = call(&page, "log", json!({"step": step(&page, 800)})).expect("logged");
    assert_eq!(logged["in_folder"], true);
    assert!(logs(all.path()).contains("\"grit\":800"));
    let of_rule = |sheet: &Value| {
        let findings = sheet["findings"].as_array().expect("findings").clone();
        findings.into_iter().find(|it| it["rule"] == "grit-step")
    };
    let finding = of_rule(&piece(&page)).expect("found");
    assert!(finding["why"].as_str().is_some_and(|why| !why.is_empty()));
    let rule = call(&page, "rule", json!({"code": "grit-step"})).expect("a rule");
    assert_eq!(rule["why"], finding["why"]);
    call(&page, "strike", json!({"hash": logged["hashes"][0], "why": "not done"})).expect("struck");
    assert_eq!(of_rule(&piece(&page)), None);
}

#[test]
fn a_step_is_corrected_and_a_finding_answered_for() {
    let (_all, page) = shop_with_a_piece();
    let logged = call(&page, "log", json!({"step": step(&page, 800)})).expect("logged");
    let hash = &logged["hashes"][0];
    let form = call(&page, "correction_form", json!({"hash": hash})).expect("a form");
    assert_eq!(form["corrects"], *hash);
    let mend = json!({"hash": hash, "step": step(&page, 1500), "why": "misread"});
    let mended = call(&page, "correct", mend).expect("kept");
    let asked = json!({"piece": "C-1", "rule": "grit-step", "entry": mended["hashes"][0], "why": "trial"});
    call(&page, "except", asked).expect("kept");
    let findings = piece(&page)["findings"].as_array().expect("findings").clone();
    let finding = findings.iter().find(|it| it["rule"] == "grit-step").expect("still readable");
    assert_eq!(finding["state"], "accepted");
}

#[test]
fn a_form_is_given_tried_kept_as_a_draft_and_dropped() {
    let (_all, page) = shop_with_a_piece();
    let id = piece(&page)["id"].clone();
    let asked = json!({"kind": "grit_pass", "pieces": [id]});
    let form = call(&page, "form", asked.clone()).expect("a form");
    assert!(form["fields"].as_array().is_some_and(|fields| !fields.is_empty()));
    let tried = call(&page, "try_step", json!({"step": step(&page, 800)})).expect("tried");
    let findings = tried["findings"].as_array().expect("findings");
    assert!(findings.iter().any(|it| it["rule"] == "grit-step"), "{tried}");
    call(&page, "keep_draft", json!({"step": step(&page, 200)})).expect("kept");
    let drafts = call(&page, "drafts", json!({})).expect("drafts");
    assert_eq!(drafts[0]["codes"], json!(["C-1"]));
    call(&page, "drop_draft", asked).expect("dropped");
    assert_eq!(call(&page, "drafts", json!({})).expect("drafts"), json!([]));
}

#[test]
fn every_paper_is_made() {
    let (_all, page) = shop_with_a_piece();
    for kind in ["record", "care", "labels"] {
        let ask =
            json!({"kind": kind, "piece": "C-1", "job": null, "lang": "es", "paper": "a4", "units": "si"});
        let made = call(&page, "make_paper", json!({"ask": ask})).expect("made");
        let bytes = std::fs::read(made["path"].as_str().expect("a path")).expect("a file");
        assert!(bytes.starts_with(b"%PDF-"), "{made}");
    }
}

#[test]
fn another_home_joins_is_accepted_and_retired_and_the_page_hears_of_it() {
    let (all, page) = shop_with_a_piece();
    let crew = window("main", all.path().join("crew"));
    let shop = all.path().join("shop");
    let joined = call(&crew, "join", json!({"folder": shop, "person": "Ben Marsh"})).expect("joined");
    let device = joined["start"]["shop"]["device"].clone();
    call(&page, "sweep", json!({})).expect("swept");
    assert_eq!(call(&page, "folder", json!({})).expect("a page")["apart"][0]["device"], device);
    let refused = call(&crew, "accept", json!({"device": device})).expect_err("no owner");
    assert_eq!(refused["code"], "not_owner");
    call(&page, "accept", json!({"device": device})).expect("accepted");
    call(&crew, "sweep", json!({})).expect("swept");
    assert_eq!(call(&crew, "start", json!({})).expect("an answer")["standing"], "member");
    call(&page, "retire", json!({"device": device})).expect("retired");
    let verified = call(&page, "verify", json!({})).expect("verified");
    assert_eq!(verified["good"], true, "{verified}");
}

#[test]
fn the_desk_under_the_page_tells_of_changes() {
    let (all, page) = shop_with_a_piece();
    let desk = Desk::new(all.path().join("home"), Clock::System);
    desk.open_shop(&all.path().join("shop")).expect("opened");
    let (tell, told) = mpsc::channel();
    desk.watch(move |changed| drop(tell.send(changed)));
    let id = piece(&page)["id"].clone();
    call(&page, "log", json!({"step": step(&page, 200)})).expect("logged");
    let changed = told.recv_timeout(std::time::Duration::from_secs(2)).expect("told within two seconds");
    assert!(changed.pieces.is_empty() || json!(changed.pieces) == json!([id]));
}

#[test]
fn an_error_reaches_the_page_with_its_code_and_its_remedy() {
    let (all, home) = home();
    let nowhere = all.path().join("nowhere");
    let page = window("main", home);
    let error = call(&page, "open_shop", json!({"folder": nowhere})).expect_err("refused");
    assert_eq!(error["code"], "folder_missing");
    assert!(error["message"].as_str().is_some_and(|message| !message.is_empty()));
    let no_shop = call(&page, "piece", json!({"id": "C-1"})).expect_err("refused");
    assert_eq!(no_shop["code"], "usage");
    assert!(no_shop["remedy"].is_string(), "{no_shop}");
}

#[test]
fn a_missing_argument_is_named() {
    let (_all, home) = home();
    let error = call(&window("main", home), "open_paper", json!({})).expect_err("refused");
    assert!(error.to_string().contains("missing required key name"), "{error}");
}

#[test]
fn a_paper_is_opened_by_its_plain_name_only() {
    let (_all, home) = home();
    let window = window("main", home);
    for name in ["../key", "/etc/hostname", "nothing.pdf", ""] {
        let error = call(&window, "open_paper", json!({"name": name})).expect_err("refused");
        assert_eq!(error["code"], "bad_input", "{name}");
    }
}

#[test]
fn a_window_without_the_capability_may_call_nothing() {
    let (_all, home) = home();
    let window = window("other", home);
    for command in COMMANDS {
        let error = call(&window, command, json!({})).expect_err("refused");
        assert!(error.to_string().contains("not allowed"), "{command}: {error}");
    }
}

#[test]
fn commands_of_the_plugins_and_of_the_system_are_refused() {
    let (_all, home) = home();
    let window = window("main", home);
    let foreign = [
        "plugin:dialog|open",
        "plugin:opener|open_path",
        "plugin:opener|open_url",
        "plugin:event|listen",
        "plugin:path|resolve_directory",
        "plugin:window|set_title",
        "plugin:webview|create_webview_window",
        "nobody_knows_this",
    ];
    for command in foreign {
        let error =
            call(&window, command, json!({"path": "/etc/hostname", "options": {}})).expect_err("refused");
        let said = error.to_string();
        assert!(said.contains("not allowed") || said.contains("not found"), "{command}: {said}");
    }
}

#[test]
fn the_capability_grants_exactly_the_commands_there_are() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/capabilities/main.json");
    let capability: Value = serde_json::from_slice(&std::fs::read(file).expect("read")).expect("JSON");
    let granted: BTreeSet<String> = serde_json::from_value(capability["permissions"].clone()).expect("names");
    let there_are = COMMANDS.iter().map(|name| format!("allow-{}", name.replace('_', "-"))).collect();
    assert_eq!(granted, there_are);
    let (_all, home) = home();
    let window = window("main", home);
    for command in COMMANDS.iter().filter(|name| !["choose_folder", "save_paper_copy"].contains(name)) {
        if let Err(error) = call(&window, command, json!({})) {
            assert!(
                !error.to_string().contains("not found"),
                "{command} is granted but not handled: {error}"
            );
        }
    }
}

#[test]
fn the_policy_lets_nothing_in_and_nothing_out() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tauri.conf.json");
    let config: Value = serde_json::from_slice(&std::fs::read(file).expect("read")).expect("JSON");
    let security = &config["app"]["security"];
    let policy = security["csp"].as_str().expect("a policy");
    assert!(policy.starts_with("default-src 'none';"));
    for hole in ["unsafe", "data:", "https:", "*", "ws:"] {
        assert!(!policy.contains(hole), "{hole}");
    }
    assert_eq!(security["freezePrototype"], true);
    assert_eq!(security["capabilities"], json!(["main"]));
}
