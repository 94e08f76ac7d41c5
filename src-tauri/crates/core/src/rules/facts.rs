//! Short forms for the facts of a finding.

use super::finding::{Fact, FactValue};
use crate::body::common::Answer;
use crate::text::Text;
use crate::units::Dimension;

/// A quantity.
pub(crate) const fn number(name: Text, value: f64, unit: Dimension) -> Fact {
    Fact::new(name, FactValue::Number(value, unit))
}

/// A bare number with so many decimals.
pub(crate) const fn count(name: Text, value: f64, decimals: usize) -> Fact {
    Fact::new(name, FactValue::Count(value, decimals))
}

/// A word of the product.
pub(crate) const fn word(name: Text, word: Text) -> Fact {
    Fact::new(name, FactValue::Word(word))
}

/// What somebody wrote.
pub(crate) fn said(name: Text, text: &str) -> Fact {
    Fact::new(name, FactValue::Said(text.to_owned()))
}

/// Something that is not recorded.
pub(crate) const fn missing(name: Text) -> Fact {
    Fact::new(name, FactValue::Missing)
}

/// An answer on a checklist, or that there is none.
pub(crate) fn answer(name: Text, given: Option<Answer>) -> Fact {
    given.map_or(missing(name), |it| word(name, it.label()))
}

/// Nothing, or a word that says nothing.
pub(crate) fn is_unknown(text: &str) -> bool {
    let text = text.trim().to_lowercase();
    ["", "-", "?", "unknown", "none", "n/a", "desconocido", "ninguno", "ninguna"].contains(&text.as_str())
}
