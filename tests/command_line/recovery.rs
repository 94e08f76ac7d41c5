//! The founding device is lost: what the recovery code does, and what it refuses.

use serde_json::{Value, json};

use crate::yard::{Said, Yard, demould, piece};

/// `ada` founded the shop with one piece; gives the recovery code.
fn founded() -> (Yard, String) {
    let yard = Yard::new();
    let words = ["new", &yard.shop(), "--shop", "North Yard", "--person", "Ada Fell", "--json"];
    let answer = yard.run("ada", &words).say().good().json();
    yard.add("ada", &piece("C-01")).good();
    (yard, answer["recovery_key"].as_str().expect("a code").to_owned())
}

fn recover(yard: &Yard, home: &str, code: &str) -> Said {
    let words = ["recover", &yard.shop(), "--person", "Cleo Dunn", "--json"];
    yard.run(home, &words).input(code).say()
}

fn devices(yard: &Yard, home: &str) -> Vec<(String, String, String)> {
    let show = yard.show(home);
    let text = |it: &Value, name: &str| it[name].as_str().unwrap_or_default().to_owned();
    let rows = show["devices"].as_array().expect("devices").iter();
    let mut all: Vec<_> = rows.map(|it| (text(it, "name"), text(it, "status"), text(it, "role"))).collect();
    all.iter_mut().for_each(|(name, ..)| *name = name.split(" (").next().unwrap_or_default().to_owned());
    all.sort();
    all
}

fn row(name: &str, status: &str, role: &str) -> (String, String, String) {
    (name.into(), status.into(), role.into())
}

#[test]
fn a_lost_founder_is_followed_by_a_new_home_and_every_device_agrees() {
    let (yard, code) = founded();
    let ben = yard.join("ben", "Ben Marsh");
    yard.on_shop("ada", "accept", &[&ben]).good();
    std::fs::rename(yard.path("ada"), yard.path("stolen")).expect("the home can be lost");
    let answer = recover(&yard, "cleo", &format!("{}\n", code.to_uppercase())).json();
    assert!(answer["retired"].as_str().is_some_and(|name| name.starts_with("Ada Fell")), "{answer}");
    let expected = [
        row("Ada Fell", "retired", "owner"),
        row("Ben Marsh", "accepted", "crew"),
        row("Cleo Dunn", "accepted", "owner"),
    ];
    for home in ["cleo", "ben", "nobody", "stolen"] {
        assert_eq!(devices(&yard, home), expected, "{home}");
    }
    // The new owner does what owners do; what was recorded before counts.
    let dora = yard.join("dora", "Dora Kemp");
    yard.on_shop("cleo", "accept", &[&dora]).good();
    yard.add("dora", &demould("C-01")).good();
    // Whoever has the lost device can decide nothing more with it.
    let eve = yard.join("eve", "Eve Lund");
    assert_eq!(yard.on_shop("stolen", "accept", &[&eve]).code, 2);
    assert_eq!(yard.add("stolen", &piece("C-66")).code, 0, "kept, apart");
    assert!(!yard.show("ben")["pieces"].to_string().contains("C-66"));
    let digests = ["cleo", "ben", "dora", "stolen", "nobody"].map(|home| yard.digest(home));
    assert!(digests.iter().all(|it| *it == digests[0]));
    let verify = yard.on_shop("nobody", "verify", &["--json"]).good().json();
    assert_eq!(verify["breaks"], json!([]));
}

#[test]
fn a_device_of_the_crew_may_take_over_with_the_code() {
    let (yard, code) = founded();
    let ben = yard.join("ben", "Ben Marsh");
    yard.on_shop("ada", "accept", &[&ben]).good();
    let file = yard.path("sheet.txt");
    std::fs::write(&file, &code).expect("the sheet");
    let sheet = yard.word("sheet.txt");
    let words = ["recover", &yard.shop(), "--person", "Ben Marsh", "--code-file", &sheet];
    let said = yard.run("ben", &words).say();
    assert!(said.code == 0 && said.out.contains("an owner of the shop North Yard now"), "{said:?}");
    assert!(said.err.contains("Keep the code"), "{said:?}");
    assert!(devices(&yard, "ben").contains(&row("Ben Marsh", "accepted", "owner")));
    assert_eq!(devices(&yard, "ben").len(), 2, "the same device goes on");
}

#[test]
fn a_second_owner_retires_the_founder_without_any_code() {
    let (yard, _) = founded();
    let ben = yard.join("ben", "Ben Marsh");
    yard.on_shop("ada", "accept", &[&ben, "--role", "owner"]).good();
    yard.on_shop("ben", "retire", &["Ada Fell", "--reason", "lost"]).good();
    assert_eq!(
        devices(&yard, "ada"),
        [row("Ada Fell", "retired", "owner"), row("Ben Marsh", "accepted", "owner")]
    );
    // Found again, the founder's home goes on as a new device, accepted by the other owner.
    let again = yard.join("ada", "Ada Fell");
    yard.on_shop("ben", "accept", &[&again, "--role", "owner"]).good();
    yard.add("ada", &demould("C-01")).good();
    assert_eq!(yard.digest("ada"), yard.digest("ben"));
}

#[test]
fn two_recoveries_at_once_make_two_owners_and_are_said() {
    let (yard, code) = founded();
    // Two copies of the folder, neither of which knows of the other.
    crate::yard::copy(&yard.path("shop"), &yard.path("other"));
    recover(&yard, "cleo", &code);
    let other = yard.word("other");
    yard.run("dora", &["recover", &other, "--person", "Dora Kemp", "--code", &code]).say();
    for (from, to) in [("shop", "other"), ("other", "shop")] {
        crate::yard::copy(&yard.path(from).join("logs"), &yard.path(to).join("logs"));
    }
    let owners = [
        row("Ada Fell", "retired", "owner"),
        row("Cleo Dunn", "accepted", "owner"),
        row("Dora Kemp", "accepted", "owner"),
    ];
    assert_eq!(devices(&yard, "cleo"), owners);
    let digest = yard.run("dora", &["digest", &other]).say().good().out;
    assert_eq!(digest.trim(), yard.digest("cleo"));
    // A third time it works too, and says who did it before.
    let words = ["recover", &yard.shop(), "--person", "Eve Lund"];
    let said = yard.run("eve", &words).input(code).say();
    assert!(said.code == 0 && said.err.contains("used before") && said.err.contains("Cleo Dunn"), "{said:?}");
}

#[test]
fn a_wrong_code_is_refused_in_one_sentence_and_nothing_is_written() {
    let (yard, code) = founded();
    let stranger = Yard::new();
    let words = ["new", &stranger.shop(), "--shop", "Elsewhere", "--person", "Finn Gray", "--json"];
    let other = stranger.run("finn", &words).say().good().json()["recovery_key"].to_string();
    let swap = |at: usize| {
        let wrong = if code.as_bytes()[at] == b'q' { "r" } else { "q" };
        format!("{}{wrong}{}", &code[..at], &code[at + 1..])
    };
    let before = yard.everything();
    let cases = [
        (swap(10), "a typing mistake in group 3"),
        (code.replace('-', " ")[..38].to_owned(), "this one has 31"),
        (format!("9{}", &code[1..]), "Group 1 of the recovery code has '9'"),
        (String::new(), "this one has 0"),
        (other.trim_matches('"').to_owned(), "the recovery code of another shop, not of North Yard"),
    ];
    for (given, words) in cases {
        let said = recover(&yard, "cleo", &given);
        let error = said.error();
        assert_eq!(
            (said.code, &error["code"], &error["field"]),
            (2, &json!("bad_input"), &json!("code")),
            "{given}"
        );
        assert!(error["message"].as_str().is_some_and(|it| it.contains(words)), "{given}: {error}");
    }
    let said = recover(&yard, "ada", &code);
    assert!(
        said.error()["message"].as_str().is_some_and(|it| it.contains("an owner of the shop already")),
        "{said:?}"
    );
    assert_eq!(yard.everything(), before);
    assert!(!yard.path("cleo").exists(), "not even a home");
}

#[test]
fn the_key_of_a_home_named_by_hand_stays_in_its_file() {
    let (yard, _) = founded();
    let said = yard.run("ada", &["key", "--json"]).say().good();
    assert_eq!(said.json(), json!({ "key": "file" }));
    assert!(yard.run("ada", &["key"]).say().good().out.contains("in its own file"));
    let before = yard.everything();
    let moved = yard.run("ada", &["key", "--into-store", "--json"]).say();
    let words = ["join", &yard.shop(), "--person", "Ben Marsh", "--key-store", "--json"];
    for said in [moved, yard.run("ben", &words).say()] {
        assert_eq!((said.code, said.error()["code"].clone()), (2, json!("usage")), "{said:?}");
        assert!(said.error()["message"].as_str().is_some_and(|it| it.contains("key store")), "{said:?}");
    }
    assert_eq!(yard.everything(), before);
}

#[test]
fn a_shop_with_a_passphrase_is_recovered_once_the_device_was_told() {
    let (yard, code) = founded();
    let set = yard.run("ada", &["passphrase", "--set", &yard.shop()]).input("over the hills\n").say();
    assert_eq!(set.code, 0, "{set:?}");
    let words = ["recover", &yard.shop(), "--person", "Cleo Dunn", "--code", &code];
    let said = yard.run("cleo", &words).say();
    assert!(said.code == 0 && said.err.contains("a passphrase this device was not told"), "{said:?}");
    // Names are encrypted for a reader without a home.
    let owner_stays = devices(&yard, "nobody").contains(&row("", "accepted", "owner"));
    assert!(owner_stays, "not in the folder yet");
    yard.run("cleo", &["passphrase", &yard.shop()]).input("over the hills\n").say().good();
    assert!(devices(&yard, "nobody").iter().any(|(_, status, _)| status == "retired"));
    assert_eq!(yard.digest("cleo"), yard.digest("ada"));
}
