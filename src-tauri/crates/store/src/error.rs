//! Why the projection cannot be used. Nothing of the record is concerned.

use std::path::{Path, PathBuf};

/// A projection that cannot be read or written.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The database engine refused.
    #[error("the projection cannot be used: {0}")]
    Engine(#[from] rusqlite::Error),
    /// The file system refused.
    #[error("{}: {source}", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A body that is no JSON text.
    #[error("a row cannot be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
}

impl StoreError {
    pub(crate) fn file(path: &Path, source: std::io::Error) -> Self {
        Self::File { path: path.to_path_buf(), source }
    }

    /// Another process is writing; it is no fault of the file.
    pub fn is_busy(&self) -> bool {
        use rusqlite::ErrorCode::{DatabaseBusy, DatabaseLocked};
        matches!(self, Self::Engine(error)
            if matches!(error.sqlite_error_code(), Some(DatabaseBusy | DatabaseLocked)))
    }
}
