//! Labels read back by a reader of codes; exports read back by other programs' rules.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::demo::read;
use crate::yard::Yard;

/// Whether a tool is there; `cargo xtask test` installs it.
fn there(name: &str) -> bool {
    Command::new(name).arg("-v").output().is_ok() || {
        println!("skipped: there is no {name} here; `cargo xtask test` installs it");
        false
    }
}

fn pieces(yard: &Yard, words: &[&str]) -> Vec<Value> {
    let show = read(yard, "show", &[words, &["--json"]].concat()).good().json();
    show["pieces"].as_array().expect("pieces").clone()
}

/// A page in grey.
struct Grey {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

/// A page of a paper, printed at so many dots to the inch.
fn printed(paper: &Path, dpi: &str) -> Grey {
    let stem = paper.with_extension("");
    let form = ["-gray", "-r", dpi, "-f", "1", "-l", "1", "-singlefile"];
    let status = Command::new("pdftoppm").args(form).args([paper, &stem]).status().expect("pdftoppm runs");
    assert!(status.success());
    let file = std::fs::read(stem.with_extension("pgm")).expect("a picture");
    // Portable grey map: `P5`, width, height, 255, then a byte to a pixel.
    let head: Vec<&[u8]> = file.splitn(4, |byte| byte.is_ascii_whitespace()).collect();
    let number =
        |at: usize| std::str::from_utf8(head[at]).expect("digits").parse::<usize>().expect("a number");
    let (width, height) = (number(1), number(2));
    Grey { width, height, pixels: file[file.len() - width * height..].to_vec() }
}

impl Grey {
    /// What a general reader of codes finds in a part of the page: left, top, width, height.
    fn codes(&self, (left, top, width, height): (usize, usize, usize, usize)) -> Vec<String> {
        let at = |x: usize, y: usize| self.pixels[(top + y) * self.width + left + x];
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(width, height, at);
        let grids = picture.detect_grids();
        grids.iter().map(|grid| grid.decode().expect("a whole code").1).collect()
    }

    /// The same label by label: two columns and four rows between the margins of a sheet of labels.
    fn codes_of_labels(&self) -> Vec<String> {
        let mm = |mm: f64| (mm / 25.4 * 100.0) as usize;
        let (wide, high) = ((self.width - 2 * mm(12.0)) / 2, (self.height - mm(12.0) - mm(15.0)) / 4);
        let label = |n: usize| (mm(12.0) + n % 2 * wide, mm(12.0) + n / 2 * high, wide, high);
        (0..8).flat_map(|n| self.codes(label(n))).collect()
    }
}

#[test]
fn labels_of_a_job_read_back_as_the_ids_of_its_pieces() {
    if !there("pdftoppm") || !there("pdftotext") {
        return;
    }
    let yard = Yard::new();
    let of_job = pieces(&yard, &["--job", "J-2022-04"]);
    let ids: Vec<String> = of_job.iter().map(|it| it["id"].as_str().expect("an id").to_owned()).collect();
    for (paper, lang) in [("a4", "en"), ("letter", "es")] {
        let out = yard.word("labels.pdf");
        let words = ["--job", "J-2022-04", "--out", &out, "--paper", paper, "--lang", lang];
        read(&yard, "labels", &words).good();
        assert_eq!(printed(Path::new(&out), "100").codes_of_labels(), ids, "{paper}");
        let text = Command::new("pdftotext").args([&out, "-"]).output().expect("pdftotext runs").stdout;
        let text = String::from_utf8(text).expect("UTF-8");
        for piece in &of_job {
            assert!(text.contains(piece["code"].as_str().expect("a code")), "{text}");
        }
        let persons = if lang == "en" { "persons, or gear" } else { "personas, o medios" };
        assert!(text.contains(persons), "{text}");
    }
}

#[test]
fn the_code_of_a_care_sheet_is_the_one_of_the_label() {
    if !there("pdftoppm") {
        return;
    }
    let yard = Yard::new();
    let (sheet, label) = (yard.word("care.pdf"), yard.word("label.pdf"));
    read(&yard, "care", &["--piece", "K-01", "--out", &sheet]).good();
    read(&yard, "labels", &["--piece", "K-01", "--out", &label]).good();
    let id = pieces(&yard, &["--piece", "K-01"])[0]["id"].as_str().expect("an id").to_owned();
    // The corner with the code, as the camera of a phone sees it that is held over it.
    let page = printed(Path::new(&sheet), "200");
    let corner = (page.width * 3 / 4, 0, page.width / 4, page.height / 5);
    assert_eq!(page.codes(corner), [id.as_str()]);
    assert_eq!(printed(Path::new(&label), "100").codes_of_labels(), [id]);
}

#[test]
fn json_is_what_show_prints() {
    let yard = Yard::new();
    let out = yard.word("all.json");
    for words in [&[][..], &["--piece", "K-01"], &["--job", "J-2022-04"]] {
        read(&yard, "export", &[&["json", "--out", &out][..], words].concat()).good();
        let shown = read(&yard, "show", &[words, &["--json"]].concat()).good().out;
        assert_eq!(std::fs::read_to_string(&out).expect("a file"), shown, "{words:?}");
    }
}

#[test]
fn the_table_has_a_row_for_each_step_of_each_piece() {
    let yard = Yard::new();
    let out = yard.word("steps.csv");
    read(&yard, "export", &["csv", "--out", &out]).good();
    let mut reader = csv::Reader::from_path(&out).expect("a table");
    let head: Vec<String> = reader.headers().expect("a head").iter().map(str::to_owned).collect();
    assert_eq!(head[..6], ["piece", "piece_id", "piece_name", "job", "client", "kind"]);
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a whole row")).collect();
    let column = |name: &str| head.iter().position(|it| it == name).expect("a column");
    let steps: Vec<(String, String)> = pieces(&yard, &[])
        .iter()
        .flat_map(|piece| {
            let steps = piece["steps"].as_array().expect("steps").clone();
            let code = piece["code"].as_str().expect("a code").to_owned();
            steps
                .into_iter()
                .map(move |step| (code.clone(), step["hash"].as_str().expect("a hash").to_owned()))
        })
        .collect();
    let found: Vec<(String, String)> =
        rows.iter().map(|row| (row[0].to_owned(), row[column("hash")].to_owned())).collect();
    assert_eq!(found, steps);
    for row in &rows {
        row[column("seq")].parse::<u64>().expect("a number stays one");
        let body = &row[column("body")];
        assert!(body.is_empty() || serde_json::from_str::<Value>(body).is_ok(), "{body}");
    }
}

#[test]
fn a_care_sheet_carries_the_reminders_that_export_writes() {
    if !there("pdfdetach") {
        return;
    }
    let yard = Yard::new();
    let (sheet, out) = (yard.word("care.pdf"), yard.word("due.ics"));
    read(&yard, "care", &["--piece", "K-01", "--out", &sheet, "--lang", "es"]).good();
    read(&yard, "export", &["ics", "--piece", "K-01", "--out", &out, "--lang", "es"]).good();
    let carried = yard.word("carried.ics");
    let took = Command::new("pdfdetach").args(["-save", "1", "-o", &carried, &sheet]).status();
    assert!(took.expect("pdfdetach runs").success());
    let written = std::fs::read_to_string(&out).expect("a file");
    assert_eq!(std::fs::read_to_string(&carried).expect("a file"), written);
    // K-01 was handed over on 5 October 2022; its sealer is renewed after 24 months by its data sheet.
    let due = written.replace("\r\n ", "");
    for line in [
        "DTSTART;VALUE=DATE:20220923",
        "DTSTART;VALUE=DATE:20220928",
        "DTSTART;VALUE=DATE:20241005",
        "RRULE:FREQ=MONTHLY;INTERVAL=24",
        "DTSTAMP:20250602T140000Z",
    ] {
        assert!(due.contains(&format!("{line}\r\n")), "{line}: {due}");
    }
    let events = |file: &str| file.matches("BEGIN:VEVENT\r\n").count();
    assert_eq!(events(&written), 5, "first water, full use, test, renewal, end of the warranty");
    read(&yard, "export", &["ics", "--job", "J-2022-04", "--out", &out]).good();
    assert!(events(&std::fs::read_to_string(&out).expect("a file")) > 5);
}

#[test]
fn an_export_of_nothing_known_is_refused_and_leaves_no_file() {
    let yard = Yard::new();
    let out = yard.word("none.csv");
    let said = read(&yard, "export", &["csv", "--piece", "Z-99", "--out", &out]);
    assert_eq!(said.code, 2, "{said:?}");
    let said = read(&yard, "labels", &["--out", &out]);
    assert_eq!(said.code, 2, "a piece or a job is named: {said:?}");
    assert!(!yard.path("none.csv").exists());
}
