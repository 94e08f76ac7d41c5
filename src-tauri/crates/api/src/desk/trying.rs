//! Trying a step before it is logged: what keeps it from being logged, what its values come to, what the rules
//! would find. Nothing is written.

use std::collections::{BTreeSet, HashSet};

use serde_json::Value;
use trowelogue_core::body::Kind;
use trowelogue_core::entry::{Clock, Content, Entry, FORMAT, Record};
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::rules::{self, Finding};
use trowelogue_core::shop::Shop;
use trowelogue_journal::Draft;

use super::open::Open;
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
        self.with(|open| {
            let read = draft_to_entry::read(&open.session, step)?;
            let kind = Kind::parse(&step.kind);
            let says = kind.map_or_else(Vec::new, |kind| says::of(&open.session, kind, &read.filled.body));
            let confirm = read.confirm;
            let pictures = stock::drawn(&open.session.voice, kind, &read.filled.body);
            Ok(match read.drafts {
                Err(problems) => Tried {
                    problems,
                    says,
                    findings: Vec::new(),
                    late: None,
                    confirm,
                    pictures,
                    ready: false,
                },
                Ok(drafts) => {
                    let (findings, late) = raised(open, &drafts);
                    Tried { problems: Vec::new(), says, findings, late, confirm, pictures, ready: true }
                }
            })
        })
    }
}

/// The findings that stand with these entries and not without them, and whether the step is written down late.
fn raised(open: &mut Open, drafts: &[Draft]) -> (Vec<dto::Finding>, Option<String>) {
    let pieces: BTreeSet<ObjectId> = drafts.iter().flat_map(|draft| &draft.pieces).copied().collect();
    let without = of_pieces(open.session.shop(), &pieces);
    let records = tried(&open.session, drafts);
    let entries: Vec<Hash> = records.iter().map(|record| record.hash).collect();
    let known: HashSet<Named<'_>> = without.iter().chain(&open.board.whole).map(named).collect();
    let (with, late) = open.session.view.as_if(records, |shop| {
        let mut found = of_pieces(shop, &pieces);
        let near = rules::check_whole_near(shop, &entries).map(|near| near.findings);
        found.extend(near.unwrap_or_else(|| rules::check_whole(shop)));
        let late = shop.step(&TRIED).filter(|step| step.late).map(|step| (step.done, step.wrote));
        (found, late)
    });
    let session = &open.session;
    let new: Vec<Finding> = with.into_iter().filter(|it| !known.contains(&named(it))).collect();
    let mut told: Vec<dto::Finding> = new.into_iter().map(|it| told(session, it)).collect();
    told.sort_by_key(|it| it.severity);
    (told, late.map(|(done, wrote)| session.voice.late(&done, wrote)))
}

/// What tells a finding from others: its rule, its piece, its entries.
type Named<'a> = (&'static str, Option<ObjectId>, &'a [Hash]);

fn named(finding: &Finding) -> Named<'_> {
    (finding.rule.code, finding.piece, &finding.entries)
}

/// What the rules find on these pieces.
fn of_pieces(shop: &Shop, pieces: &BTreeSet<ObjectId>) -> Vec<Finding> {
    rules::check_pieces(shop, pieces.iter().copied()).flat_map(|(_, found)| found).collect()
}

/// A finding on a step that is not written yet: its entry cannot be shown, nor excepted.
fn told(session: &Session, mut found: Finding) -> dto::Finding {
    found.entries.retain(|hash| *hash != TRIED);
    dto::Finding { may_except: false, ..finding::told(session, &found) }
}

/// The entries as if they were written now, by a device that counts.
fn tried(session: &Session, drafts: &[Draft]) -> Vec<Record> {
    let shop = session.shop();
    let device = session.device().unwrap_or(session.view.merged.founder);
    let apart = session.device().is_some() && session.standing() == dto::Standing::Apart;
    let mut records: Vec<Record> =
        apart.then(|| acceptance(&session.view.merged, device)).into_iter().collect();
    let now = session.now();
    let newest = shop.steps.last().map(|step| step.order.clock.ms);
    let ms = newest.map_or(now.timestamp_millis(), |ms| ms.max(now.timestamp_millis()));
    let seq = shop.devices.get(&device).map_or(0, |device| device.last_seq);
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
        records.push(Record { hash, entry, after: None, body: Content::Open(body) });
    }
    records
}
