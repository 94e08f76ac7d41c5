//! Rules that keep people from harm. They never say that something is safe: they say what the record shows.

pub(crate) mod bleach_near_acid;
pub(crate) mod dry_grinding;
pub(crate) mod no_ground_fault_guard;
