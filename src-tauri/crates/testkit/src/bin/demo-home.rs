//! Makes fresh homes devices of a copy of the demo shop: `demo-home --folder DIR --home DIR [--home DIR …]`.

use std::path::Path;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    let mut folder = None;
    let mut homes = Vec::new();
    for pair in arguments.chunks(2) {
        match pair {
            [flag, value] if flag == "--folder" => folder = Some(Path::new(value)),
            [flag, value] if flag == "--home" => homes.push(Path::new(value)),
            _ => return Err(USAGE.into()),
        }
    }
    match folder {
        Some(folder) if !homes.is_empty() => trowelogue_testkit::demo::take_in(&homes, folder),
        _ => Err(USAGE.into()),
    }
}

const USAGE: &str = "usage: demo-home --folder DIR --home DIR [--home DIR ...]";
