//! Texts that are code somewhere else: they come back as the texts they are.

use trowelogue_testkit::trowelogue_core::body::Body;
use trowelogue_testkit::yard::{Yard, append, note};

use super::{breaks, folded};

const CODE: [&str; 9] = [
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "javascript:alert(1)",
    "\"},\"e\":{\"v\":1},\"b\":null,\"s\":\"",
    "=HYPERLINK(\"http://attacker.example\")",
    "'; DROP TABLE entries; --",
    "%s%n%x {0} ${HOME} $(id) `id`",
    "\u{202e}txet sdrawkcab\u{202c} \u{0}\u{7}\u{1b}[31m",
    "line\nbreak\r\n{\"e\":{}}",
];

#[test]
fn a_text_comes_back_as_it_went_in() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    for (number, words) in CODE.iter().enumerate() {
        append(&mut anna, note(words), number as i64).unwrap();
    }
    assert_eq!(breaks(&yard.folder()), []);
    let shop = folded(&yard.folder());
    let said = shop.steps.iter().filter_map(|step| match step.body() {
        Some(Body::Note(note)) => Some(note.text.as_str()),
        _ => None,
    });
    assert_eq!(said.collect::<Vec<_>>(), CODE);
}
