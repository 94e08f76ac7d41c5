//! Two instances of a real sync engine on the loopback, each with one device of the shop.
//!
//! The engine is Syncthing, as Debian packages it. Everything of it that talks to the outside is off:
//! discovery, relays, address translation, usage and crash reports, upgrades.

mod instance;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use trowelogue_testkit::trowelogue_core::fold::{digest, fold};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Expected, Shop, verify_folder};
use trowelogue_testkit::yard::{Yard, acceptance, append, at, files_below, hashes_in, note, own_file};

use instance::{Instance, connect};

/// How long the engine may take for one thing.
const PATIENCE: Duration = Duration::from_secs(25);

/// Waits until `done`, or fails and says what did not happen.
pub(crate) fn until(what: &str, mut done: impl FnMut() -> bool) {
    let end = Instant::now() + PATIENCE;
    while !done() {
        assert!(Instant::now() < end, "the engine did not get there: {what}");
        std::thread::sleep(Duration::from_millis(60));
    }
}

/// Every file of a replica but the engine's own, with its bytes.
fn tree(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let ours = |file: &PathBuf| !file.iter().any(|part| part.to_string_lossy().starts_with('.'));
    let files = files_below(folder).into_iter().filter(ours);
    files.filter_map(|file| Some((file.clone(), fs::read(folder.join(file)).ok()?))).collect()
}

struct Pair {
    engines: [Instance; 2],
    shops: [Shop; 2],
    acked: BTreeSet<Hash>,
    second: i64,
}

impl Pair {
    fn write(&mut self, who: usize) {
        self.second += 1;
        let words = format!("entry {}", self.second);
        self.acked.insert(append(&mut self.shops[who], note(&words), self.second).unwrap());
    }

    fn folders(&self) -> [PathBuf; 2] {
        [0, 1].map(|at| self.shops[at].folder().to_path_buf())
    }

    fn same(&self) -> bool {
        let [a, b] = self.folders();
        tree(&a) == tree(&b)
    }

    /// Both sides scan, sweep and wait until they hold the same files, and all of the entries.
    fn settle(&mut self, what: &str) {
        let [a, b] = self.folders();
        until(what, || {
            for shop in &mut self.shops {
                shop.sweep().unwrap();
            }
            self.engines.iter().for_each(Instance::scan);
            let whole = |folder: &Path| hashes_in(folder).is_ok_and(|there| there.is_superset(&self.acked));
            whole(&a) && whole(&b) && tree(&a) == tree(&b)
        });
    }

    /// Both hold the same entries and the same state, and neither folder has a break.
    fn agree(&mut self) {
        let [one, two] = [0, 1].map(|at| fold(&self.shops[at].read().unwrap().merged));
        assert_eq!(digest(&one), digest(&two));
        let hashes: BTreeSet<Hash> = one.steps.iter().map(|step| step.hash).collect();
        assert_eq!(self.acked.difference(&hashes).count(), 0);
        for folder in self.folders() {
            assert_eq!(verify_folder(&folder, &Expected::default()).unwrap().breaks, vec![]);
        }
    }
}

fn start(yard: &Yard) -> Pair {
    let place = yard.dir.path();
    let folders = ["a", "b"].map(|name| place.join(name));
    let mut anna = yard.home("anna").found(&folders[0], "North Yard Castings", at(0)).unwrap().shop;
    fs::create_dir(&folders[1]).unwrap();
    let engines = connect(place, &folders);
    until("shop.json arrives", || folders[1].join("shop.json").exists());
    let mut ben = yard.home("ben").join(&folders[1]).unwrap();
    let mut acked = BTreeSet::new();
    acked.insert(append(&mut ben, note("Ben is here"), 1).unwrap());
    acked.insert(append(&mut anna, acceptance(ben.device(), "crew"), 2).unwrap());
    Pair { engines, shops: [anna, ben], acked, second: 10 }
}

#[test]
fn two_real_engines_carry_the_folder_and_nothing_is_lost() {
    if Command::new("syncthing").arg("--version").output().is_err() {
        eprintln!("skipped: the Debian package syncthing is not installed");
        return;
    }
    let yard = Yard::new().unwrap();
    let mut pair = start(&yard);
    pair.engines.iter().for_each(Instance::talks_to_nobody_else);
    pair.settle("both devices are known on both sides");

    // Both write at once.
    for _ in 0..15 {
        pair.write(0);
        pair.write(1);
    }
    pair.settle("concurrent writes arrive");
    pair.agree();

    // A conflict is forced: while they cannot talk, both replicas of one log change.
    let [a, b] = pair.folders();
    let of_anna = own_file(&pair.shops[0], 1).strip_prefix(&a).unwrap().to_path_buf();
    pair.engines.iter().for_each(Instance::pause);
    pair.write(0);
    let there = b.join(&of_anna);
    let cut = fs::read(&there).unwrap();
    fs::write(&there, [&cut[..cut.len() / 2], b"{\"e\":{\"scribbled\":1}\n"].concat()).unwrap();
    std::thread::sleep(Duration::from_millis(1_100));
    pair.engines.iter().for_each(Instance::scan);
    pair.engines.iter().for_each(Instance::resume);
    let is_conflict = |file: &Path| file.to_string_lossy().contains(".sync-conflict-");
    until("a conflict copy appears", || {
        files_below(&a).iter().any(|it| is_conflict(it)) && files_below(&b).iter().any(|it| is_conflict(it))
    });
    pair.settle("the conflict is healed");
    pair.agree();

    // One side goes offline, both work on, it returns.
    pair.engines[1].stop();
    for _ in 0..5 {
        pair.write(0);
        pair.write(1);
    }
    pair.engines[1].restart();
    pair.settle("the side that was offline catches up");
    pair.agree();

    // One side's own log is set back behind its back: an old state of it, restored on the other side.
    let full = fs::read(&there).unwrap();
    let half = full[..full.len() / 2].to_vec();
    fs::write(b.join("old"), &half).unwrap();
    fs::rename(b.join("old"), &there).unwrap();
    pair.engines[1].scan();
    until("the rewound log replaces the writer's own", || {
        fs::read(a.join(&of_anna)).is_ok_and(|it| it == half)
    });
    pair.write(0);
    pair.settle("the rewound log is published again");
    pair.agree();
    assert!(pair.same());
}
