//! What the window writes: steps, corrections, strikes, exceptions, decisions about devices.
//!
//! Every call returns only when the entry is on the medium of this device. Whether it is in the folder too is
//! said; where it is not, the next sweep that reaches the folder brings it there.

use serde_json::{Map, Value, json};
use trowelogue_core::body::Kind;
use trowelogue_journal::Draft;

use super::open::Open;
use super::{Desk, draft_to_entry};
use crate::Result;
use crate::add::Reader;
use crate::dto::{Logged, StepDraft};

impl Desk {
    /// Logs a step, and forgets its draft.
    ///
    /// # Errors
    /// A value that cannot be taken, with the name of its field; this home has not joined the shop; it cannot be
    /// written here.
    pub fn log(&self, step: &StepDraft) -> Result<Logged> {
        let made = |open: &Open, step: &StepDraft| draft_to_entry::entries_of(&open.session, step);
        let logged = self.write_with_photos(step, made)?;
        // The step is on disk; a draft that cannot be removed is no reason to say otherwise.
        drop(self.drop_draft(&step.kind, &step.pieces));
        Ok(logged)
    }

    /// Writes the correction of an entry: the form as it should have been filled in, and why.
    ///
    /// # Errors
    /// As [`Desk::log`]; there is no such entry, or it is struck or corrected already.
    pub fn correct(&self, hash: &str, step: &StepDraft, why: &str) -> Result<Logged> {
        self.write_with_photos(step, |open, step| {
            open.entry(hash)?;
            Ok(vec![draft_to_entry::correction_of(&open.session, hash, step, why)?])
        })
    }

    /// Strikes an entry: it stays readable and counts no more.
    ///
    /// # Errors
    /// There is no such entry, or it is struck or corrected already; this home has not joined the shop.
    pub fn strike(&self, hash: &str, why: &str) -> Result<Logged> {
        self.write(|open| {
            open.entry(hash)?;
            one(open, Kind::Strike, [("refs", json!([hash])), ("body", json!({ "why": why }))])
        })
    }

    /// The home's person answers for what a rule found on a piece.
    ///
    /// # Errors
    /// There is no such piece, rule or entry; this home has not joined the shop.
    pub fn except(&self, piece: &str, rule: &str, entry: Option<&str>, why: &str) -> Result<Logged> {
        self.write(|open| {
            entry.map(|hash| open.entry(hash)).transpose()?;
            let refs: Vec<&str> = entry.into_iter().collect();
            let by = open.session.me()?.name;
            let body = json!({ "rule": rule, "accepted_by": by, "why": why });
            let parts = [("pieces", json!([piece])), ("refs", json!(refs)), ("body", body)];
            one(open, Kind::Exception, parts)
        })
    }

    /// Accepts a device: its entries count from then on, the earlier ones too.
    ///
    /// # Errors
    /// This device is no owner; there is no such device; it is accepted already.
    pub fn accept(&self, device: &str) -> Result<Logged> {
        self.change(|open| open.decide(|session| session.accept(device, None)))
    }

    /// Retires a device: entries after its newest one seen here never count.
    ///
    /// # Errors
    /// This device is no owner; there is no such device; it is retired already.
    pub fn retire(&self, device: &str) -> Result<Logged> {
        self.change(|open| open.decide(|session| session.retire(device, None)))
    }

    /// Gives an accepted device another role: `owner` or `crew`.
    ///
    /// # Errors
    /// This device is no owner; there is no such device or role, or the device is not accepted.
    pub fn give_role(&self, device: &str, role: &str) -> Result<Logged> {
        self.change(|open| open.decide(|session| session.give_role(device, role)))
    }

    /// Settles a fork: of the entries that share a number, this one counts.
    ///
    /// # Errors
    /// This device is no owner; the entry is none of an open fork; no reason is given.
    pub fn settle(&self, entry: &str, why: &str) -> Result<Logged> {
        self.change(|open| open.decide(|session| session.settle(entry, why)))
    }

    /// Writes what `made` gives, and tells the watcher.
    pub(super) fn write(&self, made: impl FnOnce(&Open) -> Result<Vec<Draft>>) -> Result<Logged> {
        self.change(|open| {
            open.session.joined()?;
            let drafts = made(open)?;
            open.write(drafts)
        })
    }
}

/// One entry from its parts, read as the command line reads it.
fn one<const N: usize>(open: &Open, kind: Kind, parts: [(&str, Value); N]) -> Result<Vec<Draft>> {
    let kind = [("kind", json!(kind.wire()))];
    let map: Map<String, Value> =
        kind.into_iter().chain(parts).map(|(name, value)| (name.to_owned(), value)).collect();
    Ok(vec![Reader::new(&open.session).draft(map)?])
}
