//! Safety: what can hurt someone. The safety data sheet, local codes and licensed practice govern.

mod confirm;

pub(crate) mod acid_unconfirmed;
pub(crate) mod bleach_near_acid;
pub(crate) mod burner_unconfirmed;
pub(crate) mod dry_grinding;
pub(crate) mod isocyanate_unconfirmed;
pub(crate) mod no_ground_fault_guard;
pub(crate) mod on_edge_unconfirmed;
pub(crate) mod rack_not_tied;
pub(crate) mod solvent_unconfirmed;
pub(crate) mod suction_untested;

pub use confirm::{Confirmation, Prospect, confirmations};
