//! The parts of a paper, each with its digest.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId};
use trowelogue_core::id::Hash;

use super::canon;
use super::claim::Claims;

/// A part of a paper.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Part {
    /// Its name, for example `page 3`, `font 1`, `attachment entries.jsonl`.
    pub name: String,
    /// SHA-256 of its form.
    pub sha256: String,
}

/// A file carried inside.
pub(super) struct Carried {
    /// Its name.
    pub(super) name: String,
    /// The object that describes it.
    pub(super) specification: ObjectId,
    /// The object with its bytes.
    pub(super) stream: Option<ObjectId>,
}

/// The parts, in the order a person would look for them. What nothing leads to is in none of them.
pub(super) fn of(doc: &Document) -> Result<Vec<Part>, String> {
    let roots = roots(doc)?;
    let heads = roots.iter().map(|(name, id)| (*id, name.clone())).collect();
    let mut claims = Claims::new(doc, heads);
    let mut owned: Vec<(String, Vec<ObjectId>)> = Vec::new();
    for (name, id) in &roots {
        let objects = claims.claim(name, &Object::Reference(*id));
        owned.push((name.clone(), objects));
    }
    let trailer = trailer(doc);
    owned.push((FRAME.into(), claims.claim(FRAME, &Object::Dictionary(trailer.clone()))));
    let skipped = super::embedded(doc);
    owned.into_iter().map(|(name, objects)| digest(doc, &claims, name, &objects, &trailer, skipped)).collect()
}

/// What holds the parts together: catalogue, page tree, names.
const FRAME: &str = "frame";

fn digest(
    doc: &Document,
    claims: &Claims<'_>,
    name: String,
    objects: &[ObjectId],
    trailer: &Dictionary,
    skipped: Option<ObjectId>,
) -> Result<Part, String> {
    let refer = |id: ObjectId| claims.name(id);
    let mut form = Vec::new();
    if name == FRAME {
        canon::write(&Object::Dictionary(trailer.clone()), &refer, &mut form)?;
    }
    for id in objects.iter().filter(|id| Some(**id) != skipped) {
        let object = doc.get_object(*id).map_err(|error| error.to_string())?;
        canon::write(object, &refer, &mut form)?;
    }
    Ok(Part { name, sha256: Hash::of(&[&form]).to_string() })
}

/// What the file's end points to; the rest of the trailer says how the file is stored.
fn trailer(doc: &Document) -> Dictionary {
    let kept = doc.trailer.iter().filter(|(name, _)| matches!(name.as_slice(), b"Root" | b"Info" | b"ID"));
    kept.map(|(name, object)| (name.clone(), object.clone())).collect()
}

/// The first object of every part that has one.
fn roots(doc: &Document) -> Result<Vec<(String, ObjectId)>, String> {
    let catalog = doc.catalog().map_err(|error| error.to_string())?;
    let pages = doc.get_pages();
    let mut roots: Vec<(String, ObjectId)> = Vec::new();
    for carried in attachments(doc) {
        roots.push((format!("attachment {}", carried.name), carried.specification));
    }
    let fonts = resources(doc, &pages, b"Font");
    roots.extend((1..).zip(fonts).map(|(number, id): (usize, _)| (format!("font {number}"), id)));
    let images = resources(doc, &pages, b"XObject");
    roots.extend((1..).zip(images).map(|(number, id): (usize, _)| (format!("image {number}"), id)));
    roots.extend(pages.iter().map(|(number, id)| (format!("page {number}"), *id)));
    let named: [(&str, &[u8]); 4] = [
        ("metadata", b"Metadata"),
        ("outline", b"Outlines"),
        ("tags", b"StructTreeRoot"),
        ("colour profile", b"OutputIntents"),
    ];
    for (name, key) in named {
        if let Some(id) = catalog.get(key).ok().and_then(first_reference) {
            roots.push((name.into(), id));
        }
    }
    if let Some(id) = doc.trailer.get(b"Info").ok().and_then(first_reference) {
        roots.push(("information".into(), id));
    }
    Ok(roots)
}

fn first_reference(object: &Object) -> Option<ObjectId> {
    match object {
        Object::Reference(id) => Some(*id),
        Object::Array(items) => items.iter().find_map(first_reference),
        Object::Dictionary(it) => it.iter().find_map(|(_, it)| first_reference(it)),
        _ => None,
    }
}

/// Fonts or images of the pages, each once, in the order of the pages and of their names there.
fn resources(doc: &Document, pages: &BTreeMap<u32, ObjectId>, key: &[u8]) -> Vec<ObjectId> {
    let mut found: Vec<ObjectId> = Vec::new();
    for page in pages.values() {
        let Some(entries) = resource(doc, *page, key) else { continue };
        let mut sorted: Vec<(&Vec<u8>, &Object)> = entries.iter().collect();
        sorted.sort_by(|a, b| a.0.cmp(b.0));
        for id in sorted.into_iter().filter_map(|(_, it)| it.as_reference().ok()) {
            if !found.contains(&id) {
                found.push(id);
            }
        }
    }
    found
}

pub(super) fn resource<'d>(doc: &'d Document, page: ObjectId, key: &[u8]) -> Option<&'d Dictionary> {
    let page = doc.get_dictionary(page).ok()?;
    let resources = resolved(doc, page.get(b"Resources").ok()?)?;
    resolved(doc, resources.get(key).ok()?)
}

pub(super) fn resolved<'d>(doc: &'d Document, object: &'d Object) -> Option<&'d Dictionary> {
    match object {
        Object::Reference(id) => doc.get_dictionary(*id).ok(),
        Object::Dictionary(it) => Some(it),
        _ => None,
    }
}

/// The files carried inside.
pub(super) fn attachments(doc: &Document) -> Vec<Carried> {
    let Some(names) = doc.catalog().ok().and_then(|it| it.get(b"AF").ok()) else { return Vec::new() };
    let names = match names {
        Object::Reference(id) => doc.get_object(*id).ok(),
        other => Some(other),
    };
    let listed = names.and_then(|it| it.as_array().ok()).map_or(&[][..], Vec::as_slice);
    listed.iter().filter_map(|it| carried(doc, it.as_reference().ok()?)).collect()
}

fn carried(doc: &Document, specification: ObjectId) -> Option<Carried> {
    let described = doc.get_dictionary(specification).ok()?;
    let name = described.get(b"F").and_then(Object::as_str).ok()?;
    let files = described.get(b"EF").ok().and_then(|it| resolved(doc, it));
    let stream = files.and_then(|it| it.get(b"F").and_then(Object::as_reference).ok());
    Some(Carried { name: String::from_utf8_lossy(name).into_owned(), specification, stream })
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// The fonts of a page.
    pub(crate) fn fonts_of(doc: &Document, page: ObjectId) -> Dictionary {
        resource(doc, page, b"Font").unwrap().clone()
    }

    /// The object that lists them.
    pub(crate) fn fonts_id(doc: &Document, page: ObjectId) -> ObjectId {
        let page = doc.get_dictionary(page).unwrap();
        let resources = resolved(doc, page.get(b"Resources").unwrap()).unwrap();
        resources.get(b"Font").unwrap().as_reference().unwrap()
    }
}
