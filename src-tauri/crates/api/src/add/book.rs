//! The book of names: what a code or a name stands for, the batch's own objects included.

use std::collections::{BTreeMap, BTreeSet};

use trowelogue_core::id::ObjectId;
use trowelogue_core::shop::Shop;
use trowelogue_core::text::{Lang, Text, text};

use crate::format::Table;
use crate::say::{fill, list};
use crate::{ApiError, ErrorCode, Result};

const NONE: Text = text("There is no {what} {name} in this shop.", "No hay {what} {name} en este taller.");
const SEVERAL: Text =
    text("{name} names {count} of the sort {what}.", "{name} nombra {count} del tipo {what}.");
const USE_ID: Text = text("Name one by its id: {ids}.", "Indique uno por su id: {ids}.");
const CHECK: Text = text(
    "Check the spelling, or record it first. Known: {names}.",
    "Revise cómo se escribe o regístrelo antes. Conocidos: {names}.",
);
/// How many candidates an error lists.
const SHOWN: usize = 12;

/// Names and ids of every sort of object.
#[derive(Debug, Default)]
pub(crate) struct Book {
    known: BTreeSet<(Table, ObjectId)>,
    names: BTreeMap<(Table, String), Vec<ObjectId>>,
    about: BTreeMap<ObjectId, String>,
}

impl Book {
    /// The book of a shop.
    pub(crate) fn of(shop: &Shop) -> Self {
        const ALL: [Table; 9] = [
            Table::People,
            Table::Clients,
            Table::Jobs,
            Table::Pieces,
            Table::Mixes,
            Table::Products,
            Table::Tools,
            Table::Pours,
            Table::Routes,
        ];
        let mut book = Self::default();
        for table in ALL {
            for (id, name, about) in table.all(shop) {
                book.enter(table, id, Some(&name), &about);
            }
        }
        // A pour without a code is known by its id alone.
        book.known.extend(shop.pours.keys().map(|id| (Table::Pours, *id)));
        book
    }

    /// Enters an object.
    pub(crate) fn enter(&mut self, table: Table, id: ObjectId, name: Option<&str>, about: &str) {
        self.known.insert((table, id));
        if let Some(name) = name {
            let ids = self.names.entry((table, name.to_owned())).or_default();
            if !ids.contains(&id) {
                ids.push(id);
            }
        }
        self.about.insert(id, about.to_owned());
    }

    /// Whether there is such an object.
    pub(crate) fn has(&self, table: Table, id: ObjectId) -> bool {
        self.known.contains(&(table, id))
    }

    /// The sort of an object.
    pub(crate) fn table_of(&self, id: ObjectId) -> Option<Table> {
        self.known.iter().find(|(_, it)| *it == id).map(|(table, _)| *table)
    }

    /// The object an id, a code or an exact name stands for.
    ///
    /// # Errors
    /// There is none, or more than one.
    pub(crate) fn find(&self, table: Table, wanted: &str, lang: Lang) -> Result<ObjectId> {
        let what = table.label().get(lang);
        let quoted = format!("{:?}", wanted.chars().take(80).collect::<String>());
        if let Ok(id) = wanted.parse::<ObjectId>() {
            let known = self.has(table, id).then_some(id);
            return known.ok_or_else(|| self.unknown(table, &quoted, lang));
        }
        match self.names.get(&(table, wanted.to_owned())).map_or(&[][..], Vec::as_slice) {
            [one] => Ok(*one),
            [] => Err(self.unknown(table, &quoted, lang)),
            several => {
                let ids = several.iter().map(|id| format!("{id} ({})", self.about_words(*id)));
                let said =
                    fill(SEVERAL, lang, &[("name", &quoted), ("count", &several.len()), ("what", &what)]);
                let remedy = fill(USE_ID, lang, &[("ids", &list(ids, SHOWN))]);
                Err(ApiError::new(ErrorCode::Ambiguous, said).remedy(remedy))
            }
        }
    }

    fn unknown(&self, table: Table, quoted: &str, lang: Lang) -> ApiError {
        let code = if table == Table::Pieces { ErrorCode::UnknownPiece } else { ErrorCode::Unknown };
        let what = table.label().get(lang);
        let error = ApiError::new(code, fill(NONE, lang, &[("what", &what), ("name", &quoted)]));
        let names: Vec<&String> =
            self.names.keys().filter(|(it, _)| *it == table).map(|(_, name)| name).collect();
        if names.is_empty() {
            error
        } else {
            error.remedy(fill(CHECK, lang, &[("names", &list(names, SHOWN))]))
        }
    }

    fn about_words(&self, id: ObjectId) -> &str {
        self.about.get(&id).map_or("", String::as_str)
    }
}
