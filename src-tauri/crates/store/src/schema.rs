//! The schema, in one place, and the ways to connect.

use std::path::Path;
use std::time::Duration;

use rusqlite::Connection;

use crate::StoreError;

/// Version of the schema, kept as `user_version`. Any change below raises it; an older file is built again.
pub const VERSION: i32 = 2;

/// How long to wait for another process of the same home.
const PATIENCE: Duration = Duration::from_secs(5);

const TABLES: &str = "
CREATE TABLE meta (
    name        TEXT PRIMARY KEY,
    value       TEXT NOT NULL
) WITHOUT ROWID;

-- How far each device's log has been taken in.
CREATE TABLE watermarks (
    device      TEXT PRIMARY KEY,
    seq         INTEGER NOT NULL,
    hash        TEXT NOT NULL,
    count       INTEGER NOT NULL
) WITHOUT ROWID;

CREATE TABLE entries (
    hash        TEXT PRIMARY KEY,
    device      TEXT NOT NULL,
    seq         INTEGER NOT NULL,
    clock_ms    INTEGER NOT NULL,
    clock_count INTEGER NOT NULL,
    kind        TEXT NOT NULL,
    done        TEXT NOT NULL,
    done_ms     INTEGER NOT NULL,
    until       TEXT,
    wrote       TEXT NOT NULL,
    status      TEXT NOT NULL,
    in_force    INTEGER NOT NULL,
    late        INTEGER NOT NULL,
    open        INTEGER NOT NULL,
    person      TEXT NOT NULL,
    object      TEXT,
    json        TEXT
) WITHOUT ROWID;
CREATE INDEX entries_in_order ON entries (clock_ms, clock_count, device, seq, hash);

-- A piece's entries, those about its pour included, in order of work.
CREATE TABLE entry_pieces (
    piece       TEXT NOT NULL,
    place       INTEGER NOT NULL,
    hash        TEXT NOT NULL,
    PRIMARY KEY (piece, place)
) WITHOUT ROWID;
CREATE INDEX pieces_of_entry ON entry_pieces (hash);

CREATE TABLE jobs (
    id          TEXT PRIMARY KEY,
    code        TEXT NOT NULL,
    name        TEXT NOT NULL,
    client      TEXT,
    handover_by TEXT
) WITHOUT ROWID;

CREATE TABLE people (
    id          TEXT PRIMARY KEY,
    name        TEXT NOT NULL,
    trade       TEXT
) WITHOUT ROWID;

CREATE TABLE pieces (
    id          TEXT PRIMARY KEY,
    code        TEXT NOT NULL,
    name        TEXT NOT NULL,
    job         TEXT,
    state       TEXT NOT NULL,
    next_kind   TEXT,
    until_ms    INTEGER,
    stops       INTEGER NOT NULL,
    cautions    INTEGER NOT NULL,
    order_ms    INTEGER,
    shown       TEXT NOT NULL
) WITHOUT ROWID;
CREATE INDEX pieces_of_the_day ON pieces (state, order_ms IS NULL, order_ms, code);

CREATE TABLE findings (
    piece       TEXT,
    rule        TEXT NOT NULL,
    severity    TEXT NOT NULL,
    state       TEXT NOT NULL,
    verdict     TEXT NOT NULL,
    entries     TEXT NOT NULL
);
CREATE INDEX findings_of_piece ON findings (piece);

-- One row a piece: its code and id, its names, and all that was said and used on it.
CREATE VIRTUAL TABLE search USING fts5 (
    piece UNINDEXED, code, name, job, said,
    tokenize = \"unicode61 remove_diacritics 2\", prefix = '2 3'
);
";

pub(crate) fn create(conn: &Connection) -> Result<(), StoreError> {
    conn.execute_batch(TABLES)?;
    conn.pragma_update(None, "user_version", VERSION)?;
    Ok(())
}

/// A connection for use. The rollback journal lies beside the file and goes with it.
pub(crate) fn connect(path: &Path) -> Result<Connection, StoreError> {
    let conn = Connection::open(path)?;
    conn.busy_timeout(PATIENCE)?;
    conn.pragma_update(None, "synchronous", "NORMAL")?;
    Ok(conn)
}

/// A connection to a file nobody else knows of: what breaks off is built again, so nothing is journalled.
pub(crate) fn connect_for_building(path: &Path) -> Result<Connection, StoreError> {
    let conn = Connection::open(path)?;
    conn.pragma_update(None, "journal_mode", "OFF")?;
    conn.pragma_update(None, "synchronous", "OFF")?;
    conn.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
    Ok(conn)
}

pub(crate) fn version(conn: &Connection) -> Result<i32, StoreError> {
    Ok(conn.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// Whether the engine finds the file sound.
pub(crate) fn is_whole(conn: &Connection) -> Result<bool, StoreError> {
    let verdict: String = conn.pragma_query_value(None, "quick_check", |row| row.get(0))?;
    Ok(verdict == "ok")
}
