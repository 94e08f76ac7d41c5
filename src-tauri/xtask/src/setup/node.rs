//! The front end's packages, exactly as its lock file says, and its build.

use std::path::PathBuf;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

/// The oldest Node that the front end's tools take.
const OLDEST: (u32, u32) = (20, 19);

/// Installs the packages unless they were installed from the lock file as it stands now.
///
/// # Errors
/// When Node is missing or too old, or npm fails.
pub(crate) fn ensure(checkout: &Checkout) -> Result<Tally, Failure> {
    check_version(checkout)?;
    let lock = checkout.path("ui/package-lock.json");
    let wanted = std::fs::read(&lock).map_err(Failure::at("read", &lock))?;
    let stamp = stamp(checkout);
    if std::fs::read(&stamp).is_ok_and(|had| had == wanted) {
        say::note("all there");
        return Ok(Tally::default());
    }
    child::run(checkout, checkout.npm(["ci", "--no-audit", "--no-fund"]), Shown::Quiet, "npm-ci")?;
    std::fs::write(&stamp, wanted).map_err(Failure::at("write", &stamp))?;
    Ok(Tally::default())
}

/// Builds the front end if it never was: the shell embeds it when it is compiled.
///
/// # Errors
/// When the build fails.
pub(crate) fn ensure_dist(checkout: &Checkout) -> Result<(), Failure> {
    if !checkout.path("ui/dist/index.html").is_file() {
        child::run(checkout, checkout.npm(["run", "build"]), Shown::Quiet, "ui-build")?;
    }
    Ok(())
}

/// Inside the folder that `npm ci` empties first, so that it can never outlive what it stands for.
fn stamp(checkout: &Checkout) -> PathBuf {
    checkout.path("ui/node_modules/.installed-from.json")
}

fn check_version(checkout: &Checkout) -> Result<(), Failure> {
    let (major, minor) = OLDEST;
    let needed = format!("Node {major}.{minor} or newer is needed");
    let mut node = checkout.command("node");
    node.arg("--version");
    let said = child::output(node).map_err(|failure| Failure::new(format!("{needed}: {failure}")))?;
    match version(&said) {
        Some(found) if found >= OLDEST => Ok(()),
        _ => Err(Failure::new(format!("{needed}; this is {}", said.trim()))),
    }
}

/// Major and minor of `v20.20.2`.
fn version(said: &str) -> Option<(u32, u32)> {
    let mut parts = said.trim().trim_start_matches('v').split('.').map(str::parse);
    Some((parts.next()?.ok()?, parts.next()?.ok()?))
}

#[cfg(test)]
mod tests {
    use super::{OLDEST, version};

    #[test]
    fn versions_are_compared_as_numbers() {
        assert_eq!(version("v20.20.2\n"), Some((20, 20)));
        assert!(version("v20.9.0") < Some(OLDEST));
        assert!(version("v22.1.0") > Some(OLDEST));
        assert_eq!(version("not node"), None);
    }
}
