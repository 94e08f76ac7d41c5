//! Names of objects: what stands for an id where a person reads.

use trowelogue_core::body::Kind;
use trowelogue_core::form::{Sort, sort_named};
use trowelogue_core::id::ObjectId;
use trowelogue_core::shop::Shop;
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

    /// Every object of the sort: its id, what people call it, and a few words to tell it from its namesakes. A pour
    /// without a code has no name and is left out.
    pub(crate) fn all(self, shop: &Shop) -> Vec<(ObjectId, String, String)> {
        let row = |id: &ObjectId| Some((*id, self.name(shop, id)?.to_owned(), self.about(shop, id)));
        self.ids(shop).filter_map(row).collect()
    }

    /// The objects of the sort with exactly this name.
    pub(crate) fn named(self, shop: &Shop, name: &str) -> Vec<ObjectId> {
        self.ids(shop).filter(|id| self.name(shop, id) == Some(name)).copied().collect()
    }

    fn ids(self, shop: &Shop) -> Box<dyn Iterator<Item = &ObjectId> + '_> {
        match self {
            Self::People => Box::new(shop.people.keys()),
            Self::Clients => Box::new(shop.clients.keys()),
            Self::Jobs => Box::new(shop.jobs.keys()),
            Self::Pieces => Box::new(shop.pieces.keys()),
            Self::Mixes => Box::new(shop.mixes.keys()),
            Self::Products => Box::new(shop.products.keys()),
            Self::Tools => Box::new(shop.tools.keys()),
            Self::Pours => Box::new(shop.pours.keys()),
            Self::Routes => Box::new(shop.routes.keys()),
        }
    }

    /// What people call an object of the sort.
    pub(crate) fn name<'s>(self, shop: &'s Shop, id: &ObjectId) -> Option<&'s str> {
        Some(match self {
            Self::People => &shop.people.get(id)?.now().name,
            Self::Clients => &shop.clients.get(id)?.now().name,
            Self::Jobs => &shop.jobs.get(id)?.now().code,
            Self::Pieces => &shop.pieces.get(id)?.now().code,
            Self::Mixes => &shop.mixes.get(id)?.now().name,
            Self::Products => &shop.products.get(id)?.now().name,
            Self::Tools => &shop.tools.get(id)?.now().name,
            Self::Pours => shop.pours.get(id)?.code.as_deref()?,
            Self::Routes => shop.routes.get(id)?.now().route.code().unwrap_or_default(),
        })
    }

    /// A few words to tell an object from its namesakes.
    pub(crate) fn about(self, shop: &Shop, id: &ObjectId) -> String {
        let words = match self {
            Self::People => shop.people.get(id).and_then(|it| it.now().trade.clone()),
            Self::Jobs => shop.jobs.get(id).map(|it| it.now().name.clone()),
            Self::Pieces => shop.pieces.get(id).map(|it| piece_words(shop, it.now())),
            Self::Products => shop.products.get(id).and_then(|it| it.now().maker.clone()),
            Self::Clients | Self::Mixes | Self::Tools | Self::Pours | Self::Routes => None,
        };
        words.unwrap_or_default()
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
    table.and_then(|table| table.name(shop, &id)).map_or_else(|| id.to_string(), str::to_owned)
}

/// The code of a piece, else its id.
pub(crate) fn piece_code(shop: &Shop, piece: ObjectId) -> String {
    shop.pieces.get(&piece).map_or_else(|| piece.to_string(), |it| it.now().code.clone())
}
