//! The tests stand beside this file, one folder a theme; this library holds what they share.
