//! kill -9 at random moments of a process that appends, seals segments and mirrors another device's log.

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use trowelogue_testkit::dice::{Dice, rounds};
use trowelogue_testkit::trowelogue_core::id::Hash;
use trowelogue_testkit::trowelogue_journal::{Home, Shop};
use trowelogue_testkit::yard::{Yard, append, at, note};

use super::recovered;

/// Names the place the worker works in.
pub(crate) const PLACE: &str = "TROWELOGUE_TEST_WORK";
/// How the worker is started: this program, and nothing of it but the worker.
pub(crate) const WORKER: [&str; 4] = ["--exact", "kill::worker", "--ignored", "--nocapture"];
/// How many processes are killed in the long run.
const ROUNDS: &str = "TROWELOGUE_KILL_ROUNDS";
/// Rounds on one shop, before a new one is founded.
const ON_ONE_SHOP: usize = 10;

/// The worker: writes until it is killed, and says each hash once the journal has acknowledged it.
#[test]
#[ignore = "a process that other tests start"]
fn worker() {
    let Some(place) = std::env::var_os(PLACE).map(PathBuf::from) else { return };
    let open = |name: &str| Home::open(place.join(name)).shop(&place.join("shop")).unwrap();
    let (mut anna, mut ben) = (open("anna"), open("ben"));
    let long = "z".repeat(20_000);
    let mut out = std::io::stdout().lock();
    for second in 0.. {
        let batch = if second % 5 == 4 { vec![note(&long); 20] } else { vec![note("short")] };
        say(&mut out, &mut anna, batch, second);
        ben.sweep().unwrap();
        say(&mut out, &mut ben, vec![note("seen")], second);
    }
}

fn say(
    out: &mut impl std::io::Write,
    shop: &mut Shop,
    batch: Vec<trowelogue_testkit::trowelogue_journal::Draft>,
    second: i64,
) {
    for written in shop.append(batch, at(second)).unwrap().written() {
        writeln!(out, "acked {}", written.hash).unwrap();
    }
    out.flush().unwrap();
}

/// Starts a worker and kills it after a while; gives what it had been told is durable.
fn killed_after(place: &Path, wait: Duration) -> Vec<Hash> {
    let mut worker = Command::new(std::env::current_exe().unwrap())
        .args(WORKER)
        .env(PLACE, place)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let lines = BufReader::new(worker.stdout.take().unwrap());
    let reader = std::thread::spawn(move || {
        let said = lines.lines().map_while(Result::ok);
        // A line cut by the kill was not yet said.
        said.filter_map(|line| line.split_once("acked ")?.1.parse().ok()).collect::<Vec<Hash>>()
    });
    std::thread::sleep(wait);
    worker.kill().unwrap();
    worker.wait().unwrap();
    reader.join().unwrap()
}

#[test]
fn a_killed_process_loses_nothing_it_acknowledged() {
    let mut dice = Dice::new(0x9_0119);
    let rounds = rounds(ROUNDS, 50);
    let mut told = 0;
    for round in 0..rounds.div_ceil(ON_ONE_SHOP) {
        let yard = Yard::new().unwrap();
        append(&mut yard.found("anna").unwrap(), note("first"), 0).unwrap();
        append(&mut yard.join("ben").unwrap(), note("first"), 0).unwrap();
        let mut acked = Vec::new();
        for kill in 0..ON_ONE_SHOP {
            let wait = Duration::from_millis(30 + dice.below(180) as u64);
            acked.extend(killed_after(yard.dir.path(), wait));
            let when = format!("round {round}, kill {kill}");
            // One process, one device: what the other one wrote is in the folder or in its own home.
            let mut anna = yard.home("anna").shop(&yard.folder()).unwrap();
            let mut ben = yard.home("ben").shop(&yard.folder()).unwrap();
            anna.sweep().unwrap();
            ben.sweep().unwrap();
            recovered(&mut anna, &acked, &when);
            recovered(&mut ben, &acked, &when);
        }
        told += acked.len();
    }
    assert!(told > rounds, "only {told} entries were acknowledged in {rounds} rounds");
}
