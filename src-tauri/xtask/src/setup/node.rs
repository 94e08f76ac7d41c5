//! The front end's packages, exactly as its lock file says, and its build.

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

/// The oldest Node that the front end's tools take.
const OLDEST: (u32, u32) = (20, 19);

/// Installs each folder's packages unless they were installed from its lock file as it stands now.
///
/// # Errors
/// When Node is missing or too old, or npm fails.
pub(crate) fn ensure(checkout: &Checkout, folders: &[&str]) -> Result<Tally, Failure> {
    check_version(checkout)?;
    folders.iter().try_for_each(|folder| install(checkout, folder))?;
    Ok(Tally::default())
}

/// The stamp lies in the folder that `npm ci` empties first, so that it never outlives what it
/// stands for.
fn install(checkout: &Checkout, folder: &str) -> Result<(), Failure> {
    let lock = checkout.path(folder).join("package-lock.json");
    let stamp = checkout.path(folder).join("node_modules/.installed-from.json");
    let wanted = std::fs::read(&lock).map_err(Failure::at("read", &lock))?;
    if std::fs::read(&stamp).is_ok_and(|had| had == wanted) {
        say::note(format!("{folder}: all there"));
        return Ok(());
    }
    let log = format!("npm-{}", folder.replace('/', "-"));
    child::run(checkout, checkout.npm(folder, ["ci", "--no-audit", "--no-fund"]), Shown::Quiet, &log)?;
    std::fs::write(&stamp, wanted).map_err(Failure::at("write", &stamp))
}

/// Builds the front end if it never was: the shell embeds it when it is compiled.
///
/// # Errors
/// When the build fails.
pub(crate) fn ensure_dist(checkout: &Checkout) -> Result<(), Failure> {
    if !checkout.path("ui/dist/index.html").is_file() {
        child::run(checkout, checkout.npm("ui", ["run", "build"]), Shown::Quiet, "ui-build")?;
    }
    Ok(())
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
