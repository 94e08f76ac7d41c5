//! The process record of a piece.

use std::collections::BTreeMap;

use trowelogue_core::body::{Body, Kind};
use trowelogue_core::id::{DeviceId, ObjectId};
use trowelogue_core::rules::{self, State};
use trowelogue_core::shop::{self, DeviceStatus, Status};
use trowelogue_core::text::{Text, text};
use trowelogue_papers::model::{Attachment, Device, Fact, Photo, ProcessRecord, Term};

use super::Maker;
use crate::reading::{first_upper, title};
use crate::say::fill;

const ROUTE: Text = text("route", "ruta de acabado");
const SEALED: Text = text("sealed with", "sellada con");
const COATS: Text = text("coats", "manos");
const HANDED_OVER: Text = text("handed over", "entregada");
const TO: Text = text("{when}, to {who}", "{when}, a {who}");
const VERDICT: Text = text("findings", "hallazgos");
const COUNTS: Text = text(
    "stops that stand: {stops}; cautions: {cautions}; accepted by name: {accepted}",
    "altos vigentes: {stops}; precauciones: {cautions}; aceptados con nombre: {accepted}",
);
const LATE: Text = text("entries written late", "entradas escritas tarde");
const PEOPLE: Text = text("people", "personas");
const ENTRIES: Text = text("{count} entries", "{count} entradas");
const ACCEPTED: Text = text("accepted", "aceptado");
const APART: Text = text("not accepted: its entries stand apart", "no aceptado: sus entradas quedan aparte");
const RETIRED: Text = text("retired", "retirado");

/// Steps every piece goes through, and what is said where none is recorded.
const EXPECTED: [(Kind, Text); 8] = [
    (Kind::Pour, text("the pour", "el vertido")),
    (Kind::InitialCure, text("the initial cure", "el curado inicial")),
    (Kind::Demould, text("the demolding", "el desmoldeo")),
    (Kind::Strength, text("evidence of strength", "una prueba de resistencia")),
    (Kind::SampleAgreed, text("a sample agreed with the client", "una muestra acordada con el cliente")),
    (Kind::SealCoat, text("a coat of sealer", "una mano de sellador")),
    (Kind::Inspection, text("an inspection", "una inspección")),
    (Kind::Handover, text("the handover", "la entrega al cliente")),
];

/// Words of the trade a client may not know.
const GLOSSARY: [(Text, Text); 6] = [
    (
        text("cream", "pasta"),
        text("the cement skin of a cast face", "la piel de cemento de una cara moldeada"),
    ),
    (
        text("grit pass", "pasada de grano"),
        text(
            "grinding a face once with one grit until the scratches of the one before are gone",
            "desbastar una cara una vez con un grano hasta borrar las rayas del anterior",
        ),
    ),
    (
        text("plucking", "arranque de granos"),
        text(
            "grains torn out because the paste does not hold them yet",
            "granos arrancados porque la pasta aún no los sujeta",
        ),
    ),
    (
        text("neutralize", "neutralizar"),
        text(
            "to remove what acid is left on a washed face",
            "eliminar el ácido que queda en una cara lavada",
        ),
    ),
    (
        text("dew-point margin", "margen sobre el punto de rocío"),
        text(
            "surface temperature less the dew point of the air",
            "temperatura de la superficie menos el punto de rocío del aire",
        ),
    ),
    (
        text("recoat window", "ventana de repintado"),
        text(
            "the earliest and the latest time for the next coat",
            "el primer y el último momento para la siguiente mano",
        ),
    ),
];

impl Maker<'_> {
    pub(super) fn record(&self, piece: ObjectId, attachments: Vec<Attachment>) -> ProcessRecord {
        let steps = self.standing(piece);
        let findings = rules::check_piece(self.shop, piece);
        ProcessRecord {
            imprint: self.imprint("record", &[piece]),
            piece: self.card(piece),
            summary: self.summary(piece, &steps, &findings),
            never_recorded: self.never_recorded(piece),
            column: self.column(piece, &findings),
            charts: self.charts(piece),
            map: self.map(piece),
            steps: steps.iter().map(|step| self.step(step, &findings)).collect(),
            findings: findings.iter().map(|it| self.finding(it)).collect(),
            exceptions: self.exceptions(&steps),
            corrections: self.corrections(&steps),
            products: self.products(&steps),
            devices: self.devices(&steps),
            photos: self.photos(&steps),
            glossary: self.glossary(),
            basis: self.bases(),
            attachments,
        }
    }

    fn summary(&self, piece: ObjectId, steps: &[&shop::Step], findings: &[rules::Finding]) -> Vec<Fact> {
        let shop = self.shop;
        let case = rules::Case::new(shop, piece);
        let route = trowelogue_core::routes::in_use(&case);
        let coats = case.of(Kind::SealCoat).count();
        let late = steps.iter().filter(|step| step.late).count();
        let facts = [
            (ROUTE, route.map(|it| it.route.name.get(self.voice.lang).to_owned())),
            (SEALED, super::parts::last_coat(self, piece).map(|(_, product)| product.name.clone())),
            (COATS, (coats > 0).then(|| coats.to_string())),
            (HANDED_OVER, self.handed_over(piece)),
            (PEOPLE, Some(self.people(steps))),
            (VERDICT, Some(self.verdict(findings))),
            (LATE, (late > 0).then(|| late.to_string())),
        ];
        let known = facts
            .into_iter()
            .filter_map(|(label, value)| Some(Fact::new(label.get(self.voice.lang), value?)));
        known.collect()
    }

    /// When and to whom a piece was handed over.
    pub(super) fn handed_over(&self, piece: ObjectId) -> Option<String> {
        let history = self.shop.history(piece);
        let (step, who) = history.into_iter().rev().find_map(|step| match step.body() {
            Some(Body::Handover(it)) => Some((step, it.received_by.clone())),
            _ => None,
        })?;
        let when = self.voice.moment(&step.done.start);
        Some(fill(TO, self.voice.lang, &[("when", &when), ("who", &who)]))
    }

    fn people(&self, steps: &[&shop::Step]) -> String {
        let mut names: Vec<String> = Vec::new();
        for step in steps {
            let name = self.shop.person_name(step.person);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names.join(", ")
    }

    fn verdict(&self, findings: &[rules::Finding]) -> String {
        let standing =
            |severity| move |it: &&rules::Finding| it.state == State::Stands && it.severity == severity;
        let stops = findings.iter().filter(standing(rules::Severity::Stop)).count();
        let cautions = findings.iter().filter(standing(rules::Severity::Caution)).count();
        let accepted = findings.iter().filter(|it| matches!(it.state, State::Accepted(_))).count();
        fill(COUNTS, self.voice.lang, &[("stops", &stops), ("cautions", &cautions), ("accepted", &accepted)])
    }

    fn never_recorded(&self, piece: ObjectId) -> Vec<String> {
        let case = rules::Case::new(self.shop, piece);
        let missing = EXPECTED.iter().filter(|(kind, _)| case.of(*kind).next().is_none());
        missing.map(|(_, words)| self.voice.say(*words)).collect()
    }

    fn devices(&self, steps: &[&shop::Step]) -> Vec<Device> {
        let mut counts: BTreeMap<DeviceId, usize> = BTreeMap::new();
        for step in steps {
            *counts.entry(step.device).or_default() += 1;
        }
        let device = |(id, count): (DeviceId, usize)| {
            let known = self.shop.devices.get(&id);
            let status = match known.map(|it| it.status) {
                Some(DeviceStatus::Accepted) => ACCEPTED,
                Some(DeviceStatus::Retired) => RETIRED,
                _ => APART,
            };
            Device {
                name: known.and_then(|it| it.name.clone()).unwrap_or_else(|| id.to_string()),
                id: id.to_string(),
                status: self.voice.say(status),
                entries: fill(ENTRIES, self.voice.lang, &[("count", &count)]),
            }
        };
        counts.into_iter().map(device).collect()
    }

    /// Photos of entries that count, in order; one whose file is missing or wrong is named without its picture.
    fn photos(&self, steps: &[&shop::Step]) -> Vec<Photo> {
        let mut photos = Vec::new();
        for step in steps.iter().filter(|step| step.status == Status::Counts) {
            for photo in step.common().into_iter().flat_map(|common| &common.photos) {
                let caption = format!(
                    "{}, {}",
                    first_upper(&title(&self.voice, step)),
                    self.voice.moment(&step.done.start)
                );
                photos.push(Photo {
                    hash: photo.hash.to_string(),
                    alt: photo.caption.clone().unwrap_or_else(|| caption.clone()),
                    caption,
                    jpeg: (self.photo)(&photo.hash),
                });
            }
        }
        photos
    }

    fn glossary(&self) -> Vec<Term> {
        let term = |(word, meaning): &(Text, Text)| Term {
            term: self.voice.say(*word),
            meaning: self.voice.say(*meaning),
        };
        GLOSSARY.iter().map(term).collect()
    }

    fn bases(&self) -> Vec<Term> {
        let term = |rule: &&rules::Rule| Term {
            term: format!("{}: {}", rule.code, self.voice.say(rule.title)),
            meaning: rule.basis.words(self.voice.lang),
        };
        rules::ALL.iter().map(term).collect()
    }
}
