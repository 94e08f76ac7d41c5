//! Pieces in a row: the same values under numbered codes.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};
use trowelogue_core::body::setup::Piece;
use trowelogue_core::body::{Kind, input};
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{Text, text};

use super::OBJECT;
use crate::desk::{Desk, draft_to_entry};
use crate::dto::{Logged, Series, StepDraft};
use crate::say::{fill, list};
use crate::{ApiError, Result};

/// No job has more pieces alike.
const MOST: u32 = 200;
const NO_COUNT: Text = text("Write from 1 to {most} pieces at once.", "Anote de 1 a {most} piezas a la vez.");
const ONLY_PIECES: Text = text("Only pieces come in a row.", "Solo las piezas van en serie.");
const CODES: Text = text("{count} pieces: {codes}", "{count} piezas: {codes}");
const MUST: Text = text("It must be given.", "Debe indicarse.");

impl Desk {
    /// The codes of a row of pieces like this one: the first as it is written, then counted up, leaving out codes
    /// there are already. Writes nothing.
    ///
    /// # Errors
    /// The count is none a row can have; no shop is open.
    pub fn series(&self, code: &str, count: u32) -> Result<Series> {
        self.on_session(|session| {
            let lang = session.voice.lang;
            let codes = numbered(session.shop(), code, good(count, lang)?);
            let say = fill(CODES, lang, &[("count", &codes.len()), ("codes", &list(&codes, 8))]);
            Ok(Series { codes, say })
        })
    }

    /// Writes a row of pieces with the same values under numbered codes: all of them or none.
    ///
    /// # Errors
    /// As [`Desk::log`] and [`Desk::series`].
    pub fn log_series(&self, step: &StepDraft, count: u32) -> Result<Logged> {
        let logged = self.write(|open| {
            let session = &open.session;
            let lang = session.voice.lang;
            let count = good(count, lang)?;
            if step.kind != Kind::Piece.wire() || step.values.contains_key(OBJECT) {
                return Err(ApiError::bad_input("kind", ONLY_PIECES.get(lang)));
            }
            let code = step.values.get("code").and_then(Value::as_str).map(str::trim).unwrap_or_default();
            if code.is_empty() {
                return Err(ApiError::bad_input("code", MUST.get(lang)));
            }
            let mut drafts = Vec::new();
            for code in numbered(session.shop(), code, count) {
                let mut one = step.clone();
                one.values.insert("code".to_owned(), json!(code));
                drafts.extend(draft_to_entry::entries_of(session, &one)?);
            }
            Ok(drafts)
        })?;
        drop(self.drop_draft(&step.kind, &step.pieces));
        Ok(logged)
    }
}

fn good(count: u32, lang: trowelogue_core::text::Lang) -> Result<u32> {
    let fits = (1..=MOST).contains(&count);
    fits.then_some(count)
        .ok_or_else(|| ApiError::bad_input("count", fill(NO_COUNT, lang, &[("most", &MOST)])))
}

/// A code taken apart: what stands before its number, the number, its digits. A code without one gets a hyphen.
fn taken_apart(code: &str) -> (String, u64, usize) {
    let digits = code.chars().rev().take_while(char::is_ascii_digit).count().min(9);
    let (stem, number) = code.split_at(code.len() - digits);
    match number.parse() {
        Ok(at) => (stem.to_owned(), at, digits),
        Err(_) => (format!("{code}-"), 1, 2),
    }
}

fn numbered(shop: &Shop, code: &str, count: u32) -> Vec<String> {
    let code = code.trim();
    let known: BTreeSet<&str> = shop.pieces.values().map(|it| it.now().code.as_str()).collect();
    if count == 1 && !code.is_empty() {
        return vec![code.to_owned()];
    }
    let (stem, first, digits) = taken_apart(code);
    let codes = (first..).map(|at| format!("{stem}{at:0digits$}"));
    codes.filter(|it| !known.contains(it.as_str())).take(count as usize).collect()
}

/// The next free code for a copy of a piece or job.
pub(super) fn next_code(shop: &Shop, kind: Kind, values: &mut BTreeMap<String, Value>) {
    let Some(code) = values.get("code").and_then(Value::as_str).map(str::to_owned) else { return };
    let known: BTreeSet<&str> = match kind {
        Kind::Job => shop.jobs.values().map(|it| it.now().code.as_str()).collect(),
        _ => shop.pieces.values().map(|it| it.now().code.as_str()).collect(),
    };
    let (stem, first, digits) = taken_apart(&code);
    let free = (first..).map(|at| format!("{stem}{at:0digits$}")).find(|it| !known.contains(it.as_str()));
    values.extend(free.map(|code| ("code".to_owned(), json!(code))));
}

/// A piece from values half filled in: whatever can be drawn already is.
pub(super) fn piece_of(body: &Map<String, Value>) -> Option<Piece> {
    let mut body = body.clone();
    for must in ["code", "name"] {
        body.entry(must).or_insert_with(|| json!(""));
    }
    let own: Map<String, Value> = loop {
        match input::read(Kind::Piece, body.clone()) {
            Ok(details) => break details.body.to_map(),
            Err(error) => {
                // A value that cannot be read yet is left out of the drawing.
                let name = error.field.split(['.', '[']).next().unwrap_or_default().to_owned();
                body.remove(&name)?;
            }
        }
    };
    serde_json::from_value(Value::Object(own)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_counted_up_with_its_digits_and_one_without_gets_a_number() {
        assert_eq!(taken_apart("T-09"), ("T-".to_owned(), 9, 2));
        assert_eq!(taken_apart("K"), ("K-".to_owned(), 1, 2));
        assert_eq!(taken_apart("7"), (String::new(), 7, 1));
        assert_eq!(taken_apart(""), ("-".to_owned(), 1, 2));
    }

    #[test]
    fn a_piece_half_filled_in_is_drawn_as_far_as_it_goes() {
        let body = json!({ "length_mm": 1200, "width_mm": 600, "cut_outs": [{ "x_mm": 100 }] });
        let piece = piece_of(body.as_object().expect("an object")).expect("a piece");
        assert_eq!((piece.length_mm, piece.cut_outs), (Some(1200.0), None));
    }
}
