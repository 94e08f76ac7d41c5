//! The jobs, told step by step.

pub(super) mod bath;
pub(super) mod kitchen;
mod steps;
pub(super) mod terrace;
pub(super) mod workshop;
