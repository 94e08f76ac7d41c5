//! The one desk of the process, shared by every command.

use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

use tauri::State;
use trowelogue_api::{ApiError, Desk, ErrorCode, Result};

/// The desk, or why it could not be opened: the window opens all the same and says so.
pub struct Holder {
    desk: Result<Desk>,
    folder: Mutex<Option<PathBuf>>,
}

impl Holder {
    /// Takes the desk, or why there is none, and the shop folder named at the start.
    pub fn new(desk: Result<Desk>, folder: Option<PathBuf>) -> Self {
        Self { desk, folder: Mutex::new(folder) }
    }

    /// The folder named at the start, the first time it is asked for.
    pub(crate) fn take_folder(&self) -> Option<PathBuf> {
        self.folder.lock().unwrap_or_else(PoisonError::into_inner).take()
    }
}

/// Runs `work` on a thread that may wait for a disk, so that the window never does.
///
/// # Errors
/// Those of `work`, or that there is no desk.
pub(crate) async fn at_desk<T, F>(holder: State<'_, Holder>, work: F) -> Result<T>
where
    T: Send + 'static,
    F: FnOnce(&Desk) -> Result<T> + Send + 'static,
{
    let desk = holder.desk.clone()?;
    tauri::async_runtime::spawn_blocking(move || work(&desk)).await.map_err(|error| cut_short(&error))?
}

/// A command that ended in a panic: whatever it had acknowledged before is on disk.
pub(crate) fn cut_short(error: &tauri::Error) -> ApiError {
    ApiError::new(ErrorCode::Io, format!("The app failed in the middle of this: {error}"))
}
