//! Read back by a reader of another hand (crate `csv`), and by nobody as a formula.

use super::*;

fn read(table: &Table) -> Vec<Vec<String>> {
    let bytes = write(table);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(&bytes[..]);
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

fn texts(words: &[&str]) -> Table {
    let cells = words.iter().map(|it| Cell::text(*it)).collect();
    Table { head: vec!["a"; words.len()], rows: vec![cells] }
}

#[test]
fn words_come_back_as_they_were() {
    let words =
        ["plain", "a, b", "say \"no\"", "two\r\nlines", "semi;colon", "señal 漢字", " spaced ", "'", "5 mm"];
    assert_eq!(read(&texts(&words))[1], words);
}

#[test]
fn no_text_begins_a_formula() {
    let formulas = [
        "=1+1",
        "+1",
        "-1+cmd|' /C calc'!A0",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "\n=1",
        "  =1",
        "\u{a0}=1",
        "＝1+1",
        "＋1",
        "－1",
        "＠a",
        "\u{0}=1",
        "=HYPERLINK(\"https://example.org\",\"x\")",
    ];
    for cell in &read(&texts(&formulas))[1] {
        assert!(cell.starts_with('\''), "{cell:?}");
    }
    let kept: Vec<String> = read(&texts(&formulas))[1].iter().map(|it| it[1..].to_owned()).collect();
    assert_eq!(kept, formulas, "nothing of it is lost");
}

#[test]
fn numbers_stay_numbers() {
    let row = vec![
        Cell::Number(-3.5),
        Cell::Number(0.1 + 0.2),
        Cell::Count(u64::MAX),
        Cell::Flag(true),
        Cell::Empty,
        Cell::Number(f64::NEG_INFINITY),
    ];
    let table = Table { head: vec!["n"; 6], rows: vec![row] };
    let text = String::from_utf8(write(&table)).unwrap();
    assert_eq!(text.lines().nth(1), Some("-3.5,0.30000000000000004,18446744073709551615,true,,\"'-inf\""));
}

#[test]
fn lines_end_as_rfc_4180_wants_them_and_names_come_first() {
    let text = String::from_utf8(write(&texts(&["x"]))).unwrap();
    assert_eq!(text, "\"a\"\r\n\"x\"\r\n");
}
