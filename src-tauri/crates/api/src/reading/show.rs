//! What is recorded.

use std::collections::{BTreeMap, BTreeSet};

use trowelogue_core::body::Body;
use trowelogue_core::entry::FORMAT;
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment;
use trowelogue_core::rules::Case;
use trowelogue_core::shop::{Shop, Status, Step, Versions};

use super::{About, steps};
use crate::Result;
use crate::dto::report::{DeviceRow, JobRow, PersonRow, PieceRow, ShopRow, Show, StepRow, ThingRow};
use crate::format::{Table, Voice};
use crate::session::Session;

impl Session {
    /// Everything recorded about the pieces asked for, with the shop's people, devices and jobs.
    ///
    /// # Errors
    /// There is no such piece or job, or the code fits more than one.
    pub fn show(&self, about: &About) -> Result<Show> {
        let shop = self.shop();
        let pieces = self.pieces_about(about)?;
        let jobs: BTreeSet<ObjectId> = match about {
            About { piece: None, job: None } => shop.jobs.keys().copied().collect(),
            _ => pieces.iter().filter_map(|id| shop.pieces[id].now().job).collect(),
        };
        Ok(Show {
            format: FORMAT,
            shop: ShopRow {
                id: shop.id.to_string(),
                name: shop.name.clone(),
                settings: serde_json::to_value(&shop.settings).unwrap_or_default(),
            },
            people: people(shop),
            devices: devices(shop, &self.voice),
            jobs: jobs.iter().filter_map(|id| job(shop, *id)).collect(),
            pieces: pieces.into_iter().map(|piece| self.piece_row(piece)).collect(),
            things: things(shop),
            apart: shop.with_status(Status::Apart).count(),
            waiting: shop.with_status(Status::Waiting).count(),
        })
    }

    fn piece_row(&self, id: ObjectId) -> PieceRow {
        let shop = self.shop();
        let piece = shop.pieces[&id].now();
        PieceRow {
            id: id.to_string(),
            code: piece.code.clone(),
            name: piece.name.clone(),
            job: piece.job.map(|job| job.to_string()),
            route: route_of(shop, id),
            finished: is_finished(shop, id),
            facts: serde_json::to_value(piece).unwrap_or_default(),
            steps: shop.steps_of(id).map(|step| self.step_row(step)).collect(),
        }
    }

    fn step_row(&self, step: &Step) -> StepRow {
        let shop = self.shop();
        StepRow {
            hash: step.hash.to_string(),
            kind: step.wire.clone(),
            done: moment::write(&step.done.start),
            until: step.done.end.as_ref().map(moment::write),
            wrote: moment::write(&step.wrote),
            late: step.late,
            person: step.person.to_string(),
            person_name: shop.person_name(step.person),
            device: step.device.to_string(),
            seq: step.order.seq,
            status: step.status.wire(),
            open: step.open,
            corrects: step.corrects.map(|hash| hash.to_string()),
            refs: step.refs.iter().map(ToString::to_string).collect(),
            body: steps::body_value(step),
            shown: steps::shown(&self.voice, shop, step),
        }
    }
}

/// Code of the route a piece follows, chosen or by its finish.
fn route_of(shop: &Shop, piece: ObjectId) -> Option<String> {
    let case = Case::new(shop, piece);
    trowelogue_core::routes::in_use(&case).map(|it| it.route.code.clone())
}

/// Whether a handover of the piece is in force.
pub(crate) fn is_finished(shop: &Shop, piece: ObjectId) -> bool {
    shop.steps_of(piece).any(|step| step.in_force && matches!(step.body(), Some(Body::Handover(_))))
}

fn people(shop: &Shop) -> Vec<PersonRow> {
    let row = |(id, it): (&ObjectId, &Versions<_>)| {
        let person: &trowelogue_core::body::setup::Person = it.now();
        PersonRow { id: id.to_string(), name: person.name.clone() }
    };
    shop.people.iter().map(row).collect()
}

fn devices(shop: &Shop, voice: &Voice) -> Vec<DeviceRow> {
    let row = |it: &trowelogue_core::shop::Device| DeviceRow {
        id: it.id.to_string(),
        name: it.name.clone(),
        status: it.status.wire(),
        role: it.role.wire(),
        shown: format!("{}, {}", voice.say(it.status.label()), voice.say(it.role.label())),
        last_seq: it.last_seq,
    };
    shop.devices.values().map(row).collect()
}

fn job(shop: &Shop, id: ObjectId) -> Option<JobRow> {
    let job = shop.jobs.get(&id)?.now();
    let client = job.client.and_then(|client| shop.clients.get(&client));
    Some(JobRow {
        id: id.to_string(),
        code: job.code.clone(),
        name: job.name.clone(),
        client: client.map(|it| it.now().name.clone()),
        handover_by: job.handover_by.map(|day| day.to_string()),
    })
}

fn things(shop: &Shop) -> BTreeMap<&'static str, Vec<ThingRow>> {
    let rows = |table: Table| {
        let all = table.all(shop).into_iter();
        all.map(|(id, name, _)| ThingRow { id: id.to_string(), name }).collect()
    };
    BTreeMap::from([
        ("clients", rows(Table::Clients)),
        ("mixes", rows(Table::Mixes)),
        ("pours", rows(Table::Pours)),
        ("products", rows(Table::Products)),
        ("routes", rows(Table::Routes)),
        ("tools", rows(Table::Tools)),
    ])
}
