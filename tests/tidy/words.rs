//! Words that no file may hold: work left over, places of one machine, hosts of package registries.
//!
//! The words are put together here so that this file does not hold them itself.

use super::files::File;
use super::{faults_of, none};

#[test]
fn nothing_is_left_for_another_day() {
    none(&faults_of(|file| !is_lock(file) && !file.is_under("sample-logs"), left_over));
}

fn left_over(file: &File) -> Vec<String> {
    let marks = [concat!("TO", "DO"), concat!("FIX", "ME"), concat!("XX", "X")];
    let macros = [concat!("to", "do!("), concat!("unimple", "mented!"), concat!("not yet imple", "mented")];
    let stand_in = concat!("place", "holder");
    file.lines_where(|line| {
        marks.iter().any(|mark| has_word(line, mark))
            || macros.iter().any(|call| line.contains(call))
            || (has_word(line, stand_in) && !means_something(file, line, stand_in))
    })
}

/// Where the word names a thing: the attribute of an input field and its style, and the stand-in
/// that some sync engines leave for a file they have not fetched, which the journal knows.
fn means_something(file: &File, line: &str, word: &str) -> bool {
    let things = [format!("{word}="), format!(":{word}"), format!("{word} file"), format!("\"{word}\"")];
    let named = things.iter().any(|thing| line.contains(thing.as_str()));
    let says_nothing = line.trim_start_matches(['/', '!', '*', ' ']).trim_end_matches('.').eq(word);
    named || (file.is_under("src-tauri/crates/journal") && !says_nothing)
}

/// `word` in `line`, not as a part of a longer word.
fn has_word(line: &str, word: &str) -> bool {
    line.match_indices(word).any(|(start, _)| {
        let before = line[..start].chars().next_back();
        let after = line[start + word.len()..].chars().next();
        ![before, after].into_iter().flatten().any(|letter| letter.is_alphanumeric() || letter == '_')
    })
}

#[test]
fn no_file_names_a_place_of_one_machine() {
    none(&faults_of(|_| true, machine_paths));
}

fn machine_paths(file: &File) -> Vec<String> {
    let places = [
        concat!("/wo", "rk/"),
        concat!("/ro", "ot/"),
        concat!("/ho", "me/"),
        concat!("/Us", "ers/"),
        concat!(":\\Us", "ers\\"),
        concat!(":/Us", "ers/"),
    ];
    file.lines_where(|line| places.iter().any(|place| begins_with(line, place)))
}

/// `place` as the beginning of a path, not as a folder inside one.
fn begins_with(line: &str, place: &str) -> bool {
    line.match_indices(place).any(|(start, _)| {
        let before = line[..start].chars().next_back();
        place.starts_with(':')
            || !before.is_some_and(|letter| letter.is_alphanumeric() || "._-})>*~$@".contains(letter))
    })
}

#[test]
fn no_file_names_the_host_of_a_registry() {
    none(&faults_of(|file| !file.path.ends_with("Cargo.lock"), hosts));
}

fn hosts(file: &File) -> Vec<String> {
    let hosts = [
        concat!("crates", ".io"),
        concat!("pypi", ".org"),
        concat!("python", "hosted.org"),
        concat!("npm", "js."),
        concat!("deb.de", "bian.org"),
        concat!("security.de", "bian.org"),
    ];
    file.lines_where(|line| hosts.iter().any(|host| line.contains(host)))
}

fn is_lock(file: &File) -> bool {
    file.path.ends_with("package-lock.json") || file.path.ends_with("Cargo.lock")
}

#[test]
fn planted_words_are_found() {
    let count = |check: fn(&File) -> Vec<String>, text: &str| check(&File::planted("a.rs", text)).len();
    let later = concat!("// TO", "DO: later\n");
    assert_eq!(count(left_over, later), 1);
    assert_eq!(count(left_over, concat!("unimple", "mented!()\n")), 1);
    assert_eq!(count(left_over, concat!("// a place", "holder for the sum\n")), 1);
    let in_the_journal =
        |text: &str| left_over(&File::planted("src-tauri/crates/journal/src/a.rs", text)).len();
    assert_eq!(in_the_journal(concat!("//! place", "holder\n")), 1);
    assert_eq!(in_the_journal(concat!("fn place", "holder(found: &Found) -> bool {\n")), 0);
    assert_eq!(
        count(
            left_over,
            concat!("<input place", "holder={hint}>\n// a place", "holder file is not here yet\n")
        ),
        0
    );
    assert_eq!(count(left_over, "todo el lote; METODOLOGIA\n"), 0);
    assert_eq!(
        count(machine_paths, concat!("cat /wo", "rk/notes\n\"/ho", "me/ann/shop\"\nC:\\Us", "ers\\ann\n")),
        3
    );
    assert_eq!(count(machine_paths, concat!("target/demo/ho", "me/key and {dir}/ho", "me/key\n")), 0);
    assert_eq!(count(hosts, concat!("https://crates", ".io/x\nfrom Debian by name\n")), 1);
}
