//! Keys and signatures: Ed25519, always over the exact bytes that stand in a file.

use data_encoding::BASE64URL_NOPAD;
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use trowelogue_core::id::{DeviceId, Hash};

/// What stands before the entry bytes when an entry, header or seal is signed.
pub const LINE_CONTEXT: &[u8] = b"trowelogue-1\n";
/// What stands before the inner object when `shop.json` is signed.
pub const SHOP_CONTEXT: &[u8] = b"trowelogue-shop-1\n";
/// What stands before home secret and salt when a device's seed is derived.
const DEVICE_CONTEXT: &[u8] = b"trowelogue-device-1\n";
/// Characters of a signature in base64url without padding.
pub const SIGNATURE_CHARS: usize = 86;

/// A key that signs.
#[derive(Clone)]
pub struct SecretKey(SigningKey);

impl SecretKey {
    /// The key with this seed (RFC 8032, 5.1.5).
    pub fn from_seed(seed: &[u8; 32]) -> Self {
        Self(SigningKey::from_bytes(seed))
    }

    /// The key of one device: the home's secret serves every shop, and each shop, and each new start in
    /// it, gets a key of its own from its salt. So a line written for one shop is worth nothing in another,
    /// and a device that lost its log can never go on under the old id.
    pub fn of_device(home: &[u8; 32], salt: &[u8; 16]) -> Self {
        Self::from_seed(&Hash::of(&[DEVICE_CONTEXT, home, salt]).0)
    }

    /// The public half.
    pub fn public(&self) -> PublicKey {
        PublicKey(self.0.verifying_key())
    }

    /// Signs `context` followed by `message`; base64url, 86 characters.
    pub fn sign(&self, context: &[u8], message: &[u8]) -> String {
        BASE64URL_NOPAD.encode(&self.0.sign(&[context, message].concat()).to_bytes())
    }
}

impl std::fmt::Debug for SecretKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "SecretKey(of {})", self.public().device())
    }
}

/// A key that checks signatures.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct PublicKey(VerifyingKey);

impl PublicKey {
    /// The key with these bytes; `None` where they are no point of the curve, or a weak one.
    pub fn from_bytes(bytes: &[u8; 32]) -> Option<Self> {
        VerifyingKey::from_bytes(bytes).ok().filter(|key| !key.is_weak()).map(Self)
    }

    /// Reads the 43 characters of base64url in which files carry a key.
    pub fn parse(text: &str) -> Option<Self> {
        Self::from_bytes(&decode::<32>(text)?)
    }

    /// The raw bytes.
    pub fn bytes(&self) -> &[u8; 32] {
        self.0.as_bytes()
    }

    /// The id of the device with this key.
    pub fn device(&self) -> DeviceId {
        DeviceId::of_key(self.bytes())
    }

    /// Whether `signature` (86 characters, canonical) is good for `context` followed by `message`. Strict:
    /// no weak keys, no second form of a signature.
    pub fn verify(&self, context: &[u8], message: &[u8], signature: &str) -> bool {
        decode::<64>(signature).is_some_and(|bytes| {
            self.0.verify_strict(&[context, message].concat(), &Signature::from_bytes(&bytes)).is_ok()
        })
    }
}

impl std::fmt::Display for PublicKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&encode(self.bytes()))
    }
}

impl std::fmt::Debug for PublicKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "PublicKey({self})")
    }
}

/// Bytes in base64url without padding.
pub(crate) fn encode(bytes: &[u8]) -> String {
    BASE64URL_NOPAD.encode(bytes)
}

/// Exactly `N` bytes from canonical base64url without padding.
pub(crate) fn decode<const N: usize>(text: &str) -> Option<[u8; N]> {
    let mut bytes = [0; N];
    let fits = BASE64URL_NOPAD.decode_len(text.len()).ok()? == N;
    (fits && BASE64URL_NOPAD.decode_mut(text.as_bytes(), &mut bytes).ok()? == N).then_some(bytes)
}
