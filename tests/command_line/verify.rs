//! `verify` on the command line: what is broken is named by file, line and kind, in plain words, and ends with 1.

use std::fs;
use std::path::PathBuf;

use serde_json::json;

use crate::yard::{Yard, demould, piece};

/// A shop with a log of some lines; the log's path and its name in the folder.
fn shop_with_a_log() -> (Yard, PathBuf, String) {
    let yard = Yard::founded();
    yard.add("ada", &json!([piece("C-01"), demould("C-01"), demould("C-01"), demould("C-01")])).good();
    let file = yard.files("shop/logs").into_keys().find(|path| path.is_file()).expect("a log");
    let name =
        file.strip_prefix(yard.path("shop")).expect("in the folder").to_str().expect("text").to_owned();
    (yard, file, name)
}

fn lines(text: &str) -> Vec<String> {
    text.split_inclusive('\n').map(str::to_owned).collect()
}

#[test]
fn each_break_is_named_and_every_good_entry_still_loads() {
    let (yard, file, name) = shop_with_a_log();
    let good = fs::read_to_string(&file).expect("the log");
    let whole = lines(&good);
    assert_eq!(whole.len(), 7, "header, person, device, piece, three steps");
    let steps = |yard: &Yard| yard.show("nobody")["pieces"][0]["steps"].as_array().map_or(0, Vec::len);
    assert_eq!(steps(&yard), 4);
    let changed = |at: usize, from: &str, to: &str| {
        let mut lines = whole.clone();
        lines[at] = lines[at].replacen(from, to, 1);
        lines.concat()
    };
    let mut swapped = whole.clone();
    swapped.swap(4, 5);
    let mut doubled = whole.clone();
    doubled.insert(5, whole[4].clone());
    let mut removed = whole.clone();
    removed.remove(4);
    let cut = good[..good.len() - 40].to_owned();
    for (damage, line, kind, left) in [
        (changed(4, "\"clean\"", "\"CLEAN\""), 5, "bad_hash", 3),
        (changed(4, "\"kind\":\"demould\"", "\"kind\":\"demoulD\""), 5, "bad_signature", 3),
        (changed(4, "{\"e\":", "{\"f\":"), 5, "bad_line", 3),
        (changed(0, "\"segment\":1", "\"segment\":3"), 1, "header_invalid", 4),
        (removed.concat(), 5, "sequence_gap", 3),
        (doubled.concat(), 6, "duplicate_line", 4),
        (swapped.concat(), 6, "out_of_order", 4),
        (cut, 7, "torn_tail", 3),
    ] {
        fs::write(&file, damage).expect("the log");
        let said = yard.on_shop("nobody", "verify", &["--json"]);
        assert_eq!((said.code, said.err.as_str()), (1, ""), "{kind}: {said:?}");
        let breaks = said.json()["breaks"].clone();
        let named = breaks.as_array().expect("breaks").iter();
        let mut named =
            named.filter(|it| it["file"] == name.as_str() && it["line"] == line && it["kind"] == kind);
        assert!(named.next().is_some(), "{kind}: {breaks}");
        assert_eq!(steps(&yard), left, "{kind}");
        let english = yard.on_shop("nobody", "verify", &[]);
        let begins = format!("break: {name}, line {line}: {kind}: ");
        assert!(english.code == 1 && english.out.contains(&begins), "{kind}: {english:?}");
        assert!(english.out.contains("Every good entry still counts."), "{english:?}");
        let spanish = yard.on_shop("nobody", "verify", &["--lang", "es"]);
        let begins = format!("rotura: {name}, línea {line}: {kind}: ");
        assert!(spanish.code == 1 && spanish.out.contains(&begins), "{kind}: {spanish:?}");
        assert!(spanish.out.contains("Toda entrada buena sigue contando."), "{spanish:?}");
        // The home that wrote the log heals it with its next entry.
        assert!(steps(&yard) <= 4);
    }
    fs::write(&file, &good).expect("the log");
    yard.on_shop("nobody", "verify", &[]).good();
}

#[test]
fn the_writer_heals_its_own_log_and_names_what_is_not_in_the_folder() {
    let (yard, file, name) = shop_with_a_log();
    let good = fs::read_to_string(&file).expect("the log");
    let digest = yard.digest("ada");
    fs::write(&file, lines(&good)[..4].concat()).expect("the log");
    assert_eq!(yard.digest("ada"), digest, "the home lacks nothing");
    let verify = yard.on_shop("ada", "verify", &["--json"]).json();
    let note = verify["notes"].as_array().expect("notes").iter().find(|it| it["kind"] == "not_in_folder");
    assert_eq!(note.expect("said")["file"], name.as_str());
    yard.add("ada", &json!({ "kind": "note", "body": { "text": "healed" } })).good();
    yard.on_shop("nobody", "verify", &[]).good();
    assert!(fs::read_to_string(&file).expect("the log").starts_with(&good));
}

/// The kinds of health rows that ask for something to be done, and the words of all.
fn health(yard: &Yard, home: &str) -> (Vec<String>, String) {
    let verify = yard.on_shop(home, "verify", &["--json"]).json();
    let rows = verify["health"].as_array().expect("health").clone();
    let open = rows.iter().filter(|row| row["good"] == false);
    let kinds = open.map(|row| row["kind"].as_str().expect("a kind").to_owned()).collect();
    assert!(rows.iter().all(|row| row["good"] == row["remedy"].is_null()), "what is wrong says what to do");
    (kinds, verify["health"].to_string())
}

#[test]
fn the_folder_says_how_it_stands_and_what_to_do() {
    let yard = Yard::founded();
    yard.add("ada", &piece("C-01")).good();
    let (kinds, words) = health(&yard, "ada");
    assert_eq!(kinds, Vec::<String>::new());
    assert!(
        words.contains("Ada Fell") && words.contains("accepted, owner. Entries: 3. Last seen: "),
        "{words}"
    );
    yard.join("ben", "Ben Marsh");
    assert_eq!(health(&yard, "ada").0, ["device"], "it is to be accepted");
    // Entries of Ben's that were seen are gone from the folder; for a stranger they have not arrived.
    assert_eq!(yard.add("ben", &piece("C-02")).code, 0);
    yard.on_shop("ada", "accept", &["Ben Marsh"]).good();
    assert_eq!(health(&yard, "ada").0, Vec::<String>::new());
    let bens = yard.files("shop/logs").into_iter().filter(|(path, _)| path.is_file());
    let (log, text) = bens
        .max_by_key(|(path, _)| !fs::read_to_string(path).expect("a log").contains("Ada Fell"))
        .expect("a log");
    let text = String::from_utf8(text).expect("text");
    let cut = text.trim_end().rfind('\n').expect("lines") + 1;
    fs::write(&log, &text[..cut]).expect("cut");
    let (kinds, words) = health(&yard, "nobody");
    assert!(kinds.contains(&"behind_neighbours".to_owned()), "{words}");
    assert!(words.contains("open the app on that device"), "{words}");
    // A clock set forward by two years, and an entry written then.
    let later = yard.run("ben", &["add", &yard.shop(), "-"]).at("2027-06-02T08:00:00-06:00");
    later.input(demould("C-02").to_string()).say();
    let said = yard.run("ben", &["add", &yard.shop(), "-"]).input(demould("C-02").to_string()).say();
    assert_eq!(said.code, 0);
    let (kinds, words) = health(&yard, "ada");
    assert!(kinds.contains(&"clock".to_owned()) && words.contains("was off by up to"), "{words}");
    let english = yard.on_shop("ada", "verify", &[]);
    assert!(english.out.contains("    to do: Set it by the network."), "{english:?}");
    let spanish = yard.on_shop("ada", "verify", &["--lang", "es"]);
    assert!(spanish.out.contains("Póngalo en hora por la red."), "{spanish:?}");
}

#[test]
fn a_photo_that_is_missing_or_other_than_named_is_a_break() {
    let yard = Yard::new();
    crate::yard::copy(&crate::demo::folder(), &yard.path("shop"));
    let photo = yard.files("shop/photos").into_keys().find(|path| path.is_file()).expect("a photo");
    let kind_after = |damage: &dyn Fn()| {
        damage();
        let said = yard.on_shop("nobody", "verify", &["--json"]);
        assert_eq!(said.code, 1);
        said.json()["breaks"][0]["kind"].clone()
    };
    assert_eq!(kind_after(&|| fs::write(&photo, b"another").expect("the photo")), "photo_wrong");
    assert_eq!(kind_after(&|| fs::remove_file(&photo).expect("the photo")), "photo_missing");
}
