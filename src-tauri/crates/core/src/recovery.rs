//! What the key on the recovery sheet signs: that a device goes on in the place of the founding device.
//!
//! The proof stands in the body of an entry of the kind `recover`, written by the device that goes on. It is
//! good for that device, that shop and that end of the founding device's log alone, so nobody can use it again.

use data_encoding::BASE64URL_NOPAD;
use ed25519_dalek::{Signature, VerifyingKey};

use crate::id::{DeviceId, Hash, ShopId};

/// What stands before the message when it is signed.
pub const CONTEXT: &[u8] = b"trowelogue-recover-1\n";

/// What the recovery key signs: shop, the device that goes on, the founding device and the last entry of it that
/// counts (a hyphen where there is none), a line each.
pub fn message(shop: ShopId, goes_on: DeviceId, founder: DeviceId, head: Option<Hash>) -> Vec<u8> {
    let head = head.map_or_else(|| "-".to_owned(), |head| head.to_string());
    format!("{shop}\n{goes_on}\n{founder}\n{head}\n").into_bytes()
}

/// Whether `proof` (86 characters base64url) is the signature of `message` with the key of these bytes. Strict, as
/// for every line.
pub fn is_good(key: &[u8; 32], message: &[u8], proof: &str) -> bool {
    let Ok(key) = VerifyingKey::from_bytes(key) else { return false };
    let mut bytes = [0; 64];
    let fits = BASE64URL_NOPAD.decode_len(proof.len()).is_ok_and(|length| length == bytes.len());
    if key.is_weak() || !fits || BASE64URL_NOPAD.decode_mut(proof.as_bytes(), &mut bytes).is_err() {
        return false;
    }
    key.verify_strict(&[CONTEXT, message].concat(), &Signature::from_bytes(&bytes)).is_ok()
}
