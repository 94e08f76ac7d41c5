//! The routes that ship inside the binary.

use std::sync::OnceLock;

use serde_json::Value;

use super::Route;
use crate::body::setup::FinishKind;

/// The documents, in the order a person is offered them.
const DOCUMENTS: &[&str] = &[
    include_str!("../../data/routes/as_cast_washed.json"),
    include_str!("../../data/routes/as_cast_cleaned.json"),
    include_str!("../../data/routes/hand_honed.json"),
    include_str!("../../data/routes/salt_pepper.json"),
    include_str!("../../data/routes/exposed_aggregate.json"),
    include_str!("../../data/routes/exposed_glass.json"),
    include_str!("../../data/routes/pressed.json"),
    include_str!("../../data/routes/trowelled.json"),
    include_str!("../../data/routes/floor.json"),
    include_str!("../../data/routes/basin.json"),
    include_str!("../../data/routes/repair.json"),
];

/// Every shipped route.
pub fn shipped() -> &'static [Route] {
    static ROUTES: OnceLock<Vec<Route>> = OnceLock::new();
    // A test reads every document, so none is ever left out here.
    ROUTES.get_or_init(|| DOCUMENTS.iter().filter_map(|text| serde_json::from_str(text).ok()).collect())
}

/// The shipped route of which this value is a copy: told without reading it anew.
pub(super) fn shipped_as(value: &Value) -> Option<&'static Route> {
    static VALUES: OnceLock<Vec<Value>> = OnceLock::new();
    let values =
        VALUES.get_or_init(|| shipped().iter().filter_map(|it| serde_json::to_value(it).ok()).collect());
    let place = values.iter().position(|it| it.get("code") == value.get("code"))?;
    (values[place] == *value).then(|| shipped().get(place)).flatten()
}

/// The usual route for a finish.
pub fn shipped_for(finish: FinishKind) -> Option<&'static Route> {
    shipped().iter().find(|route| route.finishes.contains(&finish))
}

/// The shipped route with this code.
pub fn shipped_with(code: &str) -> Option<&'static Route> {
    shipped().iter().find(|route| route.code == code)
}

/// How many documents there are; every one must be readable.
#[cfg(test)]
pub(super) const COUNT: usize = DOCUMENTS.len();
