//! What cannot be taken: one clear sentence, where, what was kept, what to do; the exit code of the contract;
//! and not a byte of folder or home is changed.

use serde_json::{Value, json};

use crate::yard::{Said, Yard, piece};

/// A refused command, and what must be said of it.
struct Case {
    words: Vec<String>,
    input: Vec<u8>,
    code: &'static str,
    field: Option<&'static str>,
    line: Option<u64>,
    says: &'static str,
}

fn adding(input: impl Into<Vec<u8>>, field: &'static str, says: &'static str) -> Case {
    let words = ["add", "SHOP", "-"].map(str::to_owned).into();
    let field = Some(field).filter(|it| !it.is_empty());
    Case { words, input: input.into(), code: "bad_input", field, line: Some(1), says }
}

fn climate(field: &str, value: &str) -> String {
    let mut body = json!({ "air_c": 20, "rh_pct": 50, "surface_c": 19 });
    body[field] = json!("VALUE");
    json!({ "kind": "climate", "pieces": ["C-01"], "body": body }).to_string().replace("\"VALUE\"", value)
}

fn calling(words: &[&str], says: &'static str) -> Case {
    let words = words.iter().map(|it| (*it).to_owned()).collect();
    Case { words, input: Vec::new(), code: "usage", field: None, line: None, says }
}

/// A yard with one piece, and every cache of the home filled.
fn yard() -> Yard {
    let yard = Yard::founded();
    yard.add("ada", &piece("C-01")).good();
    yard.on_shop("ada", "show", &[]).good();
    yard
}

/// One sentence: it begins with a capital or a quoted word, ends with a full stop, and holds no line break.
fn is_a_sentence(words: &str) -> bool {
    let begins = words.chars().next().is_some_and(|it| it.is_uppercase() || "\"-¿".contains(it));
    let ends = words.ends_with('.') && !words.ends_with("..");
    begins && ends && !words.contains('\n') && words.len() < 2_000
}

fn run(yard: &Yard, case: &Case, more: &[&str]) -> Said {
    let shop = yard.shop();
    let words = case.words.iter().map(|it| if it == "SHOP" { shop.as_str() } else { it.as_str() });
    yard.run("ada", &[]).args(words).args(more).input(case.input.clone()).say()
}

#[track_caller]
fn refused(yard: &Yard, case: &Case) {
    let before = yard.everything();
    let named =
        format!("{:?} < {:?}", case.words, String::from_utf8_lossy(&case.input[..case.input.len().min(200)]));
    let said = run(yard, case, &["--json"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""), "{named}: {said:?}");
    let error = said.error();
    assert_eq!(error["code"], case.code, "{named}: {error}");
    let message = error["message"].as_str().unwrap_or_default();
    assert!(message.contains(case.says), "{named}: {message}");
    for part in ["message", "kept", "remedy"] {
        let words = error[part].as_str().unwrap_or_default();
        assert!(is_a_sentence(words), "{named}: {part}: {words:?}");
    }
    if let Some(field) = case.field {
        assert_eq!(error["field"], field, "{named}");
    }
    assert_eq!(error["line"], json!(case.line), "{named}");
    in_words(yard, case, &named, message);
    assert_eq!(yard.everything(), before, "{named}: not a byte is changed");
}

/// The same for a person: the sentence first, then what was kept and what to do, in both languages.
#[track_caller]
fn in_words(yard: &Yard, case: &Case, named: &str, message: &str) {
    let english = run(yard, case, &[]);
    assert_eq!((english.code, english.err.lines().next()), (2, Some(message)), "{named}");
    assert!(english.err.contains("\n  kept: Nothing was written.\n  to do: "), "{named}: {english:?}");
    let spanish = run(yard, case, &["--lang", "es"]);
    assert_eq!(spanish.code, 2, "{named}");
    assert!(
        spanish.err.contains("\n  se conservó: No se escribió nada.\n  qué hacer: "),
        "{named}: {spanish:?}"
    );
    let first = spanish.err.lines().next().unwrap_or_default();
    assert!(is_a_sentence(first) && first != message, "{named}: {first}");
}

#[test]
fn entries_that_cannot_be_taken_are_refused_by_field() {
    let yard = yard();
    let in_body = |field: &str| -> &'static str { Box::leak(format!("body.{field}").into_boxed_str()) };
    let mut cases = vec![
        adding(
            r#"{"kind":"mix","body":{"name":"a","aggregats":[]}}"#,
            "body.aggregats",
            "no field of this name",
        ),
        adding(
            r#"{"kind":"mix","body":{"name":"a","aggregates":["cheese"]}}"#,
            "body.aggregates[0]",
            "none of the choices",
        ),
        adding(r#"{"kind":"mix","body":{"name":7,"aggregates":[]}}"#, "body.name", "must be a text"),
        adding(r#"{"kind":"mixx","body":{}}"#, "kind", "There is no kind \"mixx\""),
        adding(r#"{"kind":"note","bodi":{}}"#, "bodi", "An entry has no field \"bodi\""),
        adding(r#"{"body":{}}"#, "kind", "It must be given."),
        adding(r#"{"kind":"note","body":[]}"#, "body", "It must be a JSON object."),
        adding(
            r#"{"kind":"note","person":"Nobody Known","body":{"text":"a"}}"#,
            "person",
            "There is no person",
        ),
        adding(r#"{"kind":"note","refs":["abc"],"body":{"text":"a"}}"#, "refs", "is not a hash"),
        adding(r#"{"kind":"piece","id":"7","body":{"code":"C-9","name":"a"}}"#, "id", "is not an id"),
        adding(r#"{"kind":"demould","body":{"face":["clean"]}}"#, "pieces", "Name at least one piece."),
        adding(
            r#"{"kind":"grit_pass","pieces":["C-01"],"body":{"grit":100,"scale":"pad","bond":"resin","wet":true,"result":"cut_out"}}"#,
            "body.region",
            "It must be given.",
        ),
        adding(
            r#"{"kind":"note","done":"2025-03-04T10:20:00","body":{"text":"a"}}"#,
            "done",
            "has no offset from UTC",
        ),
        adding(r#"{"kind":"note","done":"yesterday","body":{"text":"a"}}"#, "done", "is not a date and time"),
        adding(
            r#"{"kind":"note","done":"1890-03-04T10:20:00Z","body":{"text":"a"}}"#,
            "done",
            "outside the years",
        ),
        adding(
            r#"{"kind":"note","done":"2025-03-04T10:20:00Z","until":"2025-03-03T10:20:00Z","body":{"text":"a"}}"#,
            "until",
            "lies before done",
        ),
        adding(r#"{"kind":"note","body":{"text":"a\u0000b"}}"#, "body.text", "NUL character"),
        adding(r#"{"kind":"settings","body":{"zone":"Mars/Base"}}"#, "body.zone", "There is no time zone"),
        adding(climate("air_c", r#""68 furlongs""#), "body.air_c", "Unknown unit \"furlongs\""),
        adding(climate("air_c", r#""68""#), "body.air_c", "has no unit"),
        adding(climate("air_c", r#""68 kg""#), "body.air_c", "measures something else"),
        adding(climate("air_c", "1e308"), "body.air_c", "not a number a job can have"),
        adding(climate("air_c", "-300"), "body.air_c", "lies outside"),
        adding(climate("rh_pct", "-5"), "body.rh_pct", "lies outside"),
        adding(climate("rh_pct", "null"), "body.rh_pct", "must be"),
    ];
    for word in ["NaN", "Infinity", "-Infinity", "1e999"] {
        cases.push(adding(climate("air_c", word), "", "This is not JSON"));
    }
    for word in [r#""NaN °C""#, r#""inf °C""#, r#""1e999 °C""#] {
        cases.push(adding(climate("air_c", word), in_body("air_c"), ""));
    }
    cases.push(Case {
        code: "unknown_piece",
        ..adding(
            r#"{"kind":"demould","pieces":["C-77"],"body":{"face":["clean"]}}"#,
            "pieces",
            "There is no piece \"C-77\"",
        )
    });
    cases.push(Case {
        code: "unknown",
        ..adding(
            r#"{"kind":"route_chosen","pieces":["C-01"],"body":{"code":"no_such"}}"#,
            "body.code",
            "There is no route",
        )
    });
    for case in &mut cases {
        if case.says.starts_with("There is no person") {
            case.code = "unknown";
        }
        refused(&yard, case);
    }
}

#[test]
fn input_that_is_no_batch_of_entries_is_refused_by_line() {
    let yard = yard();
    let good = r#"{"kind":"note","body":{"text":"good"}}"#;
    let at = |line, case| Case { line: Some(line), ..case };
    let long = format!("{good}\n{{\"kind\":\"note\",\"body\":{{\"text\":\"{}\"}}}}\n", "x".repeat(65 * 1024));
    let not_utf8 = [good.as_bytes(), b"\n{\"kind\":\"note\",\"body\":{\"text\":\"a\xff\"}}\n"].concat();
    let cases = [
        Case { line: None, ..adding("", "", "There is no entry") },
        Case { line: None, ..adding(" \n\n", "", "There is no entry") },
        adding("not json", "", "This is not JSON"),
        adding("7", "", "An entry is a JSON object"),
        adding("[7]", "", "An entry is a JSON object"),
        adding(r#"{"kind":"note","kind":"note","body":{"text":"a"}}"#, "", "stands twice"),
        adding(vec![0u8; 100], "", "This is not JSON"),
        at(2, adding(format!("{good}\n\0\0\0"), "", "This is not JSON")),
        at(2, adding(not_utf8, "", "not UTF-8 text")),
        at(3, adding(format!("{good}\n{good}\n{{\"kind\":\"note\""), "", "This is not JSON")),
        at(2, Case { code: "too_long", ..adding(long, "", "at most 65536") }),
        at(2, adding(format!("{good}\n{{\"kind\":\"mixx\"}}"), "kind", "There is no kind")),
    ];
    cases.iter().for_each(|case| refused(&yard, case));
}

#[test]
fn commands_that_cannot_be_understood_are_refused() {
    let yard = yard();
    let cases = [
        calling(&["addd", "SHOP"], "There is no command \"addd\"."),
        calling(&["check", "SHOP", "--foo"], "\"--foo\" is not understood here."),
        calling(&["check"], "Missing: <FOLDER>."),
        calling(&["record", "SHOP", "--piece", "C-01"], "Missing: --out <F.pdf>."),
        calling(
            &["record", "SHOP", "--piece", "C-01", "--out", "a.pdf", "--paper", "a3"],
            "\"a3\" cannot be taken for",
        ),
        calling(&["show", "SHOP", "--piece", "C-01", "--job", "J-1"], "do not go together."),
        calling(&["check", "SHOP", "--units", "imperial"], "\"imperial\" cannot be taken for"),
        calling(&["calc", "dew", "--air-c", "warm", "--rh-pct", "50"], "\"warm\" cannot be taken for"),
        Case {
            code: "bad_input",
            field: Some("as-of"),
            ..calling(&["check", "SHOP", "--as-of", "2025-01-01T10:00:00"], "has no offset from UTC")
        },
        Case {
            code: "unknown_piece",
            field: Some("piece"),
            ..calling(&["check", "SHOP", "--piece", "C-77"], "There is no piece \"C-77\"")
        },
        Case {
            code: "unknown_piece",
            field: Some("piece"),
            ..calling(&["record", "SHOP", "--piece", "C-77", "--out", "a.pdf"], "There is no piece \"C-77\"")
        },
        Case {
            code: "unknown",
            field: Some("job"),
            ..calling(&["care", "SHOP", "--job", "J-77", "--out", "a.pdf"], "There is no job \"J-77\"")
        },
        Case {
            code: "unknown",
            field: Some("device"),
            ..calling(&["accept", "SHOP", "nobody"], "There is no device \"nobody\"")
        },
        Case {
            code: "bad_input",
            field: Some("shop"),
            ..calling(
                &["new", "other", "--shop", " ", "--person", "Ada Fell"],
                "A name has 1 to 200 characters",
            )
        },
        Case {
            code: "bad_input",
            ..calling(
                &["new", "SHOP", "--shop", "North", "--person", "Ada Fell"],
                "The folder already holds a shop.",
            )
        },
        Case {
            code: "bad_input",
            ..calling(&["add", "SHOP", "no-such-file.json"], "The file is not there.")
        },
        Case { code: "bad_input", ..calling(&["add", "SHOP", "."], "This is a folder, not a file.") },
    ];
    cases.iter().for_each(|case| refused(&yard, case));
}

#[test]
fn sums_refuse_what_is_no_number_of_the_trade() {
    let yard = yard();
    for (name, value) in
        [("air-c", "nan"), ("air-c", "inf"), ("air-c", "1e308"), ("rh-pct", "-5"), ("rh-pct", "0")]
    {
        let mut words = vec!["calc", "dew", "--air-c", "20", "--rh-pct", "50"];
        let at = words.iter().position(|word| word.trim_start_matches('-') == name).expect("the option") + 1;
        words[at] = value;
        let field = if name == "air-c" { "air_c" } else { "rh_pct" };
        let case = Case { code: "bad_input", field: Some(field), ..calling(&words, field) };
        let said = run(&yard, &case, &["--json"]);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{words:?}: {said:?}");
        assert_eq!(said.error()["field"], field, "{said:?}");
    }
}

#[cfg(unix)]
#[test]
fn arguments_that_are_no_text_are_refused() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    let yard = yard();
    let before = yard.everything();
    let odd = OsStr::from_bytes(b"C-\xff");
    let shop = yard.shop();
    let said = yard.run("ada", &["show", &shop, "--piece"]).args([odd]).args(["--json"]).say();
    assert_eq!((said.code, said.error()["message"].clone()), (2, json!("An argument is not UTF-8 text.")));
    // A folder may have any name; this one is not there.
    let said = yard.run("ada", &["show"]).args([odd]).args(["--json"]).say();
    assert_eq!((said.code, said.error()["code"].clone()), (3, json!("folder_missing")));
    // A home remembers its folder as text, so a shop cannot be founded where the path is none.
    let said =
        yard.run("eve", &["new"]).args([odd]).args(["--shop", "North", "--person", "Eve", "--json"]).say();
    assert_eq!((said.code, said.error()["code"].clone()), (2, json!("bad_input")), "{said:?}");
    assert_eq!(yard.everything(), before);
}

#[test]
fn a_batch_is_taken_whole_or_not_at_all() {
    let yard = yard();
    let before = yard.everything();
    let batch = json!([piece("C-02"), piece("C-03"), { "kind": "note" }]);
    let said = yard.run("ada", &["add", &yard.shop(), "-", "--json"]).input(batch.to_string()).say();
    assert_eq!((said.code, said.error()["field"].clone()), (2, json!("body.text")), "{said:?}");
    assert_eq!(yard.everything(), before);
    let good: Value =
        json!([piece("C-02"), { "kind": "demould", "pieces": ["C-02"], "body": { "face": ["clean"] } }]);
    let rows =
        yard.run("ada", &["add", &yard.shop(), "-", "--json"]).input(good.to_string()).say().good().json();
    let rows = rows.as_array().expect("a row an entry");
    assert_eq!(rows.len(), 2);
    assert!(rows[0]["id"].is_string() && rows[1]["id"].is_null());
    assert!(
        rows.iter().all(|row| row["hash"].as_str().is_some_and(|it| it.len() == 64) && row["seq"].is_u64())
    );
}
