//! The journeys: scripts under `tests/app/` that drive the built app in its real web view.

use std::path::PathBuf;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::generated::folders;
use crate::tally::Tally;

/// A window that hangs must not hold up everything else.
const LIMIT: &str = "20m";
/// Room for the desk size, 1440 by 900, with nothing cut off.
const SCREEN: &str = "-screen 0 1600x1200x24 -nolisten tcp";

/// Runs every `*.test.mjs` one after the other: they share one display and one session bus.
pub(super) fn perform(checkout: &Checkout) -> Result<Tally, Failure> {
    super::build(checkout)?;
    let scripts = scripts(checkout)?;
    let mut command = checkout.command("timeout");
    command.args(["--kill-after=10", LIMIT, "dbus-run-session", "--"]);
    command.args(["xvfb-run", "--auto-servernum", "--server-args", SCREEN]);
    command.args(["node", "--test", "--test-concurrency=1", "--test-reporter=tap"]);
    command.args(scripts);
    super::equip(checkout, &mut command);
    child::run(checkout, command, Shown::Tests, "journeys")
}

fn scripts(checkout: &Checkout) -> Result<Vec<PathBuf>, Failure> {
    let folder = checkout.path("tests/app");
    let files = folders::read(&folder)?;
    let scripts: Vec<PathBuf> =
        files.keys().filter(|path| path.ends_with(".test.mjs")).map(|path| folder.join(path)).collect();
    if scripts.is_empty() {
        return Err(Failure::new(format!("no journey (*.test.mjs) in {}", folder.display())));
    }
    Ok(scripts)
}
