//! What belongs to the document as a whole: metadata, output intent, language, outline, page labels, ids.

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use trowelogue_core::id::Hash;
use trowelogue_core::text::Lang;

use super::{Claim, FileFacts, assembly, icc, text_string, xmp};
use crate::PaperError;
use crate::scene::{Mark, Scene};

/// Adds all of it.
pub(crate) fn add(
    doc: &mut Document,
    scene: &Scene,
    facts: &FileFacts,
    pages: &[ObjectId],
) -> Result<(), PaperError> {
    let mut packet = Stream::new(
        dictionary! { "Type" => "Metadata", "Subtype" => "XML" },
        xmp::packet(scene, facts).into_bytes(),
    );
    // PDF/A wants to be recognised without unpacking.
    packet.allows_compression = false;
    let metadata = doc.add_object(packet);
    let intent = output_intent(doc);
    let outline = outline(doc, &scene.outline, pages);
    let lang = match scene.lang {
        Lang::En => "en",
        Lang::Es => "es",
    };
    let info = doc.add_object(information(scene, facts));
    doc.trailer.set("Info", Object::Reference(info));
    doc.trailer.set(
        "ID",
        vec![identifier(&[facts.paper_id]), identifier(&[facts.paper_id, &facts.issued.to_rfc3339()])],
    );
    let catalog = doc.catalog_mut().map_err(assembly)?;
    catalog.set("Metadata", Object::Reference(metadata));
    catalog.set("OutputIntents", vec![intent.into()]);
    catalog.set("Lang", Object::string_literal(lang));
    catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
    let first_label = Object::Dictionary(dictionary! { "S" => "D" });
    catalog.set("PageLabels", dictionary! { "Nums" => vec![0.into(), first_label] });
    if let Some(outline) = outline {
        catalog.set("Outlines", Object::Reference(outline));
        catalog.set("PageMode", "UseOutlines");
    }
    Ok(())
}

/// An identifier of 16 bytes made from what names the paper.
fn identifier(parts: &[&str]) -> Object {
    let bytes: Vec<&[u8]> = parts.iter().map(|part| part.as_bytes()).collect();
    let hash = Hash::of(&bytes);
    Object::String(hash.0[..16].to_vec(), lopdf::StringFormat::Hexadecimal)
}

/// The information dictionary; says the same as the metadata packet.
fn information(scene: &Scene, facts: &FileFacts) -> Dictionary {
    let date = Object::string_literal(date(facts));
    dictionary! {
        "Title" => text_string(&scene.title),
        "Author" => text_string(&scene.author),
        "Subject" => text_string(&scene.subject),
        "Creator" => text_string(facts.tool),
        "Producer" => text_string(facts.tool),
        "CreationDate" => date.clone(),
        "ModDate" => date,
    }
}

/// The date form of ISO 32000-1, 7.9.4.
pub(crate) fn date(facts: &FileFacts) -> String {
    let offset = facts.issued.offset().local_minus_utc() / 60;
    let sign = if offset < 0 { '-' } else { '+' };
    let (hours, minutes) = (offset.abs() / 60, offset.abs() % 60);
    format!("D:{}{sign}{hours:02}'{minutes:02}'", facts.issued.format("%Y%m%d%H%M%S"))
}

fn output_intent(doc: &mut Document) -> Dictionary {
    let profile = doc.add_object(Stream::new(dictionary! { "N" => 3 }, icc::srgb()));
    dictionary! {
        "Type" => "OutputIntent",
        "S" => "GTS_PDFA1",
        "OutputConditionIdentifier" => Object::string_literal("sRGB"),
        "Info" => Object::string_literal("sRGB (IEC 61966-2-1)"),
        "DestOutputProfile" => Object::Reference(profile),
    }
}

/// The headings as a nested outline, in document order. None without headings.
fn outline(doc: &mut Document, marks: &[Mark], pages: &[ObjectId]) -> Option<ObjectId> {
    if marks.is_empty() {
        return None;
    }
    let root = doc.new_object_id();
    let ids: Vec<ObjectId> = marks.iter().map(|_| doc.new_object_id()).collect();
    let parents = parents(marks);
    for (at, mark) in marks.iter().enumerate() {
        let up = parents[at].map_or(root, |parent| ids[parent]);
        let mut entry = dictionary! {
            "Title" => text_string(&mark.title),
            "Parent" => Object::Reference(up),
            "Dest" => destination(doc, mark, pages),
        };
        let siblings: Vec<usize> = (0..marks.len()).filter(|n| parents[*n] == parents[at]).collect();
        let place = siblings.iter().position(|n| *n == at).unwrap_or(0);
        if place > 0 {
            entry.set("Prev", Object::Reference(ids[siblings[place - 1]]));
        }
        if let Some(next) = siblings.get(place + 1) {
            entry.set("Next", Object::Reference(ids[*next]));
        }
        set_ends(&mut entry, &ids, &kids(&parents, Some(at)), true);
        doc.set_object(ids[at], entry);
    }
    let mut dictionary = dictionary! { "Type" => "Outlines" };
    set_ends(&mut dictionary, &ids, &kids(&parents, None), false);
    doc.set_object(root, dictionary);
    Some(root)
}

/// For each heading the nearest one above it with a lower level.
fn parents(marks: &[Mark]) -> Vec<Option<usize>> {
    let above = |at: usize| (0..at).rev().find(|n| marks[*n].level < marks[at].level);
    (0..marks.len()).map(above).collect()
}

fn kids(parents: &[Option<usize>], of: Option<usize>) -> Vec<usize> {
    (0..parents.len()).filter(|n| parents[*n] == of).collect()
}

/// First, last and number of the entries below; an entry begins closed.
fn set_ends(entry: &mut Dictionary, ids: &[ObjectId], kids: &[usize], closed: bool) {
    let (Some(first), Some(last)) = (kids.first(), kids.last()) else { return };
    let count = kids.len() as i64;
    entry.set("First", Object::Reference(ids[*first]));
    entry.set("Last", Object::Reference(ids[*last]));
    entry.set("Count", if closed { -count } else { count });
}

fn destination(doc: &Document, mark: &Mark, pages: &[ObjectId]) -> Vec<Object> {
    let page = pages[mark.page.min(pages.len() - 1)];
    let height = doc.get_dictionary(page).and_then(|it| it.get(b"MediaBox")).and_then(Object::as_array);
    let height = height.ok().and_then(|it| it.get(3)).and_then(|it| it.as_float().ok()).unwrap_or(842.0);
    let top = Object::Real((height - mark.y as f32 + 6.0).round());
    vec![Object::Reference(page), "XYZ".into(), Object::Null, top, Object::Null]
}

/// Whether the file claims tags and accessibility beside archival form.
pub(crate) fn is_accessible(claim: Claim) -> bool {
    claim == Claim::AccessibleArchive
}
