//! One line of a log: three exact slices in a fixed frame.
//!
//! `{"e":<entry>,"b":<body>,"s":"<signature>"}` and a newline. The slices are taken as they stand; that they
//! and the frame give back the line byte for byte is checked, so that no white space, no other order and no
//! further key can hide between them.

use serde::Deserialize;
use serde_json::value::RawValue;
use trowelogue_core::id::Hash;

use crate::keys::{self, SIGNATURE_CHARS};

/// The most bytes a line may have, its newline included.
pub const MAX_LINE: usize = 65_536;

const OPEN: &str = "{\"e\":";
const BODY: &str = ",\"b\":";
const SIGNATURE: &str = ",\"s\":\"";
const CLOSE: &str = "\"}";

/// The body of a line that has none, or whose body was withheld.
pub const NO_BODY: &str = "null";

/// The three slices of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Raw<'a> {
    /// The signed object, byte for byte.
    pub entry: &'a str,
    /// The body, byte for byte.
    pub body: &'a str,
    /// 86 characters of canonical base64url.
    pub signature: &'a str,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Outer<'a> {
    #[serde(borrow)]
    e: &'a RawValue,
    #[serde(borrow)]
    b: &'a RawValue,
    s: &'a str,
}

impl<'a> Raw<'a> {
    /// Takes a line apart; `None` where it is not exactly the frame. Without the newline.
    pub fn split(line: &'a str) -> Option<Self> {
        let outer: Outer<'a> = serde_json::from_str(line).ok()?;
        let raw = Self { entry: outer.e.get(), body: outer.b.get(), signature: outer.s };
        (raw.is_exactly(line) && keys::decode::<64>(raw.signature).is_some()).then_some(raw)
    }

    /// Whether the frame around the slices gives back `line`, byte for byte.
    fn is_exactly(&self, line: &str) -> bool {
        let parts = [OPEN, self.entry, BODY, self.body, SIGNATURE, self.signature, CLOSE];
        let mut rest = line;
        for part in parts {
            match rest.strip_prefix(part) {
                Some(after) => rest = after,
                None => return false,
            }
        }
        rest.is_empty() && self.signature.len() == SIGNATURE_CHARS
    }

    /// The line's hash: over the entry bytes and the signature characters.
    pub fn hash(&self) -> Hash {
        Hash::of(&[self.entry.as_bytes(), self.signature.as_bytes()])
    }

    /// The line, with its newline.
    pub fn compose(&self) -> String {
        let Self { entry, body, signature } = self;
        format!("{OPEN}{entry}{BODY}{body}{SIGNATURE}{signature}{CLOSE}\n")
    }

    /// The same line with its body withheld: entry, signature and hash stay as they are.
    pub fn withheld(&self) -> Self {
        Self { body: NO_BODY, ..*self }
    }
}
