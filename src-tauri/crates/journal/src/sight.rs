//! What this home may see of a file: encrypted bodies are opened, erased ones are passed over.
//!
//! Everything after this step, the mirror included, works on lines as this home sees them.

use std::collections::BTreeSet;

use trowelogue_core::body::Kind;
use trowelogue_core::id::Hash;

use crate::gather::{Gathered, Piece, PieceKind};
use crate::line::{NO_BODY, Raw};
use crate::veil::{FolderKey, Keyring};
use crate::wire::{self, Signed};

const SEALED: &[u8] = b",\"b\":{\"x\":\"";

/// The keys a home holds, and the entries whose bodies were erased.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sight {
    /// Keys of the folder's passphrases.
    pub keys: Keyring,
    /// Entries whose bodies were erased.
    pub erased: BTreeSet<Hash>,
}

impl Sight {
    /// The file as this home sees it.
    pub fn of(&self, gathered: Gathered) -> Gathered {
        let opens = !self.keys.is_empty() && holds(&gathered.bytes, SEALED);
        if !opens && self.erased.is_empty() {
            return gathered;
        }
        let mut seen =
            Gathered { bytes: Vec::with_capacity(gathered.bytes.len()), pieces: Vec::new(), ..gathered };
        for piece in gathered.pieces {
            let start = seen.bytes.len();
            let bytes = &gathered.bytes[piece.range.clone()];
            let changed = (piece.kind == PieceKind::Whole).then(|| self.line(bytes)).flatten();
            seen.bytes.extend_from_slice(changed.as_deref().map_or(bytes, str::as_bytes));
            let range = start..seen.bytes.len();
            if piece.kind == PieceKind::Whole {
                seen.bytes.push(b'\n');
            }
            seen.pieces.push(Piece { range, ..piece });
        }
        seen
    }

    /// The line as this home sees it, without its newline; `None` where that is as it stands.
    fn line(&self, bytes: &[u8]) -> Option<String> {
        let raw = Raw::split(std::str::from_utf8(bytes).ok()?)?;
        if raw.body == NO_BODY {
            return None;
        }
        let body = if self.erased.contains(&raw.hash()) {
            NO_BODY.to_owned()
        } else {
            self.keys.open_body(raw.entry, raw.body)?
        };
        let line = Raw { body: &body, ..raw }.compose();
        Some(line.trim_end().to_owned())
    }

    /// Lines of a file of this home with the erased bodies taken out; `None` where there is none to take out.
    pub fn without_erased(&self, bytes: &[u8]) -> Option<Vec<u8>> {
        let withhold = |line: &[u8]| {
            let text = std::str::from_utf8(line.strip_suffix(b"\n")?).ok()?;
            let raw = Raw::split(text)?;
            let gone = raw.body != NO_BODY && self.erased.contains(&raw.hash());
            gone.then(|| raw.withheld().compose())
        };
        rewritten(bytes, withhold)
    }
}

/// The lines as they are published under a passphrase. Entries about devices and passphrases stay readable:
/// without them nobody could tell whose entries count, or what to open the others with.
pub fn veiled(bytes: Vec<u8>, key: Option<&FolderKey>) -> Vec<u8> {
    let Some(key) = key else { return bytes };
    rewritten(&bytes, |line| veil_line(line, key)).unwrap_or(bytes)
}

fn veil_line(line: &[u8], key: &FolderKey) -> Option<String> {
    let raw = Raw::split(std::str::from_utf8(line.strip_suffix(b"\n")?).ok()?)?;
    let kind = match wire::parse(raw.entry).ok()? {
        Signed::Entry(entry) => Kind::parse(&entry.kind),
        Signed::Header(_) | Signed::Seal(_) => return None,
    };
    let sealed = raw.body.starts_with("{\"x\":\"");
    if raw.body == NO_BODY || sealed || kind.is_some_and(stays_readable) {
        return None;
    }
    let body = key.seal_body(raw.entry, raw.body)?;
    Some(Raw { body: &body, ..raw }.compose())
}

/// Kinds whose bodies are never encrypted.
pub fn stays_readable(kind: Kind) -> bool {
    matches!(kind, Kind::Accept | Kind::Retire | Kind::Recover | Kind::Role | Kind::Passphrase)
}

/// The lines with those that `change` gives in the place of the old; `None` where it changes none.
fn rewritten(bytes: &[u8], change: impl Fn(&[u8]) -> Option<String>) -> Option<Vec<u8>> {
    let mut all = Vec::with_capacity(bytes.len());
    let mut any = false;
    for line in bytes.split_inclusive(|&byte| byte == b'\n') {
        match change(line) {
            Some(other) => {
                any = true;
                all.extend_from_slice(other.as_bytes());
            }
            None => all.extend_from_slice(line),
        }
    }
    any.then_some(all)
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
