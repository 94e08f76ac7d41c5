//! Writes the demo shop and the sample logs: `sample DIR`. The same bytes each time.

use std::path::Path;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let into = std::env::args_os().nth(1).ok_or("usage: sample DIR")?;
    let into = Path::new(&into);
    for name in ["demo-shop", "samples"] {
        let old = into.join(name);
        if old.exists() {
            std::fs::remove_dir_all(old)?;
        }
    }
    std::fs::create_dir_all(into)?;
    trowelogue_testkit::demo::write(&into.join("demo-shop"))?;
    trowelogue_testkit::samples::write(&into.join("samples"))
}
