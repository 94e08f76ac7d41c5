//! The record itself: what a handover needs, and how it was kept.

pub(crate) mod handover_gap;
pub(crate) mod written_late;
