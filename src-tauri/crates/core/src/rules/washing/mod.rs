//! Washing: acid, what neutralises it, what is left of it.

pub(crate) mod acid_left_on;
pub(crate) mod acid_too_strong;
