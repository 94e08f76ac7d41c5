//! The recovery code: made when a shop is founded, printed, and stored nowhere.
//!
//! 128 random bits. Their Ed25519 key has its public half in `shop.json`, so that whoever holds the paper
//! can go on where the founding device was lost.

use data_encoding::BASE32_NOPAD;
use trowelogue_core::id::{DeviceId, Hash, ShopId};
use trowelogue_core::recovery::{CONTEXT, message};

use crate::keys::SecretKey;

const SEED_CONTEXT: &[u8] = b"trowelogue-recovery-1\n";
const CHECK_CONTEXT: &[u8] = b"trowelogue-recovery-check-1\n";
/// Characters of a group, and groups of a code.
const GROUP: usize = 4;
const GROUPS: usize = 8;
/// Bits of a character, and of a group.
const CHAR_BITS: usize = 5;
const GROUP_BITS: usize = GROUP * CHAR_BITS;

/// The secret behind a shop's recovery key.
#[derive(Clone, PartialEq, Eq)]
pub struct Recovery([u8; 16]);

/// A recovery code that cannot be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BadCode {
    /// Too few or too many characters.
    #[error("a recovery code has 32 characters in 8 groups of 4; this has {0}")]
    Length(usize),
    /// A character no code has, and the group it stands in, from 1.
    #[error("the recovery code has a character in group {group} that no code has: {letter}")]
    Letter {
        /// The group, from 1.
        group: usize,
        /// The character.
        letter: char,
    },
    /// A character was misread or two were swapped: in this group, from 1, where one group alone is wrong.
    #[error("the recovery code has a typing mistake: its check does not match")]
    Check(Option<usize>),
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
        let letters: Vec<char> =
            code.chars().filter(|c| !c.is_whitespace() && *c != '-').map(letter).collect();
        if letters.len() != GROUP * GROUPS {
            return Err(BadCode::Length(letters.len()));
        }
        let strange = letters.iter().position(|it| !matches!(it, 'A'..='Z' | '2'..='7'));
        if let Some(at) = strange {
            return Err(BadCode::Letter { group: at / GROUP + 1, letter: letters[at] });
        }
        let text: String = letters.into_iter().collect();
        let bytes = BASE32_NOPAD.decode(text.as_bytes()).map_err(|_| BadCode::Length(text.len()))?;
        let bytes: [u8; 20] = bytes.try_into().map_err(|_| BadCode::Length(text.len()))?;
        whole(&bytes).ok_or_else(|| BadCode::Check(wrong_group(&bytes)))
    }

    /// The key the code stands for.
    pub fn key(&self) -> SecretKey {
        SecretKey::from_seed(&Hash::of(&[SEED_CONTEXT, &self.0]).0)
    }

    /// The proof that a device goes on for the founding device of a shop, whose last entry that counts is `head`.
    pub fn proof(&self, shop: ShopId, goes_on: DeviceId, founder: DeviceId, head: Option<Hash>) -> String {
        self.key().sign(CONTEXT, &message(shop, goes_on, founder, head))
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

/// The secret of 20 bytes whose last four are its check.
fn whole(bytes: &[u8; 20]) -> Option<Recovery> {
    let mut secret = [0; 16];
    secret.copy_from_slice(&bytes[..16]);
    let recovery = Recovery(secret);
    (recovery.check() == bytes[16..]).then_some(recovery)
}

/// The one group, from 1, in which a change of one character or two neighbours swapped would make the check match.
/// The check has 32 bits: of the 1,000 changes tried, one that matches by chance is one in four million codes.
fn wrong_group(bytes: &[u8; 20]) -> Option<usize> {
    let chars = |at: usize| bits(bytes, at * CHAR_BITS);
    let mut groups = (0..GROUP * GROUPS).filter_map(|at| {
        let changed = (0..1 << CHAR_BITS).any(|value| whole(&with(bytes, &[(at, value)])).is_some());
        let neighbour = (at % GROUP + 1 < GROUP).then_some(at + 1);
        let swapped = neighbour
            .is_some_and(|next| whole(&with(bytes, &[(at, chars(next)), (next, chars(at))])).is_some());
        (changed || swapped).then_some(at * CHAR_BITS / GROUP_BITS + 1)
    });
    groups.next()
}

/// Five bits from a place on.
fn bits(bytes: &[u8; 20], from: usize) -> u8 {
    (from..from + CHAR_BITS).fold(0, |value, at| value << 1 | (bytes[at / 8] >> (7 - at % 8) & 1))
}

/// The same bytes with characters replaced by others.
fn with(bytes: &[u8; 20], changes: &[(usize, u8)]) -> [u8; 20] {
    let mut bytes = *bytes;
    for (char, value) in changes {
        for bit in 0..CHAR_BITS {
            let at = char * CHAR_BITS + bit;
            let mask = 1 << (7 - at % 8);
            let set = value >> (CHAR_BITS - 1 - bit) & 1 == 1;
            bytes[at / 8] = if set { bytes[at / 8] | mask } else { bytes[at / 8] & !mask };
        }
    }
    bytes
}

fn letter(typed: char) -> char {
    match typed.to_ascii_uppercase() {
        '0' => 'O',
        '1' => 'L',
        '8' => 'B',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SECRET: Recovery = Recovery([0xa5; 16]);

    fn typed(change: impl Fn(&mut Vec<char>)) -> Result<Recovery, BadCode> {
        let mut letters: Vec<char> = SECRET.code().chars().collect();
        change(&mut letters);
        Recovery::parse(&letters.into_iter().collect::<String>())
    }

    #[test]
    fn a_code_is_read_as_it_is_copied_out() {
        let code = SECRET.code();
        assert_eq!(code.len(), 39);
        assert_eq!(Recovery::parse(&code), Ok(SECRET));
        let spoken =
            format!("  {}\n", code.to_uppercase().replace('-', " ").replace('L', "1").replace('O', "0"));
        assert_eq!(Recovery::parse(&spoken), Ok(SECRET));
    }

    #[test]
    fn every_single_slip_names_its_group() {
        let code: Vec<char> = SECRET.code().chars().collect();
        for at in (0..code.len()).filter(|at| code[*at] != '-') {
            let group = at / 5 + 1;
            let wrong = if code[at] == 'q' { 'r' } else { 'q' };
            assert_eq!(typed(|it| it[at] = wrong), Err(BadCode::Check(Some(group))), "character {at}");
            assert_eq!(typed(|it| it[at] = '9'), Err(BadCode::Letter { group, letter: '9' }));
            let next_fits = code.get(at + 1).is_some_and(|next| *next != '-' && *next != code[at]);
            if next_fits {
                assert_eq!(typed(|it| it.swap(at, at + 1)), Err(BadCode::Check(Some(group))), "swap at {at}");
            }
        }
    }

    #[test]
    fn more_than_one_slip_is_a_mistake_somewhere_and_a_lost_character_is_counted() {
        let change = |letters: &mut Vec<char>| {
            for at in [0, 6, 20] {
                letters[at] = if letters[at] == 'q' { 'r' } else { 'q' };
            }
        };
        assert_eq!(typed(change), Err(BadCode::Check(None)));
        assert_eq!(typed(|letters| letters.truncate(38)), Err(BadCode::Length(31)));
        assert_eq!(Recovery::parse(""), Err(BadCode::Length(0)));
    }
}
