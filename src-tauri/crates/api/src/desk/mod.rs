//! What the window works with: the desk of one home. It keeps the settings of the device, gives the words, and
//! holds the shop that is open.

#[allow(dead_code, reason = "called by the use cases of the window that log and correct")]
mod draft_to_entry;
#[allow(dead_code, reason = "called by the sheet of a piece and by the day")]
pub(crate) mod picture;

use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::dto::{Founded, Joined, Lang, Settings, ShopHead, Standing, Start, Words};
use crate::keep::{Keep, Prefs};
use crate::session::{Session, Setup};
use crate::{Clock, Result, words};

/// The desk of one home. Its calls may wait for a disk; a window makes them off its main thread.
pub struct Desk {
    keep: Keep,
    clock: Clock,
    open: Mutex<Option<Session>>,
}

impl Desk {
    /// The desk of the home in `home`. Nothing is read or written before it is needed.
    pub fn new(home: impl Into<PathBuf>, clock: Clock) -> Self {
        Self { keep: Keep::new(home.into()), clock, open: Mutex::new(None) }
    }

    /// Where this home's papers stand.
    pub fn papers(&self) -> PathBuf {
        self.keep.papers()
    }

    /// What the window shows first: the shop that is open, else the one opened last, if it is in reach.
    pub fn start(&self) -> Start {
        if self.opened().is_none()
            && let Some(folder) = self.keep.prefs().folder
            && let Ok(session) = Session::open(&self.setup(), &folder)
        {
            *self.opened() = Some(session);
        }
        self.seen()
    }

    /// The words of the window's controls, in `lang` or in the language of this device.
    pub fn words(&self, lang: Option<Lang>) -> Words {
        let lang = lang.unwrap_or_else(|| self.setup().language());
        Words { lang, words: words::of(lang.into()) }
    }

    /// Keeps the settings of this device, on disk before it returns.
    ///
    /// # Errors
    /// When they cannot be written; the former ones are then still there.
    pub fn set_settings(&self, settings: &Settings) -> Result<Settings> {
        let Settings { lang, units, paper, theme, .. } = settings;
        let former = self.keep.prefs();
        self.keep.set_prefs(&Prefs {
            lang: Some(*lang),
            units: Some(*units),
            paper: *paper,
            theme: *theme,
            ..former
        })?;
        Ok(self.settings())
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
        Ok(Joined { start: self.take(joined.session)?, fingerprint: joined.fingerprint })
    }

    fn setup(&self) -> Setup {
        Setup { home: self.keep.dir().to_owned(), clock: self.clock.clone(), lang: None, units: None }
    }

    /// A panic elsewhere leaves the session as it was: it is changed whole or not at all.
    fn opened(&self) -> MutexGuard<'_, Option<Session>> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn take(&self, session: Session) -> Result<Start> {
        let folder = Some(session.folder().to_owned());
        self.keep.set_prefs(&Prefs { folder, ..self.keep.prefs() })?;
        *self.opened() = Some(session);
        Ok(self.seen())
    }

    fn settings(&self) -> Settings {
        let prefs = self.keep.prefs();
        let lang = prefs.lang.unwrap_or_default();
        let shop_units = self.opened().as_ref().map(Session::units);
        let units = prefs.units.or(shop_units).unwrap_or_default();
        Settings { lang, units, paper: prefs.paper, theme: prefs.theme, person: None, people: Vec::new() }
    }

    fn seen(&self) -> Start {
        let settings = self.settings();
        let open = self.opened();
        Start {
            standing: open.as_ref().map_or(Standing::None, Session::standing),
            shop: open.as_ref().map(|session| self.head(session)),
            known: Vec::new(),
            settings,
            version: env!("CARGO_PKG_VERSION").to_owned(),
        }
    }

    fn head(&self, session: &Session) -> ShopHead {
        ShopHead {
            id: session.shop_id(),
            name: session.shop_name().to_owned(),
            folder: session.folder().display().to_string(),
            person: self.keep.me(session.shop().id).map(|me| me.name),
            device: session.device().map(|device| device.to_string()),
            fingerprint: session.link.as_ref().map(|link| link.file().fingerprint()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ErrorCode;
    use crate::dto::Theme;

    fn desk(home: &Path) -> Desk {
        let now = trowelogue_core::moment::parse("2025-03-04T10:20:00-06:00").expect("a moment");
        Desk::new(home, Clock::At(now))
    }

    #[test]
    fn settings_and_their_words_are_there_again_after_the_desk_was_closed() {
        let home = tempfile::tempdir().expect("a folder");
        let settings = desk(home.path()).start().settings;
        let wanted = Settings { lang: Lang::Es, theme: Theme::Dark, ..settings };
        assert_eq!(desk(home.path()).set_settings(&wanted).expect("kept"), wanted);
        let again = desk(home.path());
        assert_eq!(again.start().settings, wanted);
        assert_eq!(again.words(None).words["places.day"], "Hoy");
        assert_eq!(again.words(Some(Lang::En)).words["places.day"], "Today");
    }

    #[test]
    fn a_shop_is_founded_joined_and_opened_again_at_the_next_start() {
        let all = tempfile::tempdir().expect("a folder");
        let shop = all.path().join("shop");
        let owner = all.path().join("owner");
        let founded = desk(&owner).found(&shop, "Quarry Lane", "Ada Brook").expect("founded");
        assert_eq!(founded.start.standing, Standing::Owner);
        assert!(!founded.recovery_key.is_empty());
        let joined = desk(&all.path().join("crew")).join(&shop, "Ben Marsh").expect("joined");
        assert_eq!(joined.start.standing, Standing::Apart);
        let head = desk(&owner).start().shop.expect("the shop opened last");
        assert_eq!((head.name.as_str(), head.person.as_deref()), ("Quarry Lane", Some("Ada Brook")));
        let looked = desk(&all.path().join("guest")).open_shop(&shop).expect("opened");
        assert_eq!(looked.standing, Standing::Reader);
    }

    #[test]
    fn a_folder_that_is_not_there_is_said_and_the_desk_stays_as_it_was() {
        let all = tempfile::tempdir().expect("a folder");
        let desk = desk(&all.path().join("home"));
        let error = desk.open_shop(&all.path().join("nowhere")).expect_err("refused");
        assert_eq!(error.code, ErrorCode::FolderMissing);
        assert_eq!(desk.start().standing, Standing::None);
    }
}
