//! A seeded engine that misbehaves in every way engines were seen to.

use std::fs;
use std::path::Path;
use std::sync::Mutex;

use trowelogue_testkit::dice::{Dice, rounds};
use trowelogue_testkit::engine::Engine;
use trowelogue_testkit::faulty::FaultyDisk;

use super::crew::{Crew, NAMES};

/// Things done in one shop before all of it is compared.
const IN_ONE_SHOP: usize = 50;

/// An engine that exchanges a published file between its opening and the write: the write goes nowhere.
fn exchanging(seed: u64) -> FaultyDisk {
    let dice = Mutex::new(Dice::new(seed));
    FaultyDisk::sound().on_open(move |path| {
        let published = path.iter().any(|part| part == "logs");
        if published && dice.lock().unwrap().once_in(5) {
            exchange(path);
        }
    })
}

fn exchange(path: &Path) {
    let bytes = fs::read(path).unwrap();
    let temp = path.with_file_name(".exchange.tmp");
    fs::write(&temp, bytes).unwrap();
    fs::remove_file(path).unwrap();
    fs::rename(temp, path).unwrap();
}

fn episode(seed: u64) -> usize {
    let mut crew = Crew::new(&exchanging(seed));
    let mut engine = Engine::new(crew.replicas(), seed);
    let mut dice = Dice::new(!seed);
    for _ in 0..IN_ONE_SHOP {
        let who = dice.below(NAMES.len());
        match dice.below(8) {
            0..3 => crew.write(who),
            3 => crew.sweep(who),
            _ => engine.step().unwrap(),
        }
    }
    crew.agree(&format!("seed {seed}"), || engine.settle().unwrap());
    engine.conflicts()
}

#[test]
fn whatever_the_engine_does_all_devices_agree_and_nothing_is_lost() {
    let rounds = rounds("TROWELOGUE_ENGINE_ROUNDS", 500);
    let conflicts: usize = (0..rounds.div_ceil(IN_ONE_SHOP)).map(|seed| episode(seed as u64)).sum();
    assert!(conflicts > rounds / 100, "{conflicts} conflict copies only");
}
