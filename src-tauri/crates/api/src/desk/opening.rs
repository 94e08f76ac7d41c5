//! A shop that is being opened on the side: who needs the record waits for it.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use super::glance::Seen;

/// How long reading the record waits for the day to be asked for, and then for it to be drawn: on a small machine both
/// would share one processor, and a person waits for the drawing. Common practice, no source.
const UNTIL_ASKED: Duration = Duration::from_millis(600);
const UNTIL_DRAWN: Duration = Duration::from_millis(200);

/// Whether a thread is opening a shop, and what is shown until then.
#[derive(Default)]
pub(super) struct Opening {
    state: Mutex<State>,
    done: Condvar,
    asked: Condvar,
}

#[derive(Default)]
struct State {
    seen: Option<Seen>,
    /// The day was asked for.
    asked: bool,
}

impl Opening {
    /// From now on whoever needs the record waits.
    pub(super) fn begin(&self, seen: Seen) {
        *self.state() = State { seen: Some(seen), asked: false };
    }

    /// Lets the first look be drawn before the record is read.
    pub(super) fn hold_back(&self) {
        let waited = self.asked.wait_timeout_while(self.state(), UNTIL_ASKED, |it| !it.asked);
        let asked = waited.unwrap_or_else(PoisonError::into_inner).0.asked;
        if asked {
            std::thread::sleep(UNTIL_DRAWN);
        }
    }

    /// The record is there, or will not be.
    pub(super) fn end(&self) {
        self.state().seen = None;
        self.done.notify_all();
    }

    /// Waits until nothing is being opened.
    pub(super) fn wait(&self) {
        let waited = self.done.wait_while(self.state(), |it| it.seen.is_some());
        drop(waited.unwrap_or_else(PoisonError::into_inner));
    }

    /// Something of what is shown until then; none while nothing is being opened.
    pub(super) fn seen<T>(&self, look: impl FnOnce(&Seen) -> T) -> Option<T> {
        self.state().seen.as_ref().map(look)
    }

    /// Tells the thread that the day was asked for.
    pub(super) fn day_asked(&self) {
        self.state().asked = true;
        self.asked.notify_all();
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
