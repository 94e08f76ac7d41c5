//! `cargo xtask package`: the app as a Debian package.

use std::collections::BTreeSet;
use std::path::PathBuf;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::ledger::Ledger;
use crate::say;
use crate::setup::{self, Need};
use crate::tally::Tally;
use crate::window;

/// Sets up, then lets the web view's own tool build and wrap the release.
pub(crate) fn perform(checkout: &Checkout) -> bool {
    let mut ledger = Ledger::default();
    let needs = BTreeSet::from([Need::WebView, Need::FrontEnd]);
    let _all_passed = setup::perform(checkout, &needs, &mut ledger)
        && ledger.stage("ui", "the front end", || window::build_front_end(checkout))
        && ledger.stage("package", "a release of the app in a .deb", || bundle(checkout));
    ledger.close()
}

/// The tool is started in the root, where it finds `src-tauri/`, and told where the front end is. It
/// would build that once more, in a folder it guesses, so this step of its own is taken out.
fn bundle(checkout: &Checkout) -> Result<Tally, Failure> {
    let mut tauri = checkout.command(checkout.path("ui/node_modules/.bin/tauri"));
    tauri.args(["build", "--ci", "--bundles", "deb", "--config", r#"{"build":{"beforeBuildCommand":null}}"#]);
    tauri.env("TAURI_FRONTEND_PATH", checkout.path("ui"));
    child::run(checkout, tauri, Shown::Quiet, "package")?;
    let made = packages(checkout)?;
    if made.is_empty() {
        return Err(Failure::new("the build ended well but left no .deb"));
    }
    made.iter().for_each(|path| say::note(path.display()));
    Ok(Tally::default())
}

fn packages(checkout: &Checkout) -> Result<Vec<PathBuf>, Failure> {
    let folder = checkout.target("release/bundle/deb");
    let entries = std::fs::read_dir(&folder).map_err(Failure::at("list", &folder))?;
    let paths = entries.filter_map(Result::ok).map(|entry| entry.path());
    Ok(paths.filter(|path| path.extension().is_some_and(|ending| ending == "deb")).collect())
}
