//! The entry lines a paper carries: exactly as they stand in the logs.
//!
//! They are those the record follows from: the piece's own, what those name, who may write, and the shop's settings.
//! What must not be carried (other clients' pieces, cost, internal notes) never is; where the record needs something
//! of it, that stands in [`super::making`].

use std::collections::BTreeSet;

use trowelogue_core::body::{Body, Kind};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::moment::add_hours;
use trowelogue_core::shop::{Shop, Step, Versions};
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_journal::{self as journal, ShopFile, excerpt::withhold};
use trowelogue_papers::model::{Attachment, Relation};

use super::may_stand;
use crate::session::Session;
use crate::{Result, faults};

/// Name of the lines among the files a record carries.
pub(super) const NAME: &str = "entries.jsonl";
/// Name of the shop's own file there.
pub(super) const SHOP: &str = "shop.json";

const ABOUT_LINES: Text = text(
    "The entry lines this record was made from, exactly as they stand in the shop's logs.",
    "Las líneas de entrada de las que se hizo este registro, tal como están en los registros del taller.",
);
const ABOUT_SHOP: Text = text(
    "The shop's own file, signed when it was founded.",
    "El archivo del propio taller, firmado al fundarse.",
);

/// Lines for a record, and the file of the shop they belong to.
pub(super) struct Lines {
    /// The lines.
    pub lines: String,
    /// `shop.json`.
    pub shop: ShopFile,
}

/// The entries a record of a piece carries.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Choice {
    /// Those it follows from.
    pub wanted: BTreeSet<Hash>,
    /// Those only named by them, whose bodies stay out.
    pub bare: BTreeSet<Hash>,
    /// Pours of the same mix whose entries stay out, for pieces of others were cast in them.
    pub lent: BTreeSet<ObjectId>,
}

impl Session {
    /// The lines a record of the piece is made from: a header of each device, then the entries in the common
    /// order. Of an entry with a price in it the body is withheld; its signature stays good.
    pub(super) fn lines_of(&mut self, piece: ObjectId) -> Result<(Lines, Choice)> {
        let choice = choose(self.shop(), piece);
        let all = &choice.wanted | &choice.bare;
        let fault = |error| faults::journal(&error, self.voice.lang);
        let (excerpt, shop) = match &mut self.link {
            Some(link) => (link.excerpt(&all), Ok(link.file().clone())),
            None => (journal::excerpt_of_folder(&self.folder, &all), journal::shop_file(&self.folder)),
        };
        let (excerpt, shop) = (excerpt.map_err(fault)?, shop.map_err(fault)?);
        let mut lines = String::new();
        for header in excerpt.headers.values() {
            push_line(&mut lines, header);
        }
        for step in self.shop().steps.iter().filter(|step| all.contains(&step.hash)) {
            let Some(line) = excerpt.lines.get(&step.hash) else { continue };
            let without = has_price(step) || choice.bare.contains(&step.hash);
            match without.then(|| withhold(line)).flatten() {
                Some(bare) => push_line(&mut lines, &bare),
                None => push_line(&mut lines, line),
            }
        }
        Ok((Lines { lines, shop }, choice))
    }
}

fn push_line(text: &mut String, line: &str) {
    text.push_str(line.trim_end_matches('\n'));
    text.push('\n');
}

/// Whether an entry says what a change costs.
pub(super) fn has_price(step: &Step) -> bool {
    matches!(step.body(), Some(Body::ChangeAgreed(change)) if change.price.is_some())
}

impl Lines {
    /// Lines and shop as attachments.
    pub(super) fn attachments(self, lang: Lang) -> Vec<Attachment> {
        let one = |name: &str, mime: &str, about: Text, bytes: String| Attachment {
            name: name.into(),
            mime: mime.into(),
            description: about.get(lang).into(),
            relation: Relation::Source,
            bytes: bytes.into_bytes(),
        };
        vec![
            one(NAME, "application/jsonl", ABOUT_LINES, self.lines),
            one(SHOP, "application/json", ABOUT_SHOP, self.shop.text),
        ]
    }
}

/// Chooses what a record of a piece carries.
pub(super) fn choose(shop: &Shop, piece: ObjectId) -> Choice {
    let own: Vec<&Step> = shop.steps_of(piece).filter(|step| may_stand(step)).collect();
    let circle = Circle::of(shop, piece);
    let mut wanted: BTreeSet<Hash> = own.iter().map(|step| step.hash).collect();
    wanted.extend(circle.confirmed(&own));
    let lent = circle.breaks(&mut wanted);
    let kept = |step: &&Step| circle.always(step);
    wanted.extend(shop.steps.iter().filter(kept).map(|step| step.hash));
    while circle.grow(&mut wanted) {}
    let named = wanted
        .iter()
        .filter_map(|hash| shop.step(hash))
        .flat_map(|step| step.refs.iter().chain(&step.corrects));
    let bare = named.filter(|hash| !wanted.contains(hash) && shop.step(hash).is_some()).copied().collect();
    Choice { wanted, bare, lent }
}

/// Whose entries may be carried beside a piece's own.
struct Circle<'a> {
    shop: &'a Shop,
    piece: ObjectId,
    /// The piece and the other pieces of its client, or of its job where no client is named.
    pieces: BTreeSet<ObjectId>,
}

impl<'a> Circle<'a> {
    fn of(shop: &'a Shop, piece: ObjectId) -> Self {
        let job_of = |id: ObjectId| shop.pieces.get(&id).and_then(|it| it.now().job);
        let client_of = |job: ObjectId| shop.jobs.get(&job).and_then(|it| it.now().client);
        let job = job_of(piece);
        let client = job.and_then(client_of);
        let alike = |id: &ObjectId| {
            let other = job_of(*id);
            (job.is_some() && other == job) || (client.is_some() && other.and_then(client_of) == client)
        };
        let pieces = shop.pieces.keys().copied().filter(alike).chain([piece]).collect();
        Self { shop, piece, pieces }
    }

    /// Whether an entry is about no piece of anybody else, holds no cost and nothing internal.
    fn may_go(&self, step: &Step) -> bool {
        may_stand(step) && step.pieces.iter().all(|it| self.pieces.contains(it))
    }

    /// What the shop has set, and samples agreed for the job as a whole.
    fn always(&self, step: &Step) -> bool {
        let job = self.shop.pieces.get(&self.piece).and_then(|it| it.now().job);
        match step.kind {
            Some(Kind::Settings) => true,
            Some(Kind::SampleAgreed) => job.is_some() && step.object == job && step.pieces.is_empty(),
            _ => false,
        }
    }

    /// Cautions confirmed by those who did the steps, in the shifts of the steps.
    fn confirmed(&self, own: &[&Step]) -> BTreeSet<Hash> {
        const LONGEST_H: f64 = 24.0;
        let hours = self.shop.settings.shift_h.unwrap_or(LONGEST_H).max(LONGEST_H);
        let by_them = own.iter().flat_map(|step| {
            let from = add_hours(step.done.start, -hours).unwrap_or(step.done.start);
            let given = self.shop.of_kind_between(Kind::SafetyConfirmed, from, step.done.start);
            given.filter(|it| it.person == step.person)
        });
        by_them.filter(|step| self.may_go(step)).map(|step| step.hash).collect()
    }

    /// Adds the pours of the piece's mix with their breaks and temperatures where they may go; gives those that may
    /// not.
    fn breaks(&self, wanted: &mut BTreeSet<Hash>) -> BTreeSet<ObjectId> {
        let mut lent = BTreeSet::new();
        let Some((own, poured)) = self.shop.pour_of(self.piece) else { return lent };
        for (id, pour) in self.shop.pours.iter().filter(|(id, it)| it.mix == poured.mix && **id != own) {
            let about: Vec<&Step> = self.about_strength(*id, &pour.pieces).collect();
            if !about.iter().any(|step| step.kind == Some(Kind::Strength)) {
                continue;
            }
            if pour.pieces.iter().all(|it| self.pieces.contains(it)) && about.iter().all(|it| self.may_go(it))
            {
                let pours =
                    self.shop.steps.iter().filter(|it| it.kind == Some(Kind::Pour) && it.object == Some(*id));
                wanted.extend(about.into_iter().chain(pours).map(|step| step.hash));
            } else {
                lent.insert(*id);
            }
        }
        let of_own = self.about_strength(own, &poured.pieces).filter(|step| self.may_go(step));
        wanted.extend(of_own.map(|step| step.hash));
        lent
    }

    fn about_strength(&self, pour: ObjectId, pieces: &'a [ObjectId]) -> impl Iterator<Item = &'a Step> {
        let strength = |step: &&Step| matches!(step.kind, Some(Kind::Strength | Kind::Temperature));
        let about =
            move |step: &&Step| step.object == Some(pour) || step.pieces.iter().any(|it| pieces.contains(it));
        self.shop.steps.iter().filter(strength).filter(about)
    }

    /// Adds what the entries chosen so far rest on; false when there is no more.
    fn grow(&self, wanted: &mut BTreeSet<Hash>) -> bool {
        let before = wanted.len();
        let steps: Vec<&Step> = wanted.iter().filter_map(|hash| self.shop.step(hash)).collect();
        let named: BTreeSet<ObjectId> =
            steps.iter().flat_map(|step| names(step)).chain(self.facts()).collect();
        let devices: BTreeSet<DeviceId> = steps.iter().map(|step| step.device).collect();
        let supports = |step: &&Step| match step.kind {
            Some(Kind::Person | Kind::Job | Kind::Mix | Kind::Product | Kind::Tool | Kind::Route) => {
                step.object.is_some_and(|object| named.contains(&object))
            }
            Some(Kind::Client) => step.object.is_some() && step.object == self.client(),
            Some(Kind::Accept | Kind::Retire | Kind::Role) => {
                step.peer.is_some_and(|it| devices.contains(&it))
            }
            Some(Kind::Device | Kind::Recover) => devices.contains(&step.device),
            Some(Kind::Strike | Kind::Exception | Kind::SettleFork | Kind::Erase) => {
                step.refs.iter().any(|hash| wanted.contains(hash)) && self.may_go(step)
            }
            _ => false,
        };
        let more: Vec<Hash> = self.shop.steps.iter().filter(supports).map(|step| step.hash).collect();
        wanted.extend(more);
        wanted.len() > before
    }

    /// Job and mixes of the piece and its pour.
    fn facts(&self) -> impl Iterator<Item = ObjectId> {
        let piece = self.shop.pieces.get(&self.piece).map(Versions::now);
        let pour = self.shop.pour_of(self.piece).map(|(_, pour)| pour.mix);
        piece.into_iter().flat_map(|it| [it.job, it.mix, it.vein_mix]).chain([pour]).flatten()
    }

    fn client(&self) -> Option<ObjectId> {
        let job = self.shop.pieces.get(&self.piece)?.now().job?;
        self.shop.jobs.get(&job)?.now().client
    }
}

/// The person of an entry, and every object its body names.
fn names(step: &Step) -> Vec<ObjectId> {
    let mut found = vec![step.person];
    if let Some(body) = step.body() {
        body.to_map().values().for_each(|value| ids(value, &mut found));
    }
    found
}

fn ids(value: &serde_json::Value, into: &mut Vec<ObjectId>) {
    match value {
        serde_json::Value::String(text) => into.extend(text.parse::<ObjectId>().ok()),
        serde_json::Value::Array(items) => items.iter().for_each(|it| ids(it, into)),
        serde_json::Value::Object(members) => members.values().for_each(|it| ids(it, into)),
        _ => {}
    }
}
