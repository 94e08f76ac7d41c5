//! The folded state of a shop: who, what, and every entry with its status.

use std::collections::{BTreeMap, BTreeSet};

use crate::body::authority::Role;
use crate::body::setup::{Client, Job, Mix, Person, Piece, Product, RouteEntry, Settings, Tool};
use crate::body::{Body, Common, Details, Kind};
use crate::id::{DeviceId, Hash, ObjectId, ShopId};
use crate::moment::{Moment, Span};
use crate::sums::fit::Break;
use crate::text::{Text, text};

/// What an entry is worth in the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// It counts.
    Counts,
    /// Taken out by a strike.
    Struck,
    /// Replaced by a correction.
    Replaced,
    /// Of a device that was not accepted, or written past its retirement, or without the right to.
    Apart,
    /// An entry it refers to has not arrived.
    Waiting,
}

impl Status {
    /// The word that stands in machine output and in the digest.
    pub const fn wire(self) -> &'static str {
        match self {
            Self::Counts => "counts",
            Self::Struck => "struck",
            Self::Replaced => "replaced",
            Self::Apart => "apart",
            Self::Waiting => "waiting",
        }
    }
}

/// What could be read of an entry's body.
#[derive(Debug, Clone, PartialEq)]
pub enum Reading {
    /// Read.
    Read(Details),
    /// Written by a newer version: kind or fields are not known here. Carried along as it is.
    Newer(serde_json::Value),
    /// Withheld: erased, or left out of a paper.
    Withheld,
    /// Encrypted, and there is no passphrase here.
    Locked,
}

/// One entry as the fold sees it. A correction stands here as the version it makes of the entry it corrects.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Hash of the line.
    pub hash: Hash,
    /// Place in the common order.
    pub order: crate::entry::OrderKey,
    /// Name of the kind; for a correction, that of the entry corrected.
    pub wire: String,
    /// The kind, if this version knows it.
    pub kind: Option<Kind>,
    /// When the work was done.
    pub done: Span,
    /// When it was written down.
    pub wrote: Moment,
    /// Who did it.
    pub person: ObjectId,
    /// The device that wrote it.
    pub device: DeviceId,
    /// What it is worth.
    pub status: Status,
    /// Written down later than the shop's limit after the work.
    pub late: bool,
    /// It is one of several current versions; a person has to settle which.
    pub open: bool,
    /// Counted by the rules: it counts, and it is the version in force.
    pub in_force: bool,
    /// The first version, where this is a correction.
    pub corrects: Option<Hash>,
    /// Why it was corrected, where this is a correction.
    pub why_corrected: Option<String>,
    /// The strike that took it out.
    pub struck_by: Option<Hash>,
    /// The object it creates or is about.
    pub object: Option<ObjectId>,
    /// The pieces it is about.
    pub pieces: Vec<ObjectId>,
    /// The device it is about.
    pub peer: Option<DeviceId>,
    /// Entries it refers to.
    pub refs: Vec<Hash>,
    /// What could be read of it.
    pub reading: Reading,
}

impl Step {
    /// The kind's own fields, where they could be read.
    pub fn body(&self) -> Option<&Body> {
        match &self.reading {
            Reading::Read(details) => Some(&details.body),
            _ => None,
        }
    }

    /// The common fields, where they could be read.
    pub fn common(&self) -> Option<&Common> {
        match &self.reading {
            Reading::Read(details) => Some(&details.common),
            _ => None,
        }
    }
}

/// Whether a device's entries count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DeviceStatus {
    /// Its entries count.
    Accepted,
    /// Not accepted: its entries stand apart.
    Apart,
    /// Retired: entries up to the named head count.
    Retired,
}

impl DeviceStatus {
    /// The word that stands in machine output and in the digest.
    pub const fn wire(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::Apart => "apart",
            Self::Retired => "retired",
        }
    }

    /// The words for it.
    pub const fn label(self) -> Text {
        match self {
            Self::Accepted => text("accepted", "aceptado"),
            Self::Apart => {
                text("not accepted yet: its entries stand apart", "sin aceptar: sus entradas quedan aparte")
            }
            Self::Retired => text("retired", "retirado"),
        }
    }
}

/// A device of the shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Device {
    /// Its id.
    pub id: DeviceId,
    /// The name it gave itself.
    pub name: Option<String>,
    /// Whether its entries count.
    pub status: DeviceStatus,
    /// What it may do, once accepted.
    pub role: Role,
    /// The device it replaces.
    pub replaces: Option<DeviceId>,
    /// Highest sequence number seen.
    pub last_seq: u64,
    /// Its newest entry's time of writing.
    pub last_wrote: Option<Moment>,
    /// The person of its newest entry.
    pub person: Option<ObjectId>,
}

/// Two or more entries with one device and number: the device's key was at work in two places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fork {
    /// The device.
    pub device: DeviceId,
    /// The number they share.
    pub seq: u64,
    /// The entries, in hash order.
    pub hashes: Vec<Hash>,
    /// An owner has settled it.
    pub settled: bool,
}

/// An object with every version of it that counts, oldest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Versions<T>(Vec<(Moment, T)>);

impl<T> Versions<T> {
    pub(crate) fn first(done: Moment, value: T) -> Self {
        Self(vec![(done, value)])
    }

    pub(crate) fn push(&mut self, done: Moment, value: T) {
        self.0.push((done, value));
    }

    /// Takes the newest version away; false, and nothing is taken, where it is the only one.
    pub(crate) fn pop(&mut self) -> bool {
        let several = self.0.len() > 1;
        if several {
            self.0.pop();
        }
        several
    }

    /// The newest version.
    pub fn now(&self) -> &T {
        // A `Versions` is only ever made with one element and only grows.
        &self.0[self.0.len() - 1].1
    }

    /// The version in force at a moment: the newest written for then or before, else the oldest there is.
    pub fn at(&self, moment: Moment) -> &T {
        let found = self.0.iter().rev().find(|(done, _)| *done <= moment);
        &found.unwrap_or(&self.0[0]).1
    }
}

/// A pour and what was cast in it.
#[derive(Debug, Clone, PartialEq)]
pub struct PourFacts {
    /// The code people use.
    pub code: Option<String>,
    /// The mix.
    pub mix: ObjectId,
    /// When it was placed.
    pub done: Span,
    /// The pieces cast.
    pub pieces: Vec<ObjectId>,
    /// The entry.
    pub hash: Hash,
}

/// Breaks of a mix's specimens without the entries they were recorded in.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LentBreaks {
    /// At their equivalent ages, where the temperatures of the pour are known.
    pub by_maturity: Vec<Break>,
    /// At their ages by the calendar.
    pub by_age: Vec<Break>,
}

/// Objects of one type by id.
pub type Table<T> = BTreeMap<ObjectId, Versions<T>>;

/// A shop, folded.
#[derive(Debug, Clone, PartialEq)]
pub struct Shop {
    /// Its id.
    pub id: ShopId,
    /// Its name.
    pub name: String,
    /// Settings in force, every field as last given; `None` where the shipped default stands.
    pub settings: Settings,
    /// Devices by id.
    pub devices: BTreeMap<DeviceId, Device>,
    /// People.
    pub people: Table<Person>,
    /// Clients.
    pub clients: Table<Client>,
    /// Jobs.
    pub jobs: Table<Job>,
    /// Pieces.
    pub pieces: Table<Piece>,
    /// Mixes.
    pub mixes: Table<Mix>,
    /// Products.
    pub products: Table<Product>,
    /// Tools.
    pub tools: Table<Tool>,
    /// Routes the shop copied or edited.
    pub routes: Table<RouteEntry>,
    /// Pours.
    pub pours: BTreeMap<ObjectId, PourFacts>,
    /// Every entry, in the common order.
    pub steps: Vec<Step>,
    /// Forks, settled ones too.
    pub forks: Vec<Fork>,
    /// Entries whose bodies were erased on request.
    pub erased: BTreeSet<Hash>,
    /// The entry that sets the passphrase in force.
    pub passphrase: Option<Hash>,
    /// The photos whose files are in the folder; none where nobody looked. No part of the recorded state.
    pub photos_here: Option<BTreeSet<Hash>>,
    /// Breaks of pours that are not among the entries, by their mix: a paper lends them as numbers. None in a
    /// folder. No part of the recorded state.
    pub lent: BTreeMap<ObjectId, LentBreaks>,
    pub(crate) by_hash: BTreeMap<Hash, usize>,
    pub(crate) by_piece: BTreeMap<ObjectId, Vec<usize>>,
    pub(crate) by_kind: BTreeMap<Kind, Vec<usize>>,
}

impl Shop {
    /// The entry with this hash.
    pub fn step(&self, hash: &Hash) -> Option<&Step> {
        self.by_hash.get(hash).map(|at| &self.steps[*at])
    }

    /// Every entry about a piece or the pour it came from, whatever its status, in order of work.
    pub fn steps_of(&self, piece: ObjectId) -> impl Iterator<Item = &Step> {
        self.by_piece.get(&piece).into_iter().flatten().map(|at| &self.steps[*at])
    }

    /// A piece's history: the entries in force, in order of work. This is what the rules see.
    pub fn history(&self, piece: ObjectId) -> Vec<&Step> {
        self.steps_of(piece).filter(|step| step.in_force).collect()
    }

    /// The entries in force of one kind, in order of work.
    pub fn of_kind(&self, kind: Kind) -> impl DoubleEndedIterator<Item = &Step> {
        self.by_kind.get(&kind).into_iter().flatten().map(|at| &self.steps[*at])
    }

    /// The entries in force of one kind whose work began from one moment to another, both counted.
    pub fn of_kind_between(
        &self,
        kind: Kind,
        from: Moment,
        to: Moment,
    ) -> impl DoubleEndedIterator<Item = &Step> {
        let places = self.by_kind.get(&kind).map_or(&[][..], Vec::as_slice);
        let first = places.partition_point(|at| self.steps[*at].done.start < from);
        let end = places.partition_point(|at| self.steps[*at].done.start <= to);
        places[first..end.max(first)].iter().map(|at| &self.steps[*at])
    }

    /// A person's name, or the id where the person is not known.
    pub fn person_name(&self, person: ObjectId) -> String {
        self.people.get(&person).map_or_else(|| person.to_string(), |it| it.now().name.clone())
    }

    /// The pours a piece was cast in, in order of their ids.
    pub(crate) fn pours_of(&self, piece: ObjectId) -> BTreeSet<ObjectId> {
        let cast_in = |id: &ObjectId| self.pours.get(id).is_some_and(|pour| pour.pieces.contains(&piece));
        self.steps_of(piece).filter_map(|step| step.object).filter(cast_in).collect()
    }

    /// The pour a piece was cast in, the newest if there were several.
    pub fn pour_of(&self, piece: ObjectId) -> Option<(ObjectId, &PourFacts)> {
        let cast = self.pours_of(piece).into_iter().filter_map(|id| Some((id, self.pours.get(&id)?)));
        cast.max_by_key(|(_, pour)| pour.done.start)
    }

    /// The mix of a piece: as poured, else as planned.
    pub fn mix_of(&self, piece: ObjectId) -> Option<&Mix> {
        let poured = self.pour_of(piece).map(|(_, pour)| pour.mix);
        let planned = || self.pieces.get(&piece).and_then(|it| it.now().mix);
        self.mixes.get(&poured.or_else(planned)?).map(Versions::now)
    }
}
