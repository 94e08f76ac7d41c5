//! Files carried inside the paper as associated files (ISO 19005-3, 6.8; ISO 32000-2, 14.13).

use std::collections::BTreeSet;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

use super::{FileFacts, assembly, catalog, text_string};
use crate::PaperError;
use crate::model::{Attachment, Relation};
use crate::seal;

/// Each name is used once, and names a file.
pub(crate) fn check_names(attachments: &[Attachment]) -> Result<(), PaperError> {
    let mut names = BTreeSet::new();
    match attachments.iter().find(|it| it.name.is_empty() || !names.insert(&it.name)) {
        Some(bad) => Err(PaperError::AttachmentName(bad.name.clone())),
        None => Ok(()),
    }
}

/// Adds the files to the document.
pub(crate) fn add(
    doc: &mut Document,
    facts: &FileFacts,
    attachments: &[Attachment],
) -> Result<(), PaperError> {
    if attachments.is_empty() {
        return Ok(());
    }
    let mut sorted: Vec<&Attachment> = attachments.iter().collect();
    // A name tree is in the order of its keys (ISO 32000-1, 7.9.6).
    sorted.sort_by(|a, b| a.name.cmp(&b.name));
    let date = catalog::date(facts);
    let mut names = Vec::new();
    let mut associated = Vec::new();
    for attachment in sorted {
        let id = embed(doc, attachment, &date);
        names.extend([text_string(&attachment.name), Object::Reference(id)]);
        associated.push(Object::Reference(id));
    }
    let catalog = doc.catalog_mut().map_err(assembly)?;
    catalog.set("Names", dictionary! { "EmbeddedFiles" => dictionary! { "Names" => names } });
    catalog.set("AF", associated);
    Ok(())
}

fn embed(doc: &mut Document, attachment: &Attachment, date: &str) -> ObjectId {
    let mut stream = Stream::new(
        dictionary! {
            "Type" => "EmbeddedFile",
            "Subtype" => Object::Name(attachment.mime.clone().into_bytes()),
            "Params" => dictionary! {
                "Size" => attachment.bytes.len() as i64,
                "ModDate" => Object::string_literal(date),
            },
        },
        attachment.bytes.clone(),
    );
    // The seal is filled in once the file is written, so its room must stand there as it is.
    stream.allows_compression = attachment.name != seal::NAME;
    let file = doc.add_object(stream);
    doc.add_object(specification(attachment, file))
}

fn specification(attachment: &Attachment, file: ObjectId) -> Dictionary {
    let relation = match attachment.relation {
        Relation::Source => "Source",
        Relation::Data => "Data",
        Relation::Supplement => "Supplement",
    };
    dictionary! {
        "Type" => "Filespec",
        "F" => text_string(&attachment.name),
        "UF" => text_string(&attachment.name),
        "Desc" => text_string(&attachment.description),
        "AFRelationship" => relation,
        "EF" => dictionary! { "F" => Object::Reference(file), "UF" => Object::Reference(file) },
    }
}
