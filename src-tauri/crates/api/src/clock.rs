//! The clock, and the place of this device's data: the one part of the program that asks the system for either.

use std::path::PathBuf;
use std::sync::Arc;

use trowelogue_core::moment::Moment;

use crate::{ApiError, ErrorCode, Result};

/// Where the time comes from.
#[derive(Clone)]
pub enum Clock {
    /// The system. In debug builds alone `TROWELOGUE_TEST_NOW` stands in for it, so that no release can forge
    /// when something was written.
    System,
    /// One moment for ever.
    At(Moment),
    /// Whatever the function says (tests that let time pass).
    Of(Arc<dyn Fn() -> Moment + Send + Sync>),
}

impl Clock {
    /// The moment, with this device's offset.
    pub fn now(&self) -> Moment {
        match self {
            Self::System => test_now().unwrap_or_else(|| chrono::Local::now().fixed_offset()),
            Self::At(moment) => *moment,
            Self::Of(ask) => ask(),
        }
    }

    /// The IANA name of the device's time zone, where the clock is the system's and it can be told.
    pub(crate) fn zone(&self) -> Option<String> {
        match self {
            Self::System if test_now().is_none() => iana_time_zone::get_timezone().ok(),
            _ => None,
        }
    }
}

impl std::fmt::Debug for Clock {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::System => f.write_str("Clock::System"),
            Self::At(moment) => write!(f, "Clock::At({moment})"),
            Self::Of(_) => f.write_str("Clock::Of"),
        }
    }
}

#[cfg(debug_assertions)]
fn test_now() -> Option<Moment> {
    #[allow(clippy::disallowed_methods, reason = "the one place that reads it; absent from a release")]
    let said = std::env::var("TROWELOGUE_TEST_NOW").ok()?;
    trowelogue_core::moment::parse(&said).ok()
}

#[cfg(not(debug_assertions))]
const fn test_now() -> Option<Moment> {
    None
}

/// This device's data where nothing else was named: by the platform's convention.
///
/// # Errors
/// The platform names no such place.
pub fn default_home() -> Result<PathBuf> {
    let dirs = directories::BaseDirs::new().map(|dirs| dirs.data_dir().join("trowelogue"));
    dirs.ok_or_else(|| {
        ApiError::new(ErrorCode::Usage, "this system names no place for the data of programs")
            .remedy("Name one with --home DIR.")
    })
}
