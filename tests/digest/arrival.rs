//! One set of lines, scattered over files, and a device to which the files come bit by bit.

use std::fs;
use std::path::{Path, PathBuf};

use trowelogue_testkit::trowelogue_core::entry::Merged;
use trowelogue_testkit::trowelogue_journal::{Home, Shop};

use super::chance::Chance;
use super::shop::{Branch, Written, copy};

/// A file below `logs/`: its name and its lines.
pub(crate) struct File {
    name: String,
    lines: Vec<Vec<u8>>,
}

pub(crate) fn listing(files: &[File]) -> String {
    let rows: Vec<String> =
        files.iter().map(|it| format!("{} ({} lines)", it.name, it.lines.len())).collect();
    rows.join(", ")
}

/// Names that sync engines and people give to copies.
const COPIES: [&str; 6] = [
    "{}.sync-conflict-20261125-090722-LXMEAEU.jsonl",
    "{} (1).jsonl",
    "{} (conflicted copy 2018-04-10 093612).jsonl",
    "{}-YARD-PC.jsonl",
    "{} - Copy.jsonl",
    "restored/{}.jsonl",
];

/// Lays out every line of the shop at least once: whole logs, beginnings, parts from the middle, doubles, copies.
pub(crate) fn scatter(written: &Written, chance: &mut Chance) -> Vec<File> {
    let mut files = Vec::new();
    for branch in &written.branches {
        scatter_branch(branch, chance, &mut files);
    }
    for (at, file) in files.iter_mut().enumerate() {
        if chance.below(4) == 0 {
            double_a_line(&mut file.lines, chance);
        }
        // No two files of one folder share a name.
        file.name = file.name.replacen(".jsonl", &format!(".{at}.jsonl"), usize::from(at > 0));
    }
    chance.shuffle(&mut files);
    files
}

fn scatter_branch(branch: &Branch, chance: &mut Chance, files: &mut Vec<File>) {
    let device = branch.device.to_string();
    let own = format!("{device}/{device}-0001.jsonl");
    let name = |chance: &mut Chance| {
        let stem = COPIES[chance.below(COPIES.len())].replace("{}", &format!("{device}-0001"));
        format!("{device}/{stem}")
    };
    let all = &branch.lines;
    let cut = 1 + chance.below(all.len());
    let mut push = |name: String, lines: &[Vec<u8>]| files.push(File { name, lines: lines.to_vec() });
    match chance.below(4) {
        // One whole log.
        0 => push(own, all),
        // An old beginning under the device's name; all of it in a copy.
        1 => {
            push(own, &all[..cut]);
            push(name(chance), all);
        }
        // Two parts: the second begins with no header, and may reach back into the first.
        2 => {
            let from = cut.saturating_sub(chance.below(3));
            push(own, &all[..cut]);
            push(name(chance), &all[from..]);
        }
        // Beginnings of any length, and the whole in the end.
        _ => {
            for _ in 0..chance.below(3) {
                let end = 1 + chance.below(all.len());
                push(name(chance), &all[..end]);
            }
            push(own, all);
        }
    }
    if chance.coin() {
        push(name(chance), all);
    }
}

fn double_a_line(lines: &mut Vec<Vec<u8>>, chance: &mut Chance) {
    if !lines.is_empty() {
        let line = lines[chance.below(lines.len())].clone();
        lines.push(line);
    }
}

/// A device that has joined and written nothing.
pub(crate) struct Reader {
    scratch: tempfile::TempDir,
}

impl Reader {
    pub(crate) fn new(written: &Written) -> Self {
        // What is written here a thousand times need not outlive a power cut.
        let memory = Path::new("/dev/shm");
        let made = if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() };
        let reader = Self { scratch: made.unwrap() };
        fs::create_dir_all(reader.folder()).unwrap();
        fs::write(reader.folder().join("shop.json"), &written.shop_file).unwrap();
        Home::open(reader.scratch.path().join("joined")).join(&reader.folder()).unwrap();
        reader
    }

    pub(crate) fn folder(&self) -> PathBuf {
        self.scratch.path().join("shop")
    }

    /// Lets the files come in a few rounds, a file sometimes in two parts, and takes them in as a device does.
    pub(crate) fn receive(&self, files: &[File], chance: &mut Chance) -> Merged {
        let home = self.scratch.path().join("home");
        let logs = self.folder().join("logs");
        for old in [&home, &logs] {
            let _ = fs::remove_dir_all(old);
        }
        copy(&self.scratch.path().join("joined"), &home);
        let mut shop = Home::open(&home).shop(&self.folder()).unwrap();
        let mut merged = shop.read().unwrap().merged;
        let rounds = 1 + chance.below(3);
        let mut waiting: Vec<(usize, &File)> =
            files.iter().map(|file| (chance.below(rounds), file)).collect();
        for round in 0..rounds {
            for (when, file) in &mut waiting {
                let bytes = file.lines.concat();
                match (*when).cmp(&round) {
                    std::cmp::Ordering::Less => {}
                    std::cmp::Ordering::Equal if chance.below(4) == 0 => {
                        // Half of it now, cut anywhere; the rest in the next round.
                        put(&logs, &file.name, &bytes[..chance.below(bytes.len())]);
                        *when += 1;
                    }
                    std::cmp::Ordering::Equal => put(&logs, &file.name, &bytes),
                    std::cmp::Ordering::Greater => {}
                }
            }
            take_in(&mut shop, &mut merged);
        }
        waiting.iter().for_each(|(_, file)| put(&logs, &file.name, &file.lines.concat()));
        take_in(&mut shop, &mut merged);
        merged
    }
}

fn put(logs: &Path, name: &str, bytes: &[u8]) {
    let path = logs.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, bytes).unwrap();
}

/// What the app does with a sweep: new entries are added, or all is read again where an earlier one changed.
fn take_in(shop: &mut Shop, merged: &mut Merged) {
    let sweep = shop.sweep().unwrap();
    if sweep.reread {
        *merged = shop.read().unwrap().merged;
        return;
    }
    merged.records.extend(sweep.records);
    merged.devices.extend(sweep.devices);
}
