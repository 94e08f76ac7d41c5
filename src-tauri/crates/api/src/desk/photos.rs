//! Photos of the window: taken in at once, made ready on the side, named in the entry.
//!
//! A photo that is ready when its step is logged is put into the folder first and named in the step. One that is
//! not keeps the step from nothing: the step is written, and as soon as the photo is ready a correction of the
//! step names it.

use std::sync::{Arc, PoisonError};

use serde_json::{Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::id::Hash;
use trowelogue_core::moment;
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::{Draft, PhotoSeen};

use super::open::Open;
use super::{Desk, Held};
use crate::add::Reader;
use crate::darkroom::{self, Belongs, Darkroom};
use crate::dto::{Logged, PhotoShown, PhotoState, PhotoTaken, StepDraft};
use crate::session::Session;
use crate::{ApiError, ErrorCode, Result, photo};

/// The most bytes a photo may have as a camera writes it.
const MOST: usize = 64 << 20;
/// The smallest and the longest side a picture may be asked in, in pixels.
const SIDES: (u32, u32) = (48, 2_560);

const TOO_LARGE: Text = text("A photo has at most 64 MiB.", "Una foto tiene como máximo 64 MiB.");
const NOT_SENT: Text = text("The photo arrived damaged.", "La foto llegó dañada.");
const NO_PHOTO: Text = text("There is no photo {id} here.", "No hay ninguna foto {id} aquí.");
const ADDED: Text = text("photo added", "foto añadida");
const WAITING: Text = text("On disk here; it is being made smaller.", "En disco aquí; se está reduciendo.");
const MISSING: Text = text(
    "The photo is not here. It may still be on its way from another device.",
    "La foto no está aquí. Puede estar aún en camino desde otro dispositivo.",
);
const WRONG: Text = text(
    "Another file stands in the photo's place: it is not what the entry names.",
    "En el lugar de la foto hay otro archivo: no es el que nombra la entrada.",
);

impl Desk {
    /// Takes in a photo as a camera wrote it, in base64: on disk before this returns. The `id` goes among the
    /// values of a form's photos. It is made ready on the side.
    ///
    /// # Errors
    /// It is no photo this program reads; this home has not joined the shop; it cannot be written here.
    pub fn add_photo(&self, data: &str) -> Result<PhotoTaken> {
        let lang = self.setup().language().into();
        let refused = |words: Text| ApiError::bad_input("photo", words.get(lang));
        let bytes = data_encoding::BASE64.decode(data.as_bytes()).map_err(|_| refused(NOT_SENT))?;
        if bytes.len() > MOST {
            return Err(refused(TOO_LARGE));
        }
        photo::recognised(&bytes).map_err(refused)?;
        let room = self.on_session(|session| {
            session.joined()?;
            Ok(room_of(session))
        })?;
        let id = room.take(&bytes, lang)?;
        self.develop();
        Ok(PhotoTaken { id: id.to_string() })
    }

    /// Takes a photo off a form: it is forgotten here.
    ///
    /// # Errors
    /// No shop is open.
    pub fn drop_photo(&self, id: &str) -> Result<()> {
        self.on_session(|session| {
            if let Ok(id) = id.parse() {
                room_of(session).forget(&id);
            }
            Ok(())
        })
    }

    /// A photo of the record or of a form, no longer than `side` pixels.
    ///
    /// # Errors
    /// No shop is open; `id` is no hash.
    pub fn photo(&self, id: &str, side: u32) -> Result<PhotoShown> {
        let side = side.clamp(SIDES.0, SIDES.1);
        self.on_session(|session| {
            let hash: Hash = id.parse().map_err(|_| no_photo(session, id))?;
            let (state, say, bytes) = found(session, &hash);
            let jpeg = bytes.and_then(|bytes| photo::small(&bytes, side));
            Ok(PhotoShown {
                id: id.to_owned(),
                state,
                say: say.unwrap_or_default(),
                jpeg: jpeg.map(|jpeg| data_encoding::BASE64.encode(&jpeg)),
            })
        })
    }

    /// Writes a step with its photos, and tells the watcher.
    pub(super) fn write_with_photos(
        &self,
        step: &StepDraft,
        made: impl FnOnce(&Open, &StepDraft) -> Result<Vec<Draft>>,
    ) -> Result<Logged> {
        self.change(|open| {
            open.session.joined()?;
            let room = room_of(&open.session);
            let plan = Plan::of(&open.session, &room, step)?;
            let drafts = made(open, &plan.step)?;
            let lang = open.session.voice.lang;
            if let Some(last) = drafts.last().filter(|_| !plan.later.is_empty()) {
                room.belong(&plan.later, &belongs(open, last), lang)?;
            }
            let ready: Vec<Vec<u8>> = plan.ready.iter().map(|(_, bytes)| bytes.clone()).collect();
            let written = open.session.put_photos(&ready).and_then(|()| open.write(drafts));
            match &written {
                Ok(_) => plan.ready.iter().for_each(|(id, _)| room.forget(id)),
                Err(_) => room.unbind(&plan.later),
            }
            written
        })
    }

    /// Goes on with the photos an earlier run of this program left, and lets go of those nobody wanted.
    pub(super) fn look_for_photos(&self) {
        // A home that cannot be listed is looked through when the shop is opened next.
        drop(self.on_session(|session| {
            room_of(session).clear_out(std::time::SystemTime::from(session.now()));
            Ok(())
        }));
        self.develop();
    }

    /// Makes ready on the side what is not, and names it in the steps that wait for it.
    pub(super) fn develop(&self) {
        let held = Arc::clone(&self.held);
        let thread = std::thread::Builder::new().name("darkroom".into());
        // Without a thread it is done when the shop is opened next, or another photo is taken in.
        drop(thread.spawn(move || held.develop()));
    }
}

impl Held {
    /// One photo at a time: each takes its memory while it is read.
    fn develop(&self) {
        let _alone = self.darkroom.lock().unwrap_or_else(PoisonError::into_inner);
        let mut made_ready = false;
        loop {
            let now = self.opened().as_ref().map(|open| {
                let keep = open.session.shop().settings.keep_photo_position == Some(true);
                (room_of(&open.session), keep, open.session.voice.lang)
            });
            let Some((room, keep, lang)) = now else { return };
            let Some(id) = room.raw().into_iter().next() else { break };
            if room.develop(&id, keep, lang).is_err() {
                // A full disk: the photo stays as it is, and is tried again.
                break;
            }
            made_ready = true;
        }
        self.attach(made_ready);
    }

    /// Names photos that became ready in the steps they belong to. A form that shows one which `made_ready` is told
    /// too: it may not have been written yet.
    fn attach(&self, made_ready: bool) {
        let told = self.opened().as_mut().and_then(|open| {
            let about = attach(open).or_else(|| made_ready.then(Default::default))?;
            Some(open.changed(self.watch.next(), about))
        });
        if let Some(changed) = told {
            self.watch.tell(changed);
        }
    }
}

/// The photos of a form, as they stand when it is logged.
struct Plan {
    /// The form with the names the record knows.
    step: StepDraft,
    /// Photos that are ready, by the name they went by.
    ready: Vec<(Hash, Vec<u8>)>,
    /// Photos that are not.
    later: Vec<Hash>,
}

impl Plan {
    fn of(session: &Session, room: &Darkroom, step: &StepDraft) -> Result<Self> {
        let mut plan = Self { step: step.clone(), ready: Vec::new(), later: Vec::new() };
        let Some(Value::Array(given)) = step.values.get("photos") else { return Ok(plan) };
        let mut named = Vec::new();
        for value in given {
            let Some(id) = value.as_str().and_then(|id| id.parse::<Hash>().ok()) else {
                // The form refuses it in its own words.
                named.push(value.clone());
                continue;
            };
            match room.held(&id) {
                darkroom::Held::Unknown if in_record(session, &id) => named.push(value.clone()),
                darkroom::Held::Unknown => return Err(no_photo(session, &id.to_string())),
                darkroom::Held::Refused(why) => return Err(ApiError::bad_input("photos", why)),
                darkroom::Held::Raw => plan.later.push(id),
                darkroom::Held::Ready(bytes) => {
                    named.push(json!(Hash::of(&[&bytes])));
                    plan.ready.push((id, bytes));
                }
            }
        }
        plan.step.values.insert("photos".into(), Value::Array(named));
        Ok(plan)
    }
}

/// Whether an entry names a photo already: a form for correcting it gives its photos back.
fn in_record(session: &Session, photo: &Hash) -> bool {
    crate::reading::photos(&session.shop().steps).contains(photo)
}

fn no_photo(session: &Session, id: &str) -> ApiError {
    let shown: String = id.chars().take(80).collect();
    let said = crate::say::fill(NO_PHOTO, session.voice.lang, &[("id", &shown)]);
    ApiError::new(ErrorCode::Unknown, said).field("photos")
}

pub(super) fn room_of(session: &Session) -> Darkroom {
    Darkroom::of(&session.keep, &session.shop_id())
}

fn found(session: &Session, hash: &Hash) -> (PhotoState, Option<String>, Option<Vec<u8>>) {
    let say = |words: Text| Some(session.voice.say(words));
    match room_of(session).held(hash) {
        darkroom::Held::Ready(bytes) => return (PhotoState::Here, None, Some(bytes)),
        darkroom::Held::Raw => return (PhotoState::Waiting, say(WAITING), None),
        darkroom::Held::Refused(why) => return (PhotoState::Refused, Some(why), None),
        darkroom::Held::Unknown => {}
    }
    match session.photo_seen(hash) {
        PhotoSeen::Here(bytes) => (PhotoState::Here, None, Some(bytes)),
        PhotoSeen::Wrong => (PhotoState::Wrong, say(WRONG), None),
        PhotoSeen::Missing => (PhotoState::Missing, say(MISSING), None),
    }
}

/// How the step of a draft will be found again.
fn belongs(open: &Open, draft: &Draft) -> Belongs {
    let shop = open.session.shop();
    let corrected = draft.refs.first().and_then(|hash| shop.step(hash));
    let corrects = draft.kind == Kind::Correction.wire();
    let step = corrected.filter(|_| corrects);
    Belongs {
        after: open.session.last_own(),
        // A correction stands as a version of what it corrects.
        kind: step.map_or_else(|| draft.kind.clone(), |step| step.wire.clone()),
        pieces: step.map_or(&draft.pieces, |step| &step.pieces).iter().map(ToString::to_string).collect(),
    }
}

/// Writes the corrections that name photos which became ready. A photo whose step was never written stays with its
/// form; that of a step that was struck goes.
fn attach(open: &mut Open) -> Option<super::open::About> {
    let room = room_of(&open.session);
    let mut about = None;
    for (id, belongs) in room.bound() {
        let darkroom::Held::Ready(bytes) = room.held(&id) else { continue };
        let Some(written) = step_of(&open.session, &belongs) else {
            room.unbind(&[id]);
            continue;
        };
        let Some(step) = version_in_force(open.session.shop(), written).cloned() else {
            room.forget(&id);
            continue;
        };
        let done = add_to(open, &step, &bytes);
        match done {
            // Tried again when the shop is opened next: a full disk.
            Err(_) => break,
            Ok(changed) => {
                room.forget(&id);
                about = Some(changed);
            }
        }
    }
    about
}

/// The step a photo belongs to: the first of its kind and pieces this device wrote after a number.
fn step_of<'a>(session: &'a Session, belongs: &Belongs) -> Option<&'a Step> {
    let device = session.device()?;
    let pieces = |step: &Step| step.pieces.iter().map(ToString::to_string).collect::<Vec<_>>();
    let fits = |step: &&Step| {
        step.device == device
            && step.order.seq > belongs.after
            && step.wire == belongs.kind
            && pieces(step) == belongs.pieces
    };
    session.shop().steps.iter().filter(fits).min_by_key(|step| step.order.seq)
}

/// The version in force of a step; none where it was struck.
fn version_in_force<'a>(shop: &'a Shop, step: &'a Step) -> Option<&'a Step> {
    let root = step.corrects.unwrap_or(step.hash);
    let same = |it: &&Step| it.hash == root || it.corrects == Some(root);
    let mut versions = shop.steps.iter().filter(same).filter(|it| it.in_force || it.open);
    let first = versions.next();
    // A device that is apart has no entry in force; its steps are corrected all the same.
    first.or_else(|| step.struck_by.is_none().then_some(step))
}

/// The same step with one photo more.
fn add_to(open: &mut Open, step: &Step, bytes: &[u8]) -> Result<super::open::About> {
    let trowelogue_core::shop::Reading::Read(details) = &step.reading else { return Ok(Default::default()) };
    let mut body = details.to_stored();
    let photo = json!({ "hash": Hash::of(&[bytes]) });
    match body.entry("photos").or_insert_with(|| json!([])).as_array_mut() {
        Some(photos) if !photos.contains(&photo) => photos.push(photo),
        _ => return Ok(Default::default()),
    }
    open.session.put_photos(&[bytes.to_vec()])?;
    let why = open.session.voice.say(ADDED);
    let mut made = json!({ "why": why, "body": body });
    if step.corrects.is_some() {
        // Another time of work, set by a correction before, stays.
        made["done"] = json!(moment::write(&step.done.start));
        if let Some(end) = &step.done.end {
            made["until"] = json!(moment::write(end));
        }
    }
    let kind = Kind::Correction.wire();
    let map = json!({ "kind": kind, "person": step.person, "refs": [step.hash], "body": made });
    let Value::Object(map) = map else { return Ok(Default::default()) };
    let draft = Reader::new(&open.session).draft(map)?;
    open.write(vec![draft]).map(|(_, about)| about)
}
