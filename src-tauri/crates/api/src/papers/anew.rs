//! The pages of a record made anew from what it carries, and where they differ from the pages that are there.

use std::collections::BTreeMap;

use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::Moment;
use trowelogue_journal::ShopFile;
use trowelogue_papers as made;
use trowelogue_papers::seal::{self, Part, Sealed};

use super::making::{self, Carried, Making};
use super::{CATALOGUE, TOOL, lines, sheet};
use crate::session::Session;

/// What came of making a record anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Anew {
    /// It was made with another version; only that version makes the same pages.
    OtherVersion(String),
    /// What is needed for it is not carried inside, or cannot be read: this file.
    Lacking(&'static str),
    /// These parts of the record rest on entries that are not inside.
    Beyond(Vec<String>),
    /// It could not be made: why.
    Failed(String),
    /// It was made; where it differs.
    Made(Vec<Difference>),
}

/// Where the pages differ from what the entries say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Difference {
    /// Words of a page: its number, what stands there, what the entries say.
    Words(usize, String, String),
    /// Another part, or a page whose words are the same.
    Part(String),
}

/// Makes the record in a file anew and compares. Photos are taken from the shop's folder where it is at hand, else
/// from the file itself.
pub(super) fn compare(file: &[u8], sealed: &Sealed, session: Option<&Session>) -> Anew {
    if sealed.tool != TOOL || sealed.catalogue != CATALOGUE {
        return Anew::OtherVersion(sealed.tool.clone());
    }
    let Some(making) = making_of(sealed) else { return Anew::Lacking(making::NAME) };
    let shop = sealed.attachments.get(lines::SHOP).and_then(|it| ShopFile::parse(it).ok());
    let Some(shop) = shop else { return Anew::Lacking(lines::SHOP) };
    let text = sealed.attachments.get(lines::NAME).and_then(|it| std::str::from_utf8(it).ok());
    let Some(text) = text else { return Anew::Lacking(lines::NAME) };
    let Ok(issued) = trowelogue_core::moment::parse(&sealed.issued) else { return Anew::Lacking(seal::NAME) };
    if !making.beyond.is_empty() {
        return Anew::Beyond(making.beyond);
    }
    let carried = Carried { shop: &shop, lines: text };
    match again(file, sealed, &carried, &making, issued, session) {
        Ok(differences) => Anew::Made(differences),
        Err(why) => Anew::Failed(why),
    }
}

/// The piece a record says it is of.
pub(super) fn piece(sealed: &Sealed) -> Option<ObjectId> {
    making_of(sealed).map(|it| it.piece)
}

/// Whether a record shows changes without their price, and breaks of pours whose entries are not inside.
pub(super) fn stated(sealed: &Sealed) -> (bool, bool) {
    making_of(sealed).map_or((false, false), |it| (!it.without_price.is_empty(), !it.lent.is_empty()))
}

fn making_of(sealed: &Sealed) -> Option<Making> {
    serde_json::from_slice(sealed.attachments.get(making::NAME)?).ok()
}

fn again(
    file: &[u8],
    sealed: &Sealed,
    carried: &Carried<'_>,
    making: &Making,
    issued: Moment,
    session: Option<&Session>,
) -> Result<Vec<Difference>, String> {
    let there = seal::drawn(file)?;
    let held: BTreeMap<Hash, &Vec<u8>> = making.photos.iter().copied().zip(&there.photos).collect();
    let photo = |hash: &Hash| {
        let shown = held.get(hash)?;
        session.and_then(|it| it.photo(hash)).or_else(|| Some((*shown).clone()))
    };
    let mut record = carried.record(making, issued, &photo);
    record.imprint.paper_id.clone_from(&sealed.paper);
    record.attachments = attachments(sealed, carried, making);
    let options = made::model::Options { lang: making.lang, paper: sheet(making.paper) };
    let anew = made::process_record(&record, &options).map_err(|error| error.to_string())?;
    let parts = seal::look(&anew)?.map(|it| it.parts).unwrap_or_default();
    if parts == sealed.parts {
        return Ok(Vec::new());
    }
    let said = seal::drawn(&anew)?.words;
    Ok(differences(&sealed.parts, &parts, &there.words, &said))
}

/// The files a record carries, in words of its own.
fn attachments(sealed: &Sealed, carried: &Carried<'_>, making: &Making) -> Vec<made::model::Attachment> {
    let lang = making.lang;
    let entries = lines::Lines { lines: carried.lines.to_owned(), shop: carried.shop.clone() };
    let mut files = entries.attachments(lang);
    files.push(making.attachment(lang));
    // As the bytes stand in the file: what is compared here is the pages, not how these were written down.
    for file in &mut files {
        if let Some(bytes) = sealed.attachments.get(&file.name) {
            file.bytes.clone_from(bytes);
        }
    }
    files
}

/// Pages first: where one differs, what hangs on it (fonts, tags, outline) differs with it and is not named.
fn differences(
    there: &[Part],
    said: &[Part],
    words: &[Vec<String>],
    anew: &[Vec<String>],
) -> Vec<Difference> {
    let pages = words.len().max(anew.len());
    let empty = Vec::new();
    let page = |of: &'_ [Vec<String>], at: usize| of.get(at).unwrap_or(&empty).clone();
    let texts = (0..pages).filter_map(|at| {
        let (stands, says) = apart(&page(words, at), &page(anew, at))?;
        Some(Difference::Words(at + 1, stands, says))
    });
    let texts: Vec<Difference> = texts.collect();
    if !texts.is_empty() {
        return texts;
    }
    let digest =
        |parts: &[Part], name: &str| parts.iter().find(|it| it.name == name).map(|it| it.sha256.clone());
    let mut names: Vec<&String> = there.iter().chain(said).map(|it| &it.name).collect();
    names.dedup();
    let mut differing: Vec<Difference> = Vec::new();
    for name in names {
        let part = Difference::Part(name.clone());
        if digest(there, name) != digest(said, name) && !differing.contains(&part) {
            differing.push(part);
        }
    }
    differing
}

/// The first words in which two pages differ, with a few around them; none where they are the same.
fn apart(there: &[String], said: &[String]) -> Option<(String, String)> {
    let first = there.iter().zip(said).take_while(|(a, b)| a == b).count();
    if first == there.len() && first == said.len() {
        return None;
    }
    let excerpt = |words: &[String]| {
        let from = first.saturating_sub(2).min(words.len());
        words[from..(first + 6).min(words.len())].join(" ")
    };
    Some((excerpt(there), excerpt(said)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        text.split(' ').map(str::to_owned).collect()
    }

    #[test]
    fn the_first_words_that_differ_are_named_with_those_around_them() {
        let found =
            apart(&words("margin to dew point 5 K at noon"), &words("margin to dew point 2 K at noon"));
        assert_eq!(found, Some(("dew point 5 K at noon".into(), "dew point 2 K at noon".into())));
        assert_eq!(apart(&words("a b"), &words("a b")), None);
        assert_eq!(apart(&words("a b"), &words("a b c")), Some(("a b".into(), "a b c".into())));
    }

    #[test]
    fn a_page_that_differs_speaks_for_what_hangs_on_it() {
        let part = |name: &str, sha256: &str| Part { name: name.into(), sha256: sha256.into() };
        let there = [part("page 1", "a"), part("font 1", "a")];
        let said = [part("page 1", "b"), part("font 1", "b")];
        let pages = |text: &str| vec![words(text)];
        let named = differences(&there, &said, &pages("one"), &pages("two"));
        assert_eq!(named, [Difference::Words(1, "one".into(), "two".into())]);
        let named = differences(&there, &said, &pages("one"), &pages("one"));
        assert_eq!(named, [Difference::Part("page 1".into()), Difference::Part("font 1".into())]);
    }
}
