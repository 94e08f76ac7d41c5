//! Which pieces an entry reaches: those whose findings, plan or history may be different for it.
//!
//! Rules judge a piece by its own history. What they share is the strength curve of a mix, what was confirmed in a
//! shift, and the facts of jobs, products, mixes, people and the shop itself. An entry about a curve or such facts
//! reaches everything; a confirmation reaches what was worked on in its shift.

use std::collections::BTreeSet;

use trowelogue_core::body::{Group, Kind};
use trowelogue_core::id::{Hash, ObjectId};
use trowelogue_core::moment::add_hours;
use trowelogue_core::shop::{Shop, Step};

/// The pieces these entries reach; `None`: every piece.
pub(crate) fn touched(shop: &Shop, entries: &[Hash]) -> Option<BTreeSet<ObjectId>> {
    let mut pieces = BTreeSet::new();
    for hash in entries {
        // An entry the fold gave no place to reached nothing that can be named.
        one(shop, shop.step(hash)?, &mut pieces)?;
    }
    Some(pieces)
}

fn one(shop: &Shop, step: &Step, pieces: &mut BTreeSet<ObjectId>) -> Option<()> {
    pieces.extend(&step.pieces);
    let fork = shop.forks.iter().any(|fork| fork.hashes.contains(&step.hash));
    if fork || reaches_all(step.kind) {
        return None;
    }
    match (step.kind, step.object) {
        (Some(Kind::SafetyConfirmed), _) => pieces.extend(of_shift(shop, step)),
        (Some(Kind::Piece), Some(piece)) => pieces.extend([piece]),
        (_, Some(object)) => pieces.extend(of_object(shop, object)),
        _ => {}
    }
    for referred in step.refs.iter().chain(&step.corrects).filter_map(|hash| shop.step(hash)) {
        if reaches_all(referred.kind) {
            return None;
        }
        if referred.kind == Some(Kind::SafetyConfirmed) {
            pieces.extend(of_shift(shop, referred));
        }
        pieces.extend(&referred.pieces);
        pieces.extend(referred.object.into_iter().flat_map(|object| of_object(shop, object)));
    }
    Some(())
}

/// The pieces worked on while a confirmation may hold: for the longest shift a shop can have.
fn of_shift(shop: &Shop, confirmed: &Step) -> BTreeSet<ObjectId> {
    const LONGEST_H: f64 = 24.0;
    let from = confirmed.done.start;
    let hours = shop.settings.shift_h.unwrap_or(LONGEST_H).max(LONGEST_H);
    let until = add_hours(from, hours).unwrap_or(from);
    let during = shop.steps.iter().filter(|step| (from..=until).contains(&step.done.start));
    during.flat_map(|step| step.pieces.iter().copied()).collect()
}

/// The pieces of a pour or of a job.
fn of_object(shop: &Shop, object: ObjectId) -> Vec<ObjectId> {
    if let Some(pour) = shop.pours.get(&object) {
        return pour.pieces.clone();
    }
    let of_job = shop.pieces.iter().filter(|(_, piece)| piece.now().job == Some(object));
    of_job.map(|(id, _)| *id).collect()
}

/// Kinds that concern more than the pieces they name.
fn reaches_all(kind: Option<Kind>) -> bool {
    let Some(kind) = kind else { return false };
    let shared = kind.group() == Group::Setup && !matches!(kind, Kind::Piece | Kind::RouteChosen);
    let strength = matches!(kind, Kind::Pour | Kind::Strength | Kind::Temperature);
    let devices = matches!(kind, Kind::Accept | Kind::Retire | Kind::Recover | Kind::Role | Kind::SettleFork);
    shared || strength || devices
}
