//! Reading rows.

use rusqlite::{OptionalExtension, Row, params};
use trowelogue_core::id::ObjectId;
use trowelogue_core::shop::Shop;

use crate::rows::{PieceRow, Watermark};
use crate::write::{self, signed};
use crate::{Store, StoreError};

pub(crate) const SHOP: &str = "shop";
pub(crate) const SHOWN_IN: &str = "shown_in";

/// The most pieces a search gives.
const MOST_HITS: i64 = 200;

impl Store {
    /// The shop it is a projection of.
    pub(crate) fn shop(&self) -> Result<Option<String>, StoreError> {
        self.meta(SHOP)
    }

    /// Language and units of the rows of pieces.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn shown_in(&self) -> Result<Option<String>, StoreError> {
        self.meta(SHOWN_IN)
    }

    fn meta(&self, name: &str) -> Result<Option<String>, StoreError> {
        let mut query = self.conn.prepare_cached("SELECT value FROM meta WHERE name = ?1")?;
        Ok(query.query_row([name], |row| row.get(0)).optional()?)
    }

    /// How far each device's log has been taken in.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn watermarks(&self) -> Result<Vec<Watermark>, StoreError> {
        let mut query =
            self.conn.prepare_cached("SELECT device, seq, hash, count FROM watermarks ORDER BY device")?;
        let rows = query.query_map([], |row| {
            Ok(Watermark {
                device: parsed(row, 0)?,
                seq: number(row, 1)?,
                hash: parsed(row, 2)?,
                count: number(row, 3)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Whether it shows the same entries as this shop.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn is_current(&self, shop: &Shop) -> Result<bool, StoreError> {
        Ok(self.watermarks()? == write::watermarks(shop))
    }

    /// How every piece stands, in order within a state.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn pieces(&self) -> Result<Vec<PieceRow>, StoreError> {
        let mut query = self.conn.prepare_cached(&format!(
            "SELECT {PIECE} FROM pieces ORDER BY state, order_ms IS NULL, order_ms, code"
        ))?;
        let rows = query.query_map([], piece_row)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// At most so many pieces of a state, in order, and how many there are in all.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn first_of(&self, state: &str, most: u32) -> Result<(Vec<PieceRow>, u64), StoreError> {
        let mut query = self.conn.prepare_cached(&format!(
            "SELECT {PIECE} FROM pieces WHERE state = ?1 ORDER BY order_ms IS NULL, order_ms, code LIMIT ?2"
        ))?;
        let rows = query.query_map(params![state, most], piece_row)?.collect::<Result<_, _>>()?;
        let mut count = self.conn.prepare_cached("SELECT count(*) FROM pieces WHERE state = ?1")?;
        Ok((rows, count.query_row([state], |row| number(row, 0))?))
    }

    /// Pieces that fit all words of `text`, each word by its beginning, the best first: by code, name, job,
    /// client, lot, product, person, note.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn search(&self, text: &str) -> Result<Vec<ObjectId>, StoreError> {
        let Some(wanted) = query_of(text) else { return Ok(Vec::new()) };
        let mut query = self.conn.prepare_cached(
            "SELECT piece FROM search WHERE search MATCH ?1
             ORDER BY bm25(search, 0.0, 10.0, 5.0, 3.0, 1.0), piece LIMIT ?2",
        )?;
        let rows = query.query_map(params![wanted, MOST_HITS], |row| parsed(row, 0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Number of entries with this status.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn count(&self, status: &str) -> Result<u64, StoreError> {
        let mut query = self.conn.prepare_cached("SELECT count(*) FROM entries WHERE status = ?1")?;
        Ok(query.query_row([status], |row| number(row, 0))?)
    }

    /// Hashes of a piece's entries, in order of work.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn entries_of(&self, piece: ObjectId) -> Result<Vec<trowelogue_core::id::Hash>, StoreError> {
        let mut query =
            self.conn.prepare_cached("SELECT hash FROM entry_pieces WHERE piece = ?1 ORDER BY place")?;
        let rows = query.query_map([piece.to_string()], |row| parsed(row, 0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

/// A query in the engine's language: every word quoted, as a beginning. A word of several runs of letters and
/// digits, as a code is, must stand as it was written, one run after the other.
fn query_of(text: &str) -> Option<String> {
    let runs = |word: &str| {
        let runs = word.split(|c: char| !c.is_alphanumeric()).filter(|run| !run.is_empty());
        runs.collect::<Vec<_>>().join(" ")
    };
    let words = text.split_whitespace().map(runs).filter(|word| !word.is_empty());
    let terms: Vec<String> = words.map(|word| format!("\"{word}\"*")).collect();
    (!terms.is_empty()).then(|| terms.join(" "))
}

const PIECE: &str = "id, state, next_kind, until_ms, stops, cautions, order_ms, shown";

fn piece_row(row: &Row<'_>) -> rusqlite::Result<PieceRow> {
    Ok(PieceRow {
        piece: parsed(row, 0)?,
        state: row.get(1)?,
        next_kind: row.get(2)?,
        until_ms: row.get(3)?,
        stops: row.get(4)?,
        cautions: row.get(5)?,
        order_ms: row.get(6)?,
        shown: row.get(7)?,
    })
}

fn parsed<T: std::str::FromStr>(row: &Row<'_>, at: usize) -> rusqlite::Result<T> {
    let text: String = row.get(at)?;
    text.parse().map_err(|_| rusqlite::Error::InvalidColumnType(at, text, rusqlite::types::Type::Text))
}

fn number(row: &Row<'_>, at: usize) -> rusqlite::Result<u64> {
    let found: i64 = row.get(at)?;
    u64::try_from(found).map_err(|_| rusqlite::Error::IntegralValueOutOfRange(at, signed(0)))
}
