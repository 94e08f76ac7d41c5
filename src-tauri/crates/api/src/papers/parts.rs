//! Parts both papers share: who issues it, the piece, its products.

use std::collections::{BTreeMap, BTreeSet};

use trowelogue_core::body::setup::{MaterialClass, Piece, Product};
use trowelogue_core::body::{Body, Kind};
use trowelogue_core::fold;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::materials;
use trowelogue_core::moment;
use trowelogue_core::shop::{Step, Versions};
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::{self, Dimension};
use trowelogue_papers::model::{Fact, Imprint, PieceCard, Product as Used};

use super::Maker;
use crate::format::name_of;
use crate::reading::title;

const SIZE: Text = text("size", "medidas");
const FINISH: Text = text("finish", "acabado");
const MIX: Text = text("mix", "mezcla");
const VEIN: Text = text("vein or inlay", "veta o incrustación");
const USE: Text = text("use", "uso");
const POUR: Text = text("pour", "vertido");
const FINISH_AGREED: Text = text("finish agreed", "acabado acordado");
const SEALING_AGREED: Text = text("sealing agreed", "sellado acordado");
const EXPIRES: Text = text("best before", "caduca");
const DATA_SHEET: Text = text("data sheet", "ficha técnica");
const CLASS_DEFAULT: Text = text("class default", "valor de la clase");

impl Maker<'_> {
    /// Who made the paper, when and with what. Its id follows from what it is made of: same input, same paper.
    pub(super) fn imprint(&self, what: &str, about: &[ObjectId]) -> Imprint {
        let shop = self.shop;
        let lines = [&shop.settings.address, &shop.settings.contact];
        let contact = lines.into_iter().flatten().flat_map(|it| it.lines()).map(str::to_owned).collect();
        let local = self.voice.local(&self.now);
        Imprint {
            shop: shop.name.clone(),
            contact,
            issued: local,
            issued_text: self.voice.moment(&local),
            paper_id: self.paper_id(what, about),
            tool: super::TOOL.into(),
            catalogue: super::CATALOGUE.into(),
        }
    }

    fn paper_id(&self, what: &str, about: &[ObjectId]) -> String {
        let digest = fold::digest(self.shop).to_string();
        let pieces: String = about.iter().map(ToString::to_string).collect();
        let how = format!("{:?}{:?}", self.voice.lang, self.voice.system);
        let parts = [what, &digest, &pieces, &how, &moment::write(&self.now)];
        let hash = Hash::of(&parts.map(str::as_bytes));
        let mut bytes = [0; 16];
        bytes.copy_from_slice(&hash.0[..16]);
        uuid::Builder::from_custom_bytes(bytes).into_uuid().hyphenated().to_string()
    }

    /// The piece and whom it is for.
    pub(crate) fn card(&self, id: ObjectId) -> PieceCard {
        let shop = self.shop;
        let Some(piece) = shop.pieces.get(&id).map(Versions::now) else { return PieceCard::default() };
        let job = piece.job.and_then(|job| shop.jobs.get(&job)).map(Versions::now);
        let client = job.and_then(|job| shop.clients.get(&job.client?)).map(Versions::now);
        PieceCard {
            id: id.to_string(),
            code: piece.code.clone(),
            name: Some(piece.name.clone()),
            job: job.map(|it| format!("{} {}", it.code, it.name)).unwrap_or_default(),
            client: client.map(|it| it.name.clone()).unwrap_or_default(),
            site: job.and_then(|it| it.site.clone()),
            facts: self.card_facts(id, piece),
            outline: Some(self.outline(piece)),
            plan: None,
        }
    }

    fn card_facts(&self, id: ObjectId, piece: &Piece) -> Vec<Fact> {
        let shop = self.shop;
        let job = piece.job.and_then(|job| shop.jobs.get(&job)).map(Versions::now);
        let pour = shop.pour_of(id);
        let mix = pour.map(|(_, pour)| pour.mix).or(piece.mix);
        let poured =
            pour.map(|(id, it)| format!("{}, {}", name_of(shop, id), self.voice.moment(&it.done.start)));
        let facts = [
            (SIZE, self.size(piece)),
            (USE, piece.used_as.map(|it| self.voice.say(it.label()))),
            (FINISH, piece.finish.map(|it| self.voice.say(it.label()))),
            (MIX, mix.map(|mix| name_of(shop, mix))),
            (VEIN, piece.vein_mix.map(|mix| name_of(shop, mix))),
            (POUR, poured),
            (FINISH_AGREED, job.and_then(|it| it.finish.clone())),
            (SEALING_AGREED, job.and_then(|it| it.sealing.clone())),
        ];
        let known = facts
            .into_iter()
            .filter_map(|(label, value)| Some(Fact::new(label.get(self.voice.lang), value?)));
        known.collect()
    }

    fn size(&self, piece: &Piece) -> Option<String> {
        let show = |mm| units::show(mm, Dimension::Millimetre, self.voice.system, self.voice.lang);
        let sizes = [piece.length_mm, piece.width_mm, piece.thickness_mm];
        let shown: Vec<String> = sizes.into_iter().flatten().map(show).collect();
        (!shown.is_empty()).then(|| shown.join(" × "))
    }

    /// Every product used on the pieces' entries, with its lots and the limits that apply.
    pub(super) fn products(&self, steps: &[&Step]) -> Vec<Used> {
        let mut used: BTreeMap<ObjectId, Vec<&Step>> = BTreeMap::new();
        for step in steps {
            if let Some(product) = product_of(step) {
                used.entry(product).or_default().push(step);
            }
        }
        let shop = self.shop;
        let known = used.into_iter().filter_map(|(id, steps)| Some((shop.products.get(&id)?.now(), steps)));
        known.map(|(product, steps)| self.product(product, &steps)).collect()
    }

    fn product(&self, product: &Product, steps: &[&Step]) -> Used {
        let mut uses: Vec<String> = Vec::new();
        let mut lots: BTreeSet<String> = BTreeSet::new();
        for step in steps {
            let what = title(&self.voice, step);
            if !uses.contains(&what) {
                uses.push(what);
            }
            lots.extend(self.lot(step));
        }
        Used {
            name: product.name.clone(),
            class: self.voice.say(product.class.label()),
            used_for: uses.join("; "),
            lots: lots.into_iter().collect(),
            limits: self.limits(product),
        }
    }

    pub(super) fn lot(&self, step: &Step) -> Option<String> {
        let values = step.body()?.to_map();
        let lot = values.get("lot")?.as_str()?.to_owned();
        let expires = values.get("expires").and_then(|it| it.as_str()?.parse().ok());
        Some(match expires {
            Some(day) => format!("{lot} ({} {})", self.voice.say(EXPIRES), self.voice.day(day)),
            None => lot,
        })
    }

    /// The limits of a product, each with its source: the data sheet as the shop entered it, else its class.
    fn limits(&self, product: &Product) -> Vec<Fact> {
        let class = materials::of(product.class);
        let mut limits = Vec::new();
        for (name, sheet, default) in limits_of(product, class) {
            let (Some(value), source) =
                (sheet.or(default), if sheet.is_some() { DATA_SHEET } else { CLASS_DEFAULT })
            else {
                continue;
            };
            let shown = match units::dimension_of_field(name) {
                Some(dimension) => units::show(value, dimension, self.voice.system, self.voice.lang),
                None => self.voice.plain(value),
            };
            let label = crate::format::label_of(&self.voice, Kind::Product, name);
            limits.push(Fact::new(label, format!("{shown} ({})", self.voice.say(source))));
        }
        limits
    }
}

type LimitRow = (&'static str, Option<f64>, Option<f64>);

macro_rules! both {
    ($product:ident, $class:ident: $($field:ident),+) => { [ $( (stringify!($field), $product.$field, $class.$field) ),+ ] };
}

fn limits_of(product: &Product, class: &materials::ClassFacts) -> [LimitRow; 20] {
    both!(product, class:
        finest_last_grit, dry_before_h, min_age_d, air_min_c, air_max_c, surface_min_c, surface_max_c, rh_min_pct,
        rh_max_pct, coverage_m2_per_l, recoat_min_h, recoat_max_h, pot_life_min, solids_pct, handle_h, wrap_h,
        water_h, light_use_h, full_use_h, heat_max_c)
}

/// The product an entry used.
pub(super) fn product_of(step: &Step) -> Option<ObjectId> {
    match step.body()? {
        Body::SealCoat(it) => Some(it.product),
        Body::Densify(it) => Some(it.product),
        Body::Colour(it) => Some(it.product),
        Body::AcidWash(it) => it.product,
        Body::Clean(it) => it.product,
        Body::Fill(it) => it.product,
        Body::ServiceVisit(it) => it.product,
        Body::FormPrepared(it) => it.release,
        _ => None,
    }
}

/// The newest coat of sealer in force on a piece, with its product.
pub(super) fn last_coat<'a>(maker: &'a Maker<'_>, piece: ObjectId) -> Option<(&'a Step, &'a Product)> {
    let shop = maker.shop;
    let history = shop.history(piece);

    history.into_iter().rev().find_map(|step| {
        let product = shop.products.get(&product_of(step)?)?.now();
        let sealer = step.kind == Some(Kind::SealCoat)
            || (step.kind == Some(Kind::Densify) && product.class == MaterialClass::SilicateDensifier);
        sealer.then_some((step, product))
    })
}
