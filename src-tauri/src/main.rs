//! The desktop binary; phones enter through the library.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    trowelogue_app::run();
}
