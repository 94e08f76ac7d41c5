//! Who this home is in a shop: `journal/identity.json`.
//!
//! It stands inside the private journal on purpose: where the journal is lost, the identity is lost with it,
//! and the home can only go on as a new device. So no number of a log is ever written twice.

use serde::{Deserialize, Serialize};
use trowelogue_core::id::{DeviceId, ShopId};

use super::Home;
use super::secret::Secret;
use crate::error::Error;
use crate::files::read_small;
use crate::keys::{self, SecretKey};

const MOST: usize = 4_096;

/// This home's device in one shop.
#[derive(Debug, Clone)]
pub(crate) struct Identity {
    pub(crate) key: SecretKey,
    salt: [u8; 16],
    /// The device it goes on for.
    pub(crate) replaces: Option<DeviceId>,
}

#[derive(Serialize, Deserialize)]
struct Wire {
    device: DeviceId,
    salt: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    replaces: Option<DeviceId>,
}

impl Identity {
    pub(super) fn new(secret: &Secret, salt: [u8; 16], replaces: Option<DeviceId>) -> Self {
        Self { key: SecretKey::of_device(&secret.0, &salt), salt, replaces }
    }

    pub(crate) fn device(&self) -> DeviceId {
        self.key.public().device()
    }
}

impl Home {
    fn identity_path(&self, shop: ShopId) -> std::path::PathBuf {
        self.journal_dir(shop).join("identity.json")
    }

    fn identity_wire(&self, shop: ShopId) -> Option<Wire> {
        let bytes = read_small(self.disk.as_ref(), &self.identity_path(shop), MOST).ok()?;
        serde_json::from_slice(&bytes).ok()
    }

    /// The device this home was, as far as that is known.
    pub(super) fn old_device(&self, shop: ShopId) -> Option<DeviceId> {
        self.identity_wire(shop).map(|wire| wire.device)
    }

    /// Reads who this home is in `shop`.
    pub(super) fn identity(&self, shop: ShopId) -> Result<Identity, Error> {
        let path = self.identity_path(shop);
        let Some(wire) = self.identity_wire(shop) else {
            return Err(match self.disk.stat(&path) {
                Ok(_) => Error::HomeDamaged { path },
                Err(_) => Error::JournalDamaged { path },
            });
        };
        let salt = keys::decode::<16>(&wire.salt).ok_or_else(|| Error::HomeDamaged { path: path.clone() })?;
        let identity = Identity::new(&self.secret()?, salt, wire.replaces);
        if identity.device() == wire.device { Ok(identity) } else { Err(Error::HomeDamaged { path }) }
    }

    pub(super) fn keep_identity(&self, shop: ShopId, identity: &Identity) -> Result<(), Error> {
        let salt = keys::encode(&identity.salt);
        let wire = Wire { device: identity.device(), salt, replaces: identity.replaces };
        let text = serde_json::to_string(&wire).unwrap_or_default();
        self.put(&self.identity_path(shop), format!("{text}\n").as_bytes(), super::TAG)
    }
}
