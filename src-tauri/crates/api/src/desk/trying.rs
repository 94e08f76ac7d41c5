//! Trying a step before it is logged: what keeps it from being logged, what its values come to, what the rules
//! would find. Nothing is written.

use std::collections::BTreeSet;

use serde_json::Value;
use trowelogue_core::body::Kind;
use trowelogue_core::entry::{Clock, Content, Entry, FORMAT, Record};
use trowelogue_core::fold::fold;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::rules::{self, Finding};
use trowelogue_core::shop::Shop;
use trowelogue_journal::Draft;

use super::{Desk, draft_to_entry, finding, says, stock};
use crate::Result;
use crate::dto::{self, StepDraft, Tried};
use crate::session::{Session, acceptance};

/// The hash a step bears while it is tried; no line can have it.
const TRIED: Hash = Hash([0xff; 32]);

impl Desk {
    /// What a step would say and raise. Writes nothing.
    ///
    /// # Errors
    /// There is no such kind or piece; no shop is open. A value that cannot be taken is no error here but a
    /// problem of the answer.
    pub fn try_step(&self, step: &StepDraft) -> Result<Tried> {
        self.on_session(|session| {
            let read = draft_to_entry::read(session, step)?;
            let kind = Kind::parse(&step.kind);
            let says = kind.map_or_else(Vec::new, |kind| says::of(session, kind, &read.filled.body));
            let confirm = read.confirm;
            let pictures = stock::drawn(&session.voice, kind, &read.filled.body);
            Ok(match read.drafts {
                Err(problems) => {
                    Tried { problems, says, findings: Vec::new(), late: None, confirm, pictures, ready: false }
                }
                Ok(drafts) => {
                    let with = prospect(session, &drafts);
                    let findings = raised(session, &with, &drafts);
                    let tried = with.step(&TRIED).filter(|step| step.late);
                    let late = tried.map(|step| session.voice.late(&step.done, step.wrote));
                    Tried { problems: Vec::new(), says, findings, late, confirm, pictures, ready: true }
                }
            })
        })
    }
}

/// The findings that stand with these entries and not without them.
fn raised(session: &Session, with: &Shop, drafts: &[Draft]) -> Vec<dto::Finding> {
    let pieces: BTreeSet<ObjectId> = drafts.iter().flat_map(|draft| &draft.pieces).copied().collect();
    let known: BTreeSet<String> = findings(session.shop(), &pieces).iter().map(finding::key).collect();
    let new = findings(with, &pieces).into_iter().filter(|it| !known.contains(&finding::key(it)));
    let mut told: Vec<dto::Finding> = new.map(|it| told(session, it)).collect();
    told.sort_by_key(|it| it.severity);
    told
}

/// What the rules find on these pieces, and on people and days.
fn findings(shop: &Shop, pieces: &BTreeSet<ObjectId>) -> Vec<Finding> {
    let of_pieces = rules::check_pieces(shop, pieces.iter().copied()).flat_map(|(_, found)| found);
    of_pieces.chain(rules::check_whole(shop)).collect()
}

/// A finding on a step that is not written yet: its entry cannot be shown, nor excepted.
fn told(session: &Session, mut found: Finding) -> dto::Finding {
    found.entries.retain(|hash| *hash != TRIED);
    dto::Finding { may_except: false, ..finding::told(session, &found) }
}

/// The shop as if the entries were written now, by a device that counts.
fn prospect(session: &Session, drafts: &[Draft]) -> Shop {
    let mut merged = session.view.merged.clone();
    let device = session.device().unwrap_or(merged.founder);
    if session.device().is_some() && session.standing() == dto::Standing::Apart {
        merged.records.push(acceptance(&merged, device));
    }
    let now = session.now();
    let newest = merged.records.iter().map(|record| record.entry.clock).max();
    let ms = newest.map_or(now.timestamp_millis(), |clock| clock.ms.max(now.timestamp_millis()));
    let last = merged.records.iter().filter(|record| record.entry.device == device);
    let seq = last.map(|record| record.entry.seq).max().unwrap_or(0);
    for (at, draft) in (1_u32..).zip(drafts) {
        let body = Value::Object(draft.body.clone());
        let hash = if at as usize == drafts.len() { TRIED } else { Hash::of(&[b"tried", &at.to_be_bytes()]) };
        let entry = Entry {
            version: FORMAT,
            device,
            seq: seq + u64::from(at),
            clock: Clock { ms: ms + i64::from(at), count: 0 },
            done: draft.done,
            wrote: now,
            person: draft.person,
            kind: draft.kind.clone(),
            object: draft.object,
            pieces: draft.pieces.clone(),
            peer: draft.peer,
            refs: draft.refs.clone(),
            body_hash: Hash([0; 32]),
            prev: Hash([0; 32]),
            saw: Vec::new(),
        };
        merged.records.push(Record { hash, entry, after: None, body: Content::Open(body) });
    }
    fold(&merged)
}
