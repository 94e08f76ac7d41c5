//! Writes the JSON Schemas and the rules reference: `schemas DIR`.

use std::path::Path;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let into = std::env::args_os().nth(1).ok_or("usage: schemas DIR")?;
    Ok(trowelogue_testkit::schemas::write(Path::new(&into))?)
}
