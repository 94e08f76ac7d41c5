//! A sign of life on standard error, where it is a terminal and the work takes over a second.

use std::io::IsTerminal as _;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::JoinHandle;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

const PATIENCE: Duration = Duration::from_secs(1);
const TICK: Duration = Duration::from_millis(120);

/// Turns until it is dropped.
pub(crate) struct Progress {
    done: Option<Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

impl Progress {
    /// Begins to wait; shows `words` after a second.
    pub(crate) fn start(words: &str) -> Self {
        if !std::io::stderr().is_terminal() {
            return Self { done: None, thread: None };
        }
        let (done, waiting) = mpsc::channel();
        let words = words.to_owned();
        let thread = std::thread::spawn(move || {
            if waiting.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                let bar = ProgressBar::new_spinner().with_message(words);
                if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} {elapsed}") {
                    bar.set_style(style);
                }
                bar.enable_steady_tick(TICK);
                let _ = waiting.recv();
                bar.finish_and_clear();
            }
        });
        Self { done: Some(done), thread: Some(thread) }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        drop(self.done.take());
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}
