//! Debian's packages: what is missing is named and installed; on other systems it is only named.

use std::process::Command;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

/// Installs those of `packages` that are missing.
///
/// # Errors
/// When there is no right to install, or installing fails.
pub(crate) fn ensure(checkout: &Checkout, packages: &[&str]) -> Result<Tally, Failure> {
    if !is_debian() {
        say::note("this is not Debian, so nothing is installed for you. Needed under your system's names:");
        say::note(packages.join(" "));
        return Ok(Tally::default());
    }
    let missing = missing(checkout, packages);
    if missing.is_empty() {
        say::note("all there");
        return Ok(Tally::default());
    }
    say::note(format!("missing, to be installed: {}", missing.join(" ")));
    let right = Right::of_this_user(checkout, &missing)?;
    child::run(checkout, right.apt(checkout, &["update"]), Shown::Quiet, "apt-update")?;
    let mut words = vec!["install", "--yes", "--no-install-recommends"];
    words.extend(&missing);
    child::run(checkout, right.apt(checkout, &words), Shown::Quiet, "apt-install")
}

fn is_debian() -> bool {
    let release = std::fs::read_to_string("/etc/os-release").unwrap_or_default();
    is_of_debian(&release) && std::path::Path::new("/usr/bin/dpkg-query").exists()
}

/// `ID=debian`, or a system that says it is like Debian.
fn is_of_debian(release: &str) -> bool {
    release
        .lines()
        .filter_map(|line| line.strip_prefix("ID=").or_else(|| line.strip_prefix("ID_LIKE=")))
        .any(|value| value.trim_matches('"').split(' ').any(|id| id == "debian"))
}

fn missing<'a>(checkout: &Checkout, packages: &[&'a str]) -> Vec<&'a str> {
    packages.iter().copied().filter(|package| !is_installed(checkout, package)).collect()
}

/// An unknown package makes dpkg-query fail, which is "not installed" like any other state.
fn is_installed(checkout: &Checkout, package: &str) -> bool {
    let mut query = checkout.command("dpkg-query");
    query.args(["--show", "--showformat=${db:Status-Status}\n", package]);
    child::output(query).is_ok_and(|states| states.lines().any(|state| state == "installed"))
}

/// How this user may install.
enum Right {
    Root,
    Sudo,
}

impl Right {
    fn of_this_user(checkout: &Checkout, missing: &[&str]) -> Result<Self, Failure> {
        let mut id = checkout.command("id");
        id.arg("-u");
        if child::output(id)?.trim() == "0" {
            return Ok(Self::Root);
        }
        let mut sudo = checkout.command("sudo");
        sudo.arg("--version");
        if child::output(sudo).is_ok() {
            return Ok(Self::Sudo);
        }
        Err(Failure::new(format!(
            "you are not root and there is no sudo; as root: apt-get install {}",
            missing.join(" ")
        )))
    }

    fn apt(&self, checkout: &Checkout, words: &[&str]) -> Command {
        let mut command = match self {
            Self::Root => checkout.command("env"),
            Self::Sudo => {
                say::note("sudo may ask for your password");
                let mut sudo = checkout.command("sudo");
                sudo.arg("env");
                sudo
            }
        };
        // Another installation may be under way, as on a machine that has just started.
        command
            .args(["DEBIAN_FRONTEND=noninteractive", "apt-get", "-o", "DPkg::Lock::Timeout=300"])
            .args(words);
        command
    }
}

#[cfg(test)]
mod tests {
    use super::is_of_debian;

    #[test]
    fn debian_and_its_kin_are_known() {
        assert!(is_of_debian("PRETTY_NAME=\"Debian GNU/Linux 12\"\nID=debian\n"));
        assert!(is_of_debian("ID=other\nID_LIKE=\"something debian\"\n"));
        assert!(!is_of_debian("ID=fedora\nID_LIKE=\"rhel\"\nVARIANT_ID=debian\n"));
        assert!(!is_of_debian(""));
    }
}
