//! Python environments under `target/`, every version pinned: the paper validators, and a typesetter for the benchmarks.

use std::path::{Path, PathBuf};

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

/// One environment: its folder under `target/`, and what is put into it.
pub(crate) struct Environment {
    folder: &'static str,
    requirements: &'static str,
}

/// The validators; the tests are told where by `TROWELOGUE_VENV`.
pub(crate) const VALIDATORS: Environment =
    Environment { folder: "venv", requirements: "src-tauri/xtask/requirements.txt" };

/// The typesetter; the benchmarks are told of its Python by `TROWELOGUE_TYPESETTER`.
pub(crate) const TYPESETTER: Environment =
    Environment { folder: "typesetter", requirements: "src-tauri/xtask/typesetter.txt" };

/// Where an environment lies.
pub(crate) fn folder(checkout: &Checkout, environment: &Environment) -> PathBuf {
    checkout.target(environment.folder)
}

/// Makes an environment anew unless it was made from the requirements as they stand now.
///
/// # Errors
/// When Python is missing or a package cannot be installed.
pub(crate) fn ensure(checkout: &Checkout, environment: &Environment) -> Result<Tally, Failure> {
    let requirements = checkout.path(environment.requirements);
    let wanted = std::fs::read_to_string(&requirements).map_err(Failure::at("read", &requirements))?;
    let folder = folder(checkout, environment);
    let stamp = folder.join("requirements.txt");
    if std::fs::read_to_string(&stamp).is_ok_and(|had| had == wanted) {
        say::note("all there");
        return Ok(Tally::default());
    }
    make(checkout, &folder, &requirements)?;
    std::fs::write(&stamp, wanted).map_err(Failure::at("write", &stamp))?;
    Ok(Tally::default())
}

fn make(checkout: &Checkout, folder: &Path, requirements: &Path) -> Result<(), Failure> {
    let mut venv = checkout.command("python3");
    venv.args(["-m", "venv", "--clear"]).arg(folder);
    child::run(checkout, venv, Shown::Quiet, "venv")?;
    let mut pip = checkout.command(folder.join("bin/python"));
    pip.args(["-m", "pip", "install", "--disable-pip-version-check", "--no-deps", "--requirement"]);
    pip.arg(requirements);
    child::run(checkout, pip, Shown::Quiet, "pip")?;
    Ok(())
}
