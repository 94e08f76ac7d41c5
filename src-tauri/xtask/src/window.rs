//! Building the app and opening it.

use std::path::Path;
use std::process::Stdio;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

/// Whether a window can be shown at all.
pub(crate) fn has_display() -> bool {
    ["DISPLAY", "WAYLAND_DISPLAY"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}

/// The front end, as the shell will embed it: so it comes before the shell.
pub(crate) fn build_front_end(checkout: &Checkout) -> Result<Tally, Failure> {
    child::run(checkout, checkout.npm("ui", ["run", "build"]), Shown::Quiet, "ui-build")
}

pub(crate) fn build_shell(checkout: &Checkout) -> Result<Tally, Failure> {
    let command = checkout.cargo(["build", "--locked", "--package", "trowelogue-app", "--bins"]);
    child::run(checkout, command, Shown::Quiet, "build-shell")
}

/// Opens the app and waits until it is closed.
///
/// # Errors
/// When it cannot be started or ends with an error.
pub(crate) fn open(checkout: &Checkout, home: &Path, shop: &Path) -> Result<Tally, Failure> {
    let mut app = checkout.program("trowelogue-app")?;
    app.arg("--home").arg(home).arg(shop).stdin(Stdio::null());
    let named = child::spelled(&app);
    say::note(format!("$ {named}"));
    let status = app.status().map_err(child::cannot_start(&named))?;
    if status.success() {
        return Ok(Tally::default());
    }
    Err(Failure::new(format!("`{named}` ended with {status}")))
}
