//! Files that programs of this project write and that are committed: the samples, the schemas,
//! the types of the front end.
//!
//! Writing and checking are one path: everything is made anew under `target/`, then either carried
//! into the checkout or compared with it byte for byte.

pub(crate) mod folders;

use std::path::PathBuf;
use std::process::Command;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::ledger::Ledger;
use crate::say;
use crate::tally::Tally;

/// Carry into the checkout, or compare.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mode {
    Write,
    Check,
}

/// Where the programs come from that do the writing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Source {
    /// Cargo builds what it needs, and no more.
    Cargo,
    /// The whole workspace has just been built; building a part of it alone could pick other
    /// features of its libraries and compile them again.
    Built,
}

/// One generated folder.
struct Artefact {
    /// Its path in the checkout.
    folder: &'static str,
    /// Names directly in it that people write.
    hand_written: &'static [&'static str],
    make: fn(&Checkout, Source, PathBuf) -> Result<Command, Failure>,
    /// The chore that writes it.
    chore: &'static str,
    /// Tests write it as they run, into the same place: what a test run has just left there is taken.
    by_tests: bool,
}

const SAMPLES: Artefact = Artefact {
    folder: "sample-logs",
    hand_written: &["README.md"],
    make: |checkout, source, fresh| testkit(checkout, source, "sample", fresh),
    chore: "sample",
    by_tests: false,
};

const SCHEMAS: Artefact = Artefact {
    folder: "schemas",
    hand_written: &["FORMAT.md"],
    make: |checkout, source, fresh| testkit(checkout, source, "schemas", fresh),
    chore: "codegen",
    by_tests: false,
};

const BINDINGS: Artefact = Artefact {
    folder: "ui/src/generated",
    hand_written: &[],
    make: bindings,
    chore: "codegen",
    by_tests: true,
};

/// Makes the folder empty into which tests write the types of the front end, and names it: what is in it at the
/// stage `generated` comes from the tests of the same run.
///
/// # Errors
/// When it cannot be emptied.
pub(crate) fn for_the_tests(checkout: &Checkout) -> Result<PathBuf, Failure> {
    let folder = BINDINGS.fresh(checkout);
    folders::clear(&folder)?;
    Ok(folder)
}

/// The chore `sample`.
pub(crate) fn sample(checkout: &Checkout, mode: Mode) -> bool {
    chore(checkout, mode, &[&SAMPLES])
}

/// The chore `codegen`.
pub(crate) fn codegen(checkout: &Checkout, mode: Mode) -> bool {
    chore(checkout, mode, &[&SCHEMAS, &BINDINGS])
}

/// A stage of `test`: all that is generated is as it would be generated now.
///
/// # Errors
/// The files that differ, with the chore that writes them.
pub(crate) fn check_all(checkout: &Checkout) -> Result<Tally, Failure> {
    let stale: Vec<String> = [&SAMPLES, &SCHEMAS, &BINDINGS]
        .into_iter()
        .filter_map(|artefact| artefact.bring(checkout, Mode::Check, Source::Built).err())
        .map(|failure| failure.to_string())
        .collect();
    if stale.is_empty() { Ok(Tally::default()) } else { Err(Failure::new(stale.join("\n"))) }
}

fn chore(checkout: &Checkout, mode: Mode, artefacts: &[&Artefact]) -> bool {
    let mut ledger = Ledger::default();
    for artefact in artefacts {
        let about = if mode == Mode::Write { "written from the code" } else { "compared with the code" };
        ledger.stage(artefact.folder, about, || artefact.bring(checkout, mode, Source::Cargo));
    }
    ledger.close()
}

impl Artefact {
    /// Where it is made anew.
    fn fresh(&self, checkout: &Checkout) -> PathBuf {
        checkout.target("xtask/fresh").join(self.folder)
    }

    /// Makes it anew, unless the tests of this run just did.
    fn made(&self, checkout: &Checkout, source: Source) -> Result<folders::Files, Failure> {
        let fresh = self.fresh(checkout);
        if self.by_tests && source == Source::Built {
            let left = folders::read(&fresh)?;
            if !left.is_empty() {
                return Ok(left);
            }
        }
        folders::clear(&fresh)?;
        let log = self.folder.replace('/', "-");
        child::run(checkout, (self.make)(checkout, source, fresh.clone())?, Shown::Quiet, &log)?;
        folders::read(&fresh)
    }

    fn bring(&self, checkout: &Checkout, mode: Mode, source: Source) -> Result<Tally, Failure> {
        let made = self.made(checkout, source)?;
        if made.is_empty() {
            return Err(Failure::new(format!("nothing was written for {}", self.folder)));
        }
        let committed = checkout.path(self.folder);
        let mut differences = folders::differences(&made, &folders::read(&committed)?);
        differences.retain(|difference| !self.hand_written.contains(&difference.path.as_str()));
        self.settle(checkout, mode, &differences, &made)?;
        say::note(format!("{}: {} files", self.folder, made.len()));
        Ok(Tally::default())
    }

    fn settle(
        &self,
        checkout: &Checkout,
        mode: Mode,
        differences: &[folders::Difference],
        made: &folders::Files,
    ) -> Result<(), Failure> {
        let listed: Vec<String> =
            differences.iter().map(|difference| format!("{}/{difference}", self.folder)).collect();
        match mode {
            Mode::Write => {
                listed.iter().for_each(say::note);
                folders::carry_over(differences, made, &checkout.path(self.folder))
            }
            Mode::Check if listed.is_empty() => Ok(()),
            Mode::Check => Err(Failure::new(format!(
                "not as the code would write it; run: cargo xtask {}\n{}",
                self.chore,
                listed.join("\n")
            ))),
        }
    }
}

/// A program of the testkit that writes a folder, given as its only argument.
fn testkit(checkout: &Checkout, source: Source, program: &str, fresh: PathBuf) -> Result<Command, Failure> {
    let mut command = match source {
        Source::Built => checkout.program(program)?,
        Source::Cargo => {
            checkout.cargo(["run", "--locked", "--package", "trowelogue-testkit", "--bin", program, "--"])
        }
    };
    command.arg(fresh);
    Ok(command)
}

/// The types are written by tests whose names begin with `export_bindings`, into the folder that
/// `TS_RS_EXPORT_DIR` names.
fn bindings(checkout: &Checkout, source: Source, fresh: PathBuf) -> Result<Command, Failure> {
    let mut command = match source {
        Source::Built => checkout.cargo(["test", "--locked", "--workspace", "--lib", "export_bindings"]),
        Source::Cargo => {
            checkout.cargo(["test", "--locked", "--package", "trowelogue-api", "--lib", "export_bindings"])
        }
    };
    command.env("TS_RS_EXPORT_DIR", fresh);
    Ok(command)
}
