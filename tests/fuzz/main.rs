//! Every parser of bytes from outside, under seeded mutation of a kept corpus: no panic, and bounded memory.
//!
//! Each target runs for so many seconds as `TROWELOGUE_FUZZ_SECONDS` says; two without it. A failure names its
//! seed; the input is then kept in the corpus.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

mod paper;

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use trowelogue_testkit::dice::{Dice, rounds};
use trowelogue_testkit::forge::Forger;
use trowelogue_testkit::mutate::mutated;
use trowelogue_testkit::trowelogue_core::body::{Kind, input};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_core::routes::{self, Route};
use trowelogue_testkit::trowelogue_core::sums::logger;
use trowelogue_testkit::trowelogue_journal::ShopFile;
use trowelogue_testkit::trowelogue_journal::excerpt::{check_lines, withhold};
use trowelogue_testkit::trowelogue_journal::gather::gather;
use trowelogue_testkit::trowelogue_journal::index::Index;
use trowelogue_testkit::trowelogue_journal::line::Raw;
use trowelogue_testkit::trowelogue_journal::segment::{self, Context, Depth};
use trowelogue_testkit::trowelogue_journal::sight::{Sight, veiled};
use trowelogue_testkit::trowelogue_journal::veil::{Keyring, Lockbox};
use trowelogue_testkit::trowelogue_journal::wire;

/// What a target may take at its peak, in KiB: 512 MiB.
const PEAK_KIB: u64 = 512 * 1024;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The files of a folder, in order of name.
fn files(folder: &Path) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|item| item.unwrap().path()).collect();
    paths.sort();
    paths.iter().filter(|path| path.is_file()).map(|path| fs::read(path).unwrap()).collect()
}

fn corpus(name: &str) -> Vec<Vec<u8>> {
    files(&root().join("tests/fuzz/corpus").join(name))
}

/// Good and broken logs of the samples.
fn logs() -> Vec<Vec<u8>> {
    let samples = root().join("sample-logs/samples");
    let mut logs = files(&samples.join("valid"));
    logs.extend(files(&samples.join("invalid")));
    logs
}

/// Gives `take` one input after the other for as long as was asked for.
fn run(target: &str, corpus: &[Vec<u8>], take: impl Fn(&[u8])) {
    assert!(!corpus.is_empty());
    corpus.iter().for_each(|input| take(input));
    let until = Instant::now() + Duration::from_secs(rounds("TROWELOGUE_FUZZ_SECONDS", 2) as u64);
    let mut seed = rounds("TROWELOGUE_FUZZ_SEED", 1) as u64;
    while Instant::now() < until {
        let input = mutated(corpus, &mut Dice::new(seed));
        let took = catch_unwind(AssertUnwindSafe(|| take(&input)));
        assert!(
            took.is_ok(),
            "{target}: seed {seed}, {} bytes: {:?}",
            input.len(),
            String::from_utf8_lossy(&input)
        );
        seed += 1;
    }
    assert!(peak_kib() < PEAK_KIB, "{target}: {} KiB at the peak", peak_kib());
}

fn peak_kib() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|number| number.parse().ok()).unwrap_or(0)
}

#[test]
fn an_entry_line() {
    let lines: Vec<Vec<u8>> = logs()
        .iter()
        .flat_map(|log| log.split(|&byte| byte == b'\n').map(<[u8]>::to_vec).collect::<Vec<_>>())
        .filter(|line| !line.is_empty() && line.len() < 70_000)
        .collect();
    run("line", &lines, |bytes| {
        let Ok(text) = std::str::from_utf8(bytes) else { return };
        check_lines([text]);
        if let Some(raw) = Raw::split(text) {
            // Taken apart and put together it is the same, byte for byte.
            assert_eq!(raw.compose().trim_end_matches('\n'), text);
            assert_eq!(Raw::split(withhold(text).unwrap().trim_end()).unwrap().hash(), raw.hash());
            let _ = wire::parse(raw.entry);
            let _ = wire::parse_body(raw.body);
        }
    });
}

/// The log with its signatures made good again, so that what stands behind them is reached.
fn signed_anew(bytes: &[u8], shop: &ShopFile) -> Vec<u8> {
    let mut forger = Forger::new(1, shop);
    let device = forger.device.to_string();
    let mut log = forger.header(1);
    for line in String::from_utf8_lossy(bytes).lines().skip(1) {
        let Some(raw) = Raw::split(line) else { continue };
        let old = raw.entry.find("\"device\":\"").and_then(|at| raw.entry.get(at + 10..at + 30));
        let entry = old.map_or_else(|| raw.entry.to_owned(), |old| raw.entry.replacen(old, &device, 1));
        log += &forger.sign(&entry, raw.body);
    }
    log.into_bytes()
}

#[test]
fn a_segment() {
    let shop = ShopFile::parse(&fs::read(root().join("sample-logs/samples/shop.json")).unwrap()).unwrap();
    let mut keys = Keyring::default();
    let key = Lockbox::new("a passphrase", [3; 16], &keys).unwrap().1;
    keys.take(Hash([1; 32]), key.clone());
    let mut logs = logs();
    logs.extend(logs.clone().into_iter().map(|log| veiled(log, Some(&key))));
    run("segment", &logs, |bytes| {
        let again = signed_anew(bytes, &shop);
        for bytes in [bytes, &again] {
            let gathered = gather(bytes, true).unwrap();
            let erased = [Hash([0; 32])].into();
            let gathered = Sight { keys: keys.clone(), erased }.of(gathered);
            let mut index = Index::new(shop.hash(), shop.key);
            let found = {
                let known = |hash: &Hash| index.known(hash);
                let context =
                    Context { shop: shop.hash(), keys: index.keys(), known: &known, depth: Depth::Every };
                segment::read(&gathered, &context)
            };
            for line in found.lines {
                index.absorb(line);
            }
            index.notes();
        }
    });
}

#[test]
fn a_shop_file() {
    let files = vec![fs::read(root().join("sample-logs/samples/shop.json")).unwrap()];
    run("shop", &files, |bytes| {
        let _ = ShopFile::parse(bytes);
    });
}

#[test]
fn a_route() {
    let shipped =
        routes::shipped().iter().map(|route| serde_json::to_vec(route).unwrap()).collect::<Vec<_>>();
    run("route", &shipped, |bytes| {
        let Ok(value) = serde_json::from_slice(bytes) else { return };
        if let Ok(route) = Route::read(&value) {
            let _ = routes::check(&route);
        }
    });
}

#[test]
fn a_product() {
    run("product", &corpus("product"), |bytes| {
        let Ok(map) = serde_json::from_slice(bytes) else { return };
        if let Ok(details) = input::read(Kind::Product, map) {
            let _ = details.to_stored();
        }
    });
}

#[test]
fn a_loggers_file() {
    run("logger", &corpus("logger"), |bytes| {
        let text = String::from_utf8_lossy(bytes);
        let _ = logger::read(&text, &logger::Asked::default());
    });
}

#[test]
fn a_lockbox() {
    let (lockbox, _) = Lockbox::new("a passphrase", [3; 16], &Keyring::default()).unwrap();
    let cheap = Lockbox { memory_kib: 64, passes: 1, ..lockbox };
    run("lockbox", &[serde_json::to_vec(&cheap).unwrap()], |bytes| {
        let lockbox = serde_json::from_slice::<Lockbox>(bytes);
        // What asks for more than a moment is left out here; that it is refused is tested beside it.
        if let Ok(lockbox) = lockbox
            && lockbox.memory_kib < 4_096
            && lockbox.passes < 4
        {
            let _ = lockbox.open("a passphrase");
        }
    });
}
