//! The digest of the recorded state: the same on every device that holds the same entries.

use serde_json::{Value, json};

use crate::id::Hash;
use crate::shop::Shop;

/// SHA-256 of the RFC 8785 JSON of recorded state: entries in order with their status, devices, open forks.
/// No finding, no sum, no clock, no path takes part, so a newer version with better rules agrees with an older.
pub fn digest(shop: &Shop) -> Hash {
    let entries: Vec<Value> =
        shop.steps.iter().map(|step| json!([step.hash.to_string(), step.status.wire()])).collect();
    let devices: Vec<Value> = shop
        .devices
        .values()
        .map(|it| json!({ "id": it.id.to_string(), "role": it.role.wire(), "status": it.status.wire() }))
        .collect();
    let forks: Vec<Value> = shop
        .forks
        .iter()
        .filter(|fork| !fork.settled)
        .map(|fork| json!({ "device": fork.device.to_string(), "seq": fork.seq, "entries": fork.hashes }))
        .collect();
    let state =
        json!({ "shop": shop.id.to_string(), "entries": entries, "devices": devices, "forks": forks });
    // Strings and whole numbers only: canonicalisation cannot fail on them.
    let canonical = serde_json_canonicalizer::to_vec(&state).unwrap_or_default();
    Hash::of(&[&canonical])
}
