//! Where things are: the checkout, its target folder, the programs built in it.

use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::failure::Failure;

/// The folders every chore works in.
pub(crate) struct Checkout {
    root: PathBuf,
    built: PathBuf,
}

impl Checkout {
    /// The checkout this program was built from.
    ///
    /// # Errors
    /// When the running program cannot be found, or lies outside a target folder.
    pub(crate) fn find() -> Result<Self, Failure> {
        let manifest = std::env::var_os("CARGO_MANIFEST_DIR")
            .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
        let root = manifest.ancestors().nth(2).map(Path::to_owned);
        let program = std::env::current_exe()
            .map_err(|error| Failure::new(format!("cannot tell where this program lies: {error}")))?;
        let built = program.parent().map(Path::to_owned);
        match (root, built) {
            (Some(root), Some(built)) if root.join("Cargo.lock").is_file() => Ok(Self { root, built }),
            _ => {
                Err(Failure::new("this is not the checkout that cargo xtask was built from; start it there"))
            }
        }
    }

    /// A path inside the checkout.
    pub(crate) fn path(&self, relative: &str) -> PathBuf {
        self.root.join(relative)
    }

    /// A path inside the target folder, wherever cargo was told to keep it.
    pub(crate) fn target(&self, relative: &str) -> PathBuf {
        self.built.parent().unwrap_or(&self.built).join(relative)
    }

    /// The folder of the programs of the development build.
    pub(crate) fn programs(&self) -> &Path {
        &self.built
    }

    /// A program of the development build, started from the root of the checkout.
    ///
    /// # Errors
    /// When the build made no program of that name.
    pub(crate) fn program(&self, name: &str) -> Result<Command, Failure> {
        let path = self.built.join(name).with_extension(std::env::consts::EXE_EXTENSION);
        if path.is_file() {
            return Ok(self.command(&path));
        }
        Err(Failure::new(format!("the build made no program {name}: {} is not there", path.display())))
    }

    /// Cargo, with the words given.
    pub(crate) fn cargo<const N: usize>(&self, words: [&str; N]) -> Command {
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        let mut command = self.command(cargo);
        command.args(words).env("CARGO_TERM_COLOR", "never");
        command
    }

    /// Npm in one of the folders with a `package.json`.
    pub(crate) fn npm<const N: usize>(&self, folder: &str, words: [&str; N]) -> Command {
        let mut command = self.command("npm");
        command.args(words).current_dir(self.path(folder)).env("NO_COLOR", "1");
        command
    }

    /// Any program, started from the root, without what cargo told this one about its own package.
    pub(crate) fn command(&self, program: impl AsRef<OsStr>) -> Command {
        let mut command = Command::new(program);
        command.current_dir(&self.root);
        for name in about_this_package() {
            command.env_remove(name);
        }
        command
    }
}

fn about_this_package() -> impl Iterator<Item = OsString> {
    std::env::vars_os().map(|(name, _)| name).filter(|name| {
        name.to_str().is_some_and(|name| {
            ["CARGO_PKG_", "CARGO_MANIFEST_", "CARGO_BIN_", "CARGO_CRATE_", "CARGO_PRIMARY_"]
                .iter()
                .any(|start| name.starts_with(start))
        })
    })
}
