//! One entry: its head. Kind, times, person, pieces, object, references.

use std::sync::Arc;

use serde_json::{Map, Value};
use trowelogue_core::body::Kind;
use trowelogue_core::id::{BadId, DeviceId, Hash, ObjectId};
use trowelogue_core::moment::{self, Moment, Span};
use trowelogue_core::shop::{Shop, Step};
use trowelogue_core::text::{Lang, Text, text};
use trowelogue_journal::Draft;

use super::Book;
use crate::dto::Standing;
use crate::format::Table;
use crate::ids::new_id;
use crate::keep::Me;
use crate::say::{fill, list};
use crate::session::{Session, own_view};
use crate::{ApiError, ErrorCode, Result};

const FIELDS: [&str; 12] =
    ["kind", "id", "pieces", "done", "until", "person", "body", "object", "pour", "job", "refs", "peer"];

const UNKNOWN_FIELD: Text = text(
    "An entry has no field {name}. It has: {fields}.",
    "Una entrada no tiene el campo {name}. Tiene: {fields}.",
);
const MUST: Text = text("It must be given.", "Debe indicarse.");
const NOT_TEXT: Text = text("It must be a text.", "Debe ser un texto.");
const NOT_LIST: Text = text("It must be a list of texts.", "Debe ser una lista de textos.");
const NOT_OBJECT: Text = text("It must be a JSON object.", "Debe ser un objeto JSON.");
const NO_KIND: Text =
    text("There is no kind {name}. The kinds: {kinds}.", "No existe el tipo {name}. Los tipos: {kinds}.");
const ENDS_EARLY: Text = text("It lies before done.", "Es anterior a done.");
const ONE_OBJECT: Text = text(
    "An entry is about one thing beside its pieces: name one of id, object, pour, job.",
    "Una entrada trata de una sola cosa además de sus piezas: indique id, object, pour o job.",
);
const NO_ENTRY: Text = text("There is no entry {hash} here.", "No hay ninguna entrada {hash} aquí.");
const NO_DEVICE: Text =
    text("There is no device {name} in this shop.", "No hay ningún dispositivo {name} en este taller.");

/// Reads entries one after the other; each may name what the ones before it created.
pub(crate) struct Reader {
    pub(super) shop: Arc<Shop>,
    pub(super) book: Book,
    pub(super) lang: Lang,
    pub(super) now: Moment,
    pub(super) owner: bool,
    me: Option<Me>,
}

/// The head of an entry, names resolved.
pub(super) struct Head {
    pub kind: Kind,
    pub done: Span,
    pub person: ObjectId,
    pub pieces: Vec<ObjectId>,
    pub object: Option<ObjectId>,
    pub peer: Option<DeviceId>,
    pub refs: Vec<Hash>,
}

impl Reader {
    /// A reader over what the session knows. A device that is not accepted yet still finds its own names.
    pub(crate) fn new(session: &Session) -> Self {
        let shop = match session.device() {
            Some(device) if session.standing() == Standing::Apart => {
                Arc::new(own_view(&session.view.merged, device))
            }
            _ => Arc::clone(&session.view.shop),
        };
        let mut book = Book::of(&shop);
        let me = session.me().ok();
        if let Some(me) = &me {
            book.enter(Table::People, me.id, Some(&me.name), "");
        }
        let owner = session.standing() == Standing::Owner;
        Self { shop, book, lang: session.voice.lang, now: session.now(), owner, me }
    }

    /// The shop as this device knows it.
    pub(crate) fn shop(&self) -> &Shop {
        &self.shop
    }

    /// Reads an entry and enters what it creates.
    pub(crate) fn draft(&mut self, mut map: Map<String, Value>) -> Result<Draft> {
        if let Some(name) = map.keys().find(|name| !FIELDS.contains(&name.as_str())) {
            let blanks: [(&str, &dyn std::fmt::Display); 2] =
                [("name", &format!("{name:?}")), ("fields", &FIELDS.join(", "))];
            return Err(ApiError::bad_input(name, fill(UNKNOWN_FIELD, self.lang, &blanks)));
        }
        let kind = self.kind(&mut map)?;
        let head = self.head(kind, &mut map)?;
        let given = match map.remove("body") {
            None => Map::new(),
            Some(Value::Object(body)) => body,
            Some(_) => return Err(self.bad("body", NOT_OBJECT)),
        };
        self.check_head(&head)?;
        let body = self.body(&head, given)?;
        self.enter(&head, &body);
        let Head { kind, done, person, pieces, object, peer, refs, .. } = head;
        Ok(Draft { done, person, kind: kind.wire().into(), object, pieces, peer, refs, body })
    }

    pub(super) fn bad(&self, field: &str, words: Text) -> ApiError {
        ApiError::bad_input(field, words.get(self.lang))
    }

    /// The entry with this hash.
    pub(super) fn step(&self, hash: &Hash) -> Option<&Step> {
        self.shop.step(hash)
    }

    fn no_id(&self, field: &str, error: &BadId) -> ApiError {
        ApiError::bad_input(field, error.say(self.lang))
    }

    fn kind(&self, map: &mut Map<String, Value>) -> Result<Kind> {
        let name = self.text(map, "kind")?.ok_or_else(|| self.bad("kind", MUST))?;
        self.kind_named(&name)
    }

    /// The kind with this name.
    ///
    /// # Errors
    /// There is none.
    pub(crate) fn kind_named(&self, name: &str) -> Result<Kind> {
        Kind::parse(name).ok_or_else(|| {
            let kinds = list(Kind::ALL.iter().map(|kind| kind.wire()), Kind::ALL.len());
            let quoted = format!("{:?}", name.chars().take(40).collect::<String>());
            ApiError::bad_input("kind", fill(NO_KIND, self.lang, &[("name", &quoted), ("kinds", &kinds)]))
        })
    }

    fn head(&self, kind: Kind, map: &mut Map<String, Value>) -> Result<Head> {
        let done = self.span(map)?;
        let person = match self.text(map, "person")? {
            Some(name) => self.find(Table::People, &name, "person")?,
            None => self.me.as_ref().map(|me| me.id).ok_or_else(|| self.bad("person", super::WHO))?,
        };
        let mut pieces = Vec::new();
        for name in self.texts(map, "pieces")? {
            let piece = self.find(Table::Pieces, &name, "pieces")?;
            if !pieces.contains(&piece) {
                pieces.push(piece);
            }
        }
        let object = self.object(kind, map)?;
        let peer = match self.text(map, "peer")? {
            Some(name) => Some(self.peer(&name)?),
            None => None,
        };
        let refs = self.refs(map)?;
        Ok(Head { kind, done, person, pieces, object, peer, refs })
    }

    /// When the work was done; now, where nothing is said. A time without an offset is refused.
    fn span(&self, map: &mut Map<String, Value>) -> Result<Span> {
        let mut moment = |field: &str| match self.text(map, field)? {
            Some(said) => self.moment(field, &said).map(Some),
            None => Ok(None),
        };
        let (done, until) = (moment("done")?, moment("until")?);
        let span = Span { start: done.unwrap_or(self.now), end: until };
        if span.end.is_some_and(|end| end < span.start) {
            return Err(self.bad("until", ENDS_EARLY));
        }
        Ok(span)
    }

    pub(super) fn moment(&self, field: &str, said: &str) -> Result<Moment> {
        moment::parse(said).map_err(|error| ApiError::bad_input(field, error.say(self.lang)))
    }

    /// The thing an entry creates or is about.
    fn object(&self, kind: Kind, map: &mut Map<String, Value>) -> Result<Option<ObjectId>> {
        let made = Table::made_by(kind);
        let mut named = Vec::new();
        if let Some(id) = self.text(map, "id")? {
            named.push(id.parse().map_err(|error| self.no_id("id", &error))?);
        }
        for (field, table) in [("pour", Some(Table::Pours)), ("job", Some(Table::Jobs)), ("object", made)] {
            if let Some(name) = self.text(map, field)? {
                named.push(self.find_any(table, &name, field)?);
            }
        }
        match (named[..].first(), named.len()) {
            (Some(id), 1) => Ok(Some(*id)),
            (None, _) if made.is_some() => Ok(Some(new_id(&self.now)?)),
            (None, _) => Ok(None),
            _ => Err(self.bad("object", ONE_OBJECT)),
        }
    }

    /// An object of a known sort, else a pour or a job.
    fn find_any(&self, table: Option<Table>, name: &str, field: &str) -> Result<ObjectId> {
        match table {
            Some(table) => self.find(table, name, field),
            None => self.find(Table::Pours, name, field).or_else(|_| self.find(Table::Jobs, name, field)),
        }
    }

    /// The object an id, a code or an exact name stands for.
    pub(crate) fn find(&self, table: Table, name: &str, field: &str) -> Result<ObjectId> {
        self.book.find(table, name, self.lang).map_err(|error| error.field(field))
    }

    fn peer(&self, name: &str) -> Result<DeviceId> {
        let id: DeviceId = name.parse().map_err(|error| self.no_id("peer", &error))?;
        if self.shop.devices.contains_key(&id) {
            return Ok(id);
        }
        let words = fill(NO_DEVICE, self.lang, &[("name", &id)]);
        Err(ApiError::new(ErrorCode::Unknown, words).field("peer"))
    }

    fn refs(&self, map: &mut Map<String, Value>) -> Result<Vec<Hash>> {
        let mut refs = Vec::new();
        for said in self.texts(map, "refs")? {
            let hash: Hash = said.parse().map_err(|error| self.no_id("refs", &error))?;
            if self.step(&hash).is_none() {
                let words = fill(NO_ENTRY, self.lang, &[("hash", &hash)]);
                return Err(ApiError::new(ErrorCode::Unknown, words).field("refs"));
            }
            if !refs.contains(&hash) {
                refs.push(hash);
            }
        }
        Ok(refs)
    }

    fn text(&self, map: &mut Map<String, Value>, field: &str) -> Result<Option<String>> {
        match map.remove(field) {
            None | Some(Value::Null) => Ok(None),
            Some(Value::String(said)) => Ok(Some(said)),
            Some(_) => Err(self.bad(field, NOT_TEXT)),
        }
    }

    fn texts(&self, map: &mut Map<String, Value>, field: &str) -> Result<Vec<String>> {
        let items = match map.remove(field) {
            None | Some(Value::Null) => return Ok(Vec::new()),
            Some(Value::Array(items)) => items,
            Some(_) => return Err(self.bad(field, NOT_LIST)),
        };
        let said = items.into_iter().map(|item| match item {
            Value::String(said) => Ok(said),
            _ => Err(self.bad(field, NOT_LIST)),
        });
        said.collect()
    }

    /// Enters what the entry creates, or renames, for the ones after it.
    fn enter(&mut self, head: &Head, body: &Map<String, Value>) {
        let (Some(table), Some(id)) = (Table::made_by(head.kind), head.object) else { return };
        let name = body.get("code").or_else(|| body.get("name")).and_then(Value::as_str);
        let about = body.get("name").and_then(Value::as_str).unwrap_or_default();
        self.book.enter(table, id, name, about);
    }
}
