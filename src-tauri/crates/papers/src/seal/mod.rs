//! The seal of a paper: digests of its parts, signed, carried inside as `seal.json`.
//!
//! Invariant: what is sealed is the file as it is read back, never the objects in memory; so the one who seals
//! and the one who checks run the same code over the same bytes. The room of `seal.json` is reserved before the
//! file is written and filled in place, and the digest of the whole file leaves out that room alone.

mod canon;
mod claim;
mod drawn;
mod look;
mod parts;
#[cfg(test)]
mod tests;

use lopdf::{Document, LoadOptions, Object, ObjectId};
use serde_json::{Map, Value, json};
use trowelogue_core::id::Hash;

use crate::PaperError;
use crate::model::{Attachment, Relation};

pub use drawn::{Drawn, drawn};
pub use look::{Difference, Sealed, look};
pub use parts::Part;

/// Name of the seal among the attachments.
pub const NAME: &str = "seal.json";
/// What a seal is signed as; keeps the signature from passing for anything else.
pub const CONTEXT: &[u8] = b"trowelogue-paper-1\n";
/// Version of the form of a seal.
const FORMAT: u64 = 1;
/// Room for the fixed members, and for one part with its name.
const ROOM: (usize, usize) = (2048, 200);
/// Larger files, and streams that unpack to more, are refused, in bytes. A record with sixty photos takes a tenth.
pub const LARGEST: usize = 64 << 20;

/// The device that issues a paper.
pub trait Signer {
    /// Its id.
    fn device(&self) -> String;
    /// Its public key, as log headers write it.
    fn key(&self) -> String;
    /// Signs a message under [`CONTEXT`]; none where the key is not at hand.
    fn sign(&self, message: &[u8]) -> Option<String>;
}

/// What a seal says beside the digests.
pub(crate) struct Terms<'a> {
    /// The paper's id.
    pub(crate) paper: &'a str,
    /// Tool and version.
    pub(crate) tool: &'a str,
    /// Version of rules and words.
    pub(crate) catalogue: &'a str,
    /// Moment of issue, RFC 3339.
    pub(crate) issued: String,
    /// The issuing device; none for an unsigned copy.
    pub(crate) signer: Option<&'a dyn Signer>,
}

/// The attachment whose room is filled once the file is written: blank, and as long as so many parts need.
pub(crate) fn reserve(parts: usize, description: &str) -> Attachment {
    let mut bytes = b"{\"reserved\":true}".to_vec();
    bytes.resize(ROOM.0 + ROOM.1 * parts, b' ');
    Attachment {
        name: NAME.into(),
        mime: "application/json".into(),
        description: description.into(),
        relation: Relation::Supplement,
        bytes,
    }
}

/// Fills the reserved room of a written file.
///
/// # Errors
/// The file has no such room, or too little; faults of this program.
pub(crate) fn close(mut file: Vec<u8>, terms: &Terms<'_>) -> Result<Vec<u8>, PaperError> {
    let doc = read(&file).map_err(PaperError::Assembly)?;
    let room = room(&doc, &file).ok_or_else(|| PaperError::Assembly("no room for the seal".into()))?;
    let parts = parts::of(&doc).map_err(PaperError::Assembly)?;
    let seal = signed(terms, &parts, &file_digest(&file, &room)).to_string();
    if seal.len() > room.len() {
        return Err(PaperError::Assembly("the room for the seal is too small".into()));
    }
    let place = &mut file[room];
    place.fill(b' ');
    place[..seal.len()].copy_from_slice(seal.as_bytes());
    Ok(file)
}

fn signed(terms: &Terms<'_>, parts: &[Part], file: &str) -> Value {
    let parts: Vec<Value> = parts.iter().map(|it| json!({ "part": it.name, "sha256": it.sha256 })).collect();
    let mut seal = json!({
        "format": FORMAT,
        "paper": terms.paper,
        "tool": terms.tool,
        "catalogue": terms.catalogue,
        "issued": terms.issued,
        "parts": parts,
        "file": file,
    });
    if let Some(signer) = terms.signer {
        seal["device"] = json!(signer.device());
        seal["key"] = json!(signer.key());
        if let Some(signature) = signer.sign(&message(&seal)) {
            seal["signature"] = json!(signature);
        }
    }
    seal
}

/// The bytes that are signed: the seal without its signature, keys in order, no spaces.
fn message(seal: &Value) -> Vec<u8> {
    let members = seal.as_object().map(|it| it.iter().filter(|(name, _)| *name != "signature"));
    let mut members: Vec<(&String, &Value)> = members.into_iter().flatten().collect();
    members.sort_by_key(|(name, _)| *name);
    let sorted: Map<String, Value> =
        members.into_iter().map(|(name, it)| (name.clone(), it.clone())).collect();
    Value::Object(sorted).to_string().into_bytes()
}

/// Digest of the file without the room of the seal.
fn file_digest(file: &[u8], room: &std::ops::Range<usize>) -> String {
    Hash::of(&[&file[..room.start], &file[room.end..]]).to_string()
}

/// Where the seal's bytes stand in the file: they are stored unpacked, so they are found as they are, once.
fn room(doc: &Document, file: &[u8]) -> Option<std::ops::Range<usize>> {
    let Object::Stream(stream) = doc.get_object(embedded(doc)?).ok()? else { return None };
    if stream.dict.has(b"Filter") {
        return None;
    }
    let (content, length) = (stream.content.as_slice(), stream.content.len());
    if length < ROOM.0 {
        return None;
    }
    let mut places = file.windows(length).enumerate().filter(|(_, it)| *it == content).map(|(at, _)| at);
    let start = places.next()?;
    places.next().is_none().then_some(start..start + length)
}

/// The stream of the seal.
fn embedded(doc: &Document) -> Option<ObjectId> {
    parts::attachments(doc).into_iter().find(|it| it.name == NAME).and_then(|it| it.stream)
}

/// What is said of a file that nobody would take for a paper.
pub fn too_large() -> String {
    format!("it is larger than {} MiB", LARGEST >> 20)
}

/// Reads a file within bounds.
fn read(file: &[u8]) -> Result<Document, String> {
    if file.len() > LARGEST {
        return Err(too_large());
    }
    let bounds = LoadOptions { max_decompressed_size: Some(LARGEST), ..LoadOptions::default() };
    Document::load_mem_with_options(file, bounds).map_err(|error| error.to_string())
}
