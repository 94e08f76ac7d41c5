//! Bodies and small files built to exhaust or to confuse.

use std::fs;

use trowelogue_testkit::forge::Forger;
use trowelogue_testkit::trowelogue_journal::{BreakKind, Error, read_folder};
use trowelogue_testkit::yard::{Yard, append, log_file, note};

use super::{breaks, counting};

#[test]
fn json_nested_without_end_costs_its_line_alone() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let good = counting(&yard.folder());
    let mut forger = Forger::new(6, anna.file());
    let (open, close) = ("[".repeat(20_000), "]".repeat(20_000));
    let salt = "\"salt\":\"AAAAAAAAAAAAAAAAAAAAAA\"";
    let mut lines = forger.header(1);
    lines += &forger.entry("note", None, &format!("{{{salt},\"text\":{open}{close}}}"));
    lines += &forger.note("after it");
    // A million levels deep: longer than a line may be.
    lines += &"{\"e\":".repeat(1_000_000);
    lines += "\n";
    let deep = format!("{{\"v\":1,\"device\":{open}{close}}}");
    lines += &forger.sign(&deep, "null");
    let file = log_file(&yard.folder(), forger.device, 1);
    fs::create_dir_all(file.parent().unwrap()).unwrap();
    fs::write(&file, lines).unwrap();
    let found = breaks(&yard.folder());
    assert!(found.contains(&BreakKind::TooLong) && found.contains(&BreakKind::BadLine), "{found:?}");
    let reading = read_folder(&yard.folder()).unwrap();
    let of_forger = reading.merged.records.iter().filter(|it| it.entry.device == forger.device);
    assert_eq!(of_forger.count(), 1, "the line after the deep one is read");
    assert_eq!(counting(&yard.folder()), good);
}

#[test]
fn a_deep_or_endless_shop_file_is_refused_in_words() {
    let yard = Yard::new().unwrap();
    drop(yard.found("anna").unwrap());
    for bytes in [
        "[".repeat(1_000_000).into_bytes(),
        format!("{{\"shop\":{}", "[".repeat(60_000)).into_bytes(),
        vec![b' '; 2_000_000],
        vec![0; 4_096],
        vec![0xff; 4_096],
        Vec::new(),
    ] {
        fs::write(yard.folder().join("shop.json"), &bytes).unwrap();
        let error = read_folder(&yard.folder()).unwrap_err();
        assert!(matches!(error, Error::ShopFile { .. } | Error::Io { .. }), "{error}");
        assert!(error.to_string().contains("shop.json"), "{error}");
    }
}

#[test]
fn a_body_says_nothing_twice_and_hides_nothing() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let good = counting(&yard.folder());
    let mut forger = Forger::new(7, anna.file());
    let salt = "\"salt\":\"AAAAAAAAAAAAAAAAAAAAAA\"";
    let header = forger.header(1);
    for body in [
        format!("{{{salt},\"text\":\"a\",\"text\":\"b\"}}"),
        format!("{{{salt},{salt}}}"),
        format!("{{\"text\":\"a\",{salt}}}"),
        "{\"salt\":\"short\",\"text\":\"a\"}".to_string(),
        "[1,2,3]".to_string(),
        "\"text\"".to_string(),
    ] {
        let line = forger.entry("note", None, &body);
        let file = log_file(&yard.folder(), forger.device, 1);
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(&file, format!("{header}{line}")).unwrap();
        assert!(breaks(&yard.folder()).contains(&BreakKind::BadLine), "{body}");
        assert_eq!(counting(&yard.folder()), good, "{body}");
    }
}
