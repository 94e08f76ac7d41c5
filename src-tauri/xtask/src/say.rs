//! All that the chores print goes through here: one place for its form.
//!
//! A terminal that went away is no reason to stop a build, so write errors are dropped.

use std::fmt::Display;
use std::io::Write;
use std::time::Duration;

/// A line as it is.
pub(crate) fn line(text: &str) {
    let _ = writeln!(std::io::stdout(), "{text}");
}

/// The head of a stage.
pub(crate) fn heading(name: &str, about: &str) {
    line(&format!("\n== {name}: {about}"));
}

/// A remark inside a stage.
pub(crate) fn note(text: impl Display) {
    line(&format!("   {text}"));
}

/// A sign of life: how long the stage has run and the last thing its program said.
pub(crate) fn heartbeat(passed: Duration, last: &str) {
    let shown: String = last.trim().chars().take(100).collect();
    line(&format!("   … {} s: {shown}", passed.as_secs()));
}

/// What went wrong, on standard error.
pub(crate) fn error(text: &str) {
    let _ = writeln!(std::io::stderr(), "error: {text}");
}

/// Seconds below two minutes, minutes above.
pub(crate) fn span(time: Duration) -> String {
    let seconds = time.as_secs_f64();
    if seconds < 120.0 { format!("{seconds:.1} s") } else { format!("{:.1} min", seconds / 60.0) }
}
