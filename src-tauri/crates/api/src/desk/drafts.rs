//! Forms half filled in: small files in the home, each replaced whole, so that a crash loses at most one touch.
//!
//! One draft per shop, kind and the piece the form was opened for; pieces that joined stand inside.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};
use trowelogue_core::body::Kind;
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::{self, Moment};
use trowelogue_core::text::{Text, text};

use super::Desk;
use crate::dto::{DraftNote, StepDraft};
use crate::format::piece_code;
use crate::session::Session;
use crate::{ApiError, ErrorCode, Result, faults};

/// The most bytes a draft may have: more than any entry takes.
const DRAFT_MAX: usize = 128 * 1024;
const TOO_LONG: Text = text("The form holds too much to be kept.", "El formulario contiene demasiado.");

/// A draft as it lies in the home.
#[derive(Debug, Serialize, Deserialize)]
struct Kept {
    /// When it was kept.
    kept: String,
    /// The form as far as it was filled in.
    step: StepDraft,
}

impl Desk {
    /// Keeps a form half filled in; on disk before it returns.
    ///
    /// # Errors
    /// It cannot be written; no shop is open.
    pub fn keep_draft(&self, step: &StepDraft) -> Result<()> {
        self.on_session(|session| {
            let kept = Kept { kept: moment::write(&session.now()), step: step.clone() };
            let length = serde_json::to_string(&kept).unwrap_or_default().len();
            if length > DRAFT_MAX {
                return Err(ApiError::new(ErrorCode::TooLong, session.voice.say(TOO_LONG)));
            }
            session.keep.write(&name_of(session, &step.kind, &step.pieces), &kept)
        })
    }

    /// The forms that were kept, newest first. A damaged one is as good as none.
    ///
    /// # Errors
    /// No shop is open.
    pub fn drafts(&self) -> Result<Vec<DraftNote>> {
        self.on_session(|session| {
            let mut kept = all(session);
            kept.sort_by_key(|(moment, _)| std::cmp::Reverse(*moment));
            Ok(kept.iter().map(|(moment, step)| note(session, moment, step)).collect())
        })
    }

    /// Drops the form that was kept for this kind and these pieces, if there is one.
    ///
    /// # Errors
    /// It cannot be removed; no shop is open.
    pub fn drop_draft(&self, kind: &str, pieces: &[String]) -> Result<()> {
        self.on_session(|session| forget(session, kind, pieces))
    }
}

/// Removes a draft, if there is one.
///
/// # Errors
/// It is there and cannot be removed.
pub(super) fn forget(session: &Session, kind: &str, pieces: &[String]) -> Result<()> {
    let path = session.keep.dir().join(name_of(session, kind, pieces));
    match std::fs::remove_file(&path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
            Err(faults::file(&path, &error, session.voice.lang))
        }
        _ => Ok(()),
    }
}

/// The draft kept for this kind and these pieces.
pub(super) fn kept(session: &Session, kind: &str, pieces: &[String]) -> Option<StepDraft> {
    let kept: Kept = session.keep.read(&name_of(session, kind, pieces))?;
    Some(kept.step)
}

fn folder(session: &Session) -> PathBuf {
    PathBuf::from("drafts").join(session.shop_id())
}

/// The name is a hash: what a form says of itself never becomes a path.
fn name_of(session: &Session, kind: &str, pieces: &[String]) -> String {
    let first = pieces.first().map_or("", |piece| piece.as_str());
    // The window names pieces by id; a code costs a look through the shop.
    let by_code = first.parse::<ObjectId>().is_err();
    let id = by_code.then(|| session.piece_named(first).ok()).flatten();
    let id = id.map_or_else(|| first.to_owned(), |id| id.to_string());
    let name = Hash::of(&[kind.as_bytes(), b"\n", id.as_bytes()]).to_string();
    let file = folder(session).join(format!("{}.json", &name[..32]));
    file.to_string_lossy().into_owned()
}

fn all(session: &Session) -> Vec<(Moment, StepDraft)> {
    let dir = session.keep.dir().join(folder(session));
    let files = std::fs::read_dir(dir).into_iter().flatten().flatten();
    let read = files.filter_map(|file| {
        let kept: Kept = serde_json::from_slice(&std::fs::read(file.path()).ok()?).ok()?;
        Some((moment::parse(&kept.kept).ok()?, kept.step))
    });
    read.collect()
}

fn note(session: &Session, kept: &Moment, step: &StepDraft) -> DraftNote {
    let voice = &session.voice;
    let kind = Kind::parse(&step.kind);
    let code = |piece: &String| match piece.parse::<ObjectId>() {
        Ok(id) => piece_code(session.shop(), id),
        Err(_) => piece.clone(),
    };
    let word = |name: &str| step.values.get(name).and_then(serde_json::Value::as_str);
    let object = word(super::stock::OBJECT).filter(|_| step.pieces.is_empty());
    let named = step.pieces.is_empty().then(|| word("code").or_else(|| word("name"))).flatten();
    let named = named.map(str::to_owned);
    DraftNote {
        kind: step.kind.clone(),
        title: kind.map_or_else(|| step.kind.clone(), |kind| voice.say(kind.label())),
        codes: step.pieces.iter().map(code).chain(named).collect(),
        object: object.map(str::to_owned),
        pieces: step.pieces.clone(),
        kept: voice.when(kept, &session.now()),
    }
}
