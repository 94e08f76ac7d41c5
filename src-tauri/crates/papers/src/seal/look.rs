//! Looking at a paper: what its seal says, and what differs from it.

use std::collections::BTreeMap;

use lopdf::{Document, Object};
use serde_json::Value;

use super::parts::{self, Part};
use super::{LARGEST, NAME, file_digest, message, read, room};

/// A part that is not as it was sealed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Difference {
    /// It was changed.
    Changed(String),
    /// It is no longer there.
    Missing(String),
    /// It was not there when the paper was sealed.
    Added(String),
    /// Every part is as sealed, yet the file was written anew or something hangs on to it.
    Stored,
}

/// A paper with what its seal says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sealed {
    /// The paper's id.
    pub paper: String,
    /// Tool and version that made it.
    pub tool: String,
    /// Version of rules and words it was made with.
    pub catalogue: String,
    /// Moment of issue, RFC 3339.
    pub issued: String,
    /// The device that sealed it.
    pub device: Option<String>,
    /// Its public key.
    pub key: Option<String>,
    /// The bytes the signature stands under.
    pub message: Vec<u8>,
    /// The signature; none for an unsigned copy.
    pub signature: Option<String>,
    /// What differs from the seal.
    pub differences: Vec<Difference>,
    /// Files carried inside, by name, without the seal.
    pub attachments: BTreeMap<String, Vec<u8>>,
    /// The parts as they are now.
    pub parts: Vec<Part>,
}

/// Looks at a file. `Ok(None)`: a PDF without a seal.
///
/// # Errors
/// In words: it is no PDF, is larger than can be looked at, or its seal cannot be read.
pub fn look(file: &[u8]) -> Result<Option<Sealed>, String> {
    let doc = read(file)?;
    let Some(bytes) = super::embedded(&doc).and_then(|id| content(&doc, id)) else { return Ok(None) };
    let text = std::str::from_utf8(&bytes).map_err(|_| format!("{NAME} is no text"))?;
    let seal: Value = serde_json::from_str(text).map_err(|error| format!("{NAME}: {error}"))?;
    let sealed = listed(&seal).ok_or_else(|| format!("{NAME} has no list of parts"))?;
    let found = parts::of(&doc)?;
    let mut differences = compare(&sealed, &found);
    let digest = room(&doc, file).map(|room| file_digest(file, &room));
    if differences.is_empty() && digest.as_deref() != seal["file"].as_str() {
        differences.push(Difference::Stored);
    }
    let word = |name: &str| seal[name].as_str().map(str::to_owned);
    Ok(Some(Sealed {
        paper: word("paper").unwrap_or_default(),
        tool: word("tool").unwrap_or_default(),
        catalogue: word("catalogue").unwrap_or_default(),
        issued: word("issued").unwrap_or_default(),
        device: word("device"),
        key: word("key"),
        message: message(&seal),
        signature: word("signature"),
        differences,
        attachments: carried(&doc),
        parts: found,
    }))
}

fn listed(seal: &Value) -> Option<Vec<Part>> {
    let parts = seal.get("parts")?.as_array()?.iter();
    parts
        .map(|it| {
            let word = |name: &str| it.get(name)?.as_str().map(str::to_owned);
            Some(Part { name: word("part")?, sha256: word("sha256")? })
        })
        .collect()
}

fn compare(sealed: &[Part], found: &[Part]) -> Vec<Difference> {
    let by_name = |parts: &'_ [Part]| -> BTreeMap<String, String> {
        parts.iter().map(|it| (it.name.clone(), it.sha256.clone())).collect()
    };
    let (then, now) = (by_name(sealed), by_name(found));
    let gone = sealed.iter().filter_map(|part| match now.get(&part.name) {
        None => Some(Difference::Missing(part.name.clone())),
        Some(digest) if *digest != part.sha256 => Some(Difference::Changed(part.name.clone())),
        Some(_) => None,
    });
    // A second part of a name would hide behind the first.
    let twice = |at: usize, part: &Part| found[..at].iter().any(|it| it.name == part.name);
    let new =
        found.iter().enumerate().filter(|(at, part)| !then.contains_key(&part.name) || twice(*at, part));
    let new = new.map(|(_, part)| part);
    gone.chain(new.map(|part| Difference::Added(part.name.clone()))).collect()
}

fn carried(doc: &Document) -> BTreeMap<String, Vec<u8>> {
    let files = parts::attachments(doc).into_iter().filter(|it| it.name != NAME);
    files.filter_map(|it| Some((it.name, content(doc, it.stream?)?))).collect()
}

fn content(doc: &Document, id: lopdf::ObjectId) -> Option<Vec<u8>> {
    let Object::Stream(stream) = doc.get_object(id).ok()? else { return None };
    stream.decompressed_content_with_limit(LARGEST).ok()
}
