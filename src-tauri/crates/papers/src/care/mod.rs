//! The care sheet: what the client keeps and reads in two minutes.
//!
//! First page: which piece, which dates, what to do. Second page: what is behind it, what to do when something goes
//! wrong, what the shop answers for.

mod back;
mod dates;
mod drawings;
mod fit;
mod front;
mod pen;
#[cfg(test)]
mod tests;
mod words;

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::{Lang, Text};

use crate::layout::{Composer, Slab};
use crate::model::{CareSheet, Options};
use crate::pdf::Claim;
use crate::scene::Role;
use crate::theme::SECTION;
use crate::{PaperError, sheet};

/// Makes the file.
pub(crate) fn make(care: &CareSheet, options: &Options, claim: Claim) -> Result<Vec<u8>, PaperError> {
    let c = compose(care, options)?;
    let (title, subject) = names(care, options.lang)?;
    let inside = sheet::Inside { attachments: &care.attachments, claim, seal: None };
    sheet::finish(c, &care.imprint, options, (title, subject), inside)
}

/// Title and subject of the file.
fn names(care: &CareSheet, lang: Lang) -> Result<(String, String), PaperError> {
    let codes: Vec<&str> = care.groups.iter().flat_map(|it| &it.pieces).map(|it| it.code.as_str()).collect();
    let first = care.groups.first().and_then(|it| it.pieces.first()).ok_or(PaperError::NoPiece)?;
    let title = format!("{} · {}", words::CARE.get(lang), codes.join(", "));
    Ok((title, [first.job.as_str(), first.client.as_str()].join(" · ")))
}

/// Sets the sheet into strips.
fn compose(care: &CareSheet, options: &Options) -> Result<Composer, PaperError> {
    if care.groups.iter().any(|group| group.pieces.is_empty()) {
        return Err(PaperError::NoPiece);
    }
    let lang = options.lang;
    let mut c = sheet::begin(options);
    for (at, group) in care.groups.iter().enumerate() {
        if at > 0 {
            c.page_break();
        }
        fit::page(&mut c, &|c, fit| front::sections(c, group, fit, lang));
        let cut = c.shows(fit::is_cut);
        c.page_break();
        fit::page(&mut c, &|c, fit| back::sections(c, group, &care.imprint, cut, fit, lang));
    }
    Ok(c)
}

/// A section under its heading, as strips.
fn section(c: &mut Composer, title: Text, lang: Lang, set: impl FnOnce(&mut Composer)) -> Vec<Slab> {
    c.column(c.region, |c| headed(c, title, lang, Tone::WetConcrete, set))
}

/// The same where it stands: a rule in a tone, the heading, what belongs to it.
fn headed(c: &mut Composer, title: Text, lang: Lang, tone: Tone, set: impl FnOnce(&mut Composer)) {
    c.within(Role::Section, |c| {
        c.rule(0.0, tone, 1.6);
        c.heading(2, title.get(lang), SECTION, 3.0);
        set(c);
    });
}
