//! The hybrid logical clock: wall time that never runs backwards along a log, and a counter.

use trowelogue_core::entry::Clock;

/// How far a clock may run ahead of the wall before others stop following it: a day, in milliseconds.
pub const MAX_AHEAD_MS: i64 = 24 * 3_600_000;
/// The latest reading a clock may have: the end of the year 9999, in milliseconds.
pub const MAX_CLOCK_MS: i64 = 253_402_300_799_999;

/// The reading after `last` when the wall shows `now_ms`.
pub fn tick(last: Clock, now_ms: i64) -> Clock {
    if now_ms > last.ms {
        return Clock { ms: now_ms, count: 0 };
    }
    match last.count.checked_add(1) {
        Some(count) => Clock { ms: last.ms, count },
        None => Clock { ms: last.ms + 1, count: 0 },
    }
}

/// Whether others follow this reading when the wall shows `now_ms`.
pub fn is_followed(clock: Clock, now_ms: i64) -> bool {
    clock.ms <= now_ms.saturating_add(MAX_AHEAD_MS)
}
