//! Makes a fresh home a device of a copy of the demo shop: `demo-home --home DIR --folder DIR`.

use std::path::Path;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    match arguments.as_slice() {
        [home_flag, home, folder_flag, folder] if home_flag == "--home" && folder_flag == "--folder" => {
            trowelogue_testkit::demo::take_in(Path::new(home), Path::new(folder))
        }
        _ => Err("usage: demo-home --home DIR --folder DIR".into()),
    }
}
