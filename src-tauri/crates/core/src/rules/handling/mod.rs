//! Handling: what other trades bring near a piece on site.

pub(crate) mod harmful_at_install;
