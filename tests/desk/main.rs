//! The desk on the demo shop: the day, a piece, logging and striking, two homes, a home killed in mid-append.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]

mod killed;
mod shop;
mod spanish;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use tempfile::TempDir;
use trowelogue_api::{Clock, Desk};
use trowelogue_testkit::demo;
use trowelogue_testkit::trowelogue_core::moment;

/// The moment of these tests: a few months after the last entry of the demo.
const NOW: &str = "2025-06-02T09:00:00-06:00";

/// A copy of the demo shop and homes on it, all gone after the test.
struct Place {
    all: TempDir,
}

impl Place {
    fn new() -> Self {
        let place = Self { all: tempfile::tempdir().unwrap() };
        copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-logs/demo-shop"), &place.shop());
        place
    }

    fn shop(&self) -> PathBuf {
        self.all.path().join("shop")
    }

    fn home(&self, name: &str) -> PathBuf {
        self.all.path().join(name)
    }

    /// The desk of a home that the demo's owner accepted, with the shop open.
    fn desk(&self, home: &str) -> Desk {
        if !self.home(home).exists() {
            demo::take_in(&[self.home(home).as_path()], &self.shop()).unwrap();
        }
        open(&self.home(home), &self.shop())
    }

    /// The desks of two homes that the demo's owner accepted together.
    fn two_desks(&self, names: [&str; 2]) -> [Desk; 2] {
        let homes = names.map(|name| self.home(name));
        demo::take_in(&[homes[0].as_path(), homes[1].as_path()], &self.shop()).unwrap();
        homes.map(|home| open(&home, &self.shop()))
    }

    /// Every line of every log in the folder.
    fn lines(&self) -> BTreeSet<String> {
        let mut lines = BTreeSet::new();
        let mut open = vec![self.shop().join("logs")];
        while let Some(dir) = open.pop() {
            for entry in fs::read_dir(dir).unwrap().flatten() {
                match entry.path() {
                    dir if dir.is_dir() => open.push(dir),
                    file => lines.extend(fs::read_to_string(file).unwrap().lines().map(str::to_owned)),
                }
            }
        }
        lines
    }
}

/// The desk of a home with the shop open.
fn open(home: &Path, shop: &Path) -> Desk {
    let desk = Desk::new(home, Clock::At(moment::parse(NOW).unwrap()));
    desk.open_shop(shop).unwrap();
    desk
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap().flatten() {
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}
