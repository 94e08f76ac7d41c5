//! Names of objects: what stands for an id where a person reads.

use trowelogue_core::body::Kind;
use trowelogue_core::form::{Sort, sort_named};
use trowelogue_core::id::ObjectId;
use trowelogue_core::shop::{Shop, Versions};
use trowelogue_core::text::{Text, text};

/// A sort of object.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Table {
    People,
    Clients,
    Jobs,
    Pieces,
    Mixes,
    Products,
    Tools,
    Pours,
    Routes,
}

impl Table {
    /// The sort of object an entry of this kind creates or changes.
    pub(crate) fn made_by(kind: Kind) -> Option<Self> {
        Some(match kind {
            Kind::Person => Self::People,
            Kind::Client => Self::Clients,
            Kind::Job => Self::Jobs,
            Kind::Piece => Self::Pieces,
            Kind::Mix => Self::Mixes,
            Kind::Product => Self::Products,
            Kind::Tool => Self::Tools,
            Kind::Pour => Self::Pours,
            Kind::Route => Self::Routes,
            _ => return None,
        })
    }

    /// The sort of object a field of a body names.
    pub(crate) fn named_in(kind: Kind, field: &str) -> Option<Self> {
        sort_named(kind, field).map(|sort| match sort {
            Sort::Client => Self::Clients,
            Sort::Job => Self::Jobs,
            Sort::Mix => Self::Mixes,
            Sort::Pour => Self::Pours,
            Sort::Piece => Self::Pieces,
            Sort::Product => Self::Products,
            Sort::Tool => Self::Tools,
        })
    }

    /// What one of it is called.
    pub(crate) const fn label(self) -> Text {
        match self {
            Self::People => text("person", "persona"),
            Self::Clients => text("client", "cliente"),
            Self::Jobs => text("job", "trabajo"),
            Self::Pieces => text("piece", "pieza"),
            Self::Mixes => text("mix", "mezcla"),
            Self::Products => text("product", "producto"),
            Self::Tools => text("tool", "herramienta"),
            Self::Pours => text("pour", "vertido"),
            Self::Routes => text("route", "ruta"),
        }
    }

    /// Every object of the sort: its id, what people call it, and a few words to tell it from its namesakes.
    pub(crate) fn all(self, shop: &Shop) -> Vec<(ObjectId, String, String)> {
        match self {
            Self::People => each(&shop.people, |it| (it.name.clone(), it.trade.clone().unwrap_or_default())),
            Self::Clients => each(&shop.clients, |it| (it.name.clone(), String::new())),
            Self::Jobs => each(&shop.jobs, |it| (it.code.clone(), it.name.clone())),
            Self::Pieces => each(&shop.pieces, |it| (it.code.clone(), piece_words(shop, it))),
            Self::Mixes => each(&shop.mixes, |it| (it.name.clone(), String::new())),
            Self::Products => {
                each(&shop.products, |it| (it.name.clone(), it.maker.clone().unwrap_or_default()))
            }
            Self::Tools => each(&shop.tools, |it| (it.name.clone(), String::new())),
            Self::Routes => {
                each(&shop.routes, |it| (it.route.code().unwrap_or_default().to_owned(), String::new()))
            }
            Self::Pours => {
                let named =
                    shop.pours.iter().filter_map(|(id, it)| Some((*id, it.code.clone()?, String::new())));
                named.collect()
            }
        }
    }

    /// Whether there is one with this id.
    pub(crate) fn has(self, shop: &Shop, id: &ObjectId) -> bool {
        match self {
            Self::People => shop.people.contains_key(id),
            Self::Clients => shop.clients.contains_key(id),
            Self::Jobs => shop.jobs.contains_key(id),
            Self::Pieces => shop.pieces.contains_key(id),
            Self::Mixes => shop.mixes.contains_key(id),
            Self::Products => shop.products.contains_key(id),
            Self::Tools => shop.tools.contains_key(id),
            Self::Pours => shop.pours.contains_key(id),
            Self::Routes => shop.routes.contains_key(id),
        }
    }
}

fn each<T>(
    table: &trowelogue_core::shop::Table<T>,
    words: impl Fn(&T) -> (String, String),
) -> Vec<(ObjectId, String, String)> {
    let row = |(id, it): (&ObjectId, &Versions<T>)| {
        let (name, about) = words(it.now());
        (*id, name, about)
    };
    table.iter().map(row).collect()
}

fn piece_words(shop: &Shop, piece: &trowelogue_core::body::setup::Piece) -> String {
    let job = piece.job.and_then(|job| shop.jobs.get(&job)).map(|job| job.now().code.clone());
    [Some(piece.name.clone()), job].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What stands for an id: name or code of whatever it is, else the id itself.
pub(crate) fn name_of(shop: &Shop, id: ObjectId) -> String {
    const TABLES: [Table; 9] = [
        Table::Products,
        Table::Pieces,
        Table::People,
        Table::Mixes,
        Table::Jobs,
        Table::Pours,
        Table::Tools,
        Table::Clients,
        Table::Routes,
    ];
    let table = TABLES.into_iter().find(|table| table.has(shop, &id));
    let named = table.and_then(|table| table.all(shop).into_iter().find(|(it, ..)| *it == id));
    named.map_or_else(|| id.to_string(), |(_, name, _)| name)
}

/// The code of a piece, else its id.
pub(crate) fn piece_code(shop: &Shop, piece: ObjectId) -> String {
    shop.pieces.get(&piece).map_or_else(|| piece.to_string(), |it| it.now().code.clone())
}
