//! Fields of the head of an entry: what it is about beside its pieces, and when the work ended.

use super::control::{Offer, objects};
use super::objects::Sort;
use super::{Ask, Control, Field, Need, Slot};
use crate::body::shape::Shape;
use crate::body::{Kind, Needs, labels};
use crate::routes::Words;
use crate::shop::{Device, Step, Versions};
use crate::text::{Text, text};

/// When the work ended.
pub(super) const UNTIL: &str = "until";
/// The object an entry changes.
pub(super) const CHANGES_FIELD: &str = "object";

const ENDED: Text = text("ended", "terminó");
const POUR: Text = text("pour", "vertido");
const DEVICE: Text = text("device", "dispositivo");
const ENTRIES: Text = text("entries it is about", "entradas de las que trata");
const CHANGES: Text = text("changes", "cambia");
const NEW_ONE: Text = text("left out: a new one", "si se omite: uno nuevo");
/// The most entries offered to refer to.
const OFFERED: usize = 30;

/// The fields of the head that this kind needs or may have.
pub(super) fn fields(ask: &Ask<'_>) -> Vec<Field> {
    let none = ask.pieces.is_empty();
    let mut fields = Vec::new();
    match ask.kind.needs() {
        Needs::PourOrPieces if none => fields.push(one("pour", POUR, Need::Must, objects(ask, Sort::Pour))),
        Needs::JobOrPieces if none => fields.push(one("job", job(), Need::Must, objects(ask, Sort::Job))),
        Needs::Object => fields.extend(changes(ask)),
        Needs::Peer | Needs::PeerAndHead => fields.push(one("peer", DEVICE, Need::Must, devices(ask))),
        _ => {}
    }
    match ask.kind.needs() {
        Needs::Refs => fields.push(refs(Need::Must, recent(ask))),
        Needs::PeerAndHead => fields.push(refs(Need::Must, heads(ask))),
        _ if ask.kind == Kind::Exception => fields.push(refs(Need::Optional, recent(ask))),
        _ => {}
    }
    fields
}

fn job() -> Text {
    labels::field(Kind::Piece, "job").unwrap_or(POUR)
}

fn field(name: &str, label: Text, need: Need, shape: Shape, control: Control) -> Field {
    let label = Words::from(label);
    Field { name: name.to_owned(), slot: Slot::Head, shape, label, help: None, need, control, value: None }
}

fn one(name: &str, label: Text, need: Need, options: Vec<Offer>) -> Field {
    field(name, label, need, Shape::Text, Control::Choice { options, many: false, free: false })
}

fn refs(need: Need, options: Vec<Offer>) -> Field {
    let list = Shape::List(Box::new(Shape::Hash));
    field("refs", ENTRIES, need, list, Control::Choice { options, many: true, free: false })
}

/// When the work ended, for work that takes its time.
pub(super) fn until(kind: Kind) -> Option<Field> {
    let need = match kind {
        Kind::InitialCure | Kind::InCareOf => Need::Proposed,
        Kind::Pour | Kind::Dry | Kind::SealCoat | Kind::Storage | Kind::GritPass => Need::Optional,
        _ => return None,
    };
    Some(field(UNTIL, ENDED, need, Shape::Moment, Control::Moment))
}

/// The object an entry changes, where it does not make a new one.
fn changes(ask: &Ask<'_>) -> Option<Field> {
    let shop = ask.shop;
    let options = match ask.kind {
        Kind::Person => named(shop.people.iter().map(|(id, it)| (id.to_string(), it.now().name.as_str()))),
        Kind::Client => named(shop.clients.iter().map(|(id, it)| (id.to_string(), it.now().name.as_str()))),
        Kind::Route => named(shop.routes.iter().map(|(id, it)| (id.to_string(), route_code(it)))),
        Kind::Job => objects(ask, Sort::Job),
        Kind::Piece => objects(ask, Sort::Piece),
        Kind::Mix => objects(ask, Sort::Mix),
        Kind::Product => objects(ask, Sort::Product),
        Kind::Tool => objects(ask, Sort::Tool),
        _ => return None,
    };
    let mut field = one(CHANGES_FIELD, CHANGES, Need::Optional, options);
    field.help = Some(NEW_ONE.into());
    Some(field)
}

fn named<'a>(all: impl Iterator<Item = (String, &'a str)>) -> Vec<Offer> {
    all.map(|(id, name)| Offer::named(id, name, None)).collect()
}

fn route_code(entry: &Versions<crate::body::setup::RouteEntry>) -> &str {
    entry.now().route.code().unwrap_or_default()
}

fn devices(ask: &Ask<'_>) -> Vec<Offer> {
    let all = ask.shop.devices.values();
    all.map(|it| Offer::named(it.id.to_string(), &device_name(it), None)).collect()
}

/// The name a device gave itself, else its id.
fn device_name(device: &Device) -> String {
    device.name.clone().unwrap_or_else(|| device.id.to_string())
}

/// The last entry of each device: what a retirement names.
fn heads(ask: &Ask<'_>) -> Vec<Offer> {
    let last = |id| ask.shop.steps.iter().rev().find(|step| step.device == id);
    let all = ask.shop.devices.values().filter_map(|it| Some((it, last(it.id)?)));
    all.map(|(it, step)| Offer::named(step.hash.to_string(), &device_name(it), Some(&step.wire))).collect()
}

/// The newest entries in force about the pieces, or of the shop.
fn recent(ask: &Ask<'_>) -> Vec<Offer> {
    let mut steps: Vec<&Step> = match ask.pieces {
        [] => ask.shop.steps.iter().filter(|step| step.in_force).collect(),
        pieces => pieces.iter().flat_map(|piece| ask.shop.history(*piece)).collect(),
    };
    steps.sort_by_key(|step| std::cmp::Reverse((step.done.start, step.order)));
    steps.dedup_by_key(|step| step.hash);
    let offer = |step: &Step| {
        let words = step.kind.map_or_else(|| super::control::same(&step.wire), |kind| kind.label().into());
        let mut offer = Offer::new(step.hash.to_string(), words);
        offer.hint = Some(super::control::same(&step.done.start.format("%Y-%m-%d %H:%M").to_string()));
        offer
    };
    steps.into_iter().take(OFFERED).map(offer).collect()
}
