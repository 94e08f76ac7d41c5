//! What the shop keeps, shelf by shelf: lists, single objects with their history, their forms.

mod product;
mod route;
mod series;
mod sheet;
mod words;

use trowelogue_core::body::Kind;
use trowelogue_core::form;
use trowelogue_core::id::ObjectId;
use trowelogue_core::routes;
use trowelogue_core::shop::Shop;

use super::form::{asked, told};
use super::open::small;
use super::{Desk, drafts, picture};
use crate::add::Reader;
use crate::dto::{Form, ObjectRow, ObjectSheet, Picture, Shelf, ShelfHead, StepDraft};
use crate::format::{Table, Voice};
use crate::reading::first_upper;
use crate::session::Session;
use crate::{ApiError, Result};

/// The shelves, in the order a shop is set up.
const SHELVES: [Kind; 8] =
    [Kind::Client, Kind::Job, Kind::Mix, Kind::Product, Kind::Piece, Kind::Tool, Kind::Route, Kind::Person];

impl Desk {
    /// The shelves with how much stands on each.
    ///
    /// # Errors
    /// No shop is open.
    pub fn shelves(&self) -> Result<Vec<ShelfHead>> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let voice = &session.voice;
            let head = |kind: Kind| ShelfHead {
                kind: kind.wire().to_owned(),
                title: voice.say(words::shelf(kind)),
                about: voice.say(words::about(kind)),
                count: small(rows(voice, reader.shop(), kind).len() as u64),
            };
            Ok(SHELVES.into_iter().map(head).collect())
        })
    }

    /// Everything of one kind.
    ///
    /// # Errors
    /// There is no such shelf; no shop is open.
    pub fn shelf(&self, kind: &str) -> Result<Shelf> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let kind = shelf_of(session, &reader, kind)?;
            let voice = &session.voice;
            Ok(Shelf {
                kind: kind.wire().to_owned(),
                title: voice.say(words::shelf(kind)),
                one: voice.say(kind.label()),
                about: voice.say(words::about(kind)),
                rows: rows(voice, reader.shop(), kind),
                may_write: session.link.is_some(),
            })
        })
    }

    /// One object, by its id, code or name.
    ///
    /// # Errors
    /// There is no such object; no shop is open.
    pub fn object(&self, kind: &str, id: &str) -> Result<ObjectSheet> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let kind = shelf_of(session, &reader, kind)?;
            match (kind, reader.find(table_of(kind), id, "id")) {
                (Kind::Route, Err(error)) => route::shipped_sheet(session, id).ok_or(error),
                (_, found) => Ok(sheet::sheet(session, reader.shop(), kind, found?)),
            }
        })
    }

    /// The form of an object: empty for a new one; filled with what is recorded to change it; or, as a copy, with
    /// the same values for another one. A draft that was kept comes first.
    ///
    /// # Errors
    /// There is no such kind or object; no shop is open.
    pub fn object_form(&self, kind: &str, id: Option<&str>, copy: bool) -> Result<Form> {
        self.on_session(|session| {
            let reader = Reader::new(session);
            let asked = asked(session, &reader, kind, &[])?;
            let ask = asked.ask();
            let made = match id {
                None => form::form(&ask),
                Some(id) => {
                    let object = reader.find(table_of(ask.kind), id, "id")?;
                    form::form_of_object(&ask, object).ok_or_else(|| unreadable(session))?
                }
            };
            let mut shown = told(session, reader.shop(), &[], &made);
            // Which object it is about is settled by the way here.
            shown.fields.retain(|field| field.name != OBJECT);
            if id.is_none() || copy {
                shown.values.remove(OBJECT);
            }
            if copy {
                series::next_code(reader.shop(), ask.kind, &mut shown.values);
            }
            let draft = drafts::kept(session, kind, &[]).filter(|draft| !copy && same_object(draft, &shown));
            if let Some(draft) = draft {
                shown.values = draft.values;
                shown.from_draft = true;
            }
            Ok(shown)
        })
    }
}

/// The field of a form that names the object it changes.
pub(super) const OBJECT: &str = "object";

fn same_object(draft: &StepDraft, shown: &Form) -> bool {
    draft.values.get(OBJECT) == shown.values.get(OBJECT)
}

fn unreadable(session: &Session) -> ApiError {
    ApiError::bad_input("id", session.voice.say(words::UNREADABLE))
}

/// The kind of a shelf.
fn shelf_of(session: &Session, reader: &Reader, kind: &str) -> Result<Kind> {
    let found = reader.kind_named(kind)?;
    let known = SHELVES.contains(&found);
    known.then_some(found).ok_or_else(|| ApiError::bad_input("kind", session.voice.say(words::NO_SHELF)))
}

/// The table a shelf shows. Only kinds that make objects are asked for.
fn table_of(kind: Kind) -> Table {
    Table::made_by(kind).unwrap_or(Table::Pieces)
}

/// What stands on a shelf, by name; of routes the shop's own first, then the shipped ones.
fn rows(voice: &Voice, shop: &Shop, kind: Kind) -> Vec<ObjectRow> {
    if kind == Kind::Route {
        return route::rows(voice, shop);
    }
    let all = table_of(kind).all(shop).into_iter();
    let mut rows: Vec<ObjectRow> =
        all.map(|(id, name, about)| row(voice, shop, kind, id, name, about)).collect();
    rows.sort_by(|a, b| a.name.cmp(&b.name).then_with(|| a.id.cmp(&b.id)));
    rows
}

fn row(voice: &Voice, shop: &Shop, kind: Kind, id: ObjectId, name: String, about: String) -> ObjectRow {
    let about = match kind {
        Kind::Product => {
            let class = shop.products.get(&id).map(|it| voice.say(it.now().class.label()));
            [class, Some(about).filter(|it| !it.is_empty())]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join(", ")
        }
        Kind::Tool => shop.tools.get(&id).map_or(about, |it| voice.say(it.now().power.label())),
        _ => about,
    };
    let outline = shop.pieces.get(&id).map(|it| picture::outline(voice, it.now()));
    ObjectRow { kind: kind.wire().to_owned(), id: id.to_string(), name, about: first_upper(&about), outline }
}

/// The drawings of a form as it is filled in: the plan of a piece.
pub(super) fn drawn(
    voice: &Voice,
    kind: Option<Kind>,
    body: &serde_json::Map<String, serde_json::Value>,
) -> Vec<Picture> {
    if kind != Some(Kind::Piece) {
        return Vec::new();
    }
    series::piece_of(body).map(|piece| picture::outline(voice, &piece)).into_iter().collect()
}

/// Whether a shipped route has this code.
pub(super) fn is_shipped(code: &str) -> bool {
    routes::shipped_with(code).is_some()
}
