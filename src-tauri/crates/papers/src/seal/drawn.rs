//! What a reader sees of a file: the words of its pages, and its pictures as they are placed.

use std::collections::BTreeMap;

use lopdf::content::{Content, Operation};
use lopdf::{Document, Object, ObjectId};

use super::parts::{resolved, resource};
use super::{LARGEST, read};
use crate::jpeg;

/// What a reader sees of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawn {
    /// The words of each page, in the order they are drawn.
    pub words: Vec<Vec<String>>,
    /// The photos, in the order they were placed: JPEG files, turned as they are shown.
    pub photos: Vec<Vec<u8>>,
}

/// Looks at what a file shows.
///
/// # Errors
/// In words: it is no PDF, or is larger than can be looked at.
pub fn drawn(file: &[u8]) -> Result<Drawn, String> {
    let doc = read(file)?;
    Ok(Drawn { words: words(&doc), photos: photos(&doc) })
}

fn words(doc: &Document) -> Vec<Vec<String>> {
    doc.get_pages().into_values().map(|page| page_words(doc, page)).collect()
}

/// Codes of a face's glyphs, and the text each stands for.
type Codes = BTreeMap<u16, String>;

fn page_words(doc: &Document, page: ObjectId) -> Vec<String> {
    let faces = faces(doc, page);
    let mut face: Option<&Codes> = None;
    let mut text = String::new();
    for operation in operations(doc, page) {
        match operation.operator.as_str() {
            "BT" => text.push(' '),
            "Tf" => face = name(&operation).and_then(|name| faces.get(name)),
            "Tj" | "TJ" => operation.operands.iter().for_each(|it| shown(it, face, &mut text)),
            _ => {}
        }
    }
    text.split_whitespace().map(str::to_owned).collect()
}

fn operations(doc: &Document, page: ObjectId) -> Vec<Operation> {
    let content = doc.get_page_content(page);
    Content::decode(&content).map(|it| it.operations).unwrap_or_default()
}

fn name(operation: &Operation) -> Option<&[u8]> {
    operation.operands.first()?.as_name().ok()
}

fn shown(object: &Object, face: Option<&Codes>, text: &mut String) {
    match object {
        Object::String(bytes, _) => {
            let codes =
                bytes.chunks(2).map(|it| it.iter().fold(0, |code, byte| code << 8 | u16::from(*byte)));
            codes.for_each(|code| {
                text.push_str(face.and_then(|it| it.get(&code)).map_or("\u{FFFD}", |it| it));
            });
        }
        Object::Array(items) => items.iter().for_each(|it| shown(it, face, text)),
        _ => {}
    }
}

fn faces(doc: &Document, page: ObjectId) -> BTreeMap<Vec<u8>, Codes> {
    let fonts = resource(doc, page, b"Font").into_iter().flatten();
    let face = |(name, font): (&Vec<u8>, &Object)| {
        let map = resolved(doc, font)?.get(b"ToUnicode").ok()?.as_reference().ok()?;
        let Object::Stream(stream) = doc.get_object(map).ok()? else { return None };
        let plain = stream.get_plain_content_with_limit(LARGEST).ok()?;
        Some((name.clone(), codes(&String::from_utf8_lossy(&plain))))
    };
    fonts.filter_map(face).collect()
}

/// Reads the pairs `<code> <text>` of a map of single codes (ISO 32000-1, 9.10.3); text is UTF-16.
fn codes(map: &str) -> Codes {
    let mut codes = Codes::new();
    for block in map.split("beginbfchar").skip(1) {
        let block = block.split("endbfchar").next().unwrap_or_default();
        let mut words = block.split(['<', '>']).map(str::trim).filter(|it| !it.is_empty());
        while let (Some(code), Some(text)) = (words.next(), words.next()) {
            if let Some(code) = units(code).first() {
                codes.insert(*code, String::from_utf16_lossy(&units(text)));
            }
        }
    }
    codes
}

fn units(hex: &str) -> Vec<u16> {
    let digits: Vec<char> = hex.chars().filter(|it| !it.is_whitespace()).collect();
    digits.chunks(4).filter_map(|it| u16::from_str_radix(&it.iter().collect::<String>(), 16).ok()).collect()
}

/// The pictures of a file by the number in their names, each turned as it is placed.
fn photos(doc: &Document) -> Vec<Vec<u8>> {
    let mut found: BTreeMap<usize, Vec<u8>> = BTreeMap::new();
    for page in doc.get_pages().into_values() {
        let mut matrix = Vec::new();
        for operation in operations(doc, page) {
            match operation.operator.as_str() {
                "cm" => matrix = operation.operands.iter().filter_map(|it| it.as_float().ok()).collect(),
                "Do" => found.extend(name(&operation).and_then(|name| photo(doc, page, name, &matrix))),
                _ => {}
            }
        }
    }
    found.into_values().collect()
}

fn photo(doc: &Document, page: ObjectId, name: &[u8], matrix: &[f32]) -> Option<(usize, Vec<u8>)> {
    let number = std::str::from_utf8(name).ok()?.strip_prefix("Photo")?.parse().ok()?;
    let id = resource(doc, page, b"XObject")?.get(name).ok()?.as_reference().ok()?;
    let Object::Stream(stream) = doc.get_object(id).ok()? else { return None };
    Some((number, jpeg::turned(&stream.content, turn(matrix))))
}

/// How a picture is turned (EXIF orientation) by the matrix that places it.
fn turn(matrix: &[f32]) -> u8 {
    let [a, b, c, d, ..] = *matrix else { return 1 };
    let upright = b == 0.0 && c == 0.0;
    match (upright, if upright { (a > 0.0, d > 0.0) } else { (b > 0.0, c > 0.0) }) {
        (true, (true, true)) => 1,
        (true, (false, true)) => 2,
        (true, (false, false)) => 3,
        (true, (true, false)) => 4,
        (false, (false, false)) => 5,
        (false, (false, true)) => 6,
        (false, (true, true)) => 7,
        (false, (true, false)) => 8,
    }
}
