//! How every piece stands, kept up to date piece by piece, with its projection on disk.
//!
//! The projection spares working everything out at the next opening, and it answers searches. It is a cache: one
//! that is missing, damaged, of another version or behind is built again, and where it cannot be written at all
//! the list is the same without it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::Moment;
use trowelogue_core::rules::{self, Finding};
use trowelogue_core::shop::Shop;
use trowelogue_store::{FindingRow, PieceRow, Scope, Snapshot, Store, StoreError};

use super::row::Row;
use crate::format::Voice;
use crate::session::Session;

/// The board of one shop.
pub(crate) struct Board {
    path: PathBuf,
    store: Option<Store>,
    /// Why there is no projection.
    pub trouble: Option<String>,
    rows: BTreeMap<ObjectId, Row>,
    /// Findings about no single piece, that with the newest cause first.
    pub whole: Vec<Finding>,
}

/// Findings about people, days and the record, that with the newest cause first.
fn beside(shop: &Shop) -> Vec<Finding> {
    newest_first(shop, rules::check_whole(shop))
}

fn newest_first(shop: &Shop, mut found: Vec<Finding>) -> Vec<Finding> {
    found.sort_by_cached_key(|it| std::cmp::Reverse(newest_cause(shop, it)));
    found
}

/// When the last work was done that caused a finding, in milliseconds since 1970; none where no step did.
pub(super) fn newest_cause(shop: &Shop, finding: &Finding) -> Option<i64> {
    finding
        .entries
        .iter()
        .filter_map(|hash| shop.step(hash))
        .map(|step| step.done.start.timestamp_millis())
        .max()
}

impl Board {
    /// The board of a session: from its projection where that is current, else worked out anew.
    pub(crate) fn open(session: &Session, now: Moment) -> Self {
        let path = place(session);
        let whole = beside(session.shop());
        if let Ok(Some((store, rows))) = load(&path, session, now) {
            let mut board = Self { path, store: Some(store), trouble: None, rows, whole };
            board.refresh(session, now);
            return board;
        }
        let mut board = Self { path, store: None, trouble: None, rows: BTreeMap::new(), whole };
        board.rebuild(session, now);
        board
    }

    /// Works out everything anew.
    pub(crate) fn rebuild(&mut self, session: &Session, now: Moment) {
        let shop = session.shop();
        self.store = None;
        self.whole = beside(shop);
        self.rows.clear();
        let mut findings = self.work_out(session, shop.pieces.keys().copied(), now);
        findings.extend(self.whole.iter().map(finding_row));
        let pieces = self.piece_rows(self.rows.keys());
        let shown_in = shown_in(&session.voice, now);
        let snapshot = Snapshot { shop, pieces: &pieces, findings: &findings, shown_in: &shown_in };
        let built = make_dir(&self.path).and_then(|()| Store::rebuild(&self.path, &snapshot));
        self.keep(built);
    }

    /// Works out again how these pieces stand, after these entries came.
    pub(crate) fn change(
        &mut self,
        session: &Session,
        entries: &[Hash],
        pieces: &BTreeSet<ObjectId>,
        now: Moment,
    ) {
        let shop = session.shop();
        let (gone, come) = self.renew_beside(shop, entries);
        let mut findings = self.work_out(session, pieces.iter().copied(), now);
        findings.extend(come);
        let rows = self.piece_rows(pieces);
        let shown_in = shown_in(&session.voice, now);
        let snapshot = Snapshot { shop, pieces: &rows, findings: &findings, shown_in: &shown_in };
        let of_pieces = pieces.iter().flat_map(|piece| shop.steps_of(*piece)).map(|step| step.hash);
        let entries = entries.iter().copied().chain(of_pieces).collect();
        let scope = Scope { entries, pieces: pieces.clone(), gone };
        if let Some(mut store) = self.store.take() {
            self.keep(store.apply(&snapshot, &scope).map(|()| store));
        }
    }

    /// Works out again what stands about people, days and the record near these entries. Gives the rows that are gone,
    /// or none where all are, and those that came.
    fn renew_beside(&mut self, shop: &Shop, entries: &[Hash]) -> (Option<Vec<FindingRow>>, Vec<FindingRow>) {
        let Some(near) = rules::check_whole_near(shop, entries) else {
            self.whole = beside(shop);
            return (None, self.whole.iter().map(finding_row).collect());
        };
        let rests_on = |it: &Finding| it.entries.iter().any(|hash| near.work.contains(hash));
        let (gone, stays) = std::mem::take(&mut self.whole).into_iter().partition(|it| rests_on(it));
        let gone: Vec<Finding> = gone;
        let come = near.findings.iter().map(finding_row).collect();
        self.whole = newest_first(shop, [stays, near.findings].concat());
        (Some(gone.iter().map(finding_row).collect()), come)
    }

    /// A projection that could not be written is behind for good, and is built again at the next opening.
    fn keep(&mut self, written: Result<Store, StoreError>) {
        match written {
            Ok(store) => (self.store, self.trouble) = (Some(store), None),
            Err(error) => self.trouble = Some(error.to_string()),
        }
    }

    /// Looks again at the pieces whose rows no longer hold. Gives those that are shown differently now.
    pub(crate) fn refresh(&mut self, session: &Session, now: Moment) -> Vec<ObjectId> {
        let at = now.timestamp_millis();
        let over = |row: &Row| row.until_ms.is_some_and(|until| until <= at);
        let due: Vec<ObjectId> = self.rows.iter().filter(|(_, row)| over(row)).map(|(id, _)| *id).collect();
        let before: Vec<Option<Row>> = due.iter().map(|id| self.rows.get(id).cloned()).collect();
        self.work_out(session, due.iter().copied(), now);
        let differs = |(id, before): &(ObjectId, Option<Row>)| {
            let shown = |row: &Row| (row.state, row.piece.clone());
            before.as_ref().map(shown) != self.rows.get(id).map(shown)
        };
        due.into_iter().zip(before).filter(differs).map(|(id, _)| id).collect()
    }

    /// Works out rows; gives the findings it met.
    fn work_out(
        &mut self,
        session: &Session,
        pieces: impl Iterator<Item = ObjectId>,
        now: Moment,
    ) -> Vec<FindingRow> {
        let shop = session.shop();
        let mut met: Vec<FindingRow> = Vec::new();
        for (id, findings) in rules::check_pieces(shop, pieces) {
            met.extend(findings.iter().map(finding_row));
            match Row::of(&session.voice, shop, id, &findings, now) {
                Some(row) => drop(self.rows.insert(id, row)),
                None => drop(self.rows.remove(&id)),
            }
        }
        met
    }

    fn piece_rows<'a>(&self, pieces: impl IntoIterator<Item = &'a ObjectId>) -> Vec<PieceRow> {
        pieces.into_iter().filter_map(|id| Some(piece_row(*id, self.rows.get(id)?))).collect()
    }

    /// The rows of all pieces, or of those that fit every word of `text`.
    pub(crate) fn rows(&self, session: &Session, text: Option<&str>) -> Vec<&Row> {
        let Some(text) = text.map(str::trim).filter(|text| !text.is_empty()) else {
            return self.rows.values().collect();
        };
        match self.store.as_ref().map(|store| store.search(text)) {
            Some(Ok(found)) => found.iter().filter_map(|id| self.rows.get(id)).collect(),
            _ => self
                .rows
                .iter()
                .filter(|(id, row)| fits(session, **id, row, text))
                .map(|(_, row)| row)
                .collect(),
        }
    }
}

/// The projection of a joined shop lies beside its journal; of a folder that is only looked at, apart from it.
pub(super) fn place(session: &Session) -> PathBuf {
    match &session.link {
        Some(link) => link.dir().join("projection.sqlite"),
        None => session.keep.dir().join("looks").join(format!("{}.sqlite", session.shop().id)),
    }
}

fn make_dir(path: &std::path::Path) -> Result<(), StoreError> {
    let dir = path.parent().unwrap_or(path);
    std::fs::create_dir_all(dir).map_err(|source| StoreError::File { path: dir.to_owned(), source })
}

type Loaded = (Store, BTreeMap<ObjectId, Row>);

/// The projection, if it shows this shop as it is, in this language and these units.
fn load(path: &std::path::Path, session: &Session, now: Moment) -> Result<Option<Loaded>, StoreError> {
    let shop = session.shop();
    let Some(store) = Store::open(path, &shop.id.to_string())? else { return Ok(None) };
    if !store.is_current(shop)? || store.shown_in()?.as_deref() != Some(&shown_in(&session.voice, now)) {
        return Ok(None);
    }
    let rows = store.pieces()?;
    let read = |it: &PieceRow| Some((it.piece, serde_json::from_str(&it.shown).ok()?));
    let read: BTreeMap<ObjectId, Row> = rows.iter().filter_map(read).collect();
    Ok(read.keys().eq(shop.pieces.keys()).then_some((store, read)))
}

/// What rows depend on beside the record: the program, the reader, and the year, which is left out of dates in it.
pub(super) fn shown_in(voice: &Voice, now: Moment) -> String {
    let year = chrono::Datelike::year(&voice.local(&now));
    let version = env!("CARGO_PKG_VERSION");
    format!("{version} {:?} {:?} {:?} {year}", voice.lang, voice.system, voice.zone)
}

fn piece_row(id: ObjectId, row: &Row) -> PieceRow {
    let word = serde_json::to_value(row.state).unwrap_or_default();
    PieceRow {
        piece: id,
        state: word.as_str().unwrap_or_default().to_owned(),
        next_kind: row.piece.next.as_ref().map(|next| next.kind.clone()),
        until_ms: row.until_ms,
        stops: row.piece.stops,
        cautions: row.piece.cautions,
        order_ms: row.order_ms(),
        shown: serde_json::to_string(row).unwrap_or_default(),
    }
}

fn finding_row(finding: &Finding) -> FindingRow {
    FindingRow {
        piece: finding.piece,
        rule: finding.rule.code.to_owned(),
        severity: finding.severity.wire().to_owned(),
        state: finding.state.wire().to_owned(),
        verdict: finding.verdict.wire().to_owned(),
        entries: finding.entries.clone(),
    }
}

/// Whether a piece fits every word, where there is no projection to search: by what its row and its values say.
fn fits(session: &Session, id: ObjectId, row: &Row, text: &str) -> bool {
    let piece = &row.piece;
    let mut said = format!("{} {} {}", piece.code, piece.name, piece.job);
    for body in session.shop().steps_of(id).filter_map(trowelogue_core::shop::Step::body) {
        let values = body.to_map();
        let words = values.values().filter_map(serde_json::Value::as_str);
        words.for_each(|word| said.extend([" ", word]));
    }
    let said = said.to_lowercase();
    text.to_lowercase().split_whitespace().all(|word| said.contains(word))
}
