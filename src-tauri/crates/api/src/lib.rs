//! The use cases of Trowelogue: the one public surface under the command line and the window.
//!
//! A [`Session`] is one shop folder as one home sees it; the command line opens one per command. A `Desk` holds
//! a session for the window: settings, drafts, watching. Both get the clock passed in.

pub mod dto;
mod error;

pub use error::{ApiError, ErrorCode, Result};
pub use trowelogue_core::text::{Lang, Text, text};
