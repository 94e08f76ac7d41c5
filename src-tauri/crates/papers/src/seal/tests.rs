//! Changes to a sealed paper, each named by what was changed. What a reader of PDF could be shown: ISO 32000-1.

use lopdf::{Document, Object, ObjectId, Stream, dictionary};

use super::{Difference, NAME, Signer, look};
use crate::model::Options;
use crate::{care_sheet, process_record, sample, signed_record};

struct Device;

impl Signer for Device {
    fn device(&self) -> String {
        "d-1".into()
    }
    fn key(&self) -> String {
        "k-1".into()
    }
    fn sign(&self, message: &[u8]) -> Option<String> {
        Some(format!("signed {}", message.len()))
    }
}

fn paper() -> Vec<u8> {
    signed_record(&sample::record(40), &Options::default(), &Device).unwrap()
}

fn saved(mut doc: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    doc.save_to(&mut bytes).unwrap();
    bytes
}

fn differences(bytes: &[u8]) -> Vec<Difference> {
    look(bytes).unwrap().unwrap().differences
}

#[test]
fn a_paper_as_it_was_sealed_differs_in_nothing() {
    let bytes = paper();
    let sealed = look(&bytes).unwrap().unwrap();
    assert_eq!(sealed.differences, []);
    assert_eq!(sealed.device.as_deref(), Some("d-1"));
    assert_eq!(sealed.signature, Some(format!("signed {}", sealed.message.len())));
    assert!(sealed.attachments.contains_key("entries.jsonl"), "{:?}", sealed.attachments.keys());
    assert_eq!(bytes, paper(), "the same bytes when made again");
}

#[test]
fn an_unsigned_copy_is_sealed_and_says_no_device() {
    let bytes = process_record(&sample::record(8), &Options::default()).unwrap();
    let sealed = look(&bytes).unwrap().unwrap();
    assert_eq!((sealed.differences, sealed.device, sealed.signature), (vec![], None, None));
}

#[test]
fn a_paper_without_a_seal_and_what_is_no_paper_are_told_apart() {
    assert_eq!(look(&care_sheet(&sample::care(), &Options::default()).unwrap()), Ok(None));
    for bad in [&b""[..], b"%PDF-1.7\n", b"hello", &[0; 4096]] {
        assert!(look(bad).is_err());
    }
}

#[test]
fn a_file_saved_anew_or_with_something_after_it_is_told_though_every_part_is_whole() {
    let bytes = paper();
    assert_eq!(differences(&saved(Document::load_mem(&bytes).unwrap())), [Difference::Stored]);
    let mut longer = bytes;
    longer.extend(b"\n% more\n");
    assert_eq!(differences(&longer), [Difference::Stored]);
}

/// What was done to the document, and a part that must be named for it.
type Change = (&'static str, fn(&mut Document), &'static str);

const CHANGES: &[Change] = &[
    ("a word on page 1", |doc| edit_content(doc, 1), "page 1"),
    ("a word on page 2", |doc| edit_content(doc, 2), "page 2"),
    ("a page's content emptied", |doc| contents(doc, 1).set_plain_content(Vec::new()), "page 1"),
    ("a page turned", |doc| page(doc, 1).set("Rotate", 90), "page 1"),
    (
        "a page cropped",
        |doc| page(doc, 1).set("CropBox", vec![0.into(), 0.into(), 9.into(), 9.into()]),
        "page 1",
    ),
    (
        "a sheet made smaller",
        |doc| page(doc, 2).set("MediaBox", vec![0.into(), 0.into(), 9.into(), 9.into()]),
        "page 2",
    ),
    ("a note laid over a page", lay_note, "page 1"),
    ("a page taken out", |doc| doc.delete_pages(&[2]), "page 2"),
    ("two pages swapped", swap_pages, "page 1"),
    ("a page doubled", double_page, "page 3"),
    ("a font's outlines", |doc| edit_stream_at(doc, b"FontFile2"), "font 1"),
    ("a font's letters for its glyphs", |doc| edit_stream_at(doc, b"ToUnicode"), "font 1"),
    ("a font's name", |doc| first_font(doc).set("BaseFont", "Other"), "font 1"),
    ("a font of a page changed for another", swap_fonts, "page 1"),
    ("the entries", |doc| edit_attachment(doc, "entries.jsonl"), "attachment entries.jsonl"),
    ("the entries renamed", rename_attachment, "frame"),
    ("an attachment taken out", take_out, "attachment entries.jsonl"),
    ("an attachment put in", add_attachment, "attachment extra.txt"),
    (
        "the attachments' list of names",
        |doc| {
            catalog(doc).remove(b"Names");
        },
        "frame",
    ),
    ("how an attachment relates to the paper", relate_attachment, "attachment entries.jsonl"),
    ("the title", |doc| information(doc).set("Title", Object::string_literal("Other")), "information"),
    ("the date", |doc| information(doc).set("CreationDate", Object::string_literal("D:2020")), "information"),
    ("the metadata", |doc| edit_stream_at(doc, b"Metadata"), "metadata"),
    ("the outline", |doc| edit_under(doc, b"Outlines", b"Count"), "outline"),
    ("the tags", |doc| edit_under(doc, b"StructTreeRoot", b"ParentTreeNextKey"), "tags"),
    (
        "the tags taken off",
        |doc| {
            catalog(doc).remove(b"StructTreeRoot");
        },
        "tags",
    ),
    ("the language", |doc| catalog(doc).set("Lang", Object::string_literal("xx")), "frame"),
    ("the page labels", |doc| catalog(doc).set("PageLabels", Object::Null), "frame"),
    (
        "an action when it is opened",
        |doc| catalog(doc).set("OpenAction", dictionary! { "S" => "JavaScript" }),
        "frame",
    ),
    ("the colour profile", edit_profile, "colour profile"),
    ("the identifier", |doc| doc.trailer.set("ID", Object::Null), "frame"),
    ("a form put in", |doc| catalog(doc).set("AcroForm", dictionary! { "NeedAppearances" => true }), "frame"),
];

#[test]
fn each_kind_of_change_is_found_and_named() {
    let bytes = paper();
    for (what, change, part) in CHANGES {
        let mut doc = Document::load_mem(&bytes).unwrap();
        change(&mut doc);
        let found = differences(&saved(doc));
        let named = |it: &Difference| match it {
            Difference::Changed(name) | Difference::Missing(name) | Difference::Added(name) => name == part,
            Difference::Stored => false,
        };
        assert!(found.iter().any(named), "{what}: {found:?} does not name {part}");
    }
}

#[test]
fn a_seal_that_was_edited_no_longer_fits_its_paper() {
    let bytes = paper();
    let at = bytes
        .windows(12)
        .position(|it| it == b"\"sha256\":\"")
        .or_else(|| bytes.windows(10).position(|it| it == b"\"sha256\":\""));
    let mut edited = bytes.clone();
    let at = at.unwrap() + 10;
    edited[at] = if edited[at] == b'0' { b'1' } else { b'0' };
    assert!(matches!(differences(&edited)[..], [Difference::Changed(_)]));
    let sealed = look(&edited).unwrap().unwrap();
    assert_ne!(sealed.message, look(&bytes).unwrap().unwrap().message, "and its signature no longer fits");
    assert!(String::from_utf8_lossy(&bytes).contains(NAME));
}

#[test]
fn any_byte_changed_anywhere_is_seen() {
    let bytes = process_record(&sample::record(4), &Options::default()).unwrap();
    for at in (20..bytes.len()).step_by(bytes.len() / 40) {
        let mut edited = bytes.clone();
        edited[at] ^= 0x15;
        let same = match look(&edited) {
            Ok(Some(sealed)) => sealed.differences.is_empty() && same_seal(&bytes, &sealed.message),
            Ok(None) | Err(_) => false,
        };
        assert!(!same, "byte {at}");
    }
}

fn same_seal(bytes: &[u8], message: &[u8]) -> bool {
    look(bytes).unwrap().unwrap().message == message
}

fn page(doc: &mut Document, number: u32) -> &mut lopdf::Dictionary {
    let id = doc.get_pages()[&number];
    doc.get_dictionary_mut(id).unwrap()
}

fn contents(doc: &mut Document, number: u32) -> &mut Stream {
    let id = match page(doc, number).get(b"Contents").unwrap() {
        Object::Array(items) => items[0].as_reference().unwrap(),
        other => other.as_reference().unwrap(),
    };
    doc.get_object_mut(id).unwrap().as_stream_mut().unwrap()
}

fn edit(stream: &mut Stream) {
    let mut plain = stream.decompressed_content().unwrap();
    let middle = plain.len() / 2;
    plain[middle] = plain[middle].wrapping_add(1);
    stream.set_plain_content(plain);
}

fn edit_content(doc: &mut Document, number: u32) {
    edit(contents(doc, number));
}

fn catalog(doc: &mut Document) -> &mut lopdf::Dictionary {
    doc.catalog_mut().unwrap()
}

fn information(doc: &mut Document) -> &mut lopdf::Dictionary {
    let id = doc.trailer.get(b"Info").unwrap().as_reference().unwrap();
    doc.get_dictionary_mut(id).unwrap()
}

fn lay_note(doc: &mut Document) {
    let note = dictionary! { "Type" => "Annot", "Subtype" => "FreeText", "Contents" => Object::string_literal("ok") };
    let id = doc.add_object(note);
    page(doc, 1).set("Annots", vec![Object::Reference(id)]);
}

fn kids(doc: &mut Document) -> &mut Vec<Object> {
    let root = catalog(doc).get(b"Pages").unwrap().as_reference().unwrap();
    doc.get_dictionary_mut(root).unwrap().get_mut(b"Kids").unwrap().as_array_mut().unwrap()
}

fn swap_pages(doc: &mut Document) {
    kids(doc).swap(0, 1);
}

fn double_page(doc: &mut Document) {
    let copy = doc.get_object(doc.get_pages()[&1]).unwrap().clone();
    let id = doc.add_object(copy);
    kids(doc).insert(1, Object::Reference(id));
}

fn fonts(doc: &mut Document) -> Vec<(Vec<u8>, ObjectId)> {
    let page = doc.get_pages()[&1];
    let fonts = super::parts::tests::fonts_of(doc, page);
    let mut found: Vec<_> =
        fonts.iter().filter_map(|(name, id)| Some((name.clone(), id.as_reference().ok()?))).collect();
    found.sort();
    found
}

fn first_font(doc: &mut Document) -> &mut lopdf::Dictionary {
    let id = fonts(doc)[0].1;
    doc.get_dictionary_mut(id).unwrap()
}

fn swap_fonts(doc: &mut Document) {
    let found = fonts(doc);
    let fonts = doc.get_pages()[&1];
    let id = super::parts::tests::fonts_id(doc, fonts);
    let listed = doc.get_dictionary_mut(id).unwrap();
    listed.set(found[0].0.clone(), Object::Reference(found[1].1));
}

fn edit_stream_at(doc: &mut Document, key: &[u8]) {
    let holders: Vec<ObjectId> = doc.objects.keys().copied().collect();
    // The first font's, where several have one.
    let first = fonts(doc)[0].1;
    let within = reach(doc, first);
    let holds = |id: &ObjectId| doc.get_dictionary(*id).is_ok_and(|it| it.has(key));
    let of_font = within.iter().copied().find(|id| holds(id));
    let holder = of_font.or_else(|| holders.iter().copied().find(|id| holds(id))).unwrap();
    let id = doc.get_dictionary(holder).unwrap().get(key).unwrap().as_reference().unwrap();
    edit(doc.get_object_mut(id).unwrap().as_stream_mut().unwrap());
}

/// Everything a font leads to, itself first.
fn reach(doc: &Document, from: ObjectId) -> Vec<ObjectId> {
    let mut found = vec![from];
    let mut at = 0;
    while at < found.len() {
        if let Ok(dictionary) = doc.get_dictionary(found[at]) {
            for (_, value) in dictionary {
                let items = value.as_array().cloned().unwrap_or_else(|_| vec![value.clone()]);
                found.extend(items.iter().filter_map(|it| it.as_reference().ok()).collect::<Vec<_>>());
            }
        }
        at += 1;
    }
    found
}

fn attachment(doc: &Document, name: &str) -> ObjectId {
    super::parts::attachments(doc).into_iter().find(|it| it.name == name).unwrap().specification
}

fn edit_attachment(doc: &mut Document, name: &str) {
    let files = super::parts::attachments(doc);
    let id = files.into_iter().find(|it| it.name == name).and_then(|it| it.stream).unwrap();
    edit(doc.get_object_mut(id).unwrap().as_stream_mut().unwrap());
}

fn take_out(doc: &mut Document) {
    let id = Object::Reference(attachment(doc, "entries.jsonl"));
    catalog(doc).get_mut(b"AF").unwrap().as_array_mut().unwrap().retain(|it| *it != id);
}

fn rename_attachment(doc: &mut Document) {
    let id = attachment(doc, "entries.jsonl");
    doc.get_dictionary_mut(id).unwrap().set("F", Object::string_literal("other.jsonl"));
}

fn relate_attachment(doc: &mut Document) {
    let id = attachment(doc, "entries.jsonl");
    doc.get_dictionary_mut(id).unwrap().set("AFRelationship", "Unspecified");
}

fn add_attachment(doc: &mut Document) {
    let stream = doc.add_object(Stream::new(dictionary! {}, b"extra".to_vec()));
    let id = doc.add_object(dictionary! {
        "Type" => "Filespec",
        "F" => Object::string_literal("extra.txt"),
        "EF" => dictionary! { "F" => Object::Reference(stream) },
    });
    catalog(doc).get_mut(b"AF").unwrap().as_array_mut().unwrap().push(Object::Reference(id));
}

fn edit_under(doc: &mut Document, key: &[u8], member: &[u8]) {
    let id = catalog(doc).get(key).unwrap().as_reference().unwrap();
    doc.get_dictionary_mut(id).unwrap().set(member, 999);
}

fn edit_profile(doc: &mut Document) {
    let intents = catalog(doc).get(b"OutputIntents").unwrap().as_array().unwrap().clone();
    let intent = match &intents[0] {
        Object::Reference(id) => doc.get_dictionary(*id).unwrap().clone(),
        other => other.as_dict().unwrap().clone(),
    };
    let id = intent.get(b"DestOutputProfile").unwrap().as_reference().unwrap();
    edit(doc.get_object_mut(id).unwrap().as_stream_mut().unwrap());
}
