//! One object: what is recorded of it, what belongs to it, its history.

use trowelogue_core::body::Kind;
use trowelogue_core::chart;
use trowelogue_core::id::ObjectId;
use trowelogue_core::rules::mix_seen;
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Text, text};

use super::{product, route, row, table_of};
use crate::desk::history;
use crate::dto::{Fact, ObjectRow, ObjectSheet, Picture};
use crate::format::{Table, facts_of};
use crate::reading::first_upper;
use crate::session::Session;

const GROUND: Text = text("ground with it so far", "pulido con ella hasta ahora");
const DISCS: Text =
    text("discs, brushes or pads used by that", "discos, cepillos o almohadillas gastados según eso");

pub(super) fn sheet(session: &Session, shop: &Shop, kind: Kind, id: ObjectId) -> ObjectSheet {
    let voice = &session.voice;
    let all = table_of(kind).all(shop);
    let (name, about) = all
        .into_iter()
        .find(|(it, ..)| *it == id)
        .map_or_else(Default::default, |(_, name, about)| (name, about));
    let shown = row(voice, shop, kind, id, name, about);
    let newest = versions(shop, kind, id).max_by_key(|step| step.order);
    let mut facts = newest.map_or_else(Vec::new, |step| facts_of(voice, shop, step));
    facts.extend(worn(session, shop, kind, id));
    let product = shop.products.get(&id).map(|it| it.now());
    if product.is_some() {
        facts.retain(|fact| !product::is_limit(voice, &fact.label));
    }
    let (hazards, hazards_say) = product.map_or_else(Default::default, |it| product::hazards(voice, it));
    let stages = route::stages_of(session, shop, id);
    if kind == Kind::Route {
        facts = route::facts_of_own(session, shop, id);
    }
    ObjectSheet {
        kind: kind.wire().to_owned(),
        id: id.to_string(),
        one: voice.say(kind.label()),
        name: if kind == Kind::Route { route::name_of(voice, shop, id) } else { shown.name },
        about: shown.about,
        facts: facts.into_iter().map(|it| Fact { label: first_upper(&it.label), ..it }).collect(),
        limits: product.map_or_else(Vec::new, |it| product::limits(voice, it)),
        hazards,
        hazards_say,
        lots: product.map_or_else(Vec::new, |_| product::lots(session, shop, id)),
        pictures: pictures(session, shop, kind, id, shown.outline),
        stages,
        related: related(session, shop, kind, id),
        history: history::of_object(session, shop, kind, id),
        may_write: session.link.is_some(),
        may_copy: kind != Kind::Person,
    }
}

/// The versions of an object that count.
fn versions(shop: &Shop, kind: Kind, id: ObjectId) -> impl Iterator<Item = &Step> {
    shop.of_kind(kind).filter(move |step| step.object == Some(id))
}

fn pictures(
    session: &Session,
    shop: &Shop,
    kind: Kind,
    id: ObjectId,
    outline: Option<Picture>,
) -> Vec<Picture> {
    let voice = &session.voice;
    let curve = (kind == Kind::Mix)
        .then(|| chart::strength(&mix_seen(shop, id, voice.lang), voice.system, voice.lang))
        .flatten();
    outline.into_iter().chain(curve.map(Picture::from)).collect()
}

/// What a tool has ground, and how many discs that took where their life is known.
fn worn(session: &Session, shop: &Shop, kind: Kind, id: ObjectId) -> Vec<Fact> {
    use trowelogue_core::body::Body;
    use trowelogue_core::units::{Dimension, show};
    let Some(tool) = shop.tools.get(&id).filter(|_| kind == Kind::Tool).map(|it| it.now()) else {
        return Vec::new();
    };
    let voice = &session.voice;
    let passes = shop.of_kind(Kind::GritPass).filter_map(|step| match step.body() {
        Some(Body::GritPass(pass)) if pass.tool == Some(id) => pass.area_m2,
        _ => None,
    });
    let ground: f64 = passes.sum();
    if ground <= 0.0 {
        return Vec::new();
    }
    let area = show(ground, Dimension::SquareMetre, voice.system, voice.lang);
    let discs = tool.life_m2.filter(|life| *life > 0.0).map(|life| Fact {
        label: voice.say(DISCS),
        value: voice.plain((ground / life * 10.0).round() / 10.0),
    });
    std::iter::once(Fact { label: voice.say(GROUND), value: area }).chain(discs).collect()
}

/// The jobs of a client, the pieces of a job or a mix.
fn related(session: &Session, shop: &Shop, kind: Kind, id: ObjectId) -> Vec<ObjectRow> {
    let voice = &session.voice;
    let of = |kind: Kind, table: Table, belongs: &dyn Fn(ObjectId) -> bool| -> Vec<ObjectRow> {
        let mut all: Vec<_> = table.all(shop).into_iter().filter(|(it, ..)| belongs(*it)).collect();
        all.sort_by(|a, b| a.1.cmp(&b.1));
        all.into_iter().map(|(id, name, about)| row(voice, shop, kind, id, name, about)).collect()
    };
    match kind {
        Kind::Client => of(Kind::Job, Table::Jobs, &|it| {
            shop.jobs.get(&it).is_some_and(|job| job.now().client == Some(id))
        }),
        Kind::Job => of(Kind::Piece, Table::Pieces, &|it| {
            shop.pieces.get(&it).is_some_and(|piece| piece.now().job == Some(id))
        }),
        Kind::Mix => of(Kind::Piece, Table::Pieces, &|it| {
            shop.pieces.get(&it).is_some_and(|piece| piece.now().mix == Some(id))
        }),
        _ => Vec::new(),
    }
}
