//! Watching the folder of the open shop: file events shorten the wait, the sweep is the truth.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError, Weak};
use std::time::Duration;

use trowelogue_journal::watch::{Mode, Watch, Woken};

use super::{Desk, Held};
use crate::dto::Changed;

/// The longest between two sweeps.
const EVERY: Duration = Duration::from_millis(1500);
/// A folder that is only looked at is read whole each time: without a hint, every so many rounds.
const LOOK_ROUNDS: u32 = 8;

type Listener = Arc<dyn Fn(Changed) + Send + Sync>;

/// Who is told of changes, and how the folder is watched.
#[derive(Default)]
pub(super) struct Told {
    listener: Mutex<Option<Listener>>,
    generation: AtomicU64,
    runs: AtomicBool,
    /// Why only the sweep looks at the folder, where events cannot be had.
    polled: Mutex<Option<String>>,
}

impl Told {
    /// The number of the next change.
    pub(super) fn next(&self) -> u64 {
        self.generation.fetch_add(1, Ordering::Relaxed) + 1
    }

    /// Tells whoever listens.
    pub(super) fn tell(&self, changed: Changed) {
        let listener = self.listener.lock().unwrap_or_else(PoisonError::into_inner).clone();
        if let Some(listener) = listener {
            listener(changed);
        }
    }
}

impl Desk {
    /// Calls `on_change` after the record changed, whoever changed it, and after a piece's state changed because
    /// time went on. A later call replaces the former listener. Watching ends with the desk.
    pub fn watch(&self, on_change: impl Fn(Changed) + Send + Sync + 'static) {
        let told = &self.held.watch;
        *told.listener.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(on_change));
        if told.runs.swap(true, Ordering::Relaxed) {
            return;
        }
        let held = Arc::downgrade(&self.held);
        let thread = std::thread::Builder::new().name("folder-watch".into());
        if let Err(error) = thread.spawn(move || keep_watch(&held)) {
            told.runs.store(false, Ordering::Relaxed);
            *told.polled.lock().unwrap_or_else(PoisonError::into_inner) = Some(error.to_string());
        }
    }

    /// Why only the sweep looks at the folder; none while events arrive, or nobody watches.
    pub(super) fn polled(&self) -> Option<String> {
        self.held.watch.polled.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

fn keep_watch(held: &Weak<Held>) {
    let mut eye: Option<(PathBuf, Watch)> = None;
    let mut idle = 0;
    while let Some(desk) = held.upgrade() {
        let (folder, only_looks) = desk.watched();
        if eye.as_ref().map(|(watched, _)| watched) != folder.as_ref() {
            eye = folder.map(|folder| (folder.clone(), Watch::new(&folder)));
        }
        let mode = eye.as_ref().map(|(_, watch)| watch.mode());
        *desk.watch.polled.lock().unwrap_or_else(PoisonError::into_inner) = match mode {
            Some(Mode::SweepOnly(why)) => Some(why),
            _ => None,
        };
        // Nothing is held while waiting: the desk may go.
        drop(desk);
        let woken = match &mut eye {
            Some((_, watch)) => watch.wait(EVERY),
            None => {
                std::thread::sleep(EVERY);
                Woken::TimeUp
            }
        };
        idle = if woken == Woken::Hint { 0 } else { idle + 1 };
        if only_looks && woken != Woken::Hint && idle % LOOK_ROUNDS != 0 {
            continue;
        }
        let Some(desk) = held.upgrade() else { return };
        // What cannot be read now is tried again at the next round; whoever asks for a screen is told.
        drop(desk.sweep());
    }
}

impl Held {
    /// The folder of the open shop, and whether this home only looks at it.
    fn watched(&self) -> (Option<PathBuf>, bool) {
        let open = self.opened();
        let session = open.as_ref().map(|open| &open.session);
        (session.map(|it| it.folder().to_owned()), session.is_some_and(|it| it.link.is_none()))
    }
}
