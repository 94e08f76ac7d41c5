//! Power cuts on real file systems, without a special device: the disk is an image on a file system that can
//! copy a file at once; such a copy, made while a process writes, is what the disk holds if the power goes now.

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use trowelogue_testkit::dice::{Dice, rounds};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Home, Shop};
use trowelogue_testkit::yard::{append, at, note};

use super::kill::{PLACE, WORKER};
use super::{goes_on, whole};

/// How many cuts a long run makes.
const ROUNDS: &str = "TROWELOGUE_CUT_ROUNDS";
/// The file systems that lose power, with how each is made.
const SYSTEMS: [[&str; 3]; 2] = [["mkfs.ext4", "-q", "-F"], ["mkfs.xfs", "-q", "-f"]];

/// Runs a program; whether it did what it was asked.
fn does(program: &str, arguments: &[&str], paths: &[&Path]) -> bool {
    let done = Command::new(program).args(arguments).args(paths).output();
    done.is_ok_and(|done| done.status.success())
}

/// A mounted image; unmounted when dropped.
struct Mounted(PathBuf);

impl Mounted {
    fn new(image: &Path, at: &Path) -> Option<Self> {
        std::fs::create_dir_all(at).ok()?;
        does("mount", &["-o", "loop"], &[image, at]).then(|| Self(at.to_path_buf()))
    }
}

impl Drop for Mounted {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).output();
    }
}

fn image(path: &Path, bytes: u64, make: &[&str]) -> bool {
    let sized = std::fs::File::create(path).and_then(|file| file.set_len(bytes));
    sized.is_ok() && does(make[0], &make[1..], &[path])
}

fn open(place: &Path, name: &str) -> Shop {
    Home::open(place.join(name)).shop(&place.join("shop")).unwrap()
}

/// A process that writes, and what it was told is durable so far.
struct Worker {
    process: Child,
    acked: Arc<Mutex<Vec<Hash>>>,
}

impl Worker {
    fn start(place: &Path) -> Self {
        let mut command = Command::new(std::env::current_exe().unwrap());
        command.args(WORKER).env(PLACE, place).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut process = command.spawn().unwrap();
        let acked = Arc::new(Mutex::new(Vec::new()));
        let (lines, said) = (BufReader::new(process.stdout.take().unwrap()), acked.clone());
        std::thread::spawn(move || {
            for line in lines.lines().map_while(Result::ok) {
                let hash: Option<Hash> = line.split_once("acked ").and_then(|(_, hash)| hash.parse().ok());
                said.lock().unwrap().extend(hash);
            }
        });
        Self { process, acked }
    }
}

/// One cut: gives how many entries had been acknowledged before it.
fn cut(host: &Path, disk: &Path, make: &[&str], wait: Duration) -> usize {
    let (image_path, snapshot) = (host.join("disk.img"), host.join("snapshot.img"));
    let _ = std::fs::remove_file(&snapshot);
    assert!(image(&image_path, 400 << 20, make));
    let mounted = Mounted::new(&image_path, disk).unwrap();
    let anna = Home::open(disk.join("anna")).found(&disk.join("shop"), "North Yard Castings", at(0));
    append(&mut anna.unwrap().shop, note("first"), 0).unwrap();
    append(&mut Home::open(disk.join("ben")).join(&disk.join("shop")).unwrap(), note("first"), 0).unwrap();
    let mut worker = Worker::start(disk);
    std::thread::sleep(wait);
    let acked = worker.acked.lock().unwrap().clone();
    assert!(does("cp", &["--reflink=always"], &[&image_path, &snapshot]), "the copy is made at once");
    worker.process.kill().unwrap();
    worker.process.wait().unwrap();
    drop(mounted);
    // The power is back.
    let _again = Mounted::new(&snapshot, disk).unwrap();
    let when = format!("{}, {} acknowledged", make[0], acked.len());
    let (mut anna, mut ben) = (open(disk, "anna"), open(disk, "ben"));
    anna.sweep().unwrap();
    ben.sweep().unwrap();
    goes_on(&mut anna, &acked, &when);
    goes_on(&mut ben, &acked, &when);
    whole(&disk.join("shop"), &when);
    acked.len()
}

#[test]
fn a_power_cut_on_a_real_file_system_loses_nothing_acknowledged() {
    let place = tempfile::tempdir().unwrap();
    let host_image = place.path().join("host.img");
    let ready = image(&host_image, 1_500 << 20, &["mkfs.xfs", "-q", "-m", "reflink=1"]);
    let host = ready.then(|| Mounted::new(&host_image, &place.path().join("host"))).flatten();
    let Some(host) = host else {
        eprintln!("skipped: this needs root, loop devices and xfsprogs");
        return;
    };
    let mut dice = Dice::new(0xc07);
    let mut told = 0;
    for round in 0..rounds(ROUNDS, 6) {
        let wait = Duration::from_millis(150 + dice.below(500) as u64);
        told += cut(&host.0, &place.path().join("disk"), &SYSTEMS[round % SYSTEMS.len()], wait);
    }
    assert!(told > 0, "nothing was acknowledged before any cut");
}
