//! The record itself: what a handover needs, and how it was kept.

pub(crate) mod clock_jumped;
pub(crate) mod entry_unreadable;
pub(crate) mod handover_gap;
pub(crate) mod photo_without_file;
pub(crate) mod reading_missing;
pub(crate) mod written_late;
