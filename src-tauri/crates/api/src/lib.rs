//! The use cases of Trowelogue: the one public surface under the command line and the window.
//!
//! A [`Session`] is one shop folder as one home sees it; the command line opens one per command. A `Desk` holds
//! a session for the window: settings, drafts, watching. Both get the clock passed in.

mod add;
mod calc;
mod clock;
mod darkroom;
mod desk;
pub mod dto;
mod error;
mod export;
mod faults;
mod format;
mod ids;
mod import;
mod keep;
mod key_store;
mod papers;
mod photo;
mod reading;
mod say;
mod session;
pub mod words;

pub use calc::{Calculated, Strength, Sum, calc};
pub use clock::{Clock, default_home};
pub use desk::Desk;
pub use error::{ApiError, ErrorCode, Result};
pub use export::{ExportForm, Exported};
pub use import::ImportAsk;
pub use key_store::{KeyAt, KeyHolder, key_at, key_store_answers, move_key};
pub use papers::verify_paper;
pub use reading::{About, rule, rules};
pub use session::{EraseAsk, FoundedShop, JoinedShop, RecoveredShop, Session, Setup};
pub use trowelogue_core::text::{Text, text};
