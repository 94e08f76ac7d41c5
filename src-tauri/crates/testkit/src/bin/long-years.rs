//! Makes a shop with years of work in it: `long-years --folder DIR --home DIR [--pieces N] [--at-work N]`. The
//! home founds it.

use std::path::PathBuf;

use trowelogue_testkit::crowd::long_years;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (mut folder, mut home) = (None, None);
    let (mut pieces, mut at_work) = (10_000, 400);
    for pair in arguments.chunks(2) {
        match pair {
            [flag, value] if flag == "--folder" => folder = Some(PathBuf::from(value)),
            [flag, value] if flag == "--home" => home = Some(PathBuf::from(value)),
            [flag, value] if flag == "--pieces" => pieces = value.parse()?,
            [flag, value] if flag == "--at-work" => at_work = value.parse()?,
            _ => return Err(USAGE.into()),
        }
    }
    let (Some(folder), Some(home)) = (folder, home) else { return Err(USAGE.into()) };
    long_years(&home, &folder, pieces, at_work)
}

const USAGE: &str = "usage: long-years --folder DIR --home DIR [--pieces N] [--at-work N]";
