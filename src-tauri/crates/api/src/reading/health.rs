//! How the folder stands, in plain words: devices, gaps, what stands apart, forks, photos, clocks, what others can
//! still read; and what to do.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Display;

use trowelogue_core::body::authority::Role;
use trowelogue_core::id::DeviceId;
use trowelogue_core::rules::limits::CLOCK_JUMP;
use trowelogue_core::shop::{Device, DeviceStatus, Reading, Shop, Status};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::{Break, BreakKind, Note, NoteKind};

use super::verify::photos;
use crate::dto::HealthRow;
use crate::say::{fill, list};
use crate::session::Session;

/// Files and devices named in one sentence.
const NAMED: usize = 3;
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
const GAP: Text =
    text("Entries {range} of {device} have not arrived.", "No han llegado las entradas {range} de {device}.");
const LET_ARRIVE: Text = text(
    "Open the folder on that device and let what carries the folder finish.",
    "Abra la carpeta en ese dispositivo y deje terminar lo que lleva la carpeta.",
);
const BACKWARDS: Text = text(
    "The folder holds less of {device} than this device has seen. Nothing is lost here.",
    "La carpeta contiene menos de {device} de lo que este dispositivo ha visto. Aquí no se ha perdido nada.",
);
const GIVE_BACK: Text = text(
    "That device mends its log when it next opens the folder. If it never comes back: trowelogue restore FOLDER.",
    "Ese dispositivo repara su registro cuando abra la carpeta. Si no vuelve nunca: trowelogue restore CARPETA.",
);
const WAITING: Text = text(
    "Entries that refer to entries not here yet: {count}.",
    "Entradas que se refieren a otras que aún no están: {count}.",
);
const FORK: Text = text(
    "Two entries of {device} carry the number {seq}: the device was copied or set back.",
    "Dos entradas de {device} llevan el número {seq}: el dispositivo fue copiado o restaurado.",
);
const SETTLE: Text = text(
    "Join anew on the copy. An owner settles it with an entry of the kind settle_fork that names the right one.",
    "Vuelva a unirse en la copia. Un dueño lo resuelve con una entrada settle_fork que nombre la correcta.",
);
const PHOTOS: Text = text(
    "Photos that entries name and the folder lacks: {count}.",
    "Fotos que nombran las entradas y faltan en la carpeta: {count}.",
);
const WRONG_PHOTOS: Text =
    text("Photos whose place holds another file: {count}.", "Fotos en cuyo lugar hay otro archivo: {count}.");
const PHOTOS_COME: Text = text(
    "Open the folder on the devices that took them. A photo still on a camera: add it with a correction.",
    "Abra la carpeta en los dispositivos que las tomaron. Una foto aún en la cámara: añádala con una corrección.",
);
const CLOCK: Text = text(
    "The clock of {device} was off by up to {hours} h.",
    "El reloj de {device} estuvo desviado hasta {hours} h.",
);
const SET_CLOCK: Text = text("Set it by the network.", "Póngalo en hora por la red.");
const NEWER: Text = text(
    "Entries written by a newer version, carried along: {count}.",
    "Entradas escritas por una versión más nueva, conservadas: {count}.",
);
const INSTALL: Text = text("Install that version to see them.", "Instale esa versión para verlas.");
const PLAIN: Text =
    text("Still readable without the passphrase: {files}.", "Aún legible sin la contraseña: {files}.");
pub(crate) const ENCRYPT: Text = text(
    "Open the folder on the devices these belong to, and tell them the passphrase. Files of a device that never comes back: take them out by hand.",
    "Abra la carpeta en los dispositivos a los que pertenecen e indíqueles la contraseña. Los archivos de un dispositivo que no vuelve: retírelos a mano.",
);
const ERASED: Text = text("Erased, but still held by: {files}.", "Borrado, pero aún está en: {files}.");
pub(crate) const TAKE_OUT: Text = text(
    "Open the folder on the devices these belong to. Copies nobody writes: take them out by hand.",
    "Abra la carpeta en los dispositivos a los que pertenecen. Las copias que nadie escribe: retírelas a mano.",
);
const FAULTS: Text = text(
    "Faults in files of the folder: {count}. Every good entry counts all the same.",
    "Fallos en archivos de la carpeta: {count}. Toda entrada buena sigue contando.",
);
const SEE_FAULTS: Text = text(
    "Each is named by file and line. A device mends its own log when it next writes.",
    "Cada uno se nombra por archivo y línea. Un dispositivo repara su registro cuando vuelve a escribir.",
);

/// Rows put together for one reader.
struct Rows<'a> {
    session: &'a Session,
    rows: Vec<HealthRow>,
}

/// How the folder stands, as far as these notes and breaks and the fold tell.
pub(crate) fn health(session: &Session, notes: &[Note], breaks: &[Break]) -> Vec<HealthRow> {
    let mut rows = Rows { session, rows: Vec::new() };
    rows.devices();
    rows.arrivals(notes);
    rows.entries();
    rows.photos(breaks);
    rows.clocks();
    rows.exposed(notes);
    if !breaks.is_empty() {
        rows.bad("breaks", FAULTS, &[("count", &breaks.len())], SEE_FAULTS);
    }
    rows.rows
}

impl Rows<'_> {
    fn shop(&self) -> &Shop {
        self.session.shop()
    }

    fn put(&mut self, kind: &str, good: bool, text: String, remedy: Option<Text>) {
        let remedy = remedy.map(|words| self.session.voice.say(words));
        self.rows.push(HealthRow { kind: kind.to_owned(), good, text, remedy });
    }

    fn bad(&mut self, kind: &str, words: Text, blanks: &[(&str, &dyn Display)], remedy: Text) {
        let text = fill(words, self.session.voice.lang, blanks);
        self.put(kind, false, text, Some(remedy));
    }

    fn name(&self, device: DeviceId) -> String {
        let known = self.shop().devices.get(&device).and_then(|it| it.name.clone());
        known.unwrap_or_else(|| device.to_string())
    }

    fn devices(&mut self) {
        let mut counts: BTreeMap<DeviceId, u64> = BTreeMap::new();
        for step in &self.shop().steps {
            *counts.entry(step.device).or_default() += 1;
        }
        let devices: Vec<Device> = self.shop().devices.values().cloned().collect();
        for device in devices {
            self.device(&device, counts.get(&device.id).copied().unwrap_or(0));
        }
    }

    fn device(&mut self, device: &Device, count: u64) {
        let voice = &self.session.voice;
        let status = voice.say(match (device.status, device.role) {
            (DeviceStatus::Accepted, Role::Owner) => OWNER,
            (DeviceStatus::Accepted, Role::Crew) => CREW,
            (DeviceStatus::Apart, _) => APART,
            (DeviceStatus::Retired, _) => RETIRED,
        });
        let name = self.name(device.id);
        let text = match &device.last_wrote {
            Some(last) => {
                let when = voice.when(last, &self.session.now()).text;
                let blanks: [(&str, &dyn Display); 4] =
                    [("device", &name), ("status", &status), ("count", &count), ("when", &when)];
                fill(DEVICE, voice.lang, &blanks)
            }
            None => fill(SILENT, voice.lang, &[("device", &name), ("status", &status)]),
        };
        let apart = device.status == DeviceStatus::Apart;
        self.put("device", !apart, text, apart.then_some(ACCEPT));
    }

    /// What has not arrived, or went away again.
    fn arrivals(&mut self, notes: &[Note]) {
        let named = |kinds: &[NoteKind]| -> BTreeSet<(DeviceId, Option<(u64, u64)>)> {
            let fits = notes.iter().filter(|note| kinds.contains(&note.kind));
            fits.filter_map(|note| Some((note.device?, note.range))).collect()
        };
        for (device, range) in named(&[NoteKind::Gap, NoteKind::BehindNeighbours]) {
            let range = range.map_or_else(|| "…".to_owned(), |(from, to)| format!("{from}–{to}"));
            let name = self.name(device);
            self.bad("gap", GAP, &[("range", &range), ("device", &name)], LET_ARRIVE);
        }
        let backwards: BTreeSet<DeviceId> =
            named(&[NoteKind::WentBackwards]).into_iter().map(|(device, _)| device).collect();
        for device in backwards {
            let name = self.name(device);
            self.bad("went_backwards", BACKWARDS, &[("device", &name)], GIVE_BACK);
        }
    }

    fn entries(&mut self) {
        let waiting = self.shop().steps.iter().filter(|it| it.status == Status::Waiting).count();
        if waiting > 0 {
            self.bad("waiting", WAITING, &[("count", &waiting)], LET_ARRIVE);
        }
        let open: Vec<(DeviceId, u64)> =
            self.shop().forks.iter().filter(|it| !it.settled).map(|it| (it.device, it.seq)).collect();
        for (device, seq) in open {
            let name = self.name(device);
            self.bad("fork", FORK, &[("device", &name), ("seq", &seq)], SETTLE);
        }
        let newer = self.shop().steps.iter().filter(|it| matches!(it.reading, Reading::Newer(_))).count();
        if newer > 0 {
            self.bad("newer", NEWER, &[("count", &newer)], INSTALL);
        }
    }

    fn photos(&mut self, breaks: &[Break]) {
        let of_kind = |kind: BreakKind| breaks.iter().filter(|it| it.kind == kind).count();
        let here = self.shop().photos_here.as_ref();
        let lacking = here.map_or(0, |here| photos(&self.shop().steps).difference(here).count());
        let (missing, wrong) =
            (lacking.max(of_kind(BreakKind::PhotoMissing)), of_kind(BreakKind::PhotoWrong));
        if missing > 0 {
            self.bad("photos_missing", PHOTOS, &[("count", &missing)], PHOTOS_COME);
        }
        if wrong > 0 {
            self.bad("photos_wrong", WRONG_PHOTOS, &[("count", &wrong)], PHOTOS_COME);
        }
    }

    /// Devices whose wall clock disagreed with the order of their entries.
    fn clocks(&mut self) {
        let mut most: BTreeMap<DeviceId, f64> = BTreeMap::new();
        for step in &self.shop().steps {
            let off = (step.order.clock.ms - step.wrote.timestamp_millis()).unsigned_abs() as f64;
            let known = most.entry(step.device).or_default();
            *known = known.max(off / MS_PER_HOUR);
        }
        for (device, hours) in most.into_iter().filter(|(_, hours)| *hours > CLOCK_JUMP.value) {
            let hours = self.session.voice.plain((hours * 10.0).round() / 10.0);
            let name = self.name(device);
            self.bad("clock", CLOCK, &[("device", &name), ("hours", &hours)], SET_CLOCK);
        }
    }

    /// What others can still read.
    fn exposed(&mut self, notes: &[Note]) {
        let files = |kind: NoteKind| -> BTreeSet<&str> {
            notes.iter().filter(|it| it.kind == kind).filter_map(|it| it.file.as_deref()).collect()
        };
        for (kind, name, words, remedy) in [
            (NoteKind::StillPlain, "still_plain", PLAIN, ENCRYPT),
            (NoteKind::ErasedStillShown, "erased_still_shown", ERASED, TAKE_OUT),
        ] {
            let found = files(kind);
            if !found.is_empty() {
                self.bad(name, words, &[("files", &list(found, NAMED))], remedy);
            }
        }
    }
}
