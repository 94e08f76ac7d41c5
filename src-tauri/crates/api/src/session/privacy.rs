//! The shop's passphrase, and erasing a client's personal data on request.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};
use trowelogue_core::body::{Body, Kind};
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::Span;
use trowelogue_core::shop::{Shop, Status, Step};
use trowelogue_core::text::{Text, text};
use trowelogue_journal::veil::SHORTEST_PASSPHRASE;
use trowelogue_journal::{Draft, Error, Lockbox};

use super::Session;
use crate::add::Book;
use crate::dto::report::Written;
use crate::format::Table;
use crate::say::fill;
use crate::{ApiError, ErrorCode, Result, faults};

const TOO_SHORT: Text = text(
    "A passphrase has at least {count} characters.",
    "Una contraseña tiene al menos {count} caracteres.",
);
const NO_PASSPHRASE: Text = text("This shop has no passphrase.", "Este taller no tiene contraseña.");
const TELL_FIRST: Text = text(
    "The shop has a passphrase this device was not told. Tell it first.",
    "El taller tiene una contraseña que este dispositivo no conoce. Indíquela antes.",
);
const KEEP_IT: Text = text(
    "Keep the passphrase on paper. Without it the folder cannot be read by a device that was not told, and nobody can find it out.",
    "Guarde la contraseña en papel. Sin ella, un dispositivo que no la conozca no puede leer la carpeta, y nadie puede averiguarla.",
);
const NOTHING_NAMED: Text =
    text("Name the client, or the entries to erase.", "Indique el cliente o las entradas que se borran.");
const NOT_AN_ENTRY: Text = text("There is no entry {hash}.", "No hay ninguna entrada {hash}.");
const NOT_ERASABLE: Text = text(
    "Entries about devices and passphrases cannot be erased.",
    "Las entradas sobre dispositivos y contraseñas no se pueden borrar.",
);
const WHY: Text = text("Say why it is erased.", "Indique por qué se borra.");
const COPIES: Text = text(
    "Erased here and in this device's log. Each other device takes it out of its own log when it next opens the folder; copies made elsewhere are not reached.",
    "Borrado aquí y en el registro de este dispositivo. Cada otro dispositivo lo retira de su registro cuando vuelva a abrir la carpeta; las copias hechas en otro lugar no se alcanzan.",
);

/// What is to be erased, and why.
#[derive(Debug, Clone, Default)]
pub struct EraseAsk {
    /// A client, by id or name: every version of the client's own entry.
    pub client: Option<String>,
    /// Other entries, by their hash, with every correction of them.
    pub entries: Vec<String>,
    /// Why: who asked for it, on what ground.
    pub why: String,
}

impl Session {
    /// Sets the shop's passphrase, or changes it: bodies and photos are encrypted in the folder from then on, and
    /// what this device published before is published again.
    ///
    /// # Errors
    /// This device is no owner, or does not know the passphrase that is set; the new one is too short.
    pub fn set_passphrase(&mut self, passphrase: &str) -> Result<Written> {
        self.owner_only()?;
        if passphrase.trim().chars().count() < SHORTEST_PASSPHRASE {
            let words = fill(TOO_SHORT, self.voice.lang, &[("count", &SHORTEST_PASSPHRASE)]);
            return Err(ApiError::bad_input("passphrase", words));
        }
        let lang = self.voice.lang;
        let fault = |error: Error| faults::journal(&error, lang);
        let Some(link) = &self.link else { return Err(self.not_told()) };
        if link.lacks_passphrase() {
            return Err(self.not_told());
        }
        let (lockbox, key) = link.lockbox(passphrase).map_err(fault)?;
        let body = serde_json::to_value(lockbox).unwrap_or_default();
        let draft = self.decision(Kind::Passphrase, body, Vec::new())?;
        let mut written = self.append(vec![draft])?;
        if let (Some(link), Some(hash)) = (&mut self.link, self.view.shop.passphrase) {
            link.take_passphrase(hash, key).map_err(fault)?;
            self.published = Some(link.publish().map_err(fault)?);
        }
        written.remarks = vec![self.voice.say(KEEP_IT)];
        written.in_folder = !matches!(self.published, Some(trowelogue_journal::Published::NotYet(_)));
        Ok(written)
    }

    fn not_told(&self) -> ApiError {
        ApiError::bad_input("passphrase", self.voice.say(TELL_FIRST))
    }

    /// Tells this device the passphrase in force. What it could not read is read then, and what it could not
    /// publish is published.
    ///
    /// # Errors
    /// There is none, or it is another one.
    pub fn tell_passphrase(&mut self, passphrase: &str) -> Result<()> {
        self.joined()?;
        let lang = self.voice.lang;
        let fault = |error: Error| faults::journal(&error, lang);
        let shop = self.view.shop.clone();
        let lockbox = shop.passphrase.and_then(|hash| Some((hash, lockbox_of(shop.step(&hash)?)?)));
        let Some((hash, lockbox)) = lockbox else {
            return Err(ApiError::bad_input("passphrase", self.voice.say(NO_PASSPHRASE)));
        };
        if let Some(link) = &mut self.link {
            link.unlock(hash, &lockbox, passphrase).map_err(fault)?;
            self.published = Some(link.publish().map_err(fault)?);
            let reading = link.read().map_err(fault)?;
            self.view.replace(reading);
        }
        self.obey()
    }

    /// Erases personal data for good, by an owner's entry that says so: the lines stay, their bodies and photos
    /// go.
    ///
    /// # Errors
    /// This device is no owner; nothing is named, or something that is not there or must stay.
    pub fn erase(&mut self, ask: &EraseAsk) -> Result<Written> {
        self.owner_only()?;
        if ask.why.trim().is_empty() {
            return Err(ApiError::bad_input("why", self.voice.say(WHY)));
        }
        let chosen = self.chosen(ask)?;
        let removed: Vec<Hash> = photos_going(self.shop(), &chosen).into_iter().collect();
        let mut body = json!({ "why": ask.why.trim() });
        if !removed.is_empty() {
            body["removed"] = json!(removed);
        }
        let draft = self.decision(Kind::Erase, body, chosen.into_iter().collect())?;
        let mut written = self.append(vec![draft])?;
        if let Some(link) = &mut self.link {
            let lang = self.voice.lang;
            self.published = Some(link.publish().map_err(|error| faults::journal(&error, lang))?);
        }
        written.remarks.push(self.voice.say(COPIES));
        Ok(written)
    }

    /// The entries to erase: those named, and every correction of them.
    fn chosen(&self, ask: &EraseAsk) -> Result<BTreeSet<Hash>> {
        let shop = self.shop();
        let mut roots = BTreeSet::new();
        if let Some(name) = &ask.client {
            let client = Book::of(shop).find(Table::Clients, name, self.voice.lang)?;
            roots.extend(entries_of_client(shop, client));
        }
        for wanted in &ask.entries {
            roots.insert(self.entry_named(wanted)?);
        }
        if roots.is_empty() {
            return Err(ApiError::bad_input("client", self.voice.say(NOTHING_NAMED)));
        }
        let versions =
            shop.steps.iter().filter(|step| step.corrects.is_some_and(|first| roots.contains(&first)));
        let versions: BTreeSet<Hash> = versions.map(|step| step.hash).collect();
        Ok(roots.into_iter().chain(versions).collect())
    }

    fn entry_named(&self, wanted: &str) -> Result<Hash> {
        let step = wanted.parse::<Hash>().ok().and_then(|hash| self.shop().step(&hash));
        let Some(step) = step else {
            let shown: String = wanted.chars().take(80).collect();
            let words = fill(NOT_AN_ENTRY, self.voice.lang, &[("hash", &shown)]);
            return Err(ApiError::new(ErrorCode::Unknown, words).field("entry"));
        };
        if step.kind.is_some_and(crate::add::untouchable) {
            return Err(ApiError::bad_input("entry", self.voice.say(NOT_ERASABLE)));
        }
        Ok(step.corrects.unwrap_or(step.hash))
    }

    pub(super) fn decision(&self, kind: Kind, body: Value, refs: Vec<Hash>) -> Result<Draft> {
        let body = match body {
            Value::Object(map) => map,
            _ => Map::new(),
        };
        Ok(Draft {
            done: Span::at(self.now()),
            person: self.me()?.id,
            kind: kind.wire().into(),
            object: None,
            pieces: Vec::new(),
            peer: None,
            refs,
            body,
        })
    }

    /// Does what the owners' entries ask of every home: publish under the passphrase in force, take out what was
    /// erased.
    pub(crate) fn obey(&mut self) -> Result<()> {
        let lang = self.voice.lang;
        let fault = |error: Error| faults::journal(&error, lang);
        let Some(link) = &mut self.link else { return Ok(()) };
        let shop = self.view.shop.clone();
        link.set_passphrase_in_force(shop.passphrase).map_err(fault)?;
        if link.erase(&shop.erased, &photos_erased(&shop)).map_err(fault)? {
            let reading = link.read().map_err(fault)?;
            self.view.replace(reading);
        }
        Ok(())
    }
}

fn lockbox_of(step: &Step) -> Option<Lockbox> {
    match step.body()? {
        Body::Passphrase(it) => Some(Lockbox {
            key_salt: it.key_salt.clone(),
            memory_kib: it.memory_kib,
            passes: it.passes,
            lanes: it.lanes,
            earlier: it.earlier.clone(),
        }),
        _ => None,
    }
}

/// Every entry that says who a client is, struck and replaced ones too.
fn entries_of_client(shop: &Shop, client: ObjectId) -> impl Iterator<Item = Hash> + '_ {
    let about = move |step: &&Step| step.kind == Some(Kind::Client) && step.object == Some(client);
    shop.steps.iter().filter(about).map(|step| step.corrects.unwrap_or(step.hash))
}

/// Photos that only these entries name.
fn photos_going(shop: &Shop, chosen: &BTreeSet<Hash>) -> BTreeSet<Hash> {
    let (going, staying): (Vec<&Step>, Vec<&Step>) =
        shop.steps.iter().partition(|step| chosen.contains(&step.hash));
    let named = |steps: Vec<&Step>| -> BTreeSet<Hash> {
        let common = steps.into_iter().filter_map(Step::common);
        common.flat_map(|common| common.photos.iter().map(|photo| photo.hash)).collect()
    };
    &named(going) - &named(staying)
}

/// Photos that entries in force say are erased, and that no entry names any more.
fn photos_erased(shop: &Shop) -> BTreeSet<Hash> {
    let erasing = shop.steps.iter().filter(|step| step.status == Status::Counts);
    let removed = erasing.filter_map(|step| match step.body() {
        Some(Body::Erase(erase)) => erase.removed.as_ref(),
        _ => None,
    });
    let gone: BTreeSet<Hash> = removed.flatten().copied().collect();
    if gone.is_empty() { gone } else { &gone - &crate::reading::verify::photos(shop) }
}
