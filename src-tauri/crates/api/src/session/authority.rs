//! Accepting and retiring devices.

use serde_json::{Map, Value, json};
use trowelogue_core::body::Kind;
use trowelogue_core::body::authority::{RetireReason, Role};
use trowelogue_core::id::{DeviceId, Hash};
use trowelogue_core::moment::Span;
use trowelogue_core::shop::DeviceStatus;
use trowelogue_core::text::{Text, text};
use trowelogue_journal::Draft;

use super::Session;
use crate::dto::Standing;
use crate::dto::report::Written;
use crate::say::fill;
use crate::{ApiError, ErrorCode, Result};

const ACCEPTED_ALREADY: Text = text("This device is accepted already.", "Este dispositivo ya está aceptado.");
const RETIRED_ALREADY: Text = text("This device is retired.", "Este dispositivo está retirado.");
const NO_DEVICE: Text =
    text("There is no device {name} in this shop.", "No hay ningún dispositivo {name} en este taller.");
const TWO_DEVICES: Text =
    text("{name} fits more than one device.", "{name} corresponde a más de un dispositivo.");
const NOT_ACCEPTED: Text = text("This device is not accepted.", "Este dispositivo no está aceptado.");
const NO_FORK: Text =
    text("This entry shares its number with no other.", "Esta entrada no comparte su número con otra.");
const SAY_WHY: Text = text("Say why.", "Indique por qué.");
const OWNER_ONLY: Text = text("Only an owner may do this.", "Esto solo puede hacerlo un dueño.");
const ASK_OWNER: Text = text("Do it on an owner's device.", "Hágalo en el dispositivo de un dueño.");
const ONE_OF: Text = text("Name one of: {names}.", "Indique uno de: {names}.");
const UNKNOWN_WORD: Text = text("{word} is none of: {words}.", "{word} no es ninguno de: {words}.");

impl Session {
    /// Accepts a device: its entries count from then on, the earlier ones too.
    ///
    /// # Errors
    /// This device is no owner; there is no such device; it is accepted already.
    pub fn accept(&mut self, device: &str, role: Option<&str>) -> Result<Written> {
        self.owner_only()?;
        let peer = self.device_named(device)?;
        let words = match self.shop().devices.get(&peer).map(|it| it.status) {
            Some(DeviceStatus::Accepted) => Some(ACCEPTED_ALREADY),
            Some(DeviceStatus::Retired) => Some(RETIRED_ALREADY),
            _ => None,
        };
        if let Some(words) = words {
            return Err(ApiError::bad_input("device", self.voice.say(words)));
        }
        let role = role.map(|word| self.word("role", word, Role::ALL, Role::wire)).transpose()?;
        let body = role.map_or_else(|| json!({}), |role| json!({ "role": role }));
        self.about_device(Kind::Accept, peer, body, Vec::new())
    }

    /// Retires a device: entries after its newest one seen here never count.
    ///
    /// # Errors
    /// This device is no owner; there is no such device; it is retired already.
    pub fn retire(&mut self, device: &str, reason: Option<&str>) -> Result<Written> {
        self.owner_only()?;
        let peer = self.device_named(device)?;
        if self.shop().devices.get(&peer).is_some_and(|it| it.status == DeviceStatus::Retired) {
            return Err(ApiError::bad_input("device", self.voice.say(RETIRED_ALREADY)));
        }
        let reason = self.word("reason", reason.unwrap_or("other"), RetireReason::ALL, RetireReason::wire)?;
        let head = self.shop().steps.iter().rfind(|step| step.device == peer).map(|step| step.hash);
        self.about_device(Kind::Retire, peer, json!({ "reason": reason }), head.into_iter().collect())
    }

    /// Gives an accepted device another role.
    ///
    /// # Errors
    /// This device is no owner; there is no such device or role; the device is not accepted.
    pub fn give_role(&mut self, device: &str, role: &str) -> Result<Written> {
        self.owner_only()?;
        let peer = self.device_named(device)?;
        let accepted = self.shop().devices.get(&peer).is_some_and(|it| it.status == DeviceStatus::Accepted);
        if !accepted {
            return Err(ApiError::bad_input("device", self.voice.say(NOT_ACCEPTED)));
        }
        let role = self.word("role", role, Role::ALL, Role::wire)?;
        self.about_device(Kind::Role, peer, json!({ "role": role }), Vec::new())
    }

    /// Settles a fork: of the entries that share a device and number, this one counts.
    ///
    /// # Errors
    /// This device is no owner; the entry is none of an open fork; no reason is given.
    pub fn settle(&mut self, entry: &str, why: &str) -> Result<Written> {
        self.owner_only()?;
        let hash: Option<Hash> = entry.parse().ok();
        let open = |hash: &Hash| self.shop().forks.iter().any(|it| !it.settled && it.hashes.contains(hash));
        let Some(hash) = hash.filter(open) else {
            return Err(ApiError::bad_input("entry", self.voice.say(NO_FORK)));
        };
        if why.trim().is_empty() {
            return Err(ApiError::bad_input("why", self.voice.say(SAY_WHY)));
        }
        let draft = self.decision(Kind::SettleFork, json!({ "why": why.trim() }), vec![hash])?;
        self.append(vec![draft])
    }

    pub(crate) fn owner_only(&self) -> Result<()> {
        match self.standing() {
            Standing::Owner => Ok(()),
            Standing::Reader => Err(crate::faults::journal(
                &trowelogue_journal::Error::NotJoined { path: self.folder.clone(), shop: None },
                self.voice.lang,
            )),
            _ => Err(ApiError::new(ErrorCode::NotOwner, self.voice.say(OWNER_ONLY))
                .kept(self.voice.say(crate::add::NOTHING))
                .remedy(self.voice.say(ASK_OWNER))),
        }
    }

    fn about_device(&mut self, kind: Kind, peer: DeviceId, body: Value, refs: Vec<Hash>) -> Result<Written> {
        let body = match body {
            Value::Object(map) => map,
            _ => Map::new(),
        };
        let draft = Draft {
            done: Span::at(self.now()),
            person: self.me()?.id,
            kind: kind.wire().into(),
            object: None,
            pieces: Vec::new(),
            peer: Some(peer),
            refs,
            body,
        };
        self.append(vec![draft])
    }

    /// A device by its id, by the start of it, by its name, or by its person where that fits one alone.
    fn device_named(&self, wanted: &str) -> Result<DeviceId> {
        let bare: String = wanted.to_lowercase().chars().filter(|c| *c != '-').collect();
        let all = self.shop().devices.values();
        let fits = |it: &&trowelogue_core::shop::Device| {
            let name = it.name.as_deref().unwrap_or_default();
            let person = name.rsplit_once(" (").map_or(name, |(person, _)| person);
            let named = !wanted.is_empty() && [name, person].contains(&wanted);
            named || (bare.len() >= 4 && it.id.to_string().starts_with(&bare))
        };
        let found: Vec<_> = all.clone().filter(fits).collect();
        let names = |of: Vec<&trowelogue_core::shop::Device>| {
            let words = of.iter().map(|it| format!("{} ({})", it.id, it.name.as_deref().unwrap_or("—")));
            crate::say::list(words, 20)
        };
        let lang = self.voice.lang;
        let quoted = format!("{wanted:?}");
        match found[..] {
            [one] => Ok(one.id),
            [] => Err(ApiError::new(ErrorCode::Unknown, fill(NO_DEVICE, lang, &[("name", &quoted)]))
                .field("device")
                .remedy(fill(ONE_OF, lang, &[("names", &names(all.collect()))]))),
            _ => Err(ApiError::new(ErrorCode::Ambiguous, fill(TWO_DEVICES, lang, &[("name", &quoted)]))
                .field("device")
                .remedy(fill(ONE_OF, lang, &[("names", &names(found))]))),
        }
    }

    /// A word of a closed choice.
    fn word<T: Copy>(&self, field: &str, word: &str, all: &[T], wire: fn(T) -> &'static str) -> Result<T> {
        let words = crate::say::list(all.iter().map(|it| wire(*it)), 20);
        let quoted = format!("{word:?}");
        let message = || fill(UNKNOWN_WORD, self.voice.lang, &[("word", &quoted), ("words", &words)]);
        let found = all.iter().copied().find(|it| wire(*it) == word);
        found.ok_or_else(|| ApiError::bad_input(field, message()))
    }
}
