//! Writing rows: all of them, or those that changed.

use std::collections::BTreeMap;

use rusqlite::{Connection, Transaction, params};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment;
use trowelogue_core::shop::{Reading, Shop, Step, Versions};

use crate::rows::{FindingRow, PieceRow, Scope, Snapshot, Watermark};
use crate::{StoreError, read};

type Done = Result<(), StoreError>;

pub(crate) fn everything(conn: &mut Connection, snapshot: &Snapshot<'_>) -> Done {
    let tx = conn.transaction()?;
    for step in &snapshot.shop.steps {
        entry(&tx, step)?;
    }
    for piece in snapshot.pieces {
        of_piece(&tx, snapshot.shop, piece)?;
    }
    for finding in snapshot.findings {
        of_finding(&tx, finding)?;
    }
    shared(&tx, snapshot)?;
    Ok(tx.commit()?)
}

pub(crate) fn change(conn: &mut Connection, snapshot: &Snapshot<'_>, scope: &Scope) -> Done {
    let tx = conn.transaction()?;
    for step in scope.entries.iter().filter_map(|hash| snapshot.shop.step(hash)) {
        entry(&tx, step)?;
    }
    for piece in snapshot.pieces.iter().filter(|row| scope.pieces.contains(&row.piece)) {
        forget(&tx, piece.piece)?;
        of_piece(&tx, snapshot.shop, piece)?;
    }
    match &scope.gone {
        None => drop(tx.execute("DELETE FROM findings WHERE piece IS NULL", [])?),
        Some(gone) => gone.iter().try_for_each(|row| forget_finding(&tx, row))?,
    }
    let concerned = |row: &&FindingRow| row.piece.is_none_or(|piece| scope.pieces.contains(&piece));
    for finding in snapshot.findings.iter().filter(concerned) {
        of_finding(&tx, finding)?;
    }
    shared(&tx, snapshot)?;
    Ok(tx.commit()?)
}

fn entry(tx: &Transaction<'_>, step: &Step) -> Done {
    let mut insert = tx.prepare_cached(
        "INSERT OR REPLACE INTO entries VALUES (?1,?2,?3,?4,?5,?6,?7,?8,?9,?10,?11,?12,?13,?14,?15,?16,?17)",
    )?;
    insert.execute(params![
        step.hash.to_string(),
        step.device.to_string(),
        signed(step.order.seq),
        step.order.clock.ms,
        step.order.clock.count,
        step.wire,
        moment::write(&step.done.start),
        step.done.start.timestamp_millis(),
        step.done.end.as_ref().map(moment::write),
        moment::write(&step.wrote),
        step.status.wire(),
        step.in_force,
        step.late,
        step.open,
        step.person.to_string(),
        step.object.map(|id| id.to_string()),
        body_text(step)?,
    ])?;
    Ok(())
}

fn body_text(step: &Step) -> Result<Option<String>, StoreError> {
    Ok(match &step.reading {
        Reading::Read(details) => Some(serde_json::to_string(&details.to_stored())?),
        Reading::Newer(value) => Some(serde_json::to_string(value)?),
        Reading::Withheld | Reading::Locked => None,
    })
}

fn forget(tx: &Transaction<'_>, piece: ObjectId) -> Done {
    let id = piece.to_string();
    tx.prepare_cached("DELETE FROM entry_pieces WHERE piece = ?1")?.execute([&id])?;
    tx.prepare_cached("DELETE FROM pieces WHERE id = ?1")?.execute([&id])?;
    tx.prepare_cached("DELETE FROM findings WHERE piece = ?1")?.execute([&id])?;
    tx.prepare_cached("DELETE FROM search WHERE piece = ?1")?.execute([&id])?;
    Ok(())
}

fn of_piece(tx: &Transaction<'_>, shop: &Shop, row: &PieceRow) -> Done {
    let Some(facts) = shop.pieces.get(&row.piece).map(Versions::now) else { return Ok(()) };
    let id = row.piece.to_string();
    tx.prepare_cached("INSERT INTO pieces VALUES (?1,?2,?3,?4,?5,?6,?7,?8,?9,?10,?11)")?.execute(params![
        id,
        facts.code,
        facts.name,
        facts.job.map(|job| job.to_string()),
        row.state,
        row.next_kind,
        row.until_ms,
        row.stops,
        row.cautions,
        row.order_ms,
        row.shown,
    ])?;
    let mut link = tx.prepare_cached("INSERT INTO entry_pieces VALUES (?1,?2,?3)")?;
    for (place, step) in shop.steps_of(row.piece).enumerate() {
        link.execute(params![id, signed(place as u64), step.hash.to_string()])?;
    }
    let job = facts.job.and_then(|job| shop.jobs.get(&job)).map(Versions::now);
    let client = job.and_then(|job| shop.clients.get(&job.client?)).map(|it| it.now().name.as_str());
    let job = job.map(|job| format!("{} {} {}", job.code, job.name, client.unwrap_or_default()));
    tx.prepare_cached("INSERT INTO search VALUES (?1,?2,?3,?4,?5)")?.execute(params![
        id,
        format!("{} {id}", facts.code),
        facts.name,
        job.unwrap_or_default(),
        said(shop, row.piece),
    ])?;
    Ok(())
}

/// Every text that was written about a piece: notes, lots, products and whatever else is in words.
fn said(shop: &Shop, piece: ObjectId) -> String {
    let mut words = Vec::new();
    for step in shop.steps_of(piece) {
        if let Reading::Read(details) = &step.reading {
            for value in details.to_stored().values() {
                texts(shop, value, &mut words);
            }
        }
        words.push(shop.person_name(step.person));
    }
    words.sort_unstable();
    words.dedup();
    words.join("\n")
}

fn texts(shop: &Shop, value: &serde_json::Value, words: &mut Vec<String>) {
    match value {
        serde_json::Value::String(text) => {
            let product = text.parse().ok().and_then(|id: ObjectId| shop.products.get(&id));
            words.push(product.map_or_else(|| text.clone(), |it| it.now().name.clone()));
        }
        serde_json::Value::Array(items) => items.iter().for_each(|item| texts(shop, item, words)),
        serde_json::Value::Object(map) => map.values().for_each(|item| texts(shop, item, words)),
        _ => {}
    }
}

fn of_finding(tx: &Transaction<'_>, row: &FindingRow) -> Done {
    tx.prepare_cached("INSERT INTO findings VALUES (?1,?2,?3,?4,?5,?6)")?.execute(params![
        row.piece.map(|id| id.to_string()),
        row.rule,
        row.severity,
        row.state,
        row.verdict,
        named(&row.entries),
    ])?;
    Ok(())
}

fn forget_finding(tx: &Transaction<'_>, row: &FindingRow) -> Done {
    let mut delete =
        tx.prepare_cached("DELETE FROM findings WHERE piece IS NULL AND rule = ?1 AND entries = ?2")?;
    delete.execute(params![row.rule, named(&row.entries)])?;
    Ok(())
}

/// Entries as a finding's row has them.
fn named(entries: &[Hash]) -> String {
    entries.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

/// Small tables that are written whole, and the watermarks.
fn shared(tx: &Transaction<'_>, snapshot: &Snapshot<'_>) -> Done {
    let shop = snapshot.shop;
    tx.execute_batch("DELETE FROM jobs; DELETE FROM people; DELETE FROM watermarks; DELETE FROM meta;")?;
    for (id, job) in &shop.jobs {
        let job = job.now();
        let by = job.handover_by.map(|day| day.to_string());
        let client = job.client.map(|id| id.to_string());
        tx.prepare_cached("INSERT INTO jobs VALUES (?1,?2,?3,?4,?5)")?.execute(params![
            id.to_string(),
            job.code,
            job.name,
            client,
            by
        ])?;
    }
    for (id, person) in &shop.people {
        let person = person.now();
        tx.prepare_cached("INSERT INTO people VALUES (?1,?2,?3)")?.execute(params![
            id.to_string(),
            person.name,
            person.trade
        ])?;
    }
    for mark in watermarks(shop) {
        tx.prepare_cached("INSERT INTO watermarks VALUES (?1,?2,?3,?4)")?.execute(params![
            mark.device.to_string(),
            signed(mark.seq),
            mark.hash.to_string(),
            signed(mark.count)
        ])?;
    }
    for (name, value) in [(read::SHOP, shop.id.to_string()), (read::SHOWN_IN, snapshot.shown_in.to_owned())] {
        tx.execute("INSERT INTO meta VALUES (?1,?2)", params![name, value])?;
    }
    Ok(())
}

/// How far each device's log is in this shop.
pub(crate) fn watermarks(shop: &Shop) -> Vec<Watermark> {
    let mut marks: BTreeMap<DeviceId, (u64, Hash, u64)> = BTreeMap::new();
    for step in &shop.steps {
        let mark = marks.entry(step.device).or_insert((0, step.hash, 0));
        mark.2 += 1;
        if step.order.seq >= mark.0 {
            (mark.0, mark.1) = (step.order.seq, step.hash);
        }
    }
    marks.into_iter().map(|(device, (seq, hash, count))| Watermark { device, seq, hash, count }).collect()
}

/// SQLite integers are signed; numbers of entries never come near the limit.
pub(crate) fn signed(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}
