//! How a record was made: what its text follows from beside the entry lines, carried inside as `making.json`.
//!
//! With it and the lines anybody who has this version of the tool makes the same pages again. What may not be
//! carried as a line stands here as what the record shows of it: a change without its price, the breaks of pours
//! that belong to others as plain numbers.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use serde_json::Value;
use trowelogue_core::body::Kind;
use trowelogue_core::entry::{Content, Merged, Record};
use trowelogue_core::fold::fold;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::Moment;
use trowelogue_core::rules;
use trowelogue_core::shop::{LentBreaks, Shop, Step};
use trowelogue_core::sums::fit::Break;
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_core::units::System;
use trowelogue_journal::ShopFile;
use trowelogue_journal::excerpt::{Checked, check_lines};
use trowelogue_papers::model::{Attachment, ProcessRecord, Relation};

use super::Maker;
use super::lines::{Choice, has_price};
use crate::dto::PaperSize;
use crate::format::{Voice, zone_of};

/// Its name among the files a record carries.
pub(super) const NAME: &str = "making.json";

const ABOUT: Text = text(
    "How this record was made, and what it shows of entries that are not carried inside.",
    "Cómo se hizo este registro y lo que muestra de entradas que no van dentro.",
);

/// The form of `making.json`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Making {
    /// The piece.
    pub piece: ObjectId,
    /// Language, units and sheet.
    pub lang: Lang,
    pub units: System,
    pub paper: PaperSize,
    /// The photos that were looked for and found; none where nobody looked.
    pub photos_here: Option<BTreeSet<Hash>>,
    /// The photos shown, in order.
    pub photos: Vec<Hash>,
    /// Lines carried only because others name them.
    pub bare: BTreeSet<Hash>,
    /// Bodies without their price, by the entry's hash.
    pub without_price: BTreeMap<Hash, Value>,
    /// Breaks of other pours, by mix, as ages in hours and strengths in MPa.
    pub lent: BTreeMap<ObjectId, Lent>,
    /// What of the record does not follow from the entries carried.
    pub beyond: Vec<String>,
}

/// Breaks as pairs of age and strength.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Lent {
    by_maturity: Vec<(f64, f64)>,
    by_age: Vec<(f64, f64)>,
}

impl Making {
    /// What a record of a piece is made with, in a voice, on a sheet.
    pub(super) fn new(
        shop: &Shop,
        merged: &Merged,
        piece: ObjectId,
        voice: &Voice,
        paper: PaperSize,
        choice: &Choice,
    ) -> Self {
        let mix = shop.pour_of(piece).map(|(_, pour)| pour.mix);
        let lent = mix
            .filter(|_| !choice.lent.is_empty())
            .map(|mix| (mix, Lent::of(&rules::lend(shop, &choice.lent))));
        let priced = |record: &&Record| {
            choice.wanted.contains(&record.hash) && shop.step(&record.hash).is_some_and(has_price)
        };
        let bodies = merged.records.iter().filter(priced).filter_map(|record| match &record.body {
            Content::Open(body) => Some((record.hash, without_price(body))),
            _ => None,
        });
        Self {
            piece,
            lang: voice.lang,
            units: voice.system,
            paper,
            photos_here: photos_here(shop, &choice.wanted),
            photos: Vec::new(),
            bare: choice.bare.clone(),
            without_price: bodies.collect(),
            lent: lent.into_iter().collect(),
            beyond: Vec::new(),
        }
    }

    /// Says which photos a record shows, and in what it differs from one made of what is carried.
    pub(super) fn compare(
        &mut self,
        record: &ProcessRecord,
        carried: &Carried<'_>,
        now: Moment,
        photo: &dyn Fn(&Hash) -> Option<Vec<u8>>,
    ) {
        let shown = record.photos.iter().filter(|photo| photo.jpeg.is_some());
        self.photos = shown.filter_map(|photo| photo.hash.parse().ok()).collect();
        let again = carried.record(self, now, photo);
        let same = [
            ("piece", record.piece == again.piece),
            ("summary", record.summary == again.summary && record.never_recorded == again.never_recorded),
            ("course", record.column == again.column),
            ("charts", record.charts == again.charts && record.map == again.map),
            ("steps", record.steps == again.steps),
            ("findings", record.findings == again.findings && record.exceptions == again.exceptions),
            ("corrections", record.corrections == again.corrections),
            ("products", record.products == again.products),
            ("devices", record.devices == again.devices),
            ("photos", record.photos == again.photos),
        ];
        self.beyond = same.iter().filter(|(_, same)| !same).map(|(name, _)| (*name).to_owned()).collect();
    }

    /// The file as an attachment.
    pub(super) fn attachment(&self, lang: Lang) -> Attachment {
        let mut bytes = serde_json::to_vec(self).unwrap_or_default();
        bytes.push(b'\n');
        Attachment {
            name: NAME.into(),
            mime: "application/json".into(),
            description: ABOUT.get(lang).into(),
            relation: Relation::Source,
            bytes,
        }
    }

    /// The reader it was made for.
    fn voice(&self, shop: &Shop) -> Voice {
        Voice { lang: self.lang, system: self.units, zone: zone_of(shop) }
    }
}

impl Lent {
    fn of(breaks: &LentBreaks) -> Self {
        let pairs =
            |breaks: &[Break]| breaks.iter().map(|it| (it.equivalent_age_h, it.strength_mpa)).collect();
        Self { by_maturity: pairs(&breaks.by_maturity), by_age: pairs(&breaks.by_age) }
    }

    fn breaks(&self) -> LentBreaks {
        let breaks = |pairs: &[(f64, f64)]| {
            let one =
                |&(equivalent_age_h, strength_mpa): &(f64, f64)| Break { equivalent_age_h, strength_mpa };
            pairs.iter().map(one).collect()
        };
        LentBreaks { by_maturity: breaks(&self.by_maturity), by_age: breaks(&self.by_age) }
    }
}

/// The photos of the entries carried that are in the folder.
fn photos_here(shop: &Shop, wanted: &BTreeSet<Hash>) -> Option<BTreeSet<Hash>> {
    let here = shop.photos_here.as_ref()?;
    let steps = wanted.iter().filter_map(|hash| shop.step(hash)).filter_map(Step::common);
    let named = steps.flat_map(|common| common.photos.iter().map(|photo| photo.hash));
    Some(named.filter(|hash| here.contains(hash)).collect())
}

/// A body, or the body of a correction, without what it costs.
fn without_price(body: &Value) -> Value {
    let mut bare = body.clone();
    if let Value::Object(members) = &mut bare {
        members.remove("price");
        if let Some(Value::Object(inner)) = members.get_mut("body") {
            inner.remove("price");
        }
    }
    bare
}

/// What a record carries, read.
pub(super) struct Carried<'a> {
    /// The shop's own file.
    pub shop: &'a ShopFile,
    /// The lines.
    pub lines: &'a str,
}

impl Carried<'_> {
    /// The record these lines make, at a moment.
    pub(super) fn record(
        &self,
        making: &Making,
        now: Moment,
        photo: &dyn Fn(&Hash) -> Option<Vec<u8>>,
    ) -> ProcessRecord {
        let shop = self.fold(making);
        let maker = Maker { shop: &shop, photo, voice: making.voice(&shop), now };
        maker.record(making.piece, Vec::new())
    }

    /// The shop these lines fold into.
    fn fold(&self, making: &Making) -> Shop {
        let mut merged = Merged {
            shop: self.shop.id,
            name: self.shop.name.clone(),
            founder: self.shop.founder(),
            recovery: Some(*self.shop.recovery.bytes()),
            devices: Vec::new(),
            records: Vec::new(),
        };
        for checked in check_lines(self.lines.lines()) {
            match checked {
                Checked::Header(device, replaces) => merged.devices.push((device, replaces)),
                Checked::Entry(record) => merged.records.push(*record),
                Checked::Seal(_) | Checked::Broken => {}
            }
        }
        let changes = changes(&merged.records);
        merged.records.iter_mut().for_each(|record| lay(record, making, &changes));
        let mut shop = fold(&merged);
        shop.photos_here.clone_from(&making.photos_here);
        shop.lent = making.lent.iter().map(|(mix, it)| (*mix, it.breaks())).collect();
        shop
    }
}

/// Changes agreed on, and corrections of them: the one kind of which a paper may say more than the line it carries.
fn changes(records: &[Record]) -> BTreeSet<Hash> {
    let agreed = |record: &&Record| record.entry.kind == Kind::ChangeAgreed.wire();
    let first: BTreeSet<Hash> = records.iter().filter(agreed).map(|it| it.hash).collect();
    let corrects = |record: &&Record| {
        record.entry.kind == Kind::Correction.wire() && record.entry.refs.iter().any(|it| first.contains(it))
    };
    records.iter().filter(corrects).map(|it| it.hash).chain(first.iter().copied()).collect()
}

/// Lays what is said of a record beside its line into it; one that is only named is about nothing.
fn lay(record: &mut Record, making: &Making, changes: &BTreeSet<Hash>) {
    if making.bare.contains(&record.hash) {
        record.entry.pieces.clear();
        record.entry.object = None;
        return;
    }
    let said = making.without_price.get(&record.hash).filter(|_| changes.contains(&record.hash));
    if let (Content::Withheld, Some(body)) = (&record.body, said) {
        record.body = Content::Open(body.clone());
    }
}
