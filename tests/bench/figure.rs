//! A figure: CPU seconds of some work, and how often they hold those of a yardstick.

use std::time::Duration;

use rustix::time::{ClockId, clock_gettime};

/// Rounds of each measurement; the quickest counts, since everything else on the machine only adds.
const ROUNDS: usize = 3;

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
