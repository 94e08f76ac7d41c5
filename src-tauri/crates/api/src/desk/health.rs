//! How the folder is: everything a person has to know or do, each with what to do, in plain words.

use std::collections::BTreeMap;

use trowelogue_core::id::DeviceId;
use trowelogue_core::moment::{Moment, hours_between};
use trowelogue_core::rules::limits;
use trowelogue_core::shop::{DeviceStatus, Fork, Shop, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::{BreakKind, Note, NoteKind};

use crate::dto::{Choice, Matter, Severity, Standing};
use crate::reading::{ENCRYPT, TAKE_OUT, first_upper, photos, title};
use crate::say::{fill, list};
use crate::session::Session;

/// Places named of one matter; the rest is counted.
const PLACES: usize = 6;

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
const APART: Text = text("{count} devices wait to be accepted", "{count} dispositivos esperan ser aceptados");
const APART_DO: Text = text(
    "Compare the fingerprint below with the one shown on that device, then accept it. An owner does this.",
    "Compare la huella de abajo con la que muestra ese dispositivo y acéptelo. Lo hace un dueño.",
);
const FORKED: Text = text("{name} wrote number {seq} twice", "{name} escribió dos veces el número {seq}");
const FORKED_DO: Text = text(
    "A copy of that device, or an old state of it, is at work: both entries are kept and count. Choose the one that counts, retire the device, and let it join again as a new one.",
    "Trabaja una copia de ese dispositivo o un estado antiguo suyo: ambas entradas se conservan y cuentan. Elija la que cuenta, retire el dispositivo y que se una de nuevo.",
);
const PHOTOS: Text = text("{count} photos are not in the folder", "faltan {count} fotos en la carpeta");
const PHOTOS_DO: Text = text(
    "They are on the way, or on the device that took them: open the app there with the folder in reach. The entries that name them stay whole.",
    "Están en camino o en el dispositivo que las tomó: abra ahí la aplicación con la carpeta al alcance. Las entradas que las nombran siguen enteras.",
);
const CLOCK: Text = text("The clock of {name} was set back", "El reloj de {name} se atrasó");
const CLOCK_AT: Text = text("{count} times, last at {when}", "{count} veces, la última el {when}");
const CLOCK_DO: Text = text(
    "Set the clock of that device right. The order of its entries is safe; look whether times of work are right, and correct those that are not.",
    "Ponga en hora ese dispositivo. El orden de sus entradas está a salvo; mire si las horas de trabajo son correctas y corrija las que no.",
);

/// Everything there is to know of the folder, the gravest first. `known`: the notes of the scan, and what others can
/// still read.
pub(super) fn matters(session: &Session, known: &[Note]) -> Vec<Matter> {
    let mut all = Vec::new();
    all.extend(reach(session));
    all.extend(session.shop().forks.iter().filter(|fork| !fork.settled).map(|fork| forked(session, fork)));
    all.extend(breaks(session));
    all.extend(missing_photos(session));
    all.extend(clocks(session));
    all.extend(notes(session, known));
    all.sort_by_key(|it| it.severity);
    all
}

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
        let title = fill(APART, voice.lang, &[("count", &apart)]);
        all.push(matter("apart", Severity::Caution, &title, voice.say(APART_DO)));
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
fn breaks(session: &Session) -> Vec<Matter> {
    let voice = &session.voice;
    let mut kinds: BTreeMap<BreakKind, Vec<String>> = BTreeMap::new();
    for it in session.view.breaks.iter().filter(|it| it.kind != BreakKind::Fork) {
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

/// What to do about a fault.
const fn break_remedy(kind: BreakKind) -> Text {
    use BreakKind as B;
    match kind {
        B::PhotoMissing | B::PhotoWrong => PHOTOS_DO,
        B::FileTooShortOfKnown | B::SegmentMissing | B::SequenceGap | B::TornTail => text(
            "Nothing that was ever here is lost: the file is written again from the device it belongs to, once that opens the folder. If it stays, look whether the program that carries the folder keeps older versions.",
            "Nada de lo que estuvo aquí se pierde: el archivo se vuelve a escribir desde su dispositivo cuando abra la carpeta. Si sigue así, mire si el programa que lleva la carpeta guarda versiones antiguas.",
        ),
        B::ForeignShop => text(
            "A log of another shop lies in this folder. Give each shop a folder of its own and move the file there.",
            "En esta carpeta hay un registro de otro taller. Dé a cada taller su carpeta y mueva ahí el archivo.",
        ),
        B::ShopFileBad => text(
            "Put shop.json back from a copy of the folder. Until then each device goes by the one it joined with.",
            "Restaure shop.json desde una copia de la carpeta. Hasta entonces cada dispositivo usa el de su unión.",
        ),
        _ => text(
            "Somebody or something changed this file. Every whole entry still counts. Put the file back from a copy, or let the device it belongs to open the folder.",
            "Alguien o algo cambió este archivo. Toda entrada entera sigue contando. Restaure el archivo desde una copia o deje que su dispositivo abra la carpeta.",
        ),
    }
}

fn notes(session: &Session, known: &[Note]) -> Vec<Matter> {
    let (shop, voice) = (session.shop(), &session.voice);
    let mut kinds: BTreeMap<NoteKind, Vec<String>> = BTreeMap::new();
    for it in known.iter().filter(|it| it.kind != NoteKind::NotInFolder) {
        let device = it.device.map(|device| {
            let range = it.range.map(|(from, to)| format!(" {from}–{to}")).unwrap_or_default();
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

/// How much a note weighs, and what to do about it.
const fn note_remedy(kind: NoteKind) -> (Severity, Text) {
    use NoteKind as N;
    const NOTHING: Text = text("Nothing needs to be done.", "No hay que hacer nada.");
    const WAIT: Text = text(
        "Wait, or open the app on that device with the folder in reach; what is missing comes by itself.",
        "Espere o abra la aplicación en ese dispositivo con la carpeta al alcance; lo que falta llega solo.",
    );
    match kind {
        N::Gap | N::BehindNeighbours | N::NotHereYet | N::PendingTail | N::NoHeader => {
            (Severity::Caution, WAIT)
        }
        N::NewerVersion => (
            Severity::Caution,
            text("Install the newer version to read it.", "Instale la versión más nueva para leerlo."),
        ),
        N::BodyLocked => (
            Severity::Caution,
            text(
                "Tell this device the passphrase, on the page Shop.",
                "Indique la contraseña en la página Taller.",
            ),
        ),
        N::Unreadable => (
            Severity::Caution,
            text(
                "Allow reading the file, or look whether the disk is failing. Keep a copy of the folder.",
                "Permita leer el archivo o mire si falla el disco. Guarde una copia de la carpeta.",
            ),
        ),
        N::TooManyFaults => (
            Severity::Caution,
            text("Put the file back from a copy.", "Restaure el archivo desde una copia."),
        ),
        N::StillPlain => (Severity::Caution, ENCRYPT),
        N::ErasedStillShown => (Severity::Caution, TAKE_OUT),
        N::CopyAddsLines
        | N::CopyAddsNothing
        | N::StrayFile
        | N::FolderRebuilt
        | N::WentBackwards
        | N::NotInFolder => (Severity::Note, NOTHING),
    }
}

/// Photos that entries name and the folder does not have.
fn missing_photos(session: &Session) -> Option<Matter> {
    let here = session.shop().photos_here.as_ref()?;
    let missing = photos(&session.shop().steps).difference(here).count();
    let title = fill(PHOTOS, session.voice.lang, &[("count", &missing)]);
    (missing > 0).then(|| matter("photos", Severity::Caution, &title, session.voice.say(PHOTOS_DO)))
}

/// Devices whose clock went back from one entry to the next by more than the limit of the rule about it.
fn clocks(session: &Session) -> Vec<Matter> {
    let (shop, voice) = (session.shop(), &session.voice);
    let mut logs: BTreeMap<DeviceId, Vec<(u64, Moment)>> = BTreeMap::new();
    for step in &shop.steps {
        logs.entry(step.device).or_default().push((step.order.seq, step.wrote));
    }
    let told = logs.into_iter().filter_map(|(device, mut log)| {
        log.sort_unstable_by_key(|(seq, _)| *seq);
        let back = |pair: &&[(u64, Moment)]| hours_between(pair[1].1, pair[0].1) > limits::CLOCK_JUMP.value;
        let jumps: Vec<&[(u64, Moment)]> = log.windows(2).filter(back).collect();
        let last = jumps.last()?[1].1;
        let title = fill(CLOCK, voice.lang, &[("name", &device_name(shop, device))]);
        let at = fill(CLOCK_AT, voice.lang, &[("count", &jumps.len()), ("when", &voice.moment(&last))]);
        let made = matter(&format!("clock-{device}"), Severity::Note, &title, voice.say(CLOCK_DO));
        Some(Matter { places: vec![at], ..made })
    });
    told.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fault_and_note_says_what_to_do_in_both_languages() {
        let of_breaks = BreakKind::ALL.iter().map(|kind| break_remedy(*kind));
        let of_notes = NoteKind::ALL.iter().map(|kind| note_remedy(*kind).1);
        for remedy in of_breaks.chain(of_notes) {
            assert!(
                remedy.en.ends_with('.') && remedy.es.ends_with('.') && remedy.en != remedy.es,
                "{remedy:?}"
            );
        }
    }
}
