//! Storing, moving, installing, handing over.

pub(crate) mod handover_gap;
pub(crate) mod rack_not_tied;
