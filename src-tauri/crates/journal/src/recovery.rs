//! The recovery code: made when a shop is founded, printed, and stored nowhere.
//!
//! 128 random bits. Their Ed25519 key has its public half in `shop.json`, so that whoever holds the paper
//! can retire a founding device that was lost.

use data_encoding::BASE32_NOPAD;
use trowelogue_core::id::Hash;

use crate::keys::SecretKey;

const SEED_CONTEXT: &[u8] = b"trowelogue-recovery-1\n";
const CHECK_CONTEXT: &[u8] = b"trowelogue-recovery-check-1\n";
const GROUP: usize = 4;

/// The secret behind a shop's recovery key.
#[derive(Clone, PartialEq, Eq)]
pub struct Recovery([u8; 16]);

/// A recovery code that cannot be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BadCode {
    /// Not 32 letters and digits of the code's alphabet.
    #[error("a recovery code has 8 groups of 4 characters (a-z, 2-7)")]
    Form,
    /// A character was misread or two were swapped.
    #[error("the recovery code has a typing mistake: its check does not match")]
    Check,
}

impl Recovery {
    /// The recovery secret of these 16 bytes.
    pub fn new(secret: [u8; 16]) -> Self {
        Self(secret)
    }

    /// The code for printing: 8 groups of 4 characters; the last 4 bytes are a check.
    pub fn code(&self) -> String {
        let text = BASE32_NOPAD.encode(&[&self.0[..], &self.check()].concat()).to_ascii_lowercase();
        let groups: Vec<&str> =
            text.as_bytes().chunks(GROUP).filter_map(|g| std::str::from_utf8(g).ok()).collect();
        groups.join("-")
    }

    /// Reads a printed code: case, spaces and hyphens do not matter, and `0`, `1`, `8` are taken for the
    /// letters they look like.
    pub fn parse(code: &str) -> Result<Self, BadCode> {
        let text: String = code.chars().filter(|c| !c.is_whitespace() && *c != '-').map(letter).collect();
        let bytes = BASE32_NOPAD.decode(text.as_bytes()).map_err(|_| BadCode::Form)?;
        let bytes: [u8; 20] = bytes.try_into().map_err(|_| BadCode::Form)?;
        let mut secret = [0; 16];
        secret.copy_from_slice(&bytes[..16]);
        let recovery = Self(secret);
        if recovery.check() == bytes[16..] { Ok(recovery) } else { Err(BadCode::Check) }
    }

    /// The key the code stands for.
    pub fn key(&self) -> SecretKey {
        SecretKey::from_seed(&Hash::of(&[SEED_CONTEXT, &self.0]).0)
    }

    fn check(&self) -> [u8; 4] {
        let hash = Hash::of(&[CHECK_CONTEXT, &self.0]).0;
        [hash[0], hash[1], hash[2], hash[3]]
    }
}

impl std::fmt::Debug for Recovery {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Recovery(secret)")
    }
}

fn letter(typed: char) -> char {
    match typed.to_ascii_uppercase() {
        '0' => 'O',
        '1' => 'L',
        '8' => 'B',
        other => other,
    }
}
