//! The SQLite projection of a folded shop: what the first screen and the search read.
//!
//! It is disposable. The journal is the truth; a file of another schema version, a damaged one or a missing one
//! is built again. It is never in the shared folder and never holds what the journal does not.
//!
//! Invariant: rows and watermarks change in one transaction, so that a projection always shows one state of
//! the record, and its watermarks say which.

mod error;
mod read;
mod rows;
mod schema;
mod write;

#[cfg(test)]
mod tests;

pub use error::StoreError;
pub use rows::{FindingRow, PieceRow, Scope, Snapshot, Watermark};
pub use schema::VERSION;

use std::path::{Path, PathBuf};

use rusqlite::{Connection, OpenFlags};

/// An open projection.
pub struct Store {
    conn: Connection,
}

impl Store {
    /// Opens the projection at `path`, if there is one that can be used: of this schema version, of this shop,
    /// and sound. Any other is deleted.
    ///
    /// # Errors
    /// The file is there and can be neither read nor deleted.
    pub fn open(path: &Path, shop: &str) -> Result<Option<Self>, StoreError> {
        if !path.exists() {
            return Ok(None);
        }
        match Self::sound(path, shop) {
            Ok(Some(store)) => Ok(Some(store)),
            Ok(None) => remove(path).map(|()| None),
            Err(error) if error.is_busy() => Err(error),
            Err(_) => remove(path).map(|()| None),
        }
    }

    fn sound(path: &Path, shop: &str) -> Result<Option<Self>, StoreError> {
        let conn = schema::connect(path)?;
        let good = schema::version(&conn)? == VERSION && schema::is_whole(&conn)?;
        let store = Self { conn };
        Ok((good && store.shop()?.as_deref() == Some(shop)).then_some(store))
    }

    /// A look at the projection as it lies there: of this schema version and of this shop, its soundness not asked
    /// for. Nothing is written, and nothing deleted.
    pub fn glance(path: &Path, shop: &str) -> Option<Self> {
        let conn = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY).ok()?;
        let good = schema::version(&conn).ok()? == VERSION;
        let store = Self { conn };
        (good && store.shop().ok()?.as_deref() == Some(shop)).then_some(store)
    }

    /// Builds the projection anew beside the old one and puts it in its place.
    ///
    /// # Errors
    /// The file cannot be written; an old projection is then gone or as it was, and the journal untouched.
    pub fn rebuild(path: &Path, snapshot: &Snapshot<'_>) -> Result<Self, StoreError> {
        let fresh = beside(path, "new");
        remove(&fresh)?;
        {
            let mut conn = schema::connect_for_building(&fresh)?;
            schema::create(&conn)?;
            write::everything(&mut conn, snapshot)?;
        }
        sync(&fresh)?;
        remove(path)?;
        std::fs::rename(&fresh, path).map_err(|error| StoreError::file(path, error))?;
        if let Some(dir) = path.parent() {
            sync(dir)?;
        }
        Ok(Self { conn: schema::connect(path)? })
    }

    /// Writes what changed: the entries and pieces of `scope`, and all that belongs to no piece.
    ///
    /// # Errors
    /// The file cannot be written; it is then as it was.
    pub fn apply(&mut self, snapshot: &Snapshot<'_>, scope: &Scope) -> Result<(), StoreError> {
        write::change(&mut self.conn, snapshot, scope)
    }
}

/// Deletes a projection with everything SQLite keeps beside it.
fn remove(path: &Path) -> Result<(), StoreError> {
    for file in [path.to_path_buf(), beside(path, "-journal"), beside(path, "-wal"), beside(path, "-shm")] {
        match std::fs::remove_file(&file) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                return Err(StoreError::file(&file, error));
            }
            _ => {}
        }
    }
    Ok(())
}

fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(if suffix.starts_with('-') { "" } else { "." });
    name.push(suffix);
    name.into()
}

fn sync(path: &Path) -> Result<(), StoreError> {
    // Directories cannot be opened for this everywhere; where they can, the rename is made durable.
    match std::fs::File::open(path).and_then(|file| file.sync_all()) {
        Err(error) if path.is_file() => Err(StoreError::file(path, error)),
        _ => Ok(()),
    }
}
