//! The journeys under `ui/journeys`: the front end in a plain browser, the app in its real web view on a
//! virtual display, and pictures of every screen.

use std::path::Path;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::tally::Tally;

/// A window that hangs must not hold up everything else.
const LIMIT: &str = "20m";

/// Every screen over test data.
pub(super) fn in_a_browser(checkout: &Checkout) -> Result<Tally, Failure> {
    tests(checkout, "browser")
}

/// The path of a finisher, two apps on one folder, an app that is killed, and what the page may not do, in the program
/// that people get.
pub(super) fn in_the_window(checkout: &Checkout) -> Result<Tally, Failure> {
    tests(checkout, "webview")
}

/// Pictures of every screen of the demo shop, under `target/screenshots`.
///
/// # Errors
/// When something could not be built, or a screen did not come.
pub(crate) fn pictures(checkout: &Checkout) -> Result<Tally, Failure> {
    script(checkout, "screenshots", Shown::All)
}

/// How soon the window shows the day of a shop of many years, and how long its commonest touches take.
///
/// # Errors
/// When something could not be built, or the window did not come.
pub(crate) fn figures(checkout: &Checkout, programs: &Path) -> Result<Tally, Failure> {
    let mut command = checkout.npm("ui", ["run", "bench"]);
    command.env("TROWELOGUE_PROGRAMS", programs).env("TROWELOGUE_TARGET", checkout.target(""));
    child::run(checkout, command, Shown::All, "bench-window")
}

fn tests(checkout: &Checkout, name: &str) -> Result<Tally, Failure> {
    super::build(checkout)?;
    let tally = script(checkout, name, Shown::Tests)?;
    if tally.is_empty() {
        return Err(Failure::new(format!("`npm run {name}` in ui ended well but ran no test")));
    }
    Ok(tally)
}

/// `timeout` gives the whole family of processes a group of its own and ends all of it.
fn script(checkout: &Checkout, name: &str, shown: Shown) -> Result<Tally, Failure> {
    let mut command = checkout.command("timeout");
    command.args(["--kill-after=10", LIMIT, "npm", "run", name]);
    command.current_dir(checkout.path("ui")).env("NO_COLOR", "1");
    command.env("TROWELOGUE_PROGRAMS", checkout.programs()).env("TROWELOGUE_TARGET", checkout.target(""));
    child::run(checkout, command, shown, &format!("journeys-{name}"))
}
