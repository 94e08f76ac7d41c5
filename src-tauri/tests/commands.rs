//! The commands on tauri's mock runtime: answers, refusals, and what the window may not call.

mod common;

use std::collections::BTreeSet;
use std::path::PathBuf;

use common::{call, window};
use serde_json::{Value, json};
use tempfile::TempDir;
use trowelogue_app::COMMANDS;

/// A home that vanishes after the test.
fn home() -> (TempDir, PathBuf) {
    let all = tempfile::tempdir().expect("a folder");
    let home = all.path().join("home");
    (all, home)
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
fn a_shop_is_founded_and_opened() {
    let (all, home) = home();
    let shop = all.path().join("shop");
    let window = window("main", home);
    let asked = json!({"folder": shop, "shop": "Quarry Lane", "person": "Ada Brook"});
    let founded = call(&window, "found", asked).expect("founded");
    assert_eq!(founded["start"]["standing"], "owner");
    assert!(shop.join("shop.json").is_file());
    let opened = call(&window, "open_shop", json!({"folder": shop})).expect("opened");
    assert_eq!(opened["shop"]["name"], "Quarry Lane");
}

#[test]
fn an_error_reaches_the_page_with_its_code() {
    let (all, home) = home();
    let nowhere = all.path().join("nowhere");
    let error = call(&window("main", home), "open_shop", json!({"folder": nowhere})).expect_err("refused");
    assert_eq!(error["code"], "folder_missing");
    assert!(error["message"].as_str().is_some_and(|message| !message.is_empty()));
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
