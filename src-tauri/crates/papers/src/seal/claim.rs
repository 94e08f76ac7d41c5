//! Which part of a paper an object belongs to.

use std::collections::BTreeMap;

use lopdf::{Document, Object, ObjectId};

/// The owner of each object: the part, and its number there.
pub(super) struct Claims<'d> {
    doc: &'d Document,
    /// First objects of parts: no other part goes on into them.
    heads: BTreeMap<ObjectId, String>,
    owners: BTreeMap<ObjectId, (String, usize)>,
}

impl<'d> Claims<'d> {
    /// Nothing is claimed; these objects will be the first of their parts.
    pub(super) fn new(doc: &'d Document, heads: BTreeMap<ObjectId, String>) -> Self {
        Self { doc, heads, owners: BTreeMap::new() }
    }

    /// Everything reached from an object and not claimed yet belongs to the part; in the order it was reached.
    pub(super) fn claim(&mut self, part: &str, from: &Object) -> Vec<ObjectId> {
        let mut reached = Vec::new();
        let mut ahead = Vec::new();
        references(from, &mut ahead);
        ahead.reverse();
        while let Some(id) = ahead.pop() {
            let foreign = self.heads.get(&id).is_some_and(|owner| owner != part);
            if foreign || self.owners.contains_key(&id) {
                continue;
            }
            let Ok(object) = self.doc.get_object(id) else { continue };
            self.owners.insert(id, (part.to_owned(), reached.len()));
            reached.push(id);
            let first = ahead.len();
            references(object, &mut ahead);
            ahead[first..].reverse();
        }
        reached
    }

    /// What a reference is called: the part it leads to, and the number there.
    pub(super) fn name(&self, id: ObjectId) -> String {
        match (self.owners.get(&id), self.heads.get(&id)) {
            (Some((part, number)), _) => format!("{part}#{number}"),
            (None, Some(part)) => format!("{part}#0"),
            (None, None) => "nothing".into(),
        }
    }
}

/// The references in an object, sorted by the names they stand under. A page's way up is left out: it would
/// claim the whole document for the first page.
fn references(object: &Object, into: &mut Vec<ObjectId>) {
    match object {
        Object::Reference(id) => into.push(*id),
        Object::Array(items) => items.iter().for_each(|it| references(it, into)),
        Object::Dictionary(it) => members(it, into),
        Object::Stream(it) => members(&it.dict, into),
        _ => {}
    }
}

fn members(dictionary: &lopdf::Dictionary, into: &mut Vec<ObjectId>) {
    let page = dictionary.get(b"Type").and_then(Object::as_name).is_ok_and(|name| name == b"Page");
    let mut sorted: Vec<(&Vec<u8>, &Object)> = dictionary.iter().collect();
    sorted.sort_by(|a, b| a.0.cmp(b.0));
    for (name, object) in sorted {
        if !(page && name == b"Parent") {
            references(object, into);
        }
    }
}
