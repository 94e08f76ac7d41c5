//! What the window works with: the desk of one home. It keeps the settings of the device, gives the words, holds
//! the shop that is open and watches its folder.
//!
//! Calls block, and may be made from any thread. The open shop is behind one lock; whoever watches is told after
//! the lock was given back.

mod board;
mod clocks;
mod conditions;
mod day;
mod draft_to_entry;
mod drafts;
mod finding;
mod folder;
mod form;
mod glance;
mod helper;
mod history;
mod label;
mod look;
mod map;
mod open;
mod opening;
mod paper;
mod photos;
mod picture;
mod piece;
mod reach;
mod row;
mod says;
mod stock;
mod trying;
mod watch;
mod words;
mod write;

#[cfg(test)]
mod tests;

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use trowelogue_core::id::ObjectId;

use crate::dto::{
    Choice, Founded, Joined, Lang, Logged, Recovered, RuleText, Settings, ShopHead, Standing, Start, Words,
};
use crate::keep::{Keep, Me, Prefs};
use crate::session::{Session, Setup};
use crate::{ApiError, Clock, ErrorCode, Result};
use open::{About, Open};

/// The desk of one home. Its calls may wait for a disk; a window makes them off its main thread. A clone is the
/// same desk.
#[derive(Clone)]
pub struct Desk {
    held: Arc<Held>,
}

/// What the desk and the thread that watches share.
struct Held {
    keep: Keep,
    clock: Clock,
    open: Mutex<Option<Open>>,
    /// Held while a photo is made ready: one at a time.
    darkroom: Mutex<()>,
    /// Held while a start is worked out.
    starting: Mutex<()>,
    /// A shop that is being opened on the side.
    opening: opening::Opening,
    /// What the next start shows first, as it was kept last.
    glance: Mutex<Option<glance::Glance>>,
    watch: watch::Told,
}

impl Desk {
    /// The desk of the home in `home`. Nothing is read or written before it is needed.
    pub fn new(home: impl Into<PathBuf>, clock: Clock) -> Self {
        let held = Held {
            keep: Keep::new(home.into()),
            clock,
            open: Mutex::new(None),
            darkroom: Mutex::default(),
            starting: Mutex::default(),
            opening: opening::Opening::default(),
            glance: Mutex::new(None),
            watch: watch::Told::default(),
        };
        Self { held: Arc::new(held) }
    }

    /// Where this home's papers stand.
    pub fn papers(&self) -> PathBuf {
        self.keep().papers()
    }

    /// What the window shows first: the shop that is open, else the one opened last, if it can be read. Where that
    /// was shown before, it is opened on the side, and the day is there at once as it was seen last.
    pub fn start(&self) -> Start {
        self.look_ahead();
        self.start_at_a_glance().unwrap_or_else(|| self.seen())
    }

    /// Begins what [`start`](Self::start) shows: the shell does so while its window comes up.
    pub fn look_ahead(&self) {
        let _alone = self.held.starting.lock().unwrap_or_else(PoisonError::into_inner);
        if self.held.opening.seen(|_| ()).is_some() || self.opened().is_some() {
            return;
        }
        let Some(folder) = self.keep().prefs().folder else { return };
        if self.begin(&folder).is_some() {
            return;
        }
        if let Ok(session) = Session::open(&self.setup(), &folder) {
            self.held.put(Open::new(session));
            self.look_for_photos();
        }
    }

    /// The words of the window's controls, in `lang` or in the language of this device.
    pub fn words(&self, lang: Option<Lang>) -> Words {
        let lang = lang.unwrap_or_else(|| self.setup().language());
        Words { lang, words: crate::words::of(lang.into()) }
    }

    /// The rule with this code, explained.
    ///
    /// # Errors
    /// There is none.
    pub fn rule(&self, code: &str) -> Result<RuleText> {
        crate::reading::rule(code, self.setup().language())
    }

    /// Keeps the settings of this device, on disk before it returns. A shop that is open speaks by them at once.
    ///
    /// # Errors
    /// When they cannot be written; the former ones are then still there.
    pub fn set_settings(&self, settings: &Settings) -> Result<Settings> {
        let Settings { lang, units, paper, theme, notices, .. } = settings;
        let former = self.keep().prefs();
        self.keep().set_prefs(&Prefs {
            lang: Some(*lang),
            units: Some(*units),
            paper: *paper,
            theme: *theme,
            notices: *notices,
            ..former
        })?;
        if let Some(open) = self.opened().as_mut() {
            self.log_as(&open.session, settings.person.as_deref())?;
            open.speak(&self.setup());
        }
        Ok(self.settings())
    }

    /// Makes another person of the shop the one who logs here.
    fn log_as(&self, session: &Session, person: Option<&str>) -> Result<()> {
        let Some(id) = person.and_then(|id| id.parse().ok()) else { return Ok(()) };
        let shop = session.shop();
        let is_known = session.link.is_some() && shop.people.contains_key(&id);
        let already = self.keep().me(shop.id).is_some_and(|me| me.id == id);
        if is_known && !already {
            self.keep().set_me(shop.id, Me { id, name: shop.person_name(id) })?;
        }
        Ok(())
    }

    /// Opens the shop in `folder`: as the device that joined it, else to look.
    ///
    /// # Errors
    /// There is no shop at that path, or it cannot be read.
    pub fn open_shop(&self, folder: &Path) -> Result<Start> {
        let session = Session::open(&self.setup(), folder)?;
        self.take(session)
    }

    /// Founds a shop in `folder` and makes this home its founding device.
    ///
    /// # Errors
    /// The folder holds a shop already or cannot be made; a name cannot be taken.
    pub fn found(&self, folder: &Path, shop: &str, person: &str) -> Result<Founded> {
        let founded = Session::found(&self.setup(), folder, shop, person)?;
        Ok(Founded { start: self.take(founded.session)?, recovery_key: founded.recovery })
    }

    /// Makes this home a device of the shop in `folder`; an owner has to accept it.
    ///
    /// # Errors
    /// There is no shop at that path, or it cannot be read; a name cannot be taken.
    pub fn join(&self, folder: &Path, person: &str) -> Result<Joined> {
        let joined = Session::join(&self.setup(), folder, person)?;
        let fingerprint = joined.session.device().map(|it| it.fingerprint()).unwrap_or_default();
        Ok(Joined { start: self.take(joined.session)?, fingerprint })
    }

    /// Sets the shop's passphrase, or changes it.
    ///
    /// # Errors
    /// As [`Session::set_passphrase`]; no shop is open.
    pub fn set_passphrase(&self, passphrase: &str) -> Result<Logged> {
        self.change(|open| open.decide(|session| session.set_passphrase(passphrase)))
    }

    /// Tells this device the passphrase of the shop; what it could not read is read then.
    ///
    /// # Errors
    /// As [`Session::tell_passphrase`]; no shop is open.
    pub fn tell_passphrase(&self, passphrase: &str) -> Result<Start> {
        self.with(|open| {
            open.session.tell_passphrase(passphrase)?;
            let now = open.session.now();
            open.board.rebuild(&open.session, now);
            Ok(())
        })?;
        Ok(self.seen())
    }

    /// Makes this home an owner of the shop in `folder` by the recovery code; the founding device is retired.
    ///
    /// # Errors
    /// As [`Session::recover`].
    pub fn recover(&self, folder: &Path, code: &str, person: &str) -> Result<Recovered> {
        let recovered = Session::recover(&self.setup(), folder, code, person)?;
        let lang = recovered.session.voice.lang;
        let done = crate::say::fill(words::RECOVERED, lang, &[("device", &recovered.retired)]);
        let say = std::iter::once(done).chain(recovered.written.remarks).collect::<Vec<_>>().join(" ");
        Ok(Recovered { start: self.take(recovered.session)?, say })
    }

    /// Looks at the folder: on focus, after sleep. Cheap where nothing changed.
    ///
    /// # Errors
    /// No shop is open; this device's own journal cannot be read.
    pub fn sweep(&self) -> Result<()> {
        self.held.sweep()
    }

    fn keep(&self) -> &Keep {
        &self.held.keep
    }

    fn setup(&self) -> Setup {
        let Held { keep, clock, .. } = &*self.held;
        Setup { home: keep.dir().to_owned(), clock: clock.clone(), lang: None, units: None }
    }

    fn opened(&self) -> MutexGuard<'_, Option<Open>> {
        self.held.opened()
    }

    /// Does something with the shop that is open.
    fn with<T>(&self, work: impl FnOnce(&mut Open) -> Result<T>) -> Result<T> {
        match self.opened().as_mut() {
            Some(open) => work(open),
            None => Err(self.no_shop()),
        }
    }

    /// Does something that changes the shop, then tells whoever watches.
    fn change(&self, work: impl FnOnce(&mut Open) -> Result<(Logged, About)>) -> Result<Logged> {
        let (logged, changed) = self.with(|open| {
            let (logged, about) = work(open)?;
            Ok((logged, open.changed(self.held.watch.next(), about)))
        })?;
        self.held.watch.tell(changed);
        Ok(logged)
    }

    fn no_shop(&self) -> ApiError {
        let lang = self.setup().language().into();
        ApiError::new(ErrorCode::Usage, words::NO_SHOP.get(lang)).remedy(words::OPEN_ONE.get(lang))
    }

    fn take(&self, session: Session) -> Result<Start> {
        let folder = Some(session.folder().to_owned());
        self.keep().set_prefs(&Prefs { folder, ..self.keep().prefs() })?;
        // What is being opened on the side must not take this one's place.
        self.held.opening.wait();
        self.held.put(Open::new(session));
        self.look_for_photos();
        Ok(self.seen())
    }

    fn settings(&self) -> Settings {
        let prefs = self.keep().prefs();
        let lang = prefs.lang.unwrap_or_default();
        let open = self.opened();
        let session = open.as_ref().map(|open| &open.session);
        let units = prefs.units.or(session.map(Session::units)).unwrap_or_default();
        let me = session.and_then(|session| self.keep().me(session.shop().id));
        let person = me.map(|me| me.id.to_string());
        let people = session.map(people).unwrap_or_default();
        Settings {
            lang,
            units,
            paper: prefs.paper,
            theme: prefs.theme,
            notices: prefs.notices,
            person,
            people,
        }
    }

    fn seen(&self) -> Start {
        let settings = self.settings();
        let known = self.known();
        let open = self.opened();
        let session = open.as_ref().map(|open| &open.session);
        Start {
            standing: session.map_or(Standing::None, Session::standing),
            shop: session.map(|session| self.head(session)),
            known,
            settings,
            version: env!("CARGO_PKG_VERSION").to_owned(),
            day: None,
        }
    }

    fn head(&self, session: &Session) -> ShopHead {
        ShopHead {
            id: session.shop_id(),
            name: session.shop_name().to_owned(),
            folder: session.folder().display().to_string(),
            person: self.keep().me(session.shop().id).map(|me| me.name),
            device: session.device().map(|device| device.to_string()),
            fingerprint: session.device().map(|device| device.fingerprint()),
            mark: session.shop().id.fingerprint(),
            passphrase: session.passphrase_state(),
        }
    }
}

impl Held {
    /// The shop that is open; waits for one that is being opened. A panic elsewhere leaves the shop as it was: it is
    /// changed whole or not at all.
    fn opened(&self) -> MutexGuard<'_, Option<Open>> {
        self.opening.wait();
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts a shop onto the desk.
    fn put(&self, open: Open) {
        *self.open.lock().unwrap_or_else(PoisonError::into_inner) = Some(open);
    }

    /// Looks at the folder, and tells whoever watches if anything changed.
    fn sweep(&self) -> Result<()> {
        let changed = match self.opened().as_mut() {
            Some(open) => open.sweep()?.map(|about| open.changed(self.watch.next(), about)),
            None => None,
        };
        if let Some(changed) = changed {
            self.watch.tell(changed);
        }
        Ok(())
    }
}

/// The people of a shop, by name.
fn people(session: &Session) -> Vec<Choice> {
    let row = |(id, person): (&ObjectId, &trowelogue_core::shop::Versions<_>)| {
        let person: &trowelogue_core::body::setup::Person = person.now();
        Choice { value: id.to_string(), label: person.name.clone(), hint: person.trade.clone() }
    };
    let mut people: Vec<Choice> = session.shop().people.iter().map(row).collect();
    people.sort_by(|a, b| a.label.cmp(&b.label));
    people
}
