//! Events are a hint: refused, lost or absent, the sweep's own rhythm remains and says so.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

use trowelogue_journal::watch::{HintSource, Mode, Watch, Woken};

const SHORT: Duration = Duration::from_millis(20);
const LONG: Duration = Duration::from_secs(20);

type Call = Box<dyn Fn() + Send>;
type Loss = Box<dyn Fn(String) + Send>;

/// A source of hints that a test holds in its hands.
#[derive(Clone, Default)]
struct Hands {
    refuse: Arc<Mutex<Option<String>>>,
    calls: Arc<Mutex<Option<(Call, Loss)>>>,
    starts: Arc<AtomicUsize>,
}

impl HintSource for Hands {
    fn start(&mut self, _dir: &Path, hint: Call, lost: Loss) -> Result<(), String> {
        self.starts.fetch_add(1, Ordering::Relaxed);
        if let Some(why) = self.refuse.lock().unwrap().clone() {
            return Err(why);
        }
        *self.calls.lock().unwrap() = Some((hint, lost));
        Ok(())
    }
}

impl Hands {
    fn hint(&self) {
        (self.calls.lock().unwrap().as_ref().unwrap().0)();
    }

    fn lose(&self, why: &str) {
        (self.calls.lock().unwrap().as_ref().unwrap().1)(why.into());
    }
}

fn folder() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    fs::create_dir(dir.path().join("logs")).unwrap();
    dir
}

#[test]
fn a_watch_that_is_refused_is_said_and_the_sweep_goes_on() {
    let (dir, hands) = (folder(), Hands::default());
    *hands.refuse.lock().unwrap() = Some("no more watches".into());
    let mut watch = Watch::with(dir.path(), Box::new(hands.clone()));
    assert_eq!(watch.mode(), Mode::SweepOnly("no more watches".into()));
    assert_eq!(watch.wait(SHORT), Woken::TimeUp);
    // It is tried again each time, and once there are watches again, one is had.
    *hands.refuse.lock().unwrap() = None;
    assert_eq!(watch.wait(SHORT), Woken::TimeUp);
    assert_eq!(watch.mode(), Mode::Events);
    assert_eq!(hands.starts.load(Ordering::Relaxed), 3);
}

#[test]
fn a_watch_that_is_lost_later_is_had_again_when_the_folder_is_there() {
    let (dir, hands) = (folder(), Hands::default());
    let mut watch = Watch::with(dir.path(), Box::new(hands.clone()));
    assert_eq!(watch.mode(), Mode::Events);
    hands.lose("the share went away");
    assert_eq!(watch.mode(), Mode::SweepOnly("the share went away".into()));
    fs::remove_dir(dir.path().join("logs")).unwrap();
    assert_eq!(watch.wait(SHORT), Woken::TimeUp);
    assert_eq!(watch.mode(), Mode::SweepOnly("the share went away".into()), "nothing to watch");
    fs::create_dir(dir.path().join("logs")).unwrap();
    assert_eq!(watch.wait(SHORT), Woken::TimeUp);
    assert_eq!(watch.mode(), Mode::Events);
}

#[test]
fn a_burst_of_hints_wakes_once_and_a_stop_ends_every_wait() {
    let (dir, hands) = (folder(), Hands::default());
    let mut watch = Watch::with(dir.path(), Box::new(hands.clone()));
    for _ in 0..1_000 {
        hands.hint();
    }
    assert_eq!(watch.wait(LONG), Woken::Hint);
    assert_eq!(watch.wait(SHORT), Woken::TimeUp, "all of them were one");
    let stopper = watch.stopper();
    let stopping = thread::spawn(move || stopper.stop());
    assert_eq!(watch.wait(LONG), Woken::Stopped);
    stopping.join().unwrap();
    assert_eq!(watch.wait(LONG), Woken::Stopped);
}

#[test]
fn a_file_in_a_directory_made_with_it_is_hinted_at() {
    let dir = folder();
    let mut watch = Watch::new(dir.path());
    if watch.mode() != Mode::Events {
        eprintln!("skipped: this system gives no file events");
        return;
    }
    let deep = dir.path().join("logs/a/b/c");
    fs::create_dir_all(&deep).unwrap();
    fs::write(deep.join("log.jsonl"), "new").unwrap();
    // A hint is a hint: whatever woke it, the sweep that follows looks at everything.
    assert_eq!(watch.wait(LONG), Woken::Hint);
    let mut reads = 0;
    while watch.wait(Duration::from_millis(400)) == Woken::Hint {
        reads += 1;
        assert!(reads < 20, "it does not wake itself");
        fs::read(deep.join("log.jsonl")).unwrap();
    }
}
