//! The demo shop: an invented shop, its people, its pieces, and the mistakes real work has.
//!
//! The story is told as a list of events; [`write()`] sorts them by the moment they were written down and lets
//! three simulated devices append them to one folder. Everything follows from [`SEED`]: the same bytes each time.

mod devices;
pub mod photo;
mod shop;
mod story;
mod tell;

use std::path::Path;

use serde_json::{Value, json};

pub use devices::{Crew, OWNER_PERSON};
pub use story::{Event, Planted, Story};

/// Keys, ids and salts of the demo are derived from this.
pub const SEED: &str = "demo shop, first telling";

/// The piece that is finished and shown first.
pub const SHOWPIECE: &str = "K-01";

/// The demo's whole story, in no particular order.
pub fn story() -> Story {
    let mut story = Story::new();
    shop::found(&mut story);
    tell::kitchen::tell(&mut story);
    tell::bath::tell(&mut story);
    tell::workshop::tell(&mut story);
    tell::terrace::tell(&mut story);
    story
}

/// Writes the demo shop into `folder` (which must be empty or missing), with `PLANTED.json` beside its logs.
///
/// # Errors
/// Whatever the file system or the journal refuses, and an event whose body is not a body of its kind.
pub fn write(folder: &Path) -> Result<(), Box<dyn std::error::Error>> {
    write_from(folder, tempfile::tempdir()?.path())
}

/// The same, with the homes of the demo's devices in `scratch`.
fn write_from(folder: &Path, scratch: &Path) -> Result<(), Box<dyn std::error::Error>> {
    let mut crew = Crew::found(folder, scratch)?;
    let story = story();
    let mut events = story.events.clone();
    events.sort_by_key(|event| event.wrote);
    for event in &events {
        write_photos(folder, event)?;
        crew.append(event)?;
    }
    let planted: Vec<Value> = story.planted.iter().map(|it| planted(it, &crew)).collect::<Result<_, _>>()?;
    let page = json!({ "seed": SEED, "showpiece": SHOWPIECE, "planted": planted });
    std::fs::write(folder.join("PLANTED.json"), format!("{page:#}\n"))?;
    Ok(())
}

/// Makes each of `homes` a device of the demo shop in `folder` (a copy of the demo), accepted by the demo's owner.
///
/// # Errors
/// Whatever the file system, the journal or the session refuses.
pub fn take_in(homes: &[&Path], folder: &Path) -> Result<(), Box<dyn std::error::Error>> {
    let scratch = tempfile::tempdir()?;
    write_from(&scratch.path().join("shop"), scratch.path())?;
    let now = trowelogue_api::Clock::System.now();
    for home in homes {
        let clock = trowelogue_api::Clock::System;
        let setup = trowelogue_api::Setup { home: home.to_path_buf(), clock, lang: None, units: None };
        let joined = trowelogue_api::Session::join(&setup, folder, OWNER_PERSON)?;
        devices::accept(scratch.path(), folder, joined.device.parse()?, now)?;
    }
    Ok(())
}

/// Puts the photos an event names into the folder, before the event: a photo never comes after its entry.
fn write_photos(folder: &Path, event: &Event) -> std::io::Result<()> {
    for photo in event.body["photos"].as_array().into_iter().flatten() {
        let name = photo["hash"].as_str().unwrap_or_default();
        let of = event.pieces.iter().find(|code| photo::hash(code).to_string() == name);
        let Some(code) = of else { continue };
        let dir = folder.join("photos").join(&name[..2]);
        std::fs::create_dir_all(&dir)?;
        std::fs::write(dir.join(format!("{name}.jpg")), photo::jpeg(code))?;
    }
    Ok(())
}

fn planted(planted: &Planted, crew: &Crew) -> Result<Value, String> {
    let hash = |label: &String| {
        crew.hash(label).map(|it| it.to_string()).ok_or_else(|| format!("no event is called {label}"))
    };
    let entries = planted.entries.iter().map(hash).collect::<Result<Vec<_>, _>>()?;
    Ok(
        json!({ "rule": planted.rule, "piece": planted.piece, "severity": planted.severity, "entries": entries,
        "state": if planted.accepted { "accepted" } else { "stands" }, "what": planted.what }),
    )
}
