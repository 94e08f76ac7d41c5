//! Files of a size nobody writes: memory stays bounded.

use std::fs::{self, OpenOptions};
use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use trowelogue_testkit::trowelogue_journal::{BreakKind, read_folder};
use trowelogue_testkit::yard::{Yard, append, note, own_file};

use super::breaks;

/// Names the folder that the reader process is to read.
const FOLDER: &str = "TROWELOGUE_TEST_READ";
/// What reading may take at its peak, in KiB: 512 MiB.
const PEAK_KIB: u64 = 512 * 1024;

/// The reader: a process of its own, so that its peak is its own.
#[test]
#[ignore = "a process that other tests start"]
fn reader() {
    let Ok(folder) = std::env::var(FOLDER) else { return };
    let reading = read_folder(Path::new(&folder)).unwrap();
    println!("records {} peak {}", reading.merged.records.len(), peak_kib());
}

/// The greatest amount of memory this process held, where the system tells; else 0.
fn peak_kib() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|number| number.parse().ok()).unwrap_or(0)
}

fn read_apart(folder: &Path) -> (usize, u64) {
    let mut reader = Command::new(std::env::current_exe().unwrap());
    reader.args(["--exact", "bulk::reader", "--ignored", "--nocapture"]).env(FOLDER, folder);
    let output = reader.output().unwrap();
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let said =
        text.lines().find_map(|line| line.split_once("records ")).unwrap_or_else(|| panic!("{text}")).1;
    let mut words = said.split_whitespace();
    (words.next().unwrap().parse().unwrap(), words.nth(1).unwrap().parse().unwrap())
}

#[test]
fn a_line_of_two_gigabytes_costs_itself_and_little_memory() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let file = own_file(&anna, 1);
    let log = fs::read(&file).unwrap();
    // Sparse: it takes no room on the disk. No newline ever ends it.
    let mut endless = OpenOptions::new().append(true).open(&file).unwrap();
    endless.write_all(b"{\"e\":").unwrap();
    endless.set_len(2 << 30).unwrap();
    let (records, peak) = read_apart(&yard.folder());
    assert_eq!(records, 1, "the line before it still counts");
    assert!(peak < PEAK_KIB, "{peak} KiB");
    // A whole file of it, that never begins like a log.
    fs::write(&file, &log).unwrap();
    let stray = yard.folder().join("logs").join("huge");
    fs::File::create(&stray).unwrap().set_len(2 << 30).unwrap();
    let (records, peak) = read_apart(&yard.folder());
    assert_eq!(records, 1);
    assert!(peak < PEAK_KIB, "{peak} KiB");
}

#[test]
fn a_gigabyte_of_good_looking_lines_is_not_read_to_its_end() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let log = fs::read_to_string(own_file(&anna, 1)).unwrap();
    let copy = yard.folder().join("logs").join("copy.jsonl");
    let mut file = fs::File::create(&copy).unwrap();
    // Lines that parse, over and over, and then a hole of a gigabyte.
    let line = log.lines().nth(1).unwrap().to_owned() + "\n";
    file.write_all(log.as_bytes()).unwrap();
    for _ in 0..40 {
        file.write_all(line.repeat(500).as_bytes()).unwrap();
    }
    file.set_len(1 << 30).unwrap();
    let (records, peak) = read_apart(&yard.folder());
    assert_eq!(records, 1);
    assert!(peak < PEAK_KIB, "{peak} KiB");
}

#[test]
fn ten_thousand_small_files_that_are_no_logs_are_passed_over() {
    let yard = Yard::new().unwrap();
    let mut anna = yard.found("anna").unwrap();
    append(&mut anna, note("genuine"), 0).unwrap();
    let dir = yard.folder().join("logs").join("junk");
    fs::create_dir(&dir).unwrap();
    for number in 0..10_000 {
        fs::write(dir.join(format!("{number}.jsonl")), "{}\n").unwrap();
    }
    // Directories in directories, deeper than anybody looks.
    fs::create_dir_all(yard.folder().join("logs").join("d/".repeat(200))).unwrap();
    assert_eq!(read_folder(&yard.folder()).unwrap().merged.records.len(), 1);
    assert!(!breaks(&yard.folder()).contains(&BreakKind::Fork));
}
