//! Rules: each declared once, with its basis, its reason and what to do.
//!
//! A rule looks at a piece's history (entries in force, in order of work) and says what it finds. What is done
//! is judged by history alone, so a finding never changes because time passes; what is planned is judged at a
//! moment by the rule's gate.

mod case;
mod declare;
mod exceptions;
mod facts;
mod finding;
mod hit;
pub mod limits;
mod prelude;
pub(crate) mod view;

mod casting;
mod grinding;
mod handling;
mod plan_area;
mod record;
pub mod safety;
mod sealing;
mod strength;
mod washing;

#[cfg(test)]
mod near_tests;
#[cfg(test)]
pub(crate) mod testing;
#[cfg(test)]
mod tests;

pub use case::{Case, Past, Subject};
pub use declare::{Basis, Look, Looked, Rule, Severity};
pub use finding::{Fact, FactValue, Finding, State};
pub use hit::{Gate, GateState, Hit, Planned, Verdict};
pub(crate) use strength::Curves;
pub use strength::{lend, mix_seen, strength_seen};

use crate::id::{Hash, ObjectId};
use crate::moment::Moment;
use crate::shop::Shop;

mod list;
mod near;
pub use list::ALL;
pub use near::{Near, Reach, check_whole_near};

/// The rule with this code.
pub fn find(code: &str) -> Option<&'static Rule> {
    ALL.iter().copied().find(|rule| rule.code == code)
}

/// Every finding about one piece, stops first, then in order of work.
pub fn check_piece(shop: &Shop, piece: ObjectId) -> Vec<Finding> {
    check_case(&Case::new(shop, piece))
}

pub(crate) fn check_case(case: &Case<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = ALL
        .iter()
        .flat_map(|rule| rule.check(case).into_iter().map(|hit| Finding::new(rule, Some(case.piece), hit)))
        .collect();
    exceptions::apply(case, &mut findings);
    sorted(case.shop, findings)
}

/// Every finding of a shop: about people and days first, then piece by piece in order of their codes.
pub fn check_shop(shop: &Shop) -> Vec<Finding> {
    let mut pieces: Vec<_> = shop.pieces.iter().map(|(id, it)| (&it.now().code, *id)).collect();
    pieces.sort();
    let of_pieces = check_pieces(shop, pieces.into_iter().map(|(_, piece)| piece));
    check_whole(shop).into_iter().chain(of_pieces.flat_map(|(_, findings)| findings)).collect()
}

/// The findings that are about no single piece: about people, days and the record.
pub fn check_whole(shop: &Shop) -> Vec<Finding> {
    let mut findings: Vec<Finding> = ALL
        .iter()
        .flat_map(|rule| {
            rule.check_shop(shop, &Reach::All).hits.into_iter().map(|hit| Finding::new(rule, None, hit))
        })
        .collect();
    exceptions::apply_to_shop(shop, &mut findings);
    sorted(shop, findings)
}

/// The findings of several pieces, each as [`check_piece`] has them. What pieces share is worked out once.
pub fn check_pieces(
    shop: &Shop,
    pieces: impl IntoIterator<Item = ObjectId>,
) -> impl Iterator<Item = (ObjectId, Vec<Finding>)> {
    let curves = Curves::default();
    let one = move |piece| (piece, check_case(&Case::sharing(shop, piece, curves.clone())));
    pieces.into_iter().map(one)
}

/// What stands before a planned step at a moment: one gate per rule that has something to say.
pub fn gates(shop: &Shop, piece: ObjectId, planned: &Planned<'_>, at: Moment) -> Vec<Gate> {
    gates_of(&Case::new(shop, piece).before(at), planned, at)
}

/// The same for a case at hand; the planner lays steps that are still ahead into its history.
pub fn gates_of(case: &Case<'_>, planned: &Planned<'_>, at: Moment) -> Vec<Gate> {
    let mut gates: Vec<Gate> = ALL.iter().filter_map(|rule| rule.gate(case, planned, at)).collect();
    exceptions::apply_to_gates(case, &mut gates);
    gates
}

/// Stops first, then in order of work; ties by rule and entries.
fn sorted(shop: &Shop, findings: Vec<Finding>) -> Vec<Finding> {
    let moment = |hash: &Hash| shop.step(hash).map(|step| step.done.start);
    let dated = |it: Finding| (it.entries.iter().filter_map(moment).max(), it);
    let mut dated: Vec<_> = findings.into_iter().map(dated).collect();
    dated.sort_by(|(when, one), (then, other)| {
        let before = (one.severity, when, one.rule.code, &one.entries);
        before.cmp(&(other.severity, then, other.rule.code, &other.entries))
    });
    dated.into_iter().map(|(_, finding)| finding).collect()
}
