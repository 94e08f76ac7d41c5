//! The first look: the day as it was seen last, shown while the record is read.
//!
//! Reading and folding the record of many years takes longer than a person waits for a screen. What the first screen
//! needs lies in the projection and in one small file beside it. It is shown as it was; as soon as the record is
//! read, whoever watches is told, and the same screen is asked for again. Nothing is decided, tried or written by a
//! glance: everything but the day waits for the record.

use std::path::{Path, PathBuf};
use std::sync::PoisonError;

use serde::{Deserialize, Serialize};
use trowelogue_store::Store;

use super::board::{place, shown_in};
use super::day::{GROUPS, group, most};
use super::open::Open;
use super::row::Row;
use super::{Desk, Held, people};
use crate::dto::{
    Changed, Choice, Day, DayAsk, DayFilters, DayGroup, DayState, Settings, ShopHead, Standing, Start,
    UnitsChoice,
};
use crate::format::Voice;
use crate::session::{Session, units_of};

/// The file of the home it is kept in.
const FILE: &str = "first.json";

/// What the first screen showed, beside its pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Glance {
    standing: Standing,
    head: ShopHead,
    people: Vec<Choice>,
    /// The shop's own units.
    units: Option<UnitsChoice>,
    /// The shop's zone.
    zone: Option<String>,
    projection: PathBuf,
    filters: DayFilters,
    not_in_folder: u32,
    apart: u32,
    notices: Vec<String>,
    beside: u32,
}

/// What is shown while the record is read.
pub(super) struct Seen {
    pub(super) start: Start,
    pub(super) day: Day,
    voice: Voice,
}

impl Glance {
    pub(super) fn of(session: &Session, head: ShopHead, day: &Day) -> Self {
        Self {
            standing: session.standing(),
            head,
            people: people(session),
            units: session.shop().settings.units.map(units_of),
            zone: session.voice.zone.map(|zone| zone.name().to_owned()),
            projection: place(session),
            filters: day.filters.clone(),
            not_in_folder: day.not_in_folder,
            apart: day.apart,
            notices: day.notices.clone(),
            beside: day.beside,
        }
    }
}

impl Desk {
    /// Keeps what the next start shows first. A glance that cannot be kept is one the next start does without.
    pub(super) fn keep_glance(&self, glance: Glance) {
        let mut kept = self.held.glance.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.as_ref() != Some(&glance) && self.keep().write(FILE, &glance).is_ok() {
            *kept = Some(glance);
        }
    }

    /// Begins with a glance at the shop in `folder`, while a thread opens it; none where there is nothing current
    /// to look at.
    pub(super) fn begin(&self, folder: &Path) -> Option<()> {
        let seen = self.glance_at(folder)?;
        self.held.opening.begin(seen);
        let (held, setup, folder) = (std::sync::Arc::clone(&self.held), self.setup(), folder.to_owned());
        let opened = std::thread::Builder::new().name("open".into()).spawn(move || {
            let _over = Over(&held);
            held.opening.hold_back();
            // A shop that cannot be opened is said by whatever is asked for next.
            let open = Session::open(&setup, &folder).ok().map(Open::new);
            held.opened_by_now(open);
            Desk { held: std::sync::Arc::clone(&held) }.look_for_photos();
        });
        if opened.is_err() {
            self.held.opening.end();
            return None;
        }
        Some(())
    }

    /// The day of the glance, while the record is read.
    pub(super) fn day_at_a_glance(&self) -> Option<Day> {
        let now = self.held.clock.now();
        let day = self.held.opening.seen(|seen| {
            let now = seen.voice.when(&now, &now);
            Day { now, ..seen.day.clone() }
        })?;
        self.held.opening.day_asked();
        Some(day)
    }

    /// The start of the glance with its day, while the record is read.
    pub(super) fn start_at_a_glance(&self) -> Option<Start> {
        let start = self.held.opening.seen(|seen| seen.start.clone())?;
        Some(Start { day: self.day_at_a_glance(), ..start })
    }

    pub(super) fn glance_at(&self, folder: &Path) -> Option<Seen> {
        let glance: Glance = self.keep().read(FILE)?;
        if Path::new(&glance.head.folder) != folder {
            return None;
        }
        let prefs = self.keep().prefs();
        let units = prefs.units.or(glance.units).unwrap_or_default();
        let zone = glance.zone.as_deref().and_then(|name| name.parse().ok());
        let voice = Voice { lang: self.setup().language().into(), system: units.into(), zone };
        let groups = groups(&glance, &voice, self.held.clock.now())?;
        let person = self.keep().me(glance.head.id.parse().ok()?).map(|me| me.id.to_string());
        let settings = Settings {
            lang: prefs.lang.unwrap_or_default(),
            units,
            paper: prefs.paper,
            theme: prefs.theme,
            notices: prefs.notices,
            person,
            people: glance.people,
        };
        let start = Start {
            standing: glance.standing,
            shop: Some(glance.head),
            known: self.known(),
            settings,
            version: env!("CARGO_PKG_VERSION").to_owned(),
            day: None,
        };
        let now = self.held.clock.now();
        let day = Day {
            now: voice.when(&now, &now),
            date: voice.weekday(&now),
            groups,
            filters: glance.filters,
            not_in_folder: glance.not_in_folder,
            apart: glance.apart,
            notices: glance.notices,
            beside: glance.beside,
        };
        Some(Seen { start, day, voice })
    }
}

/// The groups of the day from the projection, if it speaks this language and these units. It is closed again: the
/// thread that reads the record may have to replace it.
fn groups(glance: &Glance, voice: &Voice, now: trowelogue_core::moment::Moment) -> Option<Vec<DayGroup>> {
    let store = Store::glance(&glance.projection, &glance.head.id)?;
    if store.shown_in().ok()?.as_deref() != Some(&shown_in(voice, now)) {
        return None;
    }
    GROUPS.into_iter().map(|state| of_state(&store, state)).collect()
}

fn of_state(store: &Store, state: DayState) -> Option<DayGroup> {
    let word = serde_json::to_value(state).ok()?;
    let ask = DayAsk::default();
    let (rows, count) = store.first_of(word.as_str()?, most(state, &ask)).ok()?;
    let rows: Vec<Row> =
        rows.iter().map(|row| serde_json::from_str(&row.shown).ok()).collect::<Option<_>>()?;
    Some(DayGroup { count: super::open::small(count), ..group(state, &ask, rows.iter().collect()) })
}

/// However the thread ends, nobody waits for it any longer.
struct Over<'a>(&'a Held);

impl Drop for Over<'_> {
    fn drop(&mut self) {
        self.0.opening.end();
    }
}

impl Held {
    /// Takes the shop the thread opened, and tells whoever watches to ask again.
    fn opened_by_now(&self, open: Option<Open>) {
        let changed = match open {
            Some(open) => {
                let changed = open.changed(self.watch.next(), super::open::About::default());
                self.put(open);
                changed
            }
            None => Changed { generation: self.watch.next(), pieces: Vec::new(), not_in_folder: 0 },
        };
        self.opening.end();
        self.watch.tell(changed);
    }
}
