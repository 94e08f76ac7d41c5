//! The folder carried by hand: copied file by file, either side winning, over file systems that fold case and
//! keep times to two seconds.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use trowelogue_testkit::dice::Dice;
use trowelogue_testkit::faulty::FaultyDisk;
use trowelogue_testkit::yard::files_below;

use super::crew::{Crew, NAMES};

/// Copies `from` over `to`, file by file in a seeded order; where both have a file, the dice say who wins.
fn copy_over(from: &Path, to: &Path, dice: &mut Dice) {
    let mut files = files_below(from);
    dice.shuffle(&mut files);
    // A hand that grows tired: the rest is copied another time.
    files.truncate(dice.below(files.len()) + 1);
    for file in files {
        let target = to.join(&file);
        if !target.exists() || dice.once_in(2) {
            copy(&from.join(&file), &target);
        }
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to.parent().unwrap()).unwrap();
    fs::copy(from, to).unwrap();
    round_time(to);
}

/// The time of a file as FAT keeps it: in steps of two seconds.
fn round_time(path: &Path) {
    let file = File::options().append(true).open(path).unwrap();
    let since = file.metadata().unwrap().modified().unwrap().duration_since(SystemTime::UNIX_EPOCH).unwrap();
    file.set_modified(SystemTime::UNIX_EPOCH + Duration::from_secs(since.as_secs() / 2 * 2)).unwrap();
}

/// Copies all of it, the version written last winning.
fn copy_all(replicas: &[PathBuf]) {
    let mut best: BTreeMap<PathBuf, (SystemTime, u64, PathBuf)> = BTreeMap::new();
    for replica in replicas {
        for file in files_below(replica) {
            let meta = fs::metadata(replica.join(&file)).unwrap();
            let version = (meta.modified().unwrap(), meta.len(), replica.join(&file));
            let newer = |there: &(SystemTime, u64, PathBuf)| (there.0, there.1) < (version.0, version.1);
            if best.get(&file).is_none_or(newer) {
                best.insert(file, version);
            }
        }
    }
    for (file, (_, _, source)) in &best {
        for target in replicas.iter().map(|replica| replica.join(file)).filter(|target| target != source) {
            let temp = target.with_file_name(".copy.tmp");
            copy(source, &temp);
            fs::rename(temp, target).unwrap();
        }
    }
}

#[test]
fn copying_by_hand_in_any_order_loses_nothing() {
    for seed in 0..12 {
        let mut crew = Crew::new(&FaultyDisk::sound());
        let mut dice = Dice::new(seed);
        let replicas = crew.replicas();
        let stick = crew.yard.dir.path().join("stick");
        for _ in 0..12 {
            let who = dice.below(NAMES.len());
            crew.write(who);
            let (a, b) = (dice.pick(&replicas).unwrap(), dice.pick(&replicas).unwrap());
            // Over a stick: onto it from one device, off it at the next.
            copy_over(a, &stick, &mut dice);
            copy_over(&stick, b, &mut dice);
            if dice.once_in(3) {
                crew.sweep(who);
            }
        }
        crew.agree(&format!("seed {seed}"), || copy_all(&replicas));
    }
}

/// Copies everything onto a medium that folds case: of two names that differ in case only, the later one wins.
fn copy_folding(from: &Path, to: &Path, names: &mut BTreeMap<String, PathBuf>) {
    for file in files_below(from) {
        let folded = file.to_string_lossy().to_lowercase();
        let kept = names.entry(folded).or_insert_with(|| file.clone());
        copy(&from.join(&file), &to.join(&*kept));
    }
}

#[test]
fn a_clash_of_names_that_differ_in_case_loses_nothing() {
    let mut crew = Crew::new(&FaultyDisk::sound());
    let replicas = crew.replicas();
    // What the format writes itself can never clash: all of it is lower case.
    for file in files_below(&replicas[0]) {
        let name = file.to_string_lossy().into_owned();
        assert_eq!(name, name.to_lowercase());
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "-./".contains(c);
        assert!(name.chars().all(plain) && name.len() < 200, "{name}");
    }
    // Somebody's old copy, its names in capitals, meets the log itself on such a medium, in either order.
    let device = crew.shops[0].device().to_string();
    let own = replicas[0].join(format!("logs/{device}/{device}-0001.jsonl"));
    let old = fs::read(&own).unwrap();
    crew.write(0);
    for first in [0, 1] {
        let capitals = crew.yard.dir.path().join(format!("capitals-{first}"));
        let shouted = device.to_uppercase();
        let copy_of_old = capitals.join(format!("logs/{shouted}/{shouted}-0001.JSONL"));
        fs::create_dir_all(copy_of_old.parent().unwrap()).unwrap();
        fs::write(&copy_of_old, &old).unwrap();
        let medium = crew.yard.dir.path().join(format!("folding-{first}"));
        let mut names = BTreeMap::new();
        let mut sources = [capitals.as_path(), replicas[0].as_path()];
        sources.rotate_left(first);
        for source in sources {
            copy_folding(source, &medium, &mut names);
        }
        // From the medium over another device's folder.
        for file in files_below(&medium) {
            copy(&medium.join(&file), &replicas[1].join(&file));
        }
        crew.sweep(1);
        crew.write(1);
    }
    crew.agree("names in capitals", || copy_all(&replicas));
}
