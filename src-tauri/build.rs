//! Grants a permission per command and embeds the front end.

#[path = "src/command_names.rs"]
pub mod command_names;
use command_names::COMMANDS;

fn main() {
    let commands = tauri_build::AppManifest::new().commands(COMMANDS);
    let attributes = tauri_build::Attributes::new().app_manifest(commands);
    if let Err(error) = tauri_build::try_build(attributes) {
        println!("cargo::error={error:#}");
    }
}
