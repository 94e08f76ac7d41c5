//! The folder page: devices, what is apart, what is wrong.

use trowelogue_core::body::authority::Role;
use trowelogue_core::id::DeviceId;
use trowelogue_core::moment::Moment;
use trowelogue_core::shop::{Device, DeviceStatus, Reading, Status, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::Note;

use super::open::{Open, small};
use super::{Desk, words};
use crate::Result;
use crate::dto::{self, ApartRow, Break, DeviceRow, FolderPage, Matter, Severity, Standing, Verified};
use crate::reading::{matters, title};
use crate::say::fill;
use crate::session::{Session, publishing_words};

/// How many entries of a device that is apart are shown.
const SAMPLES: usize = 5;

const ALL_THERE: Text = text(
    "The folder is in reach, and everything written on this device is in it.",
    "La carpeta está al alcance y contiene todo lo escrito en este dispositivo.",
);
const LOOKING: Text = text(
    "This device has not joined the shop: it may look.",
    "Este dispositivo no se ha unido al taller: puede mirar.",
);
const DUE: Text = text(
    "{count} entries of this device are not in the folder yet.",
    "{count} entradas de este dispositivo aún no están en la carpeta.",
);
const NO_NEED: Text = text("Nothing needs to be done.", "No hay que hacer nada.");
const GOOD: Text = text(
    "Every line, signature, chain and photo of {count} entries holds.",
    "Todas las líneas, firmas, cadenas y fotos de {count} entradas son correctas.",
);
const BAD: Text = text(
    "{breaks} faults. Every entry that is whole still counts ({count} entries).",
    "{breaks} fallos. Toda entrada entera sigue contando ({count} entradas).",
);

impl Desk {
    /// The folder: its devices, what stands apart, what there is to know.
    ///
    /// # Errors
    /// No shop is open.
    pub fn folder(&self) -> Result<FolderPage> {
        let polled = self.polled();
        self.with(|open| {
            let exposed = open.exposed();
            Ok(self.page(open, &exposed, polled))
        })
    }

    /// Checks everything in the folder: every signature, chain, seal, header and photo.
    ///
    /// # Errors
    /// No shop is open; the folder cannot be read.
    pub fn verify(&self) -> Result<Verified> {
        self.with(|open| {
            let report = open.session.verify()?;
            let count = report.entries as u64;
            let blanks: [(&str, &dyn std::fmt::Display); 2] =
                [("count", &count), ("breaks", &report.breaks.len())];
            let good = report.breaks.is_empty();
            Ok(Verified {
                good,
                health: report.health,
                say: fill(if good { GOOD } else { BAD }, open.session.voice.lang, &blanks),
                breaks: report
                    .breaks
                    .into_iter()
                    .map(|it| Break { file: it.file, line: it.line, kind: it.kind.to_owned(), text: it.text })
                    .collect(),
                notes: report.notes.into_iter().map(|it| at_file(it.file, it.line, &it.text)).collect(),
                entries: count,
            })
        })
    }

    fn page(&self, open: &Open, exposed: &[Note], polled: Option<String>) -> FolderPage {
        let session = &open.session;
        let (shop, voice, view) = (session.shop(), &session.voice, &session.view);
        let newer = shop.steps.iter().filter(|it| matches!(it.reading, Reading::Newer(_))).count();
        let known: Vec<Note> = view.notes.iter().chain(exposed).cloned().collect();
        let mut matters = matters(session, &known, &view.breaks);
        matters.extend(polled.map(|why| Matter {
            key: "polled".to_owned(),
            severity: Severity::Note,
            title: fill(words::POLLED, voice.lang, &[("why", &why)]),
            places: Vec::new(),
            remedy: voice.say(NO_NEED),
            settle: Vec::new(),
        }));
        matters.extend(super::photos::room_of(session).refused().into_iter().map(|said| Matter {
            key: format!("photo-{said}"),
            severity: Severity::Caution,
            title: said,
            places: Vec::new(),
            remedy: voice.say(NO_NEED),
            settle: Vec::new(),
        }));
        FolderPage {
            shop: self.head(session),
            standing: session.standing(),
            reachable: view.folder_here,
            writable: session.link.is_some() && view.folder_here && session.not_in_folder() == 0,
            say: standing_words(session),
            devices: shop.devices.values().map(|it| device_row(session, it)).collect(),
            apart: apart(session),
            not_in_folder: small(session.not_in_folder()),
            waiting: small(shop.steps.iter().filter(|it| it.status == Status::Waiting).count() as u64),
            newer: small(newer as u64),
            matters,
            digest: session.digest(),
            entries: shop.steps.len() as u64,
            last_sweep: voice.when(&open.swept, &session.now()),
        }
    }
}

/// How the folder stands, in a sentence or two.
fn standing_words(session: &Session) -> String {
    let voice = &session.voice;
    if session.link.is_none() {
        return voice.say(LOOKING);
    }
    let mut said = Vec::new();
    if let Some(words) = session.published.and_then(publishing_words) {
        said.push(voice.say(words));
    }
    match session.not_in_folder() {
        0 if said.is_empty() => said.push(voice.say(ALL_THERE)),
        0 => {}
        count => said.push(fill(DUE, voice.lang, &[("count", &count)])),
    }
    said.join(" ")
}

fn at_file(file: Option<String>, line: Option<u64>, text: &str) -> String {
    match (file, line) {
        (Some(file), Some(line)) => format!("{file}:{line}: {text}"),
        (Some(file), None) => format!("{file}: {text}"),
        (None, _) => text.to_owned(),
    }
}

fn device_row(session: &Session, device: &Device) -> DeviceRow {
    let (shop, voice) = (session.shop(), &session.voice);
    let owner = session.standing() == Standing::Owner;
    let this = session.device() == Some(device.id);
    let status = match device.status {
        DeviceStatus::Accepted => dto::DeviceStatus::Accepted,
        DeviceStatus::Apart => dto::DeviceStatus::Apart,
        DeviceStatus::Retired => dto::DeviceStatus::Retired,
    };
    DeviceRow {
        id: device.id.to_string(),
        name: name_of(device),
        person: device.person.map(|person| shop.person_name(person)),
        status,
        status_text: voice.say(device.status.label()),
        this,
        owner: device.role == Role::Owner && device.status == DeviceStatus::Accepted,
        entries: steps_of(session, device.id).count() as u64,
        last: device.last_wrote.as_ref().map(|it| voice.when(it, &session.now())),
        fingerprint: device.id.fingerprint(),
        may_accept: owner && device.status == DeviceStatus::Apart,
        // The last owner's own device cannot retire itself from here: nobody could accept another one then.
        may_retire: owner && !this && device.status != DeviceStatus::Retired,
        other_role: (owner && !this && device.status == DeviceStatus::Accepted)
            .then(|| if device.role == Role::Owner { Role::Crew } else { Role::Owner })
            .map(|role| role.wire().to_owned()),
    }
}

fn name_of(device: &Device) -> String {
    device.name.clone().unwrap_or_else(|| device.id.to_string())
}

fn steps_of(session: &Session, device: DeviceId) -> impl Iterator<Item = &Step> {
    session.shop().steps.iter().filter(move |step| step.device == device)
}

/// What stands apart, device by device.
fn apart(session: &Session) -> Vec<ApartRow> {
    let shop = session.shop();
    let waiting = shop.devices.values().filter(|it| it.status == DeviceStatus::Apart);
    let row = |device: &Device| {
        let steps: Vec<&Step> = steps_of(session, device.id).collect();
        let first: Option<Moment> = steps.iter().map(|step| step.wrote).min();
        ApartRow {
            device: device.id.to_string(),
            name: name_of(device),
            entries: steps.len() as u64,
            first: first.as_ref().map(|it| session.voice.when(it, &session.now())),
            samples: steps.iter().rev().take(SAMPLES).map(|step| sample(session, step)).collect(),
        }
    };
    waiting.map(row).collect()
}

fn sample(session: &Session, step: &Step) -> String {
    format!("{} · {}", title(&session.voice, step), session.voice.moment(&step.done.start))
}
