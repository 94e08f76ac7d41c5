//! Folders and homes that fail: missing, a file, read-only, of a newer format, held by another process.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};

use crate::yard::{Said, Yard, piece};

/// Every command that takes a folder.
const ON_A_FOLDER: [&[&str]; 12] = [
    &["show"],
    &["check"],
    &["next"],
    &["verify"],
    &["digest"],
    &["add", "-"],
    &["join", "--person", "Ada Fell"],
    &["accept", "abcd"],
    &["retire", "abcd"],
    &["record", "--piece", "C-01", "--out", "a.pdf"],
    &["care", "--piece", "C-01", "--out", "a.pdf"],
    &["import", "temperatures", "log.csv", "--pour", "P-1"],
];

fn on(yard: &Yard, home: &str, folder: &str, words: &[&str]) -> Said {
    let (command, rest) = match words {
        ["import", what, rest @ ..] => (vec!["import", what], rest),
        [command, rest @ ..] => (vec![*command], rest),
        [] => (vec![], words),
    };
    yard.run(home, &command).args([folder]).args(rest).args(["--json"]).input(piece("C-02").to_string()).say()
}

#[track_caller]
fn fails(said: &Said, code: &str, message: &str) -> Value {
    assert_eq!((said.code, said.out.as_str()), (3, ""), "{said:?}");
    let error = said.error();
    assert_eq!((error["code"].clone(), error["message"].clone()), (json!(code), json!(message)));
    for part in ["file", "kept", "remedy"] {
        assert!(error[part].as_str().is_some_and(|it| !it.is_empty()), "{part}: {error}");
    }
    error
}

#[test]
fn a_folder_that_is_not_there_is_said_and_nothing_is_made() {
    let yard = Yard::new();
    fs::write(yard.path("log.csv"), "time,c\n2025-06-01T08:00:00Z,20\n").expect("a file");
    let before = yard.everything();
    for words in ON_A_FOLDER {
        let said = on(&yard, "ada", "missing", words);
        fails(&said, "folder_missing", "The folder is not there, or cannot be reached.");
    }
    let deep = ["new", "missing/deep", "--shop", "North", "--person", "Ada Fell", "--json"];
    fails(&yard.run("ada", &deep).say(), "folder_missing", "The folder is not there, or cannot be reached.");
    assert_eq!(yard.everything(), before);
}

#[test]
fn a_file_in_the_place_of_the_folder_is_said() {
    let yard = Yard::new();
    fs::write(yard.path("log.csv"), "time,c\n2025-06-01T08:00:00Z,20\n").expect("a file");
    fs::write(yard.path("thing"), "no folder").expect("a file");
    let before = yard.everything();
    // A file given to `verify` is taken for a paper.
    let said = on(&yard, "ada", "thing", &["verify"]);
    assert_eq!((said.code, said.error()["code"].clone()), (2, json!("bad_input")), "{said:?}");
    for words in ON_A_FOLDER.into_iter().filter(|words| words[0] != "verify") {
        fails(&on(&yard, "ada", "thing", words), "folder_missing", "This is a file, not a folder.");
    }
    let said = yard.run("ada", &["new", "thing", "--shop", "North", "--person", "Ada Fell", "--json"]).say();
    fails(&said, "folder_missing", "This is a file, not a folder.");
    assert_eq!(yard.everything(), before);
}

#[test]
fn a_folder_without_a_shop_is_said() {
    let yard = Yard::new();
    fs::create_dir(yard.path("empty")).expect("a folder");
    fs::write(yard.path("log.csv"), "").expect("a file");
    let before = yard.everything();
    for words in ON_A_FOLDER {
        let said = on(&yard, "ada", "empty", words);
        fails(&said, "folder_missing", "This is no shop folder: it has no shop.json.");
    }
    assert_eq!(yard.everything(), before);
}

#[test]
fn only_a_home_that_joined_writes() {
    let yard = Yard::founded();
    yard.add("ada", &piece("C-01")).good();
    let before = yard.everything();
    for words in [&["add", "-"][..], &["accept", "abcd"], &["retire", "abcd"]] {
        let said = on(&yard, "eve", "shop", words);
        fails(&said, "not_joined", "This device has not joined the shop in this folder.");
    }
    assert_eq!(yard.everything(), before);
}

fn make_newer(yard: &Yard) {
    let file = yard.path("shop/shop.json");
    let text = fs::read_to_string(&file).expect("the shop file");
    fs::write(&file, text.replacen("\"format\":1", "\"format\":2", 1)).expect("the shop file");
}

#[test]
fn a_folder_of_a_newer_format_is_left_alone() {
    let yard = Yard::founded();
    yard.add("ada", &piece("C-01")).good();
    let held = yard.digest("ada");
    make_newer(&yard);
    fs::write(yard.path("log.csv"), "time,c\n2025-06-01T08:00:00Z,20\n").expect("a file");
    let folder = yard.files("shop");
    let said = "The folder has format 2; this version reads format 1.";
    for words in ON_A_FOLDER {
        fails(&on(&yard, "eve", "shop", words), "newer_format", said);
    }
    assert!(!yard.path("eve").exists());
    // The home that joined still has all of it; what it logs waits for the newer version.
    let shown = yard.on_shop("ada", "digest", &[]);
    assert_eq!((shown.code, shown.out.trim()), (0, held.as_str()), "{shown:?}");
    let added = yard.add("ada", &piece("C-02"));
    assert!(added.code == 0 && added.err.contains("which a newer version has changed"), "{added:?}");
    fails(&yard.on_shop("ada", "verify", &["--json"]), "newer_format", said);
    assert_eq!(yard.files("shop"), folder, "the folder is left alone");
}

#[test]
fn a_damaged_shop_file_is_said() {
    let yard = Yard::founded();
    let file = yard.path("shop/shop.json");
    let text = fs::read_to_string(&file).expect("the shop file");
    for (damage, message) in [
        (
            text.replacen("North", "South", 1),
            "shop.json was changed: it is not what the shop's founder signed.",
        ),
        ("\0\0\0\0".into(), "shop.json is damaged: "),
        ("{}".into(), "shop.json is damaged: "),
    ] {
        fs::write(&file, damage).expect("the shop file");
        let said = yard.on_shop("eve", "show", &["--json"]);
        assert_eq!((said.code, said.error()["code"].clone()), (3, json!("damaged")), "{said:?}");
        assert!(said.error()["message"].as_str().is_some_and(|it| it.starts_with(message)), "{said:?}");
    }
}

#[test]
fn a_home_held_by_another_process_is_said() {
    let yard = Yard::founded();
    let before = yard.everything();
    let held = fs::File::options().write(true).open(yard.path("ada/lock")).expect("the lock file");
    held.lock().expect("the lock is free");
    let said = yard.run("ada", &["add", &yard.shop(), "-", "--json"]).input(piece("C-01").to_string()).say();
    fails(&said, "locked", "Another process of this device is writing and did not finish.");
    drop(held);
    assert_eq!(yard.everything(), before);
    yard.add("ada", &piece("C-01")).good();
}

/// A small file system mounted over a folder; unmounted when dropped.
struct Mount(PathBuf);

impl Mount {
    /// `None` where this process may not mount: then the test has nothing to look at, and says so.
    fn over(folder: &Path, size: &str) -> Option<Self> {
        fs::create_dir_all(folder).expect("a folder");
        let options = format!("size={size}");
        let done = Command::new("mount").args(["-t", "tmpfs", "-o", &options, "tmpfs"]).arg(folder).output();
        if done.is_ok_and(|done| done.status.success()) {
            return Some(Self(folder.to_owned()));
        }
        println!("skipped: this process may not mount a file system, and root may write anywhere else");
        None
    }

    fn read_only(&self) {
        let done = Command::new("mount").args(["-o", "remount,ro"]).arg(&self.0).status();
        assert!(done.is_ok_and(|done| done.success()), "the file system becomes read-only");
    }
}

impl Drop for Mount {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).status();
    }
}

#[test]
fn a_read_only_folder_is_read_and_logging_goes_on() {
    let yard = Yard::new();
    let Some(mount) = Mount::over(&yard.path("shop"), "4m") else { return };
    let words = ["new", "shop", "--shop", "North Yard", "--person", "Ada Fell"];
    yard.run("ada", &words).say().good();
    yard.add("ada", &piece("C-01")).good();
    mount.read_only();
    let folder = yard.files("shop");
    for words in [&["show"][..], &["check"], &["next"], &["verify"], &["digest"]] {
        assert_eq!(on(&yard, "ada", "shop", words).code, 0, "{words:?}");
        assert_eq!(on(&yard, "eve", "shop", words).code, 0, "{words:?}");
    }
    let added = yard.add("ada", &piece("C-02"));
    assert_eq!(added.code, 0, "{added:?}");
    assert_eq!(added.err, "On disk here; not yet in the folder, which cannot be written.\n");
    assert_eq!(crate::yard::codes(&yard.show("ada")), ["C-01", "C-02"]);
    assert_eq!(yard.files("shop"), folder);
    // Nothing can be founded there, and nothing is left behind in the home.
    let said = yard.run("eve", &["new", "shop/inner", "--shop", "N", "--person", "Eve", "--json"]).say();
    let message = "It cannot be written there: the medium is read-only, or access is refused.";
    fails(&said, "read_only", message);
    assert!(!yard.path("eve").exists());
}

#[test]
fn a_read_only_home_is_said_and_nothing_is_written() {
    let yard = Yard::new();
    let Some(mount) = Mount::over(&yard.path("homes"), "8m") else { return };
    let shop = yard.shop();
    let words = ["new", &shop, "--shop", "North Yard", "--person", "Ada Fell"];
    yard.run("homes/ada", &words).say().good();
    mount.read_only();
    let before = yard.everything();
    let message = "It cannot be written there: the medium is read-only, or access is refused.";
    let said = yard.run("homes/ada", &["add", &shop, "-", "--json"]).input(piece("C-01").to_string()).say();
    fails(&said, "read_only", message);
    let said = yard.run("homes/ben", &["join", &shop, "--person", "Ben", "--json"]).say();
    fails(&said, "read_only", message);
    for words in [&["show"][..], &["check"], &["next"], &["verify"], &["digest"]] {
        assert_eq!(on(&yard, "homes/ada", "shop", words).code, 0, "{words:?}");
    }
    assert_eq!(yard.everything(), before);
}

#[test]
fn a_paper_that_cannot_be_written_leaves_nothing_behind() {
    let yard = Yard::founded();
    yard.add("ada", &piece("C-01")).good();
    yard.on_shop("ada", "show", &[]).good();
    fs::create_dir(yard.path("taken.pdf")).expect("a folder");
    fs::write(yard.path("file"), "no folder").expect("a file");
    let before = yard.everything();
    for (out, message) in [
        ("taken.pdf", "A folder stands in the place of the file."),
        ("file/a.pdf", "A part of the path is a file, not a folder."),
    ] {
        let said = yard.on_shop("ada", "record", &["--piece", "C-01", "--out", out, "--json"]);
        assert_eq!(said.code, 3, "{out}: {said:?}");
        let error = said.error();
        assert!(error["file"].as_str().is_some_and(|it| it.ends_with(out)), "{error}");
        assert_eq!(error["message"], message);
        assert_eq!(yard.everything(), before, "{out}");
    }
}
