//! What may be done next on 10,000 pieces with their histories. Bound: one CPU second.
//!
//! Yardstick: reading the bodies of the same entries as JSON, once.

use serde_json::Value;
use trowelogue_testkit::crowd;
use trowelogue_testkit::trowelogue_core::entry::Content;
use trowelogue_testkit::trowelogue_core::fold::fold;
use trowelogue_testkit::trowelogue_core::moment::parse;
use trowelogue_testkit::trowelogue_core::plan::next_shop;
use trowelogue_testkit::trowelogue_core::rules::check_shop;

use crate::figure::show;

const PIECES: usize = 10_000;

pub(crate) fn run() {
    let merged = crowd::merged(PIECES);
    let bodies: Vec<String> = merged
        .records
        .iter()
        .filter_map(|record| match &record.body {
            Content::Open(body) => Some(body.to_string()),
            _ => None,
        })
        .collect();
    let shop = fold(&merged);
    let last = shop.steps.last().map(|step| step.done.start);
    let Some(at) = last.or_else(|| parse("2026-01-01T00:00:00Z").ok()) else { return };
    let parse_all = || bodies.iter().filter(|it| serde_json::from_str::<Value>(it).is_ok()).count();
    println!("planner: {PIECES} pieces, {} entries", bodies.len());
    show("next for every piece (JSON of the bodies)", || next_shop(&shop, at), parse_all);
    show("check of every piece (JSON of the bodies)", || check_shop(&shop), parse_all);
    show("fold of every entry (JSON of the bodies)", || fold(&merged), parse_all);
}
