//! A figure: CPU seconds of some work, and how often they hold those of a yardstick.

use std::time::Duration;

use rustix::time::{ClockId, clock_gettime};

/// Rounds of each measurement; the quickest counts, since everything else on the machine only adds.
pub(crate) const ROUNDS: usize = 3;

/// What the columns are.
pub(crate) fn heading() {
    println!("{:<52} {:>9} {:>9} {:>7}", "work (yardstick)", "CPU s", "yardstick", "ratio");
}

/// Measures both and prints them.
pub(crate) fn show<A, B>(what: &str, work: impl Fn() -> A, yardstick: impl Fn() -> B) {
    let (work, yardstick) = (quickest(work), quickest(yardstick));
    let ratio = work.as_secs_f64() / yardstick.as_secs_f64().max(1e-9);
    println!("{what:<52} {:>9.4} {:>9.4} {ratio:>7.2}", work.as_secs_f64(), yardstick.as_secs_f64());
}

/// Prints figures that were taken in other processes, with the most memory each held, in KiB.
pub(crate) fn show_taken(what: &str, work: (f64, u64), yardstick: Option<(f64, u64)>) {
    let mb = |kib: u64| kib as f64 / 1024.0;
    let Some(other) = yardstick else {
        return println!("{what:<52} {:>9.4} {:>9} {:>7}   {:.0} MB", work.0, "-", "-", mb(work.1));
    };
    let ratio = work.0 / other.0.max(1e-9);
    println!(
        "{what:<52} {:>9.4} {:>9.4} {ratio:>7.2}   {:.0} MB, {:.0} MB",
        work.0,
        other.0,
        mb(work.1),
        mb(other.1)
    );
}

fn quickest<A>(work: impl Fn() -> A) -> Duration {
    (0..ROUNDS).map(|_| spent(&work)).min().unwrap_or_default()
}

fn spent<A>(work: impl Fn() -> A) -> Duration {
    let before = cpu();
    std::hint::black_box(work());
    cpu().saturating_sub(before)
}

/// CPU time of the whole process.
pub(crate) fn cpu() -> Duration {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    Duration::new(
        u64::try_from(time.tv_sec).unwrap_or_default(),
        u32::try_from(time.tv_nsec).unwrap_or_default(),
    )
}
