//! The writer: turns a display list into a file that conforms to PDF/A-3a (ISO 19005-3) and PDF/UA-1
//! (ISO 14289-1).
//!
//! `printpdf` writes page contents, fonts and pictures; everything a whole document needs beyond that is added
//! through `lopdf`, on the same object tree, before it is written once.

mod attach;
mod catalog;
mod content;
mod fonts;
mod icc;
mod images;
mod tags;
#[cfg(test)]
mod tests;
mod xmp;

use std::io::Write;

use chrono::{DateTime, FixedOffset};
use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Document, Object, ObjectId, SaveOptions};
use printpdf::{Mm, PdfDocument, PdfPage, PdfSaveOptions};

use crate::PaperError;
use crate::model::Attachment;
use crate::scene::{Page, Scene};
use crate::seal::{self, Signer};

/// What goes into the file beside the display list.
pub(crate) struct FileFacts<'a> {
    /// The only date in the file.
    pub(crate) issued: DateTime<FixedOffset>,
    /// Names the paper; the file's identifiers come from it.
    pub(crate) paper_id: &'a str,
    /// The tool that makes it.
    pub(crate) tool: &'a str,
    /// Version of the rules and words used.
    pub(crate) catalogue: &'a str,
    /// Files carried inside.
    pub(crate) attachments: &'a [Attachment],
    /// What the file claims to conform to.
    pub(crate) claim: Claim,
    /// How it is sealed; not at all where `None`.
    pub(crate) seal: Option<Seal<'a>>,
}

/// How a file is sealed.
pub(crate) struct Seal<'a> {
    /// The device that issues it; none for an unsigned copy.
    pub(crate) signer: Option<&'a dyn Signer>,
    /// What the seal is, in words.
    pub(crate) description: &'a str,
}

/// What a file claims to conform to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Claim {
    /// PDF/A-3a and PDF/UA-1: what every paper is issued with.
    AccessibleArchive,
    /// PDF/A-3b alone: for a validator that knows no more. Only tests ask for it.
    #[cfg_attr(not(test), expect(dead_code, reason = "asked for by tests"))]
    BasicArchive,
}

/// Writes the file.
pub(crate) fn write(scene: &Scene, facts: &FileFacts) -> Result<Vec<u8>, PaperError> {
    let mut attachments = facts.attachments.to_vec();
    if let Some(seal) = &facts.seal {
        let parts = scene.pages.len() + scene.images.len() + attachments.len() + FEW_PARTS;
        attachments.push(seal::reserve(parts, seal.description));
    }
    attach::check_names(&attachments)?;
    let used = fonts::Used::of(scene);
    let (fonts, subsets) = fonts::subset(&used)?;
    let mut pdf = PdfDocument::new("");
    pdf.resources.fonts.map.extend(fonts);
    pdf.resources.xobjects.map.extend(images::xobjects(scene));
    let mut drawn = content::Drawn::new(scene.tree.nodes().len());
    pdf.pages = scene.pages.iter().enumerate().map(|(n, page)| draw(n, page, &subsets, &mut drawn)).collect();
    let options = PdfSaveOptions { image_optimization: None, ..PdfSaveOptions::default() };
    let mut warnings = Vec::new();
    let mut doc = pdf.to_lopdf_document(&options, &mut warnings);
    drop(pdf);
    if let Some(warning) = warnings.first() {
        return Err(PaperError::Assembly(format!("{warning:?}")));
    }
    let pages: Vec<ObjectId> = doc.get_pages().into_values().collect();
    tidy(&mut doc, &pages)?;
    tags::add(&mut doc, scene, &drawn, &pages)?;
    catalog::add(&mut doc, scene, facts, &pages)?;
    attach::add(&mut doc, facts, &attachments)?;
    close(save(doc)?, facts)
}

/// Fonts, and the parts every paper has.
const FEW_PARTS: usize = 24;

fn close(file: Vec<u8>, facts: &FileFacts) -> Result<Vec<u8>, PaperError> {
    let Some(seal) = &facts.seal else { return Ok(file) };
    let terms = seal::Terms {
        paper: facts.paper_id,
        tool: facts.tool,
        catalogue: facts.catalogue,
        issued: facts.issued.to_rfc3339(),
        signer: seal.signer,
    };
    seal::close(file, &terms)
}

fn draw(number: usize, page: &Page, subsets: &fonts::Subsets, drawn: &mut content::Drawn) -> PdfPage {
    let mm = |points: f64| Mm((points / crate::theme::MM) as f32);
    let ops = content::ops(number, page, subsets, drawn);
    PdfPage::new(mm(page.size.0), mm(page.size.1), ops)
}

/// Removes what `printpdf` writes for nothing: empty resource dictionaries, an empty list of annotations.
fn tidy(doc: &mut Document, pages: &[ObjectId]) -> Result<(), PaperError> {
    for id in pages {
        let page = doc.get_dictionary_mut(*id).map_err(assembly)?;
        page.remove(b"Annots");
        let resources = page.get(b"Resources").and_then(Object::as_reference).map_err(assembly)?;
        for key in [b"Shading".as_slice(), b"ExtGState", b"XObject", b"Font"] {
            if is_empty(doc, resources, key) {
                doc.get_dictionary_mut(resources).map_err(assembly)?.remove(key);
            }
        }
    }
    doc.prune_objects();
    Ok(())
}

fn is_empty(doc: &Document, resources: ObjectId, key: &[u8]) -> bool {
    let entry = doc.get_dictionary(resources).and_then(|it| it.get(key));
    let dictionary = entry.and_then(Object::as_reference).and_then(|id| doc.get_dictionary(id));
    dictionary.is_ok_and(Dictionary::is_empty)
}

/// Object streams keep the thousands of small objects of the tag tree small.
fn save(mut doc: Document) -> Result<Vec<u8>, PaperError> {
    doc.version = "1.7".into();
    for object in doc.objects.values_mut() {
        pack(object).map_err(|error| PaperError::Assembly(error.to_string()))?;
        end_plainly(object);
    }
    let last = doc.max_id;
    let mut bytes = Vec::new();
    // Another number of objects makes other streams; one try in some hundred has to be made again.
    for most in (LEAST_OBJECTS..=MOST_OBJECTS).rev() {
        doc.max_id = last;
        bytes.clear();
        let options = SaveOptions::builder()
            .use_object_streams(true)
            .use_xref_streams(true)
            .max_objects_per_stream(most)
            .compression_level(LEVEL)
            .build();
        doc.save_with_options(&mut bytes, options).map_err(|e| PaperError::Assembly(e.to_string()))?;
        if !has_doubtful_end(&bytes) {
            return Ok(bytes);
        }
    }
    Err(PaperError::Assembly("the objects cannot be packed".into()))
}

/// How hard streams are packed: the hardest (9) takes three times as long and saves a hundredth.
const LEVEL: u32 = 6;

/// Packs a stream, where that makes it smaller.
fn pack(object: &mut Object) -> std::io::Result<()> {
    let Object::Stream(stream) = object else { return Ok(()) };
    if !stream.allows_compression || stream.dict.has(b"Filter") {
        return Ok(());
    }
    let mut packer = ZlibEncoder::new(Vec::new(), Compression::new(LEVEL));
    packer.write_all(&stream.content)?;
    let packed = packer.finish()?;
    if packed.len() + FILTER.len() < stream.content.len() {
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(packed);
    }
    Ok(())
}

/// What packing adds to a stream's dictionary.
const FILTER: &str = "/Filter/FlateDecode";

/// How many objects go into a stream.
const MOST_OBJECTS: usize = 2000;
const LEAST_OBJECTS: usize = 1980;

/// A packed stream whose last byte is a carriage return stays unpacked: with the line feed that ends every stream
/// in the file it would read as one line end of two bytes, and a reader could count the stream a byte too short.
fn end_plainly(object: &mut Object) {
    if let Object::Stream(stream) = object
        && stream.dict.has(b"Filter")
        && stream.content.ends_with(b"\r")
        && let Ok(plain) = stream.decompressed_content()
    {
        stream.dict.remove(b"Filter");
        stream.set_content(plain);
    }
}

fn has_doubtful_end(file: &[u8]) -> bool {
    const DOUBTFUL: &[u8] = b"\r\nendstream";
    file.windows(DOUBTFUL.len()).any(|it| it == DOUBTFUL)
}

#[expect(clippy::needless_pass_by_value, reason = "has the form map_err asks for")]
fn assembly(error: lopdf::Error) -> PaperError {
    PaperError::Assembly(error.to_string())
}

/// A text string: PDFDocEncoding would do for ASCII, UTF-16 with a mark for all else (ISO 32000-1, 7.9.2.2).
fn text_string(text: &str) -> Object {
    if text.bytes().all(|b| (0x20..0x7F).contains(&b)) {
        return Object::string_literal(text);
    }
    let units = std::iter::once(0xFEFF).chain(text.encode_utf16());
    Object::string_literal(units.flat_map(u16::to_be_bytes).collect::<Vec<u8>>())
}
