//! The care sheet of a piece or of a job's pieces.

use trowelogue_core::body::setup::{MaterialClass, Product, Use};
use trowelogue_core::body::{Body, Kind};
use trowelogue_core::id::ObjectId;
use trowelogue_core::materials;
use trowelogue_core::rules::Case;
use trowelogue_core::shop::{Step, Versions};
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension};
use trowelogue_papers::model::{CareGroup, CareSheet, Fact, PieceCard, Place, SealerKind};

use super::{Maker, due, parts};

const PRODUCT: Text = text("sealer", "sellador");
const CLASS: Text = text("kind", "tipo");
const LOT: Text = text("lot", "lote");
const COATS: Text = text("coats", "manos");
const LAST_COAT: Text = text("last coat", "última mano");
const TOUCH_UP_LOT: Text = text("touch-up from lot {lot}", "retoques con el lote {lot}");

impl Maker<'_> {
    pub(super) fn care(&self, pieces: &[ObjectId]) -> CareSheet {
        let mut groups: Vec<CareGroup> = Vec::new();
        for piece in pieces {
            let group = self.group(*piece);
            match groups.iter_mut().find(|it| alike(it, &group)) {
                Some(found) => found.pieces.extend(group.pieces),
                None => groups.push(group),
            }
        }
        CareSheet { imprint: self.imprint("care", pieces), groups, attachments: vec![self.reminders(pieces)] }
    }

    fn group(&self, piece: ObjectId) -> CareGroup {
        let shop = self.shop;
        let facts = shop.pieces.get(&piece).map(Versions::now);
        let coat = parts::last_coat(self, piece);
        let product = coat.map(|(_, product)| product);
        CareGroup {
            pieces: vec![PieceCard { plan: self.plan(piece), ..self.card(piece) }],
            place: place(facts.and_then(|it| it.used_as)),
            sealer: product.map_or(SealerKind::Unknown, |it| sealer(it.class)),
            sealing: coat.map(|(step, product)| self.sealing(piece, step, product)).unwrap_or_default(),
            handed_over: self.handed_over(piece),
            dates: self.care_dates(&self.due(piece)),
            heat_limit: product.and_then(|it| self.heat(it)),
            warranty: self.warranty(piece),
            touch_up: self.touch_up(piece),
            food_contact: product.and_then(|it| it.food_contact.clone()),
            left_with: Vec::new(),
        }
    }

    fn sealing(&self, piece: ObjectId, step: &Step, product: &Product) -> Vec<Fact> {
        let coats = Case::new(self.shop, piece).of(Kind::SealCoat).count();
        let facts = [
            (PRODUCT, Some(product.name.clone())),
            (CLASS, Some(self.voice.say(product.class.label()))),
            (LOT, self.lot(step)),
            (COATS, (coats > 0).then(|| coats.to_string())),
            (LAST_COAT, Some(self.voice.moment(&step.done.finish()))),
        ];
        let known = facts
            .into_iter()
            .filter_map(|(label, value)| Some(Fact::new(label.get(self.voice.lang), value?)));
        known.collect()
    }

    fn heat(&self, product: &Product) -> Option<String> {
        let (limit, basis) = due::chosen(product.heat_max_c, materials::of(product.class).heat_max_c)?;
        let limit = units::show(limit, Dimension::Celsius, self.voice.system, self.voice.lang);
        Some(format!("{limit} ({})", self.voice.say(basis)))
    }

    fn warranty(&self, piece: ObjectId) -> Vec<String> {
        let shop = self.shop;
        let job = shop.pieces.get(&piece).and_then(|it| shop.jobs.get(&it.now().job?)).map(Versions::now);
        let terms = job.and_then(|it| it.warranty.clone()).or_else(|| shop.settings.warranty_brief.clone());
        terms
            .iter()
            .flat_map(|it| it.lines())
            .map(str::trim)
            .filter(|it| !it.is_empty())
            .map(str::to_owned)
            .collect()
    }

    fn touch_up(&self, piece: ObjectId) -> Option<String> {
        let Some(Body::Handover(it)) = self.handover(piece)?.body() else { return None };
        let lot = it
            .touch_up_lot
            .as_ref()
            .map(|lot| crate::say::fill(TOUCH_UP_LOT, self.voice.lang, &[("lot", lot)]));
        let contact = it.touch_up_contact.clone().or_else(|| self.shop.settings.contact.clone());
        let parts: Vec<String> = [contact, lot].into_iter().flatten().collect();
        (!parts.is_empty()).then(|| parts.join("; "))
    }
}

/// Pieces that are cared for alike share a page.
fn alike(one: &CareGroup, other: &CareGroup) -> bool {
    let bare = |group: &CareGroup| CareGroup { pieces: Vec::new(), ..group.clone() };
    bare(one) == bare(other)
}

fn place(used_as: Option<Use>) -> Place {
    match used_as {
        Some(Use::Bath) => Place::Bath,
        Some(Use::Wall | Use::Hearth) => Place::Wall,
        Some(Use::Floor) => Place::Floor,
        Some(Use::Outdoor) => Place::Outdoor,
        Some(Use::Kitchen) | None => Place::Kitchen,
    }
}

fn sealer(class: MaterialClass) -> SealerKind {
    match class {
        MaterialClass::ReactiveSealer => SealerKind::Reactive,
        MaterialClass::SilicateDensifier => SealerKind::Densifier,
        MaterialClass::SilaneRepellent => SealerKind::Repellent,
        MaterialClass::AcrylicFilm => SealerKind::Acrylic,
        MaterialClass::WaterborneUrethane | MaterialClass::SolventUrethane => SealerKind::Polyurethane,
        MaterialClass::Epoxy => SealerKind::Epoxy,
        MaterialClass::Polyaspartic => SealerKind::Polyaspartic,
        MaterialClass::UvCured => SealerKind::UvCured,
        MaterialClass::Wax => SealerKind::Wax,
        _ => SealerKind::Unknown,
    }
}
