//! The projection follows the shop: built, changed, damaged, searched.

use std::collections::BTreeSet;

use serde_json::json;
use trowelogue_core::entry::{Clock, Content, Entry, Merged, Record};
use trowelogue_core::fold::fold;
use trowelogue_core::id::{DeviceId, Hash, ObjectId, ShopId};
use trowelogue_core::moment::{self, Span};
use trowelogue_core::shop::Shop;

use super::*;

fn device() -> DeviceId {
    DeviceId::of_key(&[7; 32])
}

fn id(number: u128) -> ObjectId {
    ObjectId(uuid::Uuid::from_u128(number))
}

fn record(seq: u64, kind: &str, object: Option<u128>, pieces: &[u128], body: serde_json::Value) -> Record {
    let done = moment::parse("2025-03-04T10:20:00-06:00").expect("a moment");
    let entry = Entry {
        version: 1,
        device: device(),
        seq,
        clock: Clock { ms: 1_000 + i64::try_from(seq).expect("small"), count: 0 },
        done: Span::at(done),
        wrote: done,
        person: id(1),
        kind: kind.into(),
        object: object.map(id),
        pieces: pieces.iter().copied().map(id).collect(),
        peer: None,
        refs: Vec::new(),
        body_hash: Hash([0; 32]),
        prev: Hash([0; 32]),
        saw: Vec::new(),
    };
    Record { hash: Hash::of(&[&seq.to_be_bytes()]), entry, after: None, body: Content::Open(body) }
}

fn shop(records: Vec<Record>) -> Shop {
    let merged = Merged {
        shop: ShopId::of_founding(&[7; 32], b"n"),
        name: "Shop".into(),
        founder: device(),
        recovery: None,
        devices: vec![(device(), None)],
        records,
    };
    fold(&merged)
}

fn two_pieces() -> Vec<Record> {
    vec![
        record(1, "person", Some(1), &[], json!({ "name": "Ana Robles" })),
        record(2, "job", Some(2), &[], json!({ "code": "J-7", "name": "Cocina norte" })),
        record(3, "piece", Some(10), &[], json!({ "code": "C-014", "name": "Counter", "job": id(2) })),
        record(4, "piece", Some(11), &[], json!({ "code": "C-015", "name": "Basin" })),
        record(
            5,
            "fill",
            None,
            &[10],
            json!({ "material": "cement_fill", "lot": "L-77 ámbar", "method": "spot" }),
        ),
    ]
}

fn row(piece: u128, state: &str) -> PieceRow {
    PieceRow {
        piece: id(piece),
        state: state.into(),
        next_kind: None,
        until_ms: None,
        stops: 0,
        cautions: 0,
        order_ms: None,
        shown: format!("{{\"state\":{state:?}}}"),
    }
}

fn snapshot<'a>(shop: &'a Shop, pieces: &'a [PieceRow], findings: &'a [FindingRow]) -> Snapshot<'a> {
    Snapshot { shop, pieces, findings, shown_in: "en-si" }
}

struct Place(tempfile::TempDir);

impl Place {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a directory"))
    }

    fn path(&self) -> PathBuf {
        self.0.path().join("projection.sqlite")
    }
}

#[test]
fn built_it_is_current_and_opens_again() {
    let place = Place::new();
    let shop = shop(two_pieces());
    let rows = [row(10, "ready"), row(11, "waiting")];
    let store = Store::rebuild(&place.path(), &snapshot(&shop, &rows, &[])).expect("built");
    assert!(store.is_current(&shop).expect("read"));
    assert_eq!(store.pieces().expect("read"), rows);
    drop(store);
    let store = Store::open(&place.path(), &shop.id.to_string()).expect("opened").expect("there");
    assert_eq!(store.entries_of(id(10)).expect("read").len(), 2);
    assert_eq!(store.count("counts").expect("read"), 5);
    assert_eq!(store.shown_in().expect("read").as_deref(), Some("en-si"));
}

#[test]
fn searches_by_code_name_job_lot_person_and_without_accents() {
    let place = Place::new();
    let shop = shop(two_pieces());
    let rows = [row(10, "ready"), row(11, "ready")];
    let store = Store::rebuild(&place.path(), &snapshot(&shop, &rows, &[])).expect("built");
    let found = |text: &str| store.search(text).expect("searched");
    assert_eq!(found("c-014"), [id(10)]);
    assert_eq!(found("bas"), [id(11)]);
    assert_eq!(found("norte cou"), [id(10)]);
    assert_eq!(found("L-77"), [id(10)]);
    assert!(found("77-L").is_empty(), "a code stands as it was written");
    assert_eq!(found("ambar"), [id(10)]);
    assert_eq!(found(&id(11).to_string()), [id(11)]);
    assert_eq!(found("c-0").len(), 2);
    assert!(found("\" OR * -- ").is_empty());
    assert!(found("nothing").is_empty());
}

#[test]
fn a_change_touches_what_it_names_and_moves_the_watermarks() {
    let place = Place::new();
    let mut records = two_pieces();
    let before = shop(records.clone());
    let rows = [row(10, "ready"), row(11, "ready")];
    let old = FindingRow {
        piece: Some(id(10)),
        rule: "grit-step".into(),
        severity: "stop".into(),
        state: "stands".into(),
        verdict: "violated".into(),
        entries: vec![],
    };
    let mut store =
        Store::rebuild(&place.path(), &snapshot(&before, &rows, std::slice::from_ref(&old))).expect("built");
    records.push(record(6, "note", None, &[10], json!({ "text": "chip at the sink" })));
    let after = shop(records);
    assert!(!store.is_current(&after).expect("read"));
    let rows = [row(10, "trouble")];
    let scope = Scope {
        entries: BTreeSet::from([Hash::of(&[&6_u64.to_be_bytes()])]),
        pieces: BTreeSet::from([id(10)]),
        gone: None,
    };
    store.apply(&snapshot(&after, &rows, &[]), &scope).expect("applied");
    assert!(store.is_current(&after).expect("read"));
    assert_eq!(store.search("chip").expect("searched"), [id(10)]);
    let states: Vec<_> = store.pieces().expect("read").into_iter().map(|it| it.state).collect();
    assert_eq!(states, ["ready", "trouble"]);
    let left: i64 =
        store.conn.query_row("SELECT count(*) FROM findings", [], |row| row.get(0)).expect("read");
    assert_eq!(left, 0);
}

#[test]
fn another_version_another_shop_or_damage_means_building_again() {
    let place = Place::new();
    let shop = shop(two_pieces());
    let name = shop.id.to_string();
    let rows = [row(10, "ready")];
    let build = || drop(Store::rebuild(&place.path(), &snapshot(&shop, &rows, &[])).expect("built"));

    build();
    assert!(Store::open(&place.path(), "another").expect("opened").is_none());
    assert!(!place.path().exists());

    build();
    let conn = Connection::open(place.path()).expect("opened");
    conn.pragma_update(None, "user_version", VERSION + 1).expect("set");
    drop(conn);
    assert!(Store::open(&place.path(), &name).expect("opened").is_none());

    build();
    let mut bytes = std::fs::read(place.path()).expect("read");
    let middle = bytes.len() / 2;
    bytes[4096..middle].fill(0xA5);
    std::fs::write(place.path(), bytes).expect("written");
    assert!(Store::open(&place.path(), &name).expect("opened").is_none());

    std::fs::write(place.path(), b"not a database at all, but long enough to look at").expect("written");
    assert!(Store::open(&place.path(), &name).expect("opened").is_none());
    build();
    assert!(Store::open(&place.path(), &name).expect("opened").is_some());
}
