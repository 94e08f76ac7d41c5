//! Safety: what can hurt someone. The safety data sheet, local codes and licensed practice govern.

mod confirm;

pub(crate) mod acid_unconfirmed;
pub(crate) mod bleach_near_acid;
pub(crate) mod burner_unconfirmed;
pub(crate) mod dry_grinding;
pub(crate) mod fluoride_cleaner;
pub(crate) mod grinder_noise;
pub(crate) mod isocyanate_unconfirmed;
pub(crate) mod no_ground_fault_guard;
pub(crate) mod no_strongback;
pub(crate) mod on_edge_unconfirmed;
pub(crate) mod rack_not_tied;
pub(crate) mod slurry_to_drain;
pub(crate) mod solvent_unconfirmed;
pub(crate) mod suction_untested;
pub(crate) mod too_heavy;
pub(crate) mod vibration_day;
pub(crate) mod wet_cement;

pub(crate) use confirm::is_acid_or_ammonia;
pub use confirm::{Confirmation, Prospect, confirmations};
pub use too_heavy::{Weight, weight};
