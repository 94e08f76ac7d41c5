//! One shop folder as one home sees it.

mod authority;
mod open;
mod privacy;
mod recover;
mod sweep;
mod view;

pub use open::{FoundedShop, JoinedShop};
pub use privacy::EraseAsk;
pub use recover::RecoveredShop;
pub(crate) use view::{Fresh, View, acceptance, own_view};

use std::path::{Path, PathBuf};

use trowelogue_core::body::authority::Role;
use trowelogue_core::fold;
use trowelogue_core::id::DeviceId;
use trowelogue_core::moment::Moment;
use trowelogue_core::shop::{DeviceStatus, Shop};
use trowelogue_core::text::{Text, text};
use trowelogue_core::units::System;
use trowelogue_journal as journal;

use crate::clock::Clock;
use crate::dto::report::{Written, WrittenRow};
use crate::dto::{Lang, Standing, UnitsChoice};
use crate::format::Voice;
use crate::keep::Keep;
use crate::say::fill;
use crate::{Result, faults};

/// What a session is opened with, beside the folder.
#[derive(Debug, Clone)]
pub struct Setup {
    /// This device's data.
    pub home: PathBuf,
    /// Where the time comes from.
    pub clock: Clock,
    /// The reader's language; none: the home's.
    pub lang: Option<Lang>,
    /// The reader's units; none: the home's, else the shop's.
    pub units: Option<UnitsChoice>,
}

impl Setup {
    /// The language errors and answers are in.
    pub fn language(&self) -> Lang {
        self.lang.or_else(|| Keep::new(self.home.clone()).prefs().lang).unwrap_or_default()
    }
}

/// One shop folder as one home sees it: read once, and kept in step with what this session writes.
pub struct Session {
    pub(crate) keep: Keep,
    pub(crate) clock: Clock,
    pub(crate) folder: PathBuf,
    pub(crate) voice: Voice,
    /// The shop as joined; none where this home only looks.
    pub(crate) link: Option<journal::Shop>,
    pub(crate) view: View,
    pub(crate) published: Option<journal::Published>,
    /// What a reader has to know of where this was read from.
    read_from: Vec<String>,
}

impl Session {
    /// The shop, folded.
    pub(crate) fn shop(&self) -> &Shop {
        &self.view.shop
    }

    /// The moment, by the session's clock.
    pub(crate) fn now(&self) -> Moment {
        self.clock.now()
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The shop's id.
    pub fn shop_id(&self) -> String {
        self.shop().id.to_string()
    }

    /// The shop's name.
    pub fn shop_name(&self) -> &str {
        &self.shop().name
    }

    /// The reader's units.
    pub fn units(&self) -> UnitsChoice {
        units_of(self.voice.system)
    }

    /// Hash of the recorded state: the same on every device that holds the same entries.
    pub fn digest(&self) -> String {
        fold::digest(self.shop()).to_string()
    }

    /// This device, where it has joined.
    pub(crate) fn device(&self) -> Option<DeviceId> {
        self.link.as_ref().map(journal::Shop::device)
    }

    /// What this device is to the shop.
    pub fn standing(&self) -> Standing {
        let Some(device) = self.device() else { return Standing::Reader };
        match self.shop().devices.get(&device) {
            Some(it) if it.status == DeviceStatus::Accepted && it.role == Role::Owner => Standing::Owner,
            Some(it) if it.status == DeviceStatus::Accepted => Standing::Member,
            _ => Standing::Apart,
        }
    }

    fn is_retired(&self) -> bool {
        let known = self.device().and_then(|device| self.shop().devices.get(&device));
        known.is_some_and(|it| it.status == DeviceStatus::Retired)
    }

    /// Appends entries, all or nothing, and folds them in.
    pub(crate) fn append(&mut self, drafts: Vec<journal::Draft>) -> Result<Written> {
        let lang = self.voice.lang;
        let now = self.now();
        let Some(link) = &mut self.link else {
            let error = journal::Error::NotJoined { path: self.folder.clone(), shop: None };
            return Err(faults::journal(&error, lang));
        };
        let made: Vec<_> = drafts.iter().map(made_by).collect();
        let appended = link.append(drafts, now).map_err(|error| faults::journal(&error, lang))?;
        let rows = appended.written().into_iter().zip(made);
        let entries =
            rows.map(|(it, id)| WrittenRow { id, hash: it.hash.to_string(), seq: it.seq }).collect();
        let in_folder = !matches!(appended.published, journal::Published::NotYet(_));
        self.published = Some(appended.published);
        self.view.take(appended.records, Vec::new());
        self.obey()?;
        let remarks = self.remarks_on(appended.published, appended.clock_ahead_ms);
        Ok(Written { entries, remarks, in_folder })
    }

    /// What a person should know of where this was read from: another copy of the folder, or this device alone.
    pub fn remarks(&self) -> &[String] {
        &self.read_from
    }

    fn remarks_on(&self, published: journal::Published, ahead_ms: Option<i64>) -> Vec<String> {
        let lang = self.voice.lang;
        let mut remarks = Vec::new();
        if let Some(words) = publishing_words(published) {
            remarks.push(words.get(lang).to_owned());
        }
        if self.standing() == Standing::Apart {
            remarks.push(self.voice.say(if self.is_retired() { RETIRED } else { APART }));
        }
        if let Some(ms) = ahead_ms {
            let hours = self.voice.plain((ms as f64 / 360_000.0).round() / 10.0);
            remarks.push(fill(CLOCK_BACK, lang, &[("hours", &hours)]));
        }
        remarks
    }
}

/// Units as the boundary says them.
pub(crate) fn units_of(system: System) -> UnitsChoice {
    match system {
        System::Metric => UnitsChoice::Si,
        System::Us => UnitsChoice::Us,
    }
}

const APART: Text = text(
    "An owner has not accepted this device yet: its entries stand apart until then.",
    "Un dueño aún no ha aceptado este dispositivo: hasta entonces sus entradas quedan aparte.",
);
const RETIRED: Text = text(
    "An owner has retired this device: what it writes is kept, stands apart and never counts. Join again to go on.",
    "Un dueño retiró este dispositivo: lo que escribe se conserva aparte y no cuenta. Vuelva a unirse para seguir.",
);
const CLOCK_BACK: Text = text(
    "This device's clock stands {hours} h behind its own log. Set it right.",
    "El reloj de este dispositivo va {hours} h por detrás de su propio registro. Póngalo en hora.",
);

/// What to say about publishing, where there is something to say.
pub(crate) fn publishing_words(published: journal::Published) -> Option<Text> {
    use journal::{NotPublished as Not, Published};
    Some(match published {
        Published::Yes => return None,
        Published::Rebuilt => text(
            "The folder was missing or empty and was written again from this device.",
            "La carpeta faltaba o estaba vacía y se escribió de nuevo desde este dispositivo.",
        ),
        Published::NotYet(Not::FolderMissing) => text(
            "On disk here; not yet in the folder, which is out of reach.",
            "En disco aquí; aún no en la carpeta, que no se puede alcanzar.",
        ),
        Published::NotYet(Not::ReadOnly) => text(
            "On disk here; not yet in the folder, which cannot be written.",
            "En disco aquí; aún no en la carpeta, en la que no se puede escribir.",
        ),
        Published::NotYet(Not::DiskFull) => text(
            "On disk here; not yet in the folder, whose disk is full.",
            "En disco aquí; aún no en la carpeta, cuyo disco está lleno.",
        ),
        Published::NotYet(Not::OtherShop) => text(
            "On disk here; not yet in the folder: another shop stands there.",
            "En disco aquí; aún no en la carpeta: ahí hay otro taller.",
        ),
        Published::NotYet(Not::NewerFormat) => text(
            "On disk here; not yet in the folder, which a newer version has changed. Install that version.",
            "En disco aquí; aún no en la carpeta, que cambió una versión más nueva. Instale esa versión.",
        ),
        Published::NotYet(Not::NoPassphrase) => text(
            "On disk here; not yet in the folder: the shop has a passphrase this device was not told. Tell it with `trowelogue passphrase FOLDER`.",
            "En disco aquí; aún no en la carpeta: el taller tiene una contraseña que este dispositivo no conoce. Indíquela con `trowelogue passphrase CARPETA`.",
        ),
        Published::NotYet(Not::HomeBehind) => text(
            "On disk here; not yet in the folder, which holds entries of this device that are missing here. Join again.",
            "En disco aquí; aún no en la carpeta, que contiene entradas de este dispositivo que faltan aquí. Vuelva a unirse.",
        ),
        Published::NotYet(Not::Failed) => text(
            "On disk here; not yet in the folder: writing there failed.",
            "En disco aquí; aún no en la carpeta: no se pudo escribir ahí.",
        ),
    })
}

/// The object a draft creates, where it is of a kind that creates one.
fn made_by(draft: &journal::Draft) -> Option<String> {
    let kind = trowelogue_core::body::Kind::parse(&draft.kind)?;
    crate::format::Table::made_by(kind)?;
    draft.object.map(|id| id.to_string())
}
