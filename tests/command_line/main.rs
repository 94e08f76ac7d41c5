//! The built command line, driven as a person or a script drives it: two homes on one folder, the demo shop, the
//! papers, and everything that cannot be taken.
//!
//! A test of the package `trowelogue-cli`, so that cargo builds the program first and says where it lies.

mod bad_input;
mod demo;
mod devices;
mod papers;
mod places;
mod tour;
mod verify;
mod yard;
