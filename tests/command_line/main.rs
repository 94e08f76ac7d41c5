//! The built command line, driven as a person or a script drives it: two homes on one folder, the demo shop, the
//! papers, and everything that cannot be taken.
//!
//! A test of the package `trowelogue-cli`, so that cargo builds the program first and says where it lies.

#![allow(clippy::print_stdout, reason = "a test that is skipped says so")]
#![allow(clippy::disallowed_methods, reason = "a test hands the path of programs on")]

mod bad_input;
mod code;
mod demo;
mod devices;
mod exports;
mod papers;
mod places;
mod recovery;
mod tour;
mod verify;
mod yard;
