//! The shop that is open: its session, and how every piece stands.

use std::collections::BTreeSet;
use std::time::{Duration, Instant};

use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::Moment;
use trowelogue_core::rules::{self, Finding};
use trowelogue_journal::{Draft, Note};

use super::board::Board;
use super::{reach, words};
use crate::dto::report::Written;
use crate::dto::{Changed, Logged};
use crate::session::{Session, Setup};
use crate::{ApiError, Result};

/// How long what was found in a look through every log is good for.
const LOOK_THROUGH: Duration = Duration::from_secs(15);

/// A shop, open on the desk.
pub(crate) struct Open {
    pub session: Session,
    pub board: Board,
    /// When the folder was last looked at.
    pub swept: Moment,
    /// What the folder still shows of what it should not, and when that was looked through.
    exposed: Option<(Instant, Vec<Note>)>,
}

/// What a change was about.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct About {
    /// The pieces; empty: everything.
    pub pieces: Vec<String>,
}

impl Open {
    /// Brings a session onto the desk, publishes what is due and brings the projection up to date.
    pub(crate) fn new(mut session: Session) -> Self {
        // A folder that cannot be swept now is swept again every other second.
        let swept_now = session.sweep();
        drop(swept_now);
        session.view.drain();
        let now = session.now();
        let board = Board::open(&session, now);
        Self { session, board, swept: now, exposed: None }
    }

    /// Looks at the folder. Tells what changed, if anything did.
    pub(crate) fn sweep(&mut self) -> Result<Option<About>> {
        let before = self.session.not_in_folder();
        self.session.sweep()?;
        self.swept = self.session.now();
        let changed = self.settle();
        let published = before != self.session.not_in_folder();
        Ok(changed.or_else(|| self.tick()).or_else(|| published.then(About::default)))
    }

    /// What the folder still shows of what should not be readable: looked through anew only now and then, since
    /// every log is read for it.
    pub(crate) fn exposed(&mut self) -> Vec<Note> {
        let old = |(since, _): &(Instant, Vec<Note>)| since.elapsed() > LOOK_THROUGH;
        if self.exposed.as_ref().is_none_or(old) {
            self.exposed = Some((Instant::now(), self.session.exposed()));
        }
        self.exposed.as_ref().map(|(_, notes)| notes.clone()).unwrap_or_default()
    }

    /// Lets time pass: pieces whose state was known up to now are looked at again.
    fn tick(&mut self) -> Option<About> {
        let moved = self.board.refresh(&self.session, self.session.now());
        (!moved.is_empty()).then(|| About { pieces: moved.iter().map(ToString::to_string).collect() })
    }

    /// Works out again what the newest entries concern.
    fn settle(&mut self) -> Option<About> {
        let fresh = self.session.view.drain();
        if fresh == crate::session::Fresh::default() {
            return None;
        }
        let touched = if fresh.whole { None } else { reach::touched(self.session.shop(), &fresh.entries) };
        let now = self.session.now();
        match touched {
            Some(pieces) => {
                self.board.change(&self.session, &fresh.entries, &pieces, now);
                // An entry about no piece still changes what other screens show.
                Some(About { pieces: pieces.iter().map(ToString::to_string).collect() })
            }
            None => {
                self.board.rebuild(&self.session, now);
                Some(About::default())
            }
        }
    }

    /// Writes entries: durable on this device before it returns, and in the folder if that is in reach.
    pub(crate) fn write(&mut self, drafts: Vec<Draft>) -> Result<(Logged, About)> {
        let pieces: BTreeSet<ObjectId> = drafts.iter().flat_map(|draft| self.pieces_of(draft)).collect();
        let before = self.findings(&pieces);
        let written = self.session.append(drafts)?;
        let about = self.settle().unwrap_or_default();
        Ok((self.logged(&written, &pieces, &before), about))
    }

    /// Writes a decision about a device.
    pub(crate) fn decide(
        &mut self,
        work: impl FnOnce(&mut Session) -> Result<Written>,
    ) -> Result<(Logged, About)> {
        let written = work(&mut self.session)?;
        let about = self.settle().unwrap_or_default();
        Ok((self.logged(&written, &BTreeSet::new(), &[]), about))
    }

    /// Speaks as the settings of the home say now.
    pub(crate) fn speak(&mut self, setup: &Setup) {
        let former = self.session.voice;
        self.session.speak(setup);
        if former != self.session.voice {
            self.board.rebuild(&self.session, self.session.now());
        }
    }

    /// The pieces a draft is about, or those of the entries it refers to.
    fn pieces_of(&self, draft: &Draft) -> Vec<ObjectId> {
        let shop = self.session.shop();
        let referred = draft.refs.iter().filter_map(|hash| shop.step(hash));
        let referred = referred.flat_map(|step| step.pieces.iter().copied());
        draft.pieces.iter().copied().chain(referred).collect()
    }

    fn findings(&self, pieces: &BTreeSet<ObjectId>) -> Vec<Finding> {
        let shop = self.session.shop();
        rules::check_pieces(shop, pieces.iter().copied()).flat_map(|(_, findings)| findings).collect()
    }

    fn logged(&self, written: &Written, pieces: &BTreeSet<ObjectId>, before: &[Finding]) -> Logged {
        let known: BTreeSet<String> = before.iter().map(super::finding::key).collect();
        let after = self.findings(pieces);
        let new = after.iter().filter(|it| !known.contains(&super::finding::key(it)));
        let mut say = written.remarks.clone();
        if written.in_folder && self.session.published != Some(trowelogue_journal::Published::Rebuilt) {
            say.insert(0, self.session.voice.say(words::WRITTEN));
        }
        Logged {
            hashes: written.entries.iter().map(|it| it.hash.clone()).collect(),
            objects: written.entries.iter().filter_map(|it| it.id.clone()).collect(),
            in_folder: written.in_folder,
            say: say.join(" "),
            findings: new.map(|it| super::finding::told(&self.session, it)).collect(),
        }
    }

    /// An entry by its hash.
    ///
    /// # Errors
    /// There is none.
    pub(crate) fn entry(&self, hash: &str) -> Result<Hash> {
        let known = hash.parse().ok().filter(|hash: &Hash| self.session.shop().step(hash).is_some());
        known.ok_or_else(|| {
            let lang = self.session.voice.lang;
            let said = crate::say::fill(words::NO_ENTRY, lang, &[("hash", &hash)]);
            ApiError::new(crate::ErrorCode::Unknown, said).field("hash")
        })
    }

    /// What the window is told of a change.
    pub(crate) fn changed(&self, generation: u64, about: About) -> Changed {
        Changed { generation, pieces: about.pieces, not_in_folder: small(self.session.not_in_folder()) }
    }
}

/// A count for the boundary.
pub(crate) fn small(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
