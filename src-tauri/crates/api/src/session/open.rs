//! Opening a folder; founding and joining a shop.

use std::path::{Path, PathBuf};

use serde_json::{Map, Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::{Moment, Span};
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{self, Text, text};
use trowelogue_core::units::System;
use trowelogue_journal::{self as journal, Place};

use super::{Session, Setup, View};
use crate::clock::Clock;
use crate::format::{Table, Voice, zone_of};
use crate::ids::new_id;
use crate::keep::{Keep, Me};
use crate::say::fill;
use crate::{ApiError, Result, faults, key_store};

const AWAY: Text = text(
    "The folder cannot be read: this is what this device holds of it.",
    "La carpeta no se puede leer: esto es lo que este dispositivo conserva de ella.",
);
const ANOTHER_COPY: Text = text(
    "This device uses the shop at {path}; this is another copy, read on its own.",
    "Este dispositivo usa el taller en {path}; esta es otra copia, leída por sí sola.",
);

/// The most characters a name may have.
const NAME_MAX: usize = 200;

/// A shop just founded, and the code that stands in for a lost founding device.
pub struct FoundedShop {
    /// The shop, open.
    pub session: Session,
    /// The recovery code: to be printed now; it is stored nowhere.
    pub recovery: String,
}

/// A shop joined.
pub struct JoinedShop {
    /// The shop, open.
    pub session: Session,
    /// To be compared with what the owner's device shows.
    pub fingerprint: String,
    /// This device, for the owner to accept.
    pub device: String,
    /// It had joined before; nothing was written.
    pub already: bool,
}

impl Session {
    /// Opens the shop in `folder`: as the device that joined it, else to look. Reading needs no identity and
    /// writes nothing to the folder.
    ///
    /// # Errors
    /// There is no shop at that path, or it cannot be read.
    pub fn open(setup: &Setup, folder: &Path) -> Result<Self> {
        let lang = setup.language().into();
        let home = key_store::open(&setup.home);
        let fault = |error: journal::Error| faults::journal(&error, lang);
        match home.locate(folder).map_err(fault)? {
            Place::Joined(_) => Self::with_link(setup, home.shop(folder).map_err(fault)?),
            place @ (Place::Elsewhere { .. } | Place::Stranger(_)) => {
                let reading = journal::read_folder(folder).map_err(fault)?;
                let mut session = Self::new(setup, folder.to_path_buf(), None, reading);
                if let Place::Elsewhere { bound, .. } = place {
                    session.read_from.push(fill(ANOTHER_COPY, lang, &[("path", &bound.display())]));
                }
                Ok(session)
            }
        }
    }

    pub(crate) fn with_link(setup: &Setup, mut link: journal::Shop) -> Result<Self> {
        let reading = link.read().map_err(|error| faults::journal(&error, setup.language().into()))?;
        let folder = link.folder().to_path_buf();
        let mut session = Self::new(setup, folder, Some(link), reading);
        // A home that cannot be written for the moment is read all the same; it obeys when it can.
        let _ = session.obey();
        Ok(session)
    }

    fn new(setup: &Setup, folder: PathBuf, link: Option<journal::Shop>, reading: journal::Reading) -> Self {
        let keep = Keep::new(setup.home.clone());
        let away = !reading.folder_here;
        let view = View::new(reading, folder.clone());
        let voice = voice_for(setup, &keep, &view.shop);
        let read_from = if away { vec![voice.say(AWAY)] } else { Vec::new() };
        Self { keep, clock: setup.clock.clone(), folder, voice, link, view, published: None, read_from }
    }

    /// Speaks from now on as the settings of the home say, in the zone the shop has now.
    pub(crate) fn speak(&mut self, setup: &Setup) {
        self.voice = voice_for(setup, &self.keep, self.shop());
    }

    /// Founds a shop in `folder` and makes this home its founding device.
    ///
    /// # Errors
    /// The folder holds a shop already or cannot be made; a name cannot be taken.
    pub fn found(setup: &Setup, folder: &Path, shop: &str, person: &str) -> Result<FoundedShop> {
        let lang = setup.language().into();
        let shop = good_name(shop, "shop", lang)?;
        let person = good_name(person, "person", lang)?;
        let now = setup.clock.now();
        let founded = key_store::open(&setup.home).found(folder, shop, now);
        let founded = founded.map_err(|error| faults::journal(&error, lang))?;
        let recovery = founded.recovery.code();
        let mut session = Self::with_link(setup, founded.shop)?;
        let me = Me { id: new_id(&now)?, name: person.to_owned() };
        let mut drafts = vec![person_draft(&me, now), device_draft(&session, &me, now)];
        drafts.extend(zone_draft(&setup.clock, &me, now));
        session.append(drafts)?;
        session.keep.set_me(session.shop().id, me)?;
        session.voice.zone = zone_of(session.shop());
        Ok(FoundedShop { session, recovery })
    }

    /// Makes this home a device of the shop in `folder`. Its entries stand apart until an owner accepts it. A
    /// home that was lost, set back or retired goes on as a new device.
    ///
    /// # Errors
    /// There is no shop at that path, or it cannot be read.
    pub fn join(setup: &Setup, folder: &Path, person: &str) -> Result<JoinedShop> {
        let lang = setup.language().into();
        let person = good_name(person, "person", lang)?;
        let home = key_store::open(&setup.home);
        let fault = |error: journal::Error| faults::journal(&error, lang);
        let link = home.join(folder).map_err(fault)?;
        let shop = link.id();
        let fingerprint = link.file().fingerprint();
        let mut session = Self::with_link(setup, link)?;
        let same = session.keep.me(shop).is_some_and(|me| me.name == person) && session.has_written();
        let behind = session.link.as_ref().is_some_and(journal::Shop::is_behind);
        let retired = session.is_retired();
        if retired {
            // What a retired device writes never counts: the home goes on as a new one.
            session = Self::with_link(setup, home.replace_device(shop).map_err(fault)?)?;
        }
        let already = same && !behind && !retired;
        if !already {
            session = match session.introduce(person) {
                Err(error) if error.code == crate::ErrorCode::HomeBehind => {
                    let mut new = Self::with_link(setup, home.replace_device(shop).map_err(fault)?)?;
                    new.introduce(person)?;
                    new
                }
                done => done.map(|()| session)?,
            };
        }
        let device = session.device().map(|it| it.to_string()).unwrap_or_default();
        Ok(JoinedShop { session, fingerprint, device, already })
    }

    /// Whether this device has written anything.
    fn has_written(&self) -> bool {
        let device = self.device();
        self.shop().steps.iter().any(|step| Some(step.device) == device)
    }

    /// Says who and what this device is: the person's own entry where the shop has none of that name, and the
    /// device's name.
    fn introduce(&mut self, person: &str) -> Result<()> {
        let now = self.now();
        let known = Table::People.all(self.shop()).into_iter().find(|(_, name, _)| name == person);
        let me =
            Me { id: known.as_ref().map_or_else(|| new_id(&now), |(id, ..)| Ok(*id))?, name: person.into() };
        let mut drafts = Vec::new();
        if known.is_none() {
            drafts.push(person_draft(&me, now));
        }
        drafts.push(device_draft(self, &me, now));
        self.append(drafts)?;
        self.keep.set_me(self.shop().id, me)
    }
}

/// Language and units as asked for, else as the home has them, else the shop's.
fn voice_for(setup: &Setup, keep: &Keep, shop: &Shop) -> Voice {
    let system = setup.units.or(keep.prefs().units).map(System::from).or(shop.settings.units);
    Voice { lang: setup.language().into(), system: system.unwrap_or_default(), zone: zone_of(shop) }
}

fn draft(kind: Kind, me: &Me, now: Moment, object: Option<ObjectId>, body: Value) -> journal::Draft {
    let body = match body {
        Value::Object(map) => map,
        _ => Map::new(),
    };
    journal::Draft {
        done: Span::at(now),
        person: me.id,
        kind: kind.wire().into(),
        object,
        pieces: Vec::new(),
        peer: None,
        refs: Vec::new(),
        body,
    }
}

fn person_draft(me: &Me, now: Moment) -> journal::Draft {
    draft(Kind::Person, me, now, Some(me.id), json!({ "name": me.name }))
}

/// A device is called after its person, with the start of its id, so that two of one person can be told apart.
fn device_draft(session: &Session, me: &Me, now: Moment) -> journal::Draft {
    let id = session.device().map(|it| it.to_string()).unwrap_or_default();
    let name = format!("{} ({})", me.name, id.get(..4).unwrap_or_default());
    draft(Kind::Device, me, now, None, json!({ "name": name }))
}

/// The founding device's zone becomes the shop's; an owner may change it.
fn zone_draft(clock: &Clock, me: &Me, now: Moment) -> Option<journal::Draft> {
    let zone = clock.zone().filter(|name| name.parse::<chrono_tz::Tz>().is_ok())?;
    Some(draft(Kind::Settings, me, now, None, json!({ "zone": zone })))
}

fn good_name<'a>(name: &'a str, field: &str, lang: text::Lang) -> Result<&'a str> {
    const BAD: Text = text(
        "A name has 1 to 200 characters on one line.",
        "Un nombre tiene de 1 a 200 caracteres en una sola línea.",
    );
    let trimmed = name.trim();
    let good =
        !trimmed.is_empty() && trimmed.chars().count() <= NAME_MAX && !trimmed.chars().any(char::is_control);
    if good { Ok(trimmed) } else { Err(ApiError::bad_input(field, BAD.get(lang))) }
}
