//! Two homes on one folder: turns, acceptance, retirement, and what is lost and comes back.

use serde_json::json;

use crate::yard::{Yard, codes, demould, piece};

/// What both homes and a reader without a home see is one state.
#[track_caller]
fn all_agree(yard: &Yard) -> String {
    let digest = yard.digest("ada");
    assert_eq!(digest.len(), 64);
    assert_eq!(yard.digest("ben"), digest, "the second home");
    assert_eq!(yard.digest("nobody"), digest, "a reader without a home");
    assert!(!yard.path("nobody").exists(), "reading needs no identity and leaves none");
    digest
}

/// `ada` founded, `ben` joined and was accepted.
fn two() -> (Yard, String) {
    let yard = Yard::founded();
    let ben = yard.join("ben", "Ben Marsh");
    yard.on_shop("ada", "accept", &[&ben]).good();
    (yard, ben)
}

#[test]
fn homes_that_write_in_turns_agree_after_every_turn() {
    let yard = Yard::founded();
    let ben = yard.join("ben", "Ben Marsh");
    let mut seen = vec![all_agree(&yard)];
    yard.add("ada", &piece("C-01")).good();
    seen.push(all_agree(&yard));
    assert_eq!(yard.add("ben", &piece("C-02")).code, 0);
    seen.push(all_agree(&yard));
    yard.on_shop("ada", "accept", &[&ben]).good();
    seen.push(all_agree(&yard));
    for turn in 0..4 {
        let (home, code) = if turn % 2 == 0 { ("ada", "C-02") } else { ("ben", "C-01") };
        yard.add(home, &demould(code)).good();
        seen.push(all_agree(&yard));
    }
    let states: std::collections::BTreeSet<&String> = seen.iter().collect();
    assert_eq!(states.len(), seen.len(), "every entry changes the state");
    let verify = yard.on_shop("ben", "verify", &["--json"]).good().json();
    assert_eq!((verify["breaks"].clone(), verify["notes"].clone()), (json!([]), json!([])));
}

#[test]
fn before_it_is_accepted_a_device_stands_apart_and_does_not_count() {
    let yard = Yard::founded();
    let ben = yard.join("ben", "Ben Marsh");
    let said = yard.add("ben", &piece("C-01"));
    assert_eq!(said.code, 0);
    assert!(said.err.contains("An owner has not accepted this device yet"), "{said:?}");
    let show = yard.show("ada");
    let device = show["devices"].as_array().expect("devices").iter().find(|it| it["id"] == json!(ben));
    assert_eq!(device.expect("the second device")["status"], "apart");
    assert_eq!((codes(&show), show["apart"].clone()), (vec![], json!(3)), "its person, its name, its piece");
    let words = yard.on_shop("ada", "show", &[]).good().out;
    assert!(words.contains("Entries that stand apart: 3."), "{words}");
    // It may go on with what it wrote itself; nobody else can.
    assert_eq!(yard.add("ben", &demould("C-01")).code, 0);
    assert_eq!(yard.add("ada", &demould("C-01")).code, 2);
    assert_eq!(yard.on_shop("ben", "accept", &[&ben]).code, 2, "no device accepts itself");
    yard.on_shop("ada", "accept", &[&ben]).good();
    let show = yard.show("ada");
    assert_eq!((codes(&show), show["apart"].clone()), (vec!["C-01".to_owned()], json!(0)));
    assert_eq!(show["pieces"][0]["steps"].as_array().map(Vec::len), Some(2), "the earlier entries count too");
    all_agree(&yard);
}

#[test]
fn what_a_retired_device_wrote_counts_and_what_it_writes_does_not() {
    let (yard, ben) = two();
    yard.add("ben", &piece("C-01")).good();
    yard.on_shop("ada", "retire", &[&ben, "--reason", "lost"]).good();
    let said = yard.add("ben", &piece("C-02"));
    assert_eq!(said.code, 0, "what was done is never refused: {said:?}");
    assert!(said.err.contains("retired this device"), "{said:?}");
    let show = yard.show("ada");
    let device = show["devices"].as_array().expect("devices").iter().find(|it| it["id"] == json!(ben));
    assert_eq!(device.expect("the second device")["status"], "retired");
    assert_eq!((codes(&show), show["apart"].clone()), (vec!["C-01".to_owned()], json!(1)));
    all_agree(&yard);
    let said = yard.on_shop("ada", "retire", &[&ben]);
    assert_eq!((said.code, said.err.lines().next()), (2, Some("This device is retired.")));
}

#[test]
fn a_lost_home_is_rebuilt_from_the_folder() {
    let (yard, old) = two();
    yard.add("ben", &json!([piece("C-01"), demould("C-01")])).good();
    let before = all_agree(&yard);
    std::fs::remove_dir_all(yard.path("ben")).expect("the home can be lost");
    assert_eq!(yard.digest("ben"), before, "read from the folder alone");
    // The same person goes on as a new device; the old one's entries stay.
    let new = yard.join("ben", "Ben Marsh");
    assert_ne!(new, old);
    yard.on_shop("ada", "accept", &[&new]).good();
    all_agree(&yard);
    let show = yard.show("ben");
    assert_eq!(show["pieces"][0]["steps"].as_array().map(Vec::len), Some(2));
    yard.add("ben", &demould("C-01")).good();
    all_agree(&yard);
}

#[test]
fn a_home_set_back_to_an_older_copy_goes_on_as_a_new_device() {
    let (yard, old) = two();
    yard.add("ben", &piece("C-01")).good();
    crate::yard::copy(&yard.path("ben"), &yard.path("backup"));
    yard.add("ben", &demould("C-01")).good();
    let before = all_agree(&yard);
    std::fs::remove_dir_all(yard.path("ben")).expect("the home can be lost");
    std::fs::rename(yard.path("backup"), yard.path("ben")).expect("the copy takes its place");
    assert_eq!(yard.digest("ben"), before);
    let said = yard.add("ben", &demould("C-01"));
    assert_eq!(said.code, 3, "{said:?}");
    assert!(said.err.contains("trowelogue join"), "{said:?}");
    assert_ne!(yard.join("ben", "Ben Marsh"), old);
    all_agree(&yard);
}

#[test]
fn a_lost_folder_is_rebuilt_from_the_homes() {
    let (yard, _) = two();
    yard.add("ada", &piece("C-01")).good();
    yard.add("ben", &demould("C-01")).good();
    let before = all_agree(&yard);
    std::fs::remove_dir_all(yard.path("shop")).expect("the folder can be lost");
    let said = yard.on_shop("ada", "digest", &[]);
    assert_eq!((said.code, said.out.trim()), (0, before.as_str()), "the home holds everything");
    assert!(said.err.contains("The folder cannot be read"), "{said:?}");
    assert!(!yard.path("shop").exists(), "reading writes nothing");
    let said = yard.add("ada", &json!({ "kind": "note", "body": { "text": "the folder is back" } }));
    assert_eq!(said.code, 0);
    assert!(said.err.contains("written again from this device"), "{said:?}");
    // The other device's entries came back with it; its own file is its own to write.
    all_agree(&yard);
    yard.add("ben", &demould("C-01")).good();
    all_agree(&yard);
    let verify = yard.on_shop("nobody", "verify", &["--json"]).good().json();
    assert_eq!(verify["breaks"], json!([]));
}

#[test]
fn a_moved_copy_is_read_on_its_own_and_that_is_said() {
    let (yard, _) = two();
    yard.add("ada", &piece("C-01")).good();
    crate::yard::copy(&yard.path("shop"), &yard.path("copy"));
    yard.add("ada", &piece("C-02")).good();
    let copy = yard.word("copy");
    let said = yard.run("ada", &["show", &copy]).say();
    assert!(said.code == 0 && said.out.contains("C-01") && !said.out.contains("C-02"), "{said:?}");
    assert!(said.err.contains("this is another copy, read on its own"), "{said:?}");
    let before = yard.everything();
    let said = yard.run("ada", &["add", &copy, "-", "--json"]).input(piece("C-03").to_string()).say();
    assert_eq!((said.code, said.error()["code"].clone()), (3, json!("not_joined")));
    assert_eq!(yard.everything(), before);
}

#[test]
fn two_processes_of_one_home_write_at_once_and_nothing_is_lost() {
    const EACH: usize = 100;
    let yard = Yard::founded();
    yard.add("ada", &piece("C-01")).good();
    let work = |name: &str| {
        for number in 0..EACH {
            let note =
                json!({ "kind": "note", "pieces": ["C-01"], "body": { "text": format!("{name} {number}") } });
            yard.add("ada", &note).good();
        }
    };
    std::thread::scope(|scope| {
        scope.spawn(|| work("one"));
        scope.spawn(|| work("two"));
    });
    let show = yard.show("nobody");
    let steps = show["pieces"][0]["steps"].as_array().expect("steps");
    let notes: std::collections::BTreeSet<&str> =
        steps.iter().filter_map(|step| step["body"]["text"].as_str()).collect();
    assert_eq!(notes.len(), 2 * EACH);
    let verify = yard.on_shop("nobody", "verify", &["--json"]).good().json();
    assert_eq!((verify["breaks"].clone(), verify["notes"].clone()), (json!([]), json!([])));
    assert_eq!(yard.digest("nobody"), yard.digest("ada"));
}
