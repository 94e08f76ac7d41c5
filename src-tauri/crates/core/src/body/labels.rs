//! Words for fields and choices.

use crate::text::Text;

/// A closed choice that a form can offer.
pub trait Choice {
    /// Values as written, with their words, in the order a person is offered them.
    fn offered() -> Vec<(&'static str, Text)>;
}
