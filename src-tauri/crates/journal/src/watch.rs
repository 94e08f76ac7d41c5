//! Watching a folder. Events are a hint that shortens the wait; the sweep is the truth.
//!
//! Nothing is read from an event but that something happened: files in a new directory, renames and lost
//! events need no care of their own, since a sweep looks at everything. A watch that cannot be had, or that
//! fails later, is given up, and the sweep's own rhythm remains.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::{Duration, Instant};

use notify::{EventKind, RecursiveMode, Watcher};

/// Events this close together are one: engines write in bursts.
const QUIET: Duration = Duration::from_millis(200);
/// The longest a burst may hold back the sweep.
const LONGEST_BURST: Duration = Duration::from_secs(2);

/// Why a wait ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Woken {
    /// Something happened in the folder.
    Hint,
    /// The time was up.
    TimeUp,
    /// [`Stopper::stop`] was called.
    Stopped,
}

/// How a folder is watched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mode {
    /// Events arrive; the sweep is still needed.
    Events,
    /// Only the sweep: the system's reason.
    SweepOnly(String),
}

/// Where hints come from: the operating system, or a test.
pub trait HintSource: Send {
    /// Begins to watch `dir` with everything below it. `hint` is called at each event, `lost` when no more
    /// will come. Watching lasts until the source is dropped or started again.
    fn start(
        &mut self,
        dir: &Path,
        hint: Box<dyn Fn() + Send>,
        lost: Box<dyn Fn(String) + Send>,
    ) -> Result<(), String>;
}

/// The operating system's file events.
#[derive(Default)]
pub struct SystemHints {
    watcher: Option<notify::RecommendedWatcher>,
}

impl HintSource for SystemHints {
    fn start(
        &mut self,
        dir: &Path,
        hint: Box<dyn Fn() + Send>,
        lost: Box<dyn Fn(String) + Send>,
    ) -> Result<(), String> {
        let handler = move |event: notify::Result<notify::Event>| match event {
            // Reading the folder is an event too; to take it for a change would be a loop.
            Ok(event) if matches!(event.kind, EventKind::Access(_)) && !event.need_rescan() => {}
            Ok(_) => hint(),
            Err(error) => lost(error.to_string()),
        };
        let mut watcher = notify::recommended_watcher(handler).map_err(|error| error.to_string())?;
        // An error here may leave a watch that covers a part: it is dropped as a whole.
        watcher.watch(dir, RecursiveMode::Recursive).map_err(|error| error.to_string())?;
        self.watcher = Some(watcher);
        Ok(())
    }
}

#[derive(Default)]
struct State {
    /// Time of the newest event not yet acted on, and of the first of its burst.
    burst: Option<(Instant, Instant)>,
    stopped: bool,
    lost: Option<String>,
}

#[derive(Default)]
struct Shared {
    state: Mutex<State>,
    changed: Condvar,
}

impl Shared {
    fn update(&self, change: impl FnOnce(&mut State)) {
        change(&mut self.state.lock().unwrap_or_else(PoisonError::into_inner));
        self.changed.notify_all();
    }
}

/// A watch over a shop folder's `logs/`. Photos are not watched: there are too many, and their entries tell.
pub struct Watch {
    shared: Arc<Shared>,
    source: Box<dyn HintSource>,
    dir: PathBuf,
}

impl Watch {
    /// Watches the logs of `folder`. That no events can be had is no error: see [`Watch::mode`].
    pub fn new(folder: &Path) -> Self {
        Self::with(folder, Box::<SystemHints>::default())
    }

    /// Watches with another source of hints.
    pub fn with(folder: &Path, source: Box<dyn HintSource>) -> Self {
        let dir = folder.join("logs");
        let mut watch = Self { shared: Arc::default(), source, dir };
        watch.start();
        watch
    }

    fn start(&mut self) {
        let (on_hint, on_lost) = (self.shared.clone(), self.shared.clone());
        let hint = Box::new(move || on_hint.update(State::hint));
        let lost = Box::new(move |why| on_lost.update(|state| state.lost = Some(why)));
        if let Err(why) = self.source.start(&self.dir, hint, lost) {
            self.shared.update(|state| state.lost = Some(why));
        }
    }

    /// How the folder is watched now.
    pub fn mode(&self) -> Mode {
        let state = self.shared.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.lost.clone().map_or(Mode::Events, Mode::SweepOnly)
    }

    /// Waits for a hint (and then for a quiet moment), or until `most` has passed. After a watch was lost, it
    /// is tried anew at each call, so that a folder that comes back is watched again.
    pub fn wait(&mut self, most: Duration) -> Woken {
        self.revive();
        let until = Instant::now() + most;
        let mut state = self.shared.state.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            let now = Instant::now();
            if state.stopped {
                return Woken::Stopped;
            }
            let due = state.burst.map(|(first, last)| (last + QUIET).min(first + LONGEST_BURST));
            if due.is_some_and(|due| due <= now) {
                state.burst = None;
                return Woken::Hint;
            }
            if now >= until {
                return if state.burst.take().is_some() { Woken::Hint } else { Woken::TimeUp };
            }
            let next = due.map_or(until, |due| due.min(until));
            let waited = self.shared.changed.wait_timeout(state, next - now);
            state = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    fn revive(&mut self) {
        if self.mode() != Mode::Events && self.dir.is_dir() {
            self.shared.update(|state| state.lost = None);
            self.start();
        }
    }

    /// A handle that ends the wait from another thread.
    pub fn stopper(&self) -> Stopper {
        Stopper(self.shared.clone())
    }
}

impl State {
    fn hint(&mut self) {
        let now = Instant::now();
        let first = self.burst.map_or(now, |(first, _)| first);
        self.burst = Some((first, now));
    }
}

/// Ends a wait.
#[derive(Clone)]
pub struct Stopper(Arc<Shared>);

impl Stopper {
    /// Ends the wait of the watch this came from, now and from now on.
    pub fn stop(&self) {
        self.0.update(|state| state.stopped = true);
    }
}
