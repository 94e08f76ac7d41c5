//! Safety: what can hurt someone. The safety data sheet, local codes and licensed practice govern.

pub(crate) mod bleach_near_acid;
pub(crate) mod dry_grinding;
pub(crate) mod no_ground_fault_guard;
pub(crate) mod rack_not_tied;
