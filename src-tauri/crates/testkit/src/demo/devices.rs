//! The demo's three devices: an office laptop that founded the shop, and two phones it accepted.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use trowelogue_core::body::{Kind, input};
use trowelogue_core::id::{DeviceId, Hash};
use trowelogue_core::moment::{Moment, Span};
use trowelogue_journal::{Draft, Home, RealDisk, Shop};

use super::SEED;
use super::story::{Event, moment, object_id};
use crate::entropy::Seeded;

/// The owner's name in the demo.
pub const OWNER_PERSON: &str = "Ines Calder";
/// The shop's name.
const SHOP_NAME: &str = "Tarnfold Cast Works";
/// When it was founded.
const FOUNDED: &str = "2022-08-29 08:00";
/// Devices by the name the story calls them.
pub(crate) const DEVICES: [&str; 3] = ["office", "shop-phone", "site-phone"];

/// The devices at work on one folder.
pub struct Crew {
    shops: BTreeMap<&'static str, Shop>,
    hashes: BTreeMap<String, Hash>,
    last: &'static str,
}

fn home(scratch: &Path, device: &str) -> Home {
    let entropy = Seeded::new(format!("{SEED}, {device}"));
    Home::open_with(scratch.join(device), Arc::new(RealDisk), entropy)
}

/// The home of the demo's owner, rebuilt from the seed in `scratch`: it can accept devices in a copy of the demo.
pub(crate) fn found_owner(folder: &Path, scratch: &Path) -> Result<Shop, trowelogue_journal::Error> {
    Ok(home(scratch, DEVICES[0]).found(folder, SHOP_NAME, moment(FOUNDED))?.shop)
}

/// Has the demo's owner accept a device as another owner in `folder`, a copy of the demo.
pub(crate) fn accept(
    scratch: &Path,
    folder: &Path,
    device: DeviceId,
    now: Moment,
) -> Result<(), Box<dyn std::error::Error>> {
    let home = home(scratch, DEVICES[0]);
    let shops = home.shops()?;
    let (shop, _) = shops.first().ok_or("the owner's home has no shop")?;
    let mut shop = home.rebind(*shop, folder)?;
    shop.read()?;
    let body = serde_json::json!({ "role": "owner" }).as_object().cloned().unwrap_or_default();
    let draft = Draft {
        done: Span::at(now),
        person: object_id(OWNER_PERSON),
        kind: Kind::Accept.wire().into(),
        object: None,
        pieces: Vec::new(),
        peer: Some(device),
        refs: Vec::new(),
        body,
    };
    shop.append(vec![draft], now)?;
    Ok(())
}

impl Crew {
    /// Founds the demo shop in `folder`; homes live in `scratch`.
    ///
    /// # Errors
    /// Whatever the journal refuses.
    pub fn found(folder: &Path, scratch: &Path) -> Result<Self, trowelogue_journal::Error> {
        let mut shops = BTreeMap::new();
        shops.insert(DEVICES[0], found_owner(folder, scratch)?);
        for device in &DEVICES[1..] {
            shops.insert(*device, home(scratch, device).join(folder)?);
        }
        for shop in shops.values_mut() {
            shop.read()?;
        }
        Ok(Self { shops, hashes: BTreeMap::new(), last: DEVICES[0] })
    }

    /// Appends one event on its device.
    ///
    /// # Errors
    /// A body that is not of its kind, a label nobody defined, or whatever the journal refuses.
    pub fn append(&mut self, event: &Event) -> Result<(), Box<dyn std::error::Error>> {
        let draft = self.draft(event)?;
        let shop = self.shops.get_mut(event.device).ok_or("no such device")?;
        if self.last != event.device {
            shop.sweep()?;
            self.last = event.device;
        }
        let appended = shop.append(vec![draft], event.wrote)?;
        if let Some(written) = appended.written().first() {
            self.hashes.insert(event.label.clone(), written.hash);
        }
        Ok(())
    }

    fn draft(&self, event: &Event) -> Result<Draft, Box<dyn std::error::Error>> {
        let kind =
            Kind::parse(event.kind).ok_or_else(|| format!("{}: no kind {}", event.label, event.kind))?;
        let body = event.body.as_object().cloned().ok_or_else(|| format!("{}: no body", event.label))?;
        let details = input::read(kind, body).map_err(|error| format!("{}: {error}", event.label))?;
        let refs = event
            .refs
            .iter()
            .map(|label| self.hash(label).ok_or_else(|| format!("{}: no event {label}", event.label)))
            .collect::<Result<_, _>>()?;
        Ok(Draft {
            done: event.done,
            person: object_id(event.person),
            kind: event.kind.into(),
            object: event.object.as_deref().map(object_id),
            pieces: event.pieces.iter().map(|code| object_id(code)).collect(),
            peer: event.peer.map(|name| self.device(name)).transpose()?,
            refs,
            body: details.to_stored(),
        })
    }

    /// The hash of the event with this label.
    pub fn hash(&self, label: &str) -> Option<Hash> {
        self.hashes.get(label).copied()
    }

    fn device(&self, name: &str) -> Result<DeviceId, String> {
        self.shops.get(name).map(Shop::device).ok_or_else(|| format!("no device {name}"))
    }
}
