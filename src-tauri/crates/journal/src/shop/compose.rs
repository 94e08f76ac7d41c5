//! From drafts to signed lines.

use chrono::Datelike;
use serde_json::Value;
use trowelogue_core::entry::{Clock, Content, Entry, FORMAT};
use trowelogue_core::id::{DeviceId, Hash};
use trowelogue_core::moment::Moment;

use super::own::{Own, Plan};
use super::{Draft, Shop};
use crate::clock;
use crate::error::Error;
use crate::keys::LINE_CONTEXT;
use crate::line::{MAX_LINE, NO_BODY, Raw};
use crate::segment::{Body, Line};
use crate::veil;
use crate::wire::{self, Header, Seal, Signed};

/// The most bytes one batch may have.
const MAX_BATCH: usize = 4 << 20;
/// The most heads of other devices that one entry names; the rest go into the next.
const MAX_SAW: usize = 32;

/// A batch ready to be written, and its lines as a reader will see them.
pub(super) struct Batch {
    pub(super) plan: Plan,
    pub(super) lines: Vec<Line>,
}

impl Shop {
    /// Makes the lines of a batch that follows the end of the own log.
    pub(super) fn compose(&self, drafts: Vec<Draft>, now: Moment) -> Result<Batch, Error> {
        let mut batch = Batch {
            plan: Plan { seal: None, header: None, lines: String::new(), end: self.own.end.clone() },
            lines: Vec::new(),
        };
        if batch.plan.end.is_due_for_rotation() {
            self.rotate(&mut batch, now);
        }
        let mut clock = self.clock_before(now);
        let mut news = self.scanner.index.unsaid(MAX_SAW * drafts.len().min(MAX_SAW));
        for (at, draft) in drafts.into_iter().enumerate() {
            clock = clock::tick(clock, now.timestamp_millis());
            let saw = news.split_off(news.len().saturating_sub(MAX_SAW));
            let body = self.body(&draft, at + 1)?;
            let entry = self.entry(draft, &batch.plan.end, (clock, now), &body, saw);
            self.add(&mut batch, entry, &body, at + 1)?;
        }
        let bytes = batch.plan.lines.len();
        if bytes > MAX_BATCH {
            return Err(Error::BatchTooLong { bytes, room: MAX_BATCH });
        }
        Ok(batch)
    }

    /// The reading the next entry goes on from. The own clock never runs back; another's is followed unless it
    /// is more than a day ahead of the wall.
    fn clock_before(&self, now: Moment) -> Clock {
        let index = &self.scanner.index;
        let followed = index.latest_clock(now.timestamp_millis());
        index.own_clock().max(followed).unwrap_or(Clock { ms: 0, count: 0 })
    }

    fn rotate(&self, batch: &mut Batch, now: Moment) {
        let end = &mut batch.plan.end;
        if end.segment > 0 && !end.sealed && !end.tainted {
            let seal = Signed::Seal(Seal {
                version: FORMAT,
                device: self.device(),
                segment: end.segment,
                count: end.entries,
                last: end.last_seq,
                wrote: now,
                prev: end.head.unwrap_or_else(|| self.file.hash()),
            });
            let line = self.line(seal, NO_BODY, Body::None);
            end.head = Some(line.1.hash);
            batch.plan.seal = Some((line.0, line.1.hash));
            batch.lines.push(line.1);
        }
        let header = Signed::Header(Box::new(Header {
            version: FORMAT,
            device: self.device(),
            segment: end.segment + 1,
            key: self.identity.key.public(),
            first: end.last_seq + 1,
            replaces: self.identity.replaces,
            wrote: now,
            prev: end.head.unwrap_or_else(|| self.file.hash()),
        }));
        let (text, line) = self.line(header, NO_BODY, Body::None);
        let segment = end.segment + 1;
        let (last_seq, head) = (end.last_seq, Some(line.hash));
        *end = Own { segment, size: text.len() as u64, last_seq, head, ..Own::default() };
        batch.plan.header = Some(text);
        batch.lines.push(line);
    }

    fn body(&self, draft: &Draft, number: usize) -> Result<String, Error> {
        check(draft, number)?;
        wire::write_body(&draft.body, &self.home.random()?)
            .ok_or_else(|| Error::BadInput(format!("entry {number}: a body may not have a key named salt")))
    }

    fn entry(
        &self,
        draft: Draft,
        end: &Own,
        (clock, now): (Clock, Moment),
        body: &str,
        saw: Vec<(DeviceId, u64, Hash)>,
    ) -> Entry {
        Entry {
            version: FORMAT,
            device: self.device(),
            seq: end.last_seq + 1,
            clock,
            done: draft.done,
            wrote: now,
            person: draft.person,
            kind: draft.kind,
            object: draft.object,
            pieces: draft.pieces,
            peer: draft.peer,
            refs: draft.refs,
            body_hash: Hash::of(&[body.as_bytes()]),
            prev: end.head.unwrap_or_else(|| self.file.hash()),
            saw,
        }
    }

    fn add(&self, batch: &mut Batch, mut entry: Entry, body: &str, number: usize) -> Result<(), Error> {
        // What readers will see, not what was handed in: figures pass through their written form.
        let content = match wire::parse_body(body) {
            Ok(content @ Content::Open(Value::Object(_))) => content,
            _ => return Err(Error::BadInput(format!("entry {number}: the body is nested too deeply"))),
        };
        let (mut text, mut line) =
            self.line(Signed::Entry(Box::new(entry.clone())), body, Body::Read(content.clone()));
        // Encrypted, the line must fit too: a passphrase may be set at any time.
        let room = |text: &str| text.len() - body.len() + veil::sealed_len(body.len());
        if room(&text) > MAX_LINE && !entry.saw.is_empty() {
            entry.saw.clear();
            (text, line) = self.line(Signed::Entry(Box::new(entry)), body, Body::Read(content));
        }
        if room(&text) > MAX_LINE {
            return Err(Error::TooLong { number, bytes: room(&text), room: MAX_LINE });
        }
        let end = &mut batch.plan.end;
        end.last_seq += 1;
        end.entries += 1;
        end.size += text.len() as u64;
        end.head = Some(line.hash);
        batch.plan.lines.push_str(&text);
        batch.lines.push(line);
        Ok(())
    }

    /// Signs an object and frames its line.
    fn line(&self, signed: Signed, body: &str, read: Body) -> (String, Line) {
        let entry = match &signed {
            Signed::Header(header) => wire::write_header(header),
            Signed::Entry(entry) => wire::write_entry(entry),
            Signed::Seal(seal) => wire::write_seal(seal),
        };
        let signature = self.identity.key.sign(LINE_CONTEXT, entry.as_bytes());
        let raw = Raw { entry: &entry, body, signature: &signature };
        let line = Line { number: 0, range: 0..0, hash: raw.hash(), signed, body: read };
        (raw.compose(), line)
    }
}

fn check(draft: &Draft, number: usize) -> Result<(), Error> {
    let years = 1970..=2200;
    let in_range = |moment: &Moment| years.contains(&moment.year());
    if draft.kind.is_empty() {
        return Err(Error::BadInput(format!("entry {number} has no kind")));
    }
    if !in_range(&draft.done.start) || !draft.done.end.as_ref().is_none_or(in_range) {
        return Err(Error::BadInput(format!("entry {number}: done lies outside the years 1970 to 2200")));
    }
    Ok(())
}
