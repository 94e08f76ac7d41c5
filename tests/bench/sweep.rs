//! A sweep over a folder with 2,000 log files in which nothing changed. Bound: 0.1 CPU seconds.
//!
//! Yardstick: listing the same directories and asking for the state of every file, and nothing else.

use std::fs;
use std::path::Path;
use std::sync::Mutex;

use trowelogue_testkit::trowelogue_journal::{Home, Shop};
use trowelogue_testkit::yard::{Outcome, Yard, append, files_below, note, own_file};

use crate::figure::show;

const FILES: usize = 2_000;

pub(crate) fn run() {
    match prepared() {
        Ok((yard, shop)) => {
            let shop = Mutex::new(shop);
            let sweep = || shop.lock().is_ok_and(|mut shop| shop.sweep().is_ok());
            println!("sweep: {FILES} log files, nothing new");
            show("sweep (list and stat of every file)", sweep, || states(&yard.folder()));
        }
        Err(error) => println!("sweep: {error}"),
    }
}

/// A folder with a log of one device and copies of another log under many names, read once.
fn prepared() -> Outcome<(Yard, Shop)> {
    let yard = Yard::new()?;
    let mut anna = yard.found("anna")?;
    for second in 0..50 {
        append(&mut anna, note("an entry like any other"), second)?;
    }
    let log = fs::read(own_file(&anna, 1))?;
    for number in 0..FILES {
        let dir = yard.folder().join("logs").join(format!("copies-{}", number % 40));
        fs::create_dir_all(&dir)?;
        fs::write(dir.join(format!("copy-{number}.jsonl")), &log)?;
    }
    let mut shop = Home::open(yard.dir.path().join("anna")).shop(&yard.folder())?;
    shop.read()?;
    Ok((yard, shop))
}

fn states(folder: &Path) -> usize {
    files_below(folder).iter().filter(|file| fs::symlink_metadata(folder.join(file)).is_ok()).count()
}
