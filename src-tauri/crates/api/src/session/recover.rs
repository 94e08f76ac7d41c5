//! Going on where the founding device was lost, by the recovery code printed at founding.

use std::path::Path;

use serde_json::json;
use trowelogue_core::body::Kind;
use trowelogue_core::shop::{Status, Step};
use trowelogue_core::text::{self, Text, text};
use trowelogue_journal::recovery::BadCode;
use trowelogue_journal::{self as journal, Place, Recovery, ShopFile};

use super::{Session, Setup};
use crate::dto::Standing;
use crate::dto::report::Written;
use crate::say::fill;
use crate::{ApiError, ErrorCode, Result, faults, key_store};

const LENGTH: Text = text(
    "A recovery code has 32 characters in 8 groups of 4; this one has {count}.",
    "Un código de recuperación tiene 32 caracteres en 8 grupos de 4; este tiene {count}.",
);
const LETTER: Text = text(
    "Group {group} of the recovery code has {letter}, which no code has: the letters a to z and the digits 2 to 7 occur.",
    "El grupo {group} del código de recuperación tiene {letter}, que ningún código lleva: solo hay letras de la a a la z y cifras del 2 al 7.",
);
const GROUP: Text = text(
    "The recovery code has a typing mistake in group {group}.",
    "El código de recuperación tiene un error en el grupo {group}.",
);
const MISTAKE: Text = text(
    "The recovery code has typing mistakes in more than one place.",
    "El código de recuperación tiene errores en más de un lugar.",
);
const COMPARE: Text = text("Compare it with the paper.", "Compárelo con el papel.");
const OTHER_SHOP: Text = text(
    "This is the recovery code of another shop, not of {shop}.",
    "Este es el código de recuperación de otro taller, no de {shop}.",
);
const ANOTHER_SHEET: Text = text("Look for the right sheet.", "Busque la hoja correcta.");
const OWNER_ALREADY: Text = text(
    "This device is an owner of the shop already; there is nothing to recover.",
    "Este dispositivo ya es dueño del taller; no hay nada que recuperar.",
);
const USED_BEFORE: Text = text(
    "The code was used before, by {devices}. Retire each device that is not yours.",
    "El código ya se usó antes, con {devices}. Retire todo dispositivo que no sea suyo.",
);
const KEEP_IT: Text = text(
    "Keep the code: it stays good for as long as the shop exists.",
    "Conserve el código: vale mientras exista el taller.",
);

/// A shop recovered.
pub struct RecoveredShop {
    /// The shop, open; this device is an owner of it.
    pub session: Session,
    /// To be compared with what other devices show.
    pub fingerprint: String,
    /// This device.
    pub device: String,
    /// The founding device, retired now.
    pub retired: String,
    /// The entry that did it, and what there is to know.
    pub written: Written,
}

impl Session {
    /// Makes this home a device of the shop in `folder`, if it is none, and by the recovery code an owner; the
    /// founding device is retired with its newest entry seen here.
    ///
    /// # Errors
    /// The code has a mistake or is another shop's; this device is an owner already; there is no shop at that path.
    /// Nothing is written then.
    pub fn recover(setup: &Setup, folder: &Path, code: &str, person: &str) -> Result<RecoveredShop> {
        let lang = setup.language().into();
        let recovery = Recovery::parse(code).map_err(|error| bad_code(error, lang))?;
        let file = shop_file(setup, folder)?;
        if recovery.key().public() != file.recovery {
            let words = fill(OTHER_SHOP, lang, &[("shop", &file.name)]);
            return Err(refused(words, lang).remedy(ANOTHER_SHEET.get(lang)));
        }
        if is_owner(setup, folder) {
            return Err(refused(OWNER_ALREADY.get(lang), lang));
        }
        let joined = Self::join(setup, folder, person)?;
        let mut session = joined.session;
        let before = session.recoveries();
        let draft = session.recovery_draft(&recovery, &file)?;
        let mut written = session.append(vec![draft])?;
        if !before.is_empty() {
            let devices = crate::say::list(before, 10);
            written.remarks.push(fill(USED_BEFORE, lang, &[("devices", &devices)]));
        }
        written.remarks.push(session.voice.say(KEEP_IT));
        let (founder, device) = (file.founder(), session.device());
        let known = session.shop().devices.get(&founder).and_then(|it| it.name.clone());
        Ok(RecoveredShop {
            fingerprint: joined.fingerprint,
            device: device.map(|it| it.to_string()).unwrap_or_default(),
            retired: known.unwrap_or_else(|| founder.to_string()),
            written,
            session,
        })
    }

    fn recovery_draft(&self, recovery: &Recovery, file: &ShopFile) -> Result<journal::Draft> {
        let founder = file.founder();
        self.joined()?;
        let device = self.device().unwrap_or(founder);
        let of_founder = |step: &&Step| step.device == founder && step.status != Status::Apart;
        let last = self.shop().steps.iter().filter(of_founder).max_by_key(|step| step.order.seq);
        let head = last.map(|step| step.hash);
        let proof = recovery.proof(self.shop().id, device, founder, head);
        let mut draft =
            self.decision(Kind::Recover, json!({ "proof": proof }), head.into_iter().collect())?;
        draft.peer = Some(founder);
        Ok(draft)
    }

    /// Devices that have used the code, by name.
    fn recoveries(&self) -> Vec<String> {
        let shop = self.shop();
        let used =
            shop.steps.iter().filter(|it| it.kind == Some(Kind::Recover) && it.status == Status::Counts);
        let name = |step: &Step| shop.devices.get(&step.device).and_then(|it| it.name.clone());
        used.map(|step| name(step).unwrap_or_else(|| step.device.to_string())).collect()
    }
}

/// The file of the shop in a folder, or as this home has pinned it.
fn shop_file(setup: &Setup, folder: &Path) -> Result<ShopFile> {
    let home = key_store::open(&setup.home);
    let found = match home.locate(folder) {
        Ok(Place::Stranger(_)) => journal::shop_file(folder),
        Ok(_) => home.shop(folder).map(|shop| shop.file().clone()),
        Err(error) => Err(error),
    };
    found.map_err(|error| faults::journal(&error, setup.language().into()))
}

/// Whether this home's device is an owner of the shop. One that cannot be opened as a device is none.
fn is_owner(setup: &Setup, folder: &Path) -> bool {
    Session::open(setup, folder).is_ok_and(|session| session.standing() == Standing::Owner)
}

fn bad_code(error: BadCode, lang: text::Lang) -> ApiError {
    let words = match error {
        BadCode::Length(count) => fill(LENGTH, lang, &[("count", &count)]),
        BadCode::Letter { group, letter } => {
            let letter = format!("{:?}", letter.to_ascii_lowercase());
            fill(LETTER, lang, &[("group", &group), ("letter", &letter)])
        }
        BadCode::Check(Some(group)) => fill(GROUP, lang, &[("group", &group)]),
        BadCode::Check(None) => MISTAKE.get(lang).to_owned(),
    };
    refused(words, lang).remedy(COMPARE.get(lang))
}

fn refused(words: impl Into<String>, lang: text::Lang) -> ApiError {
    ApiError::new(ErrorCode::BadInput, words).field("code").kept(crate::add::NOTHING.get(lang))
}
