//! A shop that is being opened on the side: who needs the record waits for it.

use std::sync::{Condvar, Mutex, PoisonError};

use super::glance::Seen;

/// Whether a thread is opening a shop, and what is shown until then.
#[derive(Default)]
pub(super) struct Opening {
    seen: Mutex<Option<Seen>>,
    done: Condvar,
}

impl Opening {
    /// From now on whoever needs the record waits.
    pub(super) fn begin(&self, seen: Seen) {
        *self.seen.lock().unwrap_or_else(PoisonError::into_inner) = Some(seen);
    }

    /// The record is there, or will not be.
    pub(super) fn end(&self) {
        *self.seen.lock().unwrap_or_else(PoisonError::into_inner) = None;
        self.done.notify_all();
    }

    /// Waits until nothing is being opened.
    pub(super) fn wait(&self) {
        let seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        drop(self.done.wait_while(seen, |seen| seen.is_some()).unwrap_or_else(PoisonError::into_inner));
    }

    /// Something of what is shown until then; none while nothing is being opened.
    pub(super) fn seen<T>(&self, look: impl FnOnce(&Seen) -> T) -> Option<T> {
        self.seen.lock().unwrap_or_else(PoisonError::into_inner).as_ref().map(look)
    }
}
