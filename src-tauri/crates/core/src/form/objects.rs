//! Objects of the shop that a field names, and those that fit a kind of step.

use super::Ask;
use crate::body::Kind;
use crate::body::setup::{MaterialClass, Product};
use crate::id::ObjectId;
use crate::materials;
use crate::shop::{Table, Versions};

/// A sort of object that a field of a body may name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// Clients.
    Client,
    /// Jobs.
    Job,
    /// Mixes.
    Mix,
    /// Pours.
    Pour,
    /// Pieces.
    Piece,
    /// Products.
    Product,
    /// Tools.
    Tool,
}

/// The sort of object a field of a body names; none where it holds a value.
pub fn sort_named(kind: Kind, field: &str) -> Option<Sort> {
    Some(match (kind, field) {
        (Kind::Trowel, _) => return None,
        (_, "client") => Sort::Client,
        (_, "job") => Sort::Job,
        (_, "mix" | "vein_mix") => Sort::Mix,
        (Kind::Piece, "witness_of") => Sort::Pour,
        (Kind::Pour, "witness") => Sort::Piece,
        (Kind::FormPrepared, "release") | (_, "product") => Sort::Product,
        (Kind::GritPass, "tool") => Sort::Tool,
        _ => return None,
    })
}

/// Every object of a sort that fits the kind: its id, its name, and a few words to tell it from its namesakes.
pub(super) fn all(ask: &Ask<'_>, sort: Sort) -> Vec<(ObjectId, String, Option<String>)> {
    let shop = ask.shop;
    let mut found = match sort {
        Sort::Client => each(&shop.clients, |it| (it.name.clone(), None)),
        Sort::Job => each(&shop.jobs, |it| (it.code.clone(), Some(it.name.clone()))),
        Sort::Mix => each(&shop.mixes, |it| (it.name.clone(), None)),
        Sort::Piece => each(&shop.pieces, |it| (it.code.clone(), Some(it.name.clone()))),
        Sort::Tool => each(&shop.tools, |it| (it.name.clone(), None)),
        Sort::Product => {
            let fitting = |it: &Product| fits(ask.kind, it.class);
            let chosen = shop.products.iter().filter(|(_, it)| fitting(it.now()));
            chosen.map(|(id, it)| (*id, it.now().name.clone(), it.now().maker.clone())).collect()
        }
        Sort::Pour => {
            let name = |id: &ObjectId, code: &Option<String>| code.clone().unwrap_or_else(|| id.to_string());
            shop.pours.iter().map(|(id, it)| (*id, name(id, &it.code), None)).collect()
        }
    };
    found.sort_by(|a, b| a.1.cmp(&b.1));
    found
}

fn each<T>(
    table: &Table<T>,
    words: impl Fn(&T) -> (String, Option<String>),
) -> Vec<(ObjectId, String, Option<String>)> {
    let row = |(id, it): (&ObjectId, &Versions<T>)| {
        let (name, about) = words(it.now());
        (*id, name, about)
    };
    table.iter().map(row).collect()
}

/// Whether a product of this class is used in this kind of step.
fn fits(kind: Kind, class: MaterialClass) -> bool {
    use MaterialClass as C;
    let facts = materials::of(class);
    match kind {
        Kind::SealCoat => facts.is_sealer(),
        Kind::Densify => class == C::SilicateDensifier,
        Kind::Fill => matches!(class, C::CementFill | C::ResinFill | C::Epoxy | C::UvCured),
        Kind::AcidWash => {
            matches!(class, C::HydrochloricAcid | C::SulfamicAcid | C::PhosphoricAcid | C::CitricAcid)
        }
        Kind::Clean => {
            matches!(class, C::NeutralCleaner | C::AlkalineDegreaser | C::FluorideCleaner | C::Hypochlorite)
        }
        Kind::FormPrepared => matches!(class, C::Release | C::Wax),
        Kind::Colour => !facts.is_sealer() && !facts.film,
        _ => true,
    }
}
