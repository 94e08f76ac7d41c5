//! The book of names: what a code or a name stands for, the batch's own objects included.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

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

/// Every sort of object, in the order in which an id is looked for.
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

/// Names and ids of every sort of object: those of the shop, looked up as they are asked for, and those entered.
#[derive(Debug)]
pub(crate) struct Book {
    shop: Arc<Shop>,
    known: BTreeSet<(Table, ObjectId)>,
    names: BTreeMap<(Table, String), Vec<ObjectId>>,
    about: BTreeMap<ObjectId, String>,
}

impl Book {
    /// The book of a shop.
    pub(crate) fn of(shop: &Arc<Shop>) -> Self {
        let shop = Arc::clone(shop);
        Self { shop, known: BTreeSet::new(), names: BTreeMap::new(), about: BTreeMap::new() }
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
        table.has(&self.shop, &id) || self.known.contains(&(table, id))
    }

    /// The sort of an object.
    pub(crate) fn table_of(&self, id: ObjectId) -> Option<Table> {
        ALL.into_iter().find(|table| self.has(*table, id))
    }

    /// The objects with exactly this name, those of the shop first.
    fn named(&self, table: Table, name: &str) -> Vec<ObjectId> {
        let mut ids = table.named(&self.shop, name);
        let entered = self.names.get(&(table, name.to_owned())).into_iter().flatten();
        for id in entered {
            if !ids.contains(id) {
                ids.push(*id);
            }
        }
        ids
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
        match &self.named(table, wanted)[..] {
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
        let of_shop = table.all(&self.shop).into_iter().map(|(_, name, _)| name);
        let entered = self.names.keys().filter(|(it, _)| *it == table).map(|(_, name)| name.clone());
        let names: BTreeSet<String> = of_shop.chain(entered).collect();
        if names.is_empty() {
            error
        } else {
            error.remedy(fill(CHECK, lang, &[("names", &list(names, SHOWN))]))
        }
    }

    fn about_words(&self, id: ObjectId) -> String {
        let of_shop = || self.table_of(id).map(|table| table.about(&self.shop, &id));
        self.about.get(&id).cloned().or_else(of_shop).unwrap_or_default()
    }
}
