//! How the folder stands, in plain words: what there is to know and to do, for the window and for `verify`.

mod remedies;

use std::collections::BTreeMap;

use trowelogue_core::body::authority::Role;
use trowelogue_core::id::DeviceId;
use trowelogue_core::rules::limits::CLOCK_JUMP;
use trowelogue_core::shop::{Device, DeviceStatus, Fork, Shop, Status, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::{Break, BreakKind, Note, NoteKind};

use self::remedies::{PHOTOS_DO, break_remedy, note_remedy};
use super::verify::photos;
use super::{first_upper, title};
use crate::dto::{Choice, HealthRow, Matter, Severity, Standing};
use crate::say::{fill, list};
use crate::session::Session;

/// Places named of one matter; the rest is counted.
const PLACES: usize = 6;
const MS_PER_HOUR: f64 = 3_600_000.0;

const OWNER: Text = text("accepted, owner", "aceptado, dueño");
const CREW: Text = text("accepted", "aceptado");
const APART: Text = text("not accepted: its entries stand apart", "sin aceptar: sus entradas quedan aparte");
const RETIRED: Text = text("retired", "retirado");
const DEVICE: Text = text(
    "{device}: {status}. Entries: {count}. Last seen: {when}.",
    "{device}: {status}. Entradas: {count}. Visto por última vez: {when}.",
);
const SILENT: Text =
    text("{device}: {status}. It has written nothing.", "{device}: {status}. No ha escrito nada.");
const ACCEPT: Text = text(
    "Compare its fingerprint with the device, then accept it; or leave it apart.",
    "Compare su huella con el dispositivo y acéptelo; o déjelo aparte.",
);
const AWAY: Text = text("The folder cannot be reached", "No se puede alcanzar la carpeta");
const AWAY_DO: Text = text(
    "Go on working: everything is kept on this device. Connect the drive or share again, or put the folder back where it was; it is filled by itself.",
    "Siga trabajando: todo queda en este dispositivo. Vuelva a conectar el disco o la unidad, o ponga la carpeta donde estaba; se completa sola.",
);
const DUE: Text = text("{count} entries wait for the folder", "{count} entradas esperan la carpeta");
const DUE_DO: Text = text(
    "They are safe on this device. See that the folder can be written and has room, then look again.",
    "Están a salvo en este dispositivo. Compruebe que se puede escribir en la carpeta y que hay sitio, y mire otra vez.",
);
const WAIT_OUTSIDE: Text =
    text("{count} devices wait to be accepted", "{count} dispositivos esperan ser aceptados");
const LET_IN: Text = text(
    "Compare the fingerprint below with the one shown on that device, then accept it. An owner does this.",
    "Compare la huella de abajo con la que muestra ese dispositivo y acéptelo. Lo hace un dueño.",
);
const FORKED: Text = text("{name} wrote number {seq} twice", "{name} escribió dos veces el número {seq}");
const FORKED_DO: Text = text(
    "A copy of that device, or an old state of it, is at work: both entries are kept and count. Choose the one that counts, retire the device, and let it join again as a new one.",
    "Trabaja una copia de ese dispositivo o un estado antiguo suyo: ambas entradas se conservan y cuentan. Elija la que cuenta, retire el dispositivo y que se una de nuevo.",
);
const PHOTOS: Text = text("{count} photos are not in the folder", "faltan {count} fotos en la carpeta");
const WAITING: Text = text(
    "Entries that refer to entries not here yet: {count}",
    "Entradas que se refieren a otras que aún no están: {count}",
);
const LET_ARRIVE: Text = text(
    "Open the folder on that device and let what carries the folder finish.",
    "Abra la carpeta en ese dispositivo y deje terminar lo que lleva la carpeta.",
);
const CLOCK: Text = text(
    "The clock of {device} was off by up to {hours} h",
    "El reloj de {device} estuvo desviado hasta {hours} h",
);
const SET_CLOCK: Text = text("Set it by the network.", "Póngalo en hora por la red.");

/// How the folder stands, thing by thing: each device, then everything to know or do.
pub(crate) fn health(session: &Session, notes: &[Note], breaks: &[Break]) -> Vec<HealthRow> {
    // A device that waits to be accepted is told with the devices.
    let others = matters(session, notes, breaks).into_iter().filter(|it| it.key != WAITS);
    devices(session).into_iter().chain(others.map(row)).collect()
}

/// A matter as a line: its kind without what tells it apart from others of the kind.
fn row(it: Matter) -> HealthRow {
    let kind = it.key.split('-').next().unwrap_or_default().to_owned();
    let places = if it.places.is_empty() { String::new() } else { format!(": {}", it.places.join(", ")) };
    let good = it.severity == Severity::Note;
    HealthRow { kind, good, text: format!("{}{places}.", it.title), remedy: (!good).then_some(it.remedy) }
}

fn devices(session: &Session) -> Vec<HealthRow> {
    let mut counts: BTreeMap<DeviceId, u64> = BTreeMap::new();
    for step in &session.shop().steps {
        *counts.entry(step.device).or_default() += 1;
    }
    let count = |device: &Device| counts.get(&device.id).copied().unwrap_or(0);
    session.shop().devices.values().map(|it| device(session, it, count(it))).collect()
}

fn device(session: &Session, device: &Device, count: u64) -> HealthRow {
    let voice = &session.voice;
    let status = voice.say(match (device.status, device.role) {
        (DeviceStatus::Accepted, Role::Owner) => OWNER,
        (DeviceStatus::Accepted, Role::Crew) => CREW,
        (DeviceStatus::Apart, _) => APART,
        (DeviceStatus::Retired, _) => RETIRED,
    });
    let name = device_name(session.shop(), device.id);
    let text = match &device.last_wrote {
        Some(last) => {
            let when = voice.when(last, &session.now()).text;
            let blanks: [(&str, &dyn std::fmt::Display); 4] =
                [("device", &name), ("status", &status), ("count", &count), ("when", &when)];
            fill(DEVICE, voice.lang, &blanks)
        }
        None => fill(SILENT, voice.lang, &[("device", &name), ("status", &status)]),
    };
    let apart = device.status == DeviceStatus::Apart;
    HealthRow { kind: "device".to_owned(), good: !apart, text, remedy: apart.then(|| voice.say(ACCEPT)) }
}

/// Everything there is to know of the folder, the gravest first. `notes` and `breaks`: what a look at its files
/// found, and what others can still read.
pub(crate) fn matters(session: &Session, notes: &[Note], breaks: &[Break]) -> Vec<Matter> {
    let mut all = Vec::new();
    all.extend(reach(session));
    all.extend(session.shop().forks.iter().filter(|fork| !fork.settled).map(|fork| forked(session, fork)));
    all.extend(broken(session, breaks));
    all.extend(waiting(session));
    if !breaks.iter().any(|it| it.kind == BreakKind::PhotoMissing) {
        all.extend(missing_photos(session));
    }
    all.extend(clocks(session));
    all.extend(noted(session, notes));
    all.sort_by_key(|it| it.severity);
    all
}

const WAITS: &str = "apart";

fn matter(key: &str, severity: Severity, title: &str, remedy: String) -> Matter {
    Matter {
        key: key.to_owned(),
        severity,
        title: first_upper(title),
        places: Vec::new(),
        remedy,
        settle: Vec::new(),
    }
}

/// The folder out of reach, entries that are not in it, devices that wait.
fn reach(session: &Session) -> Vec<Matter> {
    let voice = &session.voice;
    let mut all = Vec::new();
    if !session.view.folder_here {
        all.push(matter("away", Severity::Caution, &voice.say(AWAY), voice.say(AWAY_DO)));
    }
    match session.not_in_folder() {
        0 => {}
        count => {
            let title = fill(DUE, voice.lang, &[("count", &count)]);
            all.push(matter("due", Severity::Caution, &title, voice.say(DUE_DO)));
        }
    }
    let apart = session.shop().devices.values().filter(|it| it.status == DeviceStatus::Apart).count();
    if apart > 0 {
        let title = fill(WAIT_OUTSIDE, voice.lang, &[("count", &apart)]);
        all.push(matter(WAITS, Severity::Caution, &title, voice.say(LET_IN)));
    }
    all
}

fn forked(session: &Session, fork: &Fork) -> Matter {
    let (shop, voice) = (session.shop(), &session.voice);
    let name = device_name(shop, fork.device);
    let title = fill(FORKED, voice.lang, &[("name", &name), ("seq", &fork.seq)]);
    let entry = |step: &Step| Choice {
        value: step.hash.to_string(),
        label: first_upper(&self::title(voice, step)),
        hint: Some(format!("{} · {}", shop.person_name(step.person), voice.moment(&step.done.start))),
    };
    let owner = session.standing() == Standing::Owner;
    let entries = fork.hashes.iter().filter(|_| owner).filter_map(|hash| shop.step(hash)).map(entry);
    let key = format!("fork-{}-{}", fork.device, fork.seq);
    Matter { settle: entries.collect(), ..matter(&key, Severity::Stop, &title, voice.say(FORKED_DO)) }
}

fn device_name(shop: &Shop, device: DeviceId) -> String {
    let name = shop.devices.get(&device).and_then(|it| it.name.clone());
    name.unwrap_or_else(|| device.fingerprint())
}

/// A file with its line, as a place.
fn place(file: Option<&str>, line: Option<u64>) -> Option<String> {
    let file = file?;
    Some(line.map_or_else(|| file.to_owned(), |line| format!("{file}:{line}")))
}

/// Faults of the files, kind by kind; a fork is told by its entries.
fn broken(session: &Session, breaks: &[Break]) -> Vec<Matter> {
    let voice = &session.voice;
    let mut kinds: BTreeMap<BreakKind, Vec<String>> = BTreeMap::new();
    for it in breaks.iter().filter(|it| it.kind != BreakKind::Fork) {
        kinds.entry(it.kind).or_default().extend(place(Some(&it.file), it.line));
    }
    let told = kinds.into_iter().map(|(kind, places)| {
        let made =
            matter(kind.code(), Severity::Stop, &voice.say(kind.text()), voice.say(break_remedy(kind)));
        Matter { places: cut(&places), ..made }
    });
    told.collect()
}

fn cut(places: &[String]) -> Vec<String> {
    let mut shown: Vec<String> = places.iter().take(PLACES).cloned().collect();
    if places.len() > PLACES {
        shown.push(list(&places[PLACES..], 0));
    }
    shown
}

/// Entries that refer to entries which are not here yet.
fn waiting(session: &Session) -> Option<Matter> {
    let count = session.shop().steps.iter().filter(|it| it.status == Status::Waiting).count();
    let title = fill(WAITING, session.voice.lang, &[("count", &count)]);
    (count > 0).then(|| matter("waiting", Severity::Caution, &title, session.voice.say(LET_ARRIVE)))
}

fn noted(session: &Session, notes: &[Note]) -> Vec<Matter> {
    let (shop, voice) = (session.shop(), &session.voice);
    let mut kinds: BTreeMap<NoteKind, Vec<String>> = BTreeMap::new();
    for it in notes.iter().filter(|it| it.kind != NoteKind::NotInFolder) {
        let device = it.device.map(|device| {
            let range = match it.range {
                Some((from, to)) if from == to => format!(" {from}"),
                Some((from, to)) => format!(" {from}–{to}"),
                None => String::new(),
            };
            format!("{}{range}", device_name(shop, device))
        });
        kinds.entry(it.kind).or_default().extend(place(it.file.as_deref(), it.line).or(device));
    }
    let told = kinds.into_iter().map(|(kind, places)| {
        let (severity, remedy) = note_remedy(kind);
        let made = matter(kind.code(), severity, &voice.say(kind.text()), voice.say(remedy));
        Matter { places: cut(&places), ..made }
    });
    told.collect()
}

/// Photos that entries name and the folder does not have, where no look at the files has named them.
fn missing_photos(session: &Session) -> Option<Matter> {
    let here = session.shop().photos_here.as_ref()?;
    let missing = photos(&session.shop().steps).difference(here).count();
    let title = fill(PHOTOS, session.voice.lang, &[("count", &missing)]);
    (missing > 0).then(|| matter("photos_missing", Severity::Caution, &title, session.voice.say(PHOTOS_DO)))
}

/// Devices whose wall clock disagreed with the order of their entries by more than the limit of the rule about it.
fn clocks(session: &Session) -> Vec<Matter> {
    let (shop, voice) = (session.shop(), &session.voice);
    let mut most: BTreeMap<DeviceId, f64> = BTreeMap::new();
    for step in &shop.steps {
        let off = (step.order.clock.ms - step.wrote.timestamp_millis()).unsigned_abs() as f64;
        let known = most.entry(step.device).or_default();
        *known = known.max(off / MS_PER_HOUR);
    }
    let told = most.into_iter().filter(|(_, hours)| *hours > CLOCK_JUMP.value).map(|(device, hours)| {
        let hours = voice.plain((hours * 10.0).round() / 10.0);
        let title = fill(CLOCK, voice.lang, &[("device", &device_name(shop, device)), ("hours", &hours)]);
        matter(&format!("clock-{device}"), Severity::Caution, &title, voice.say(SET_CLOCK))
    });
    told.collect()
}
