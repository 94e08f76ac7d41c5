//! The list of rules.

use super::Rule;

/// Every rule, in the order of the reference page.
pub static ALL: &[&Rule] = &[];
