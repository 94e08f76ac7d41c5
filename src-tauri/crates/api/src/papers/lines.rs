//! The entry lines a paper carries: exactly as they stand in the logs.

use std::collections::BTreeSet;

use trowelogue_core::body::{Body, Kind};
use trowelogue_core::id::{DeviceId, Hash, ObjectId};
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Lang, text};
use trowelogue_journal::{self as journal, excerpt::withhold};
use trowelogue_papers::model::{Attachment, Relation};

use super::may_stand;
use crate::session::Session;
use crate::{Result, faults};

/// Name of the lines among the files a record carries.
pub(super) const NAME: &str = "entries.jsonl";

impl Session {
    /// The lines a record of the piece is made from: a header of each device, then the entries in the common
    /// order. Of an entry with a price in it the body is withheld; its signature stays good.
    pub(super) fn lines_of(&mut self, piece: ObjectId) -> Result<Vec<u8>> {
        let wanted = wanted(self.shop(), piece);
        let excerpt = match &mut self.link {
            Some(link) => link.excerpt(&wanted),
            None => journal::excerpt_of_folder(&self.folder, &wanted),
        };
        let excerpt = excerpt.map_err(|error| faults::journal(&error, self.voice.lang))?;
        let mut text = String::new();
        for header in excerpt.headers.values() {
            push_line(&mut text, header);
        }
        for step in self.shop().steps.iter().filter(|step| wanted.contains(&step.hash)) {
            let Some(line) = excerpt.lines.get(&step.hash) else { continue };
            match has_price(step).then(|| withhold(line)).flatten() {
                Some(bare) => push_line(&mut text, &bare),
                None => push_line(&mut text, line),
            }
        }
        Ok(text.into_bytes())
    }
}

fn push_line(text: &mut String, line: &str) {
    text.push_str(line.trim_end_matches('\n'));
    text.push('\n');
}

fn has_price(step: &Step) -> bool {
    matches!(step.body(), Some(Body::ChangeAgreed(change)) if change.price.is_some())
}

/// The lines as an attachment.
pub(super) fn attachment(lines: Vec<u8>, lang: Lang) -> Attachment {
    let about = text(
        "The entry lines this record was made from, exactly as they stand in the shop's logs.",
        "Las líneas de entrada de las que se hizo este registro, tal como están en los registros del taller.",
    );
    Attachment {
        name: NAME.into(),
        mime: "application/jsonl".into(),
        description: about.get(lang).into(),
        relation: Relation::Source,
        bytes: lines,
    }
}

/// The entries a record of a piece needs: its own, those about them, what they name, and who may write.
fn wanted(shop: &Shop, piece: ObjectId) -> BTreeSet<Hash> {
    let own: Vec<&Step> = shop.steps_of(piece).filter(|step| may_stand(step)).collect();
    let hashes: BTreeSet<Hash> = own.iter().map(|step| step.hash).collect();
    let about = |step: &&Step| {
        let of_record = matches!(step.kind, Some(Kind::Strike | Kind::Exception | Kind::SettleFork));
        of_record && step.refs.iter().any(|hash| hashes.contains(hash))
    };
    let mut wanted = hashes.clone();
    wanted.extend(shop.steps.iter().filter(about).map(|step| step.hash));
    let named = named_objects(shop, piece, &own);
    let devices: BTreeSet<DeviceId> = own.iter().map(|step| step.device).collect();
    let supports = |step: &&Step| match step.kind {
        Some(Kind::Person | Kind::Job | Kind::Mix | Kind::Product | Kind::Tool | Kind::Pour) => {
            step.object.is_some_and(|object| named.contains(&object))
        }
        Some(Kind::Accept | Kind::Retire | Kind::Role) => {
            step.peer.is_some_and(|peer| devices.contains(&peer))
        }
        Some(Kind::Device | Kind::Recover) => devices.contains(&step.device),
        _ => false,
    };
    wanted.extend(shop.steps.iter().filter(supports).map(|step| step.hash));
    wanted
}

/// People, job, mixes, products and tools the entries of a piece name.
fn named_objects(shop: &Shop, piece: ObjectId, own: &[&Step]) -> BTreeSet<ObjectId> {
    let mut named: BTreeSet<ObjectId> = own.iter().map(|step| step.person).collect();
    named.extend(own.iter().filter_map(|step| step.object));
    for step in own {
        let values = step.body().map(Body::to_map).unwrap_or_default();
        named.extend(values.values().filter_map(|it| it.as_str()?.parse::<ObjectId>().ok()));
    }
    named.extend(shop.pieces.get(&piece).and_then(|it| it.now().job));
    named
}
