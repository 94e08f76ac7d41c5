//! Both papers over every demo piece and every variant, read back with other people's tools: `qpdf`, poppler and
//! mupdf. What must be in them comes from `api`, as it shows it everywhere else.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on says where")]
#![allow(clippy::print_stderr, reason = "a test that is passed over says so")]

mod hostile;
mod places;
mod reader;
mod shop;
mod validators;
mod variants;
