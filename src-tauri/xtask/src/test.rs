//! `cargo xtask test`: every check, in an order in which the cheap ones fail first.
//!
//! The web view's library is the costliest thing to compile, so the whole workspace is built once,
//! tests and programs together, and everything after that uses what was built: cargo would pick
//! other features for a part of the workspace and compile the rest again.

pub(crate) mod journeys;

use std::collections::BTreeSet;
use std::process::Command;

use crate::arguments::Selection;
use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::edges;
use crate::failure::Failure;
use crate::generated;
use crate::ledger::Ledger;
use crate::run;
use crate::say;
use crate::setup::{self, Need};
use crate::tally::Tally;
use crate::window;

/// One check.
struct Stage {
    name: &'static str,
    about: &'static str,
    needs: &'static [Need],
    work: fn(&Checkout) -> Result<Tally, Failure>,
}

const STAGES: [Stage; 12] = [
    Stage { name: "format", about: "rustfmt changes nothing", needs: &[], work: format },
    Stage { name: "edges", about: "no dependency against the layout", needs: &[], work: edges::check },
    Stage { name: "tidy", about: "what a reader may rely on in every file", needs: &[], work: tidy },
    Stage {
        name: "ui",
        about: "the front end: types, build, its own tests",
        needs: &[Need::FrontEnd],
        work: ui,
    },
    Stage { name: "clippy", about: "no lint, on all targets", needs: TO_COMPILE, work: clippy },
    Stage {
        name: "docs",
        about: "the documentation builds without a warning",
        needs: TO_COMPILE,
        work: docs,
    },
    Stage { name: "build", about: "everything once, tests and programs", needs: TO_COMPILE, work: build },
    Stage { name: "tests", about: "cargo test on all packages", needs: TO_TEST, work: tests },
    Stage {
        name: "generated",
        about: "committed files are as the code writes them",
        needs: TO_COMPILE,
        work: generated_files,
    },
    Stage {
        name: "demo",
        about: "what cargo xtask run shows before its window",
        needs: TO_COMPILE,
        work: demo,
    },
    Stage {
        name: "browser",
        about: "every screen in a plain browser: accessibility, targets, text at 200 %, keyboard",
        needs: TO_BROWSE,
        work: journeys::in_a_browser,
    },
    Stage {
        name: "journeys",
        about: "a finisher's path, two apps, an app that is killed, in the real web view on a virtual display",
        needs: TO_TRAVEL,
        work: journeys::in_the_window,
    },
];

const TO_COMPILE: &[Need] = &[Need::WebView, Need::FrontEnd];
const TO_BROWSE: &[Need] = &[Need::WebView, Need::FrontEnd, Need::Browser];
const TO_TRAVEL: &[Need] = &[Need::WebView, Need::FrontEnd, Need::Display];
const TO_TEST: &[Need] =
    &[Need::WebView, Need::FrontEnd, Need::PaperTools, Need::Validators, Need::Engine, Need::FileSystems];

/// The names of all stages and what each is about, a line each.
pub(crate) fn listing() -> String {
    let lines = STAGES.iter().map(|stage| format!("    {:10} {}", stage.name, stage.about));
    lines.collect::<Vec<_>>().join("\n")
}

pub(crate) fn is_stage(name: &str) -> bool {
    STAGES.iter().any(|stage| stage.name == name)
}

/// Sets up what the chosen stages need and does them in order; true when all passed.
pub(crate) fn perform(checkout: &Checkout, selection: &Selection) -> bool {
    let chosen: Vec<&Stage> = STAGES.iter().filter(|stage| selection.wants(stage.name)).collect();
    let needs: BTreeSet<Need> = chosen.iter().flat_map(|stage| stage.needs).copied().collect();
    let mut ledger = Ledger::default();
    if let Err(failure) = generated::for_the_tests(checkout) {
        say::error(&failure.to_string());
        return false;
    }
    if setup::perform(checkout, &needs, &mut ledger) {
        for stage in chosen {
            let passed = ledger.stage(stage.name, stage.about, || (stage.work)(checkout));
            if !passed && !selection.keep_going {
                break;
            }
        }
    }
    ledger.close()
}

impl Selection {
    fn wants(&self, stage: &str) -> bool {
        self.only.is_empty() || self.only.iter().any(|name| name == stage)
    }
}

fn format(checkout: &Checkout) -> Result<Tally, Failure> {
    child::run(
        checkout,
        checkout.cargo(["fmt", "--all", "--check", "--", "--color", "never"]),
        Shown::Quiet,
        "format",
    )
}

/// A test of this package, so that nothing of the trade is compiled for it.
fn tidy(checkout: &Checkout) -> Result<Tally, Failure> {
    let command = checkout.cargo(["test", "--locked", "--package", "xtask", "--test", "tidy"]);
    child::run(checkout, command, Shown::Tests, "tidy")
}

fn ui(checkout: &Checkout) -> Result<Tally, Failure> {
    let mut tally = child::run(checkout, checkout.npm("ui", ["run", "check"]), Shown::Quiet, "ui-check")?;
    tally += window::build_front_end(checkout)?;
    tally += child::run(checkout, checkout.npm("ui", ["test"]), Shown::Quiet, "ui-test")?;
    Ok(tally)
}

fn clippy(checkout: &Checkout) -> Result<Tally, Failure> {
    setup::ensure_dist(checkout)?;
    let command =
        checkout.cargo(["clippy", "--locked", "--workspace", "--all-targets", "--", "--deny", "warnings"]);
    child::run(checkout, command, Shown::Quiet, "clippy")
}

fn docs(checkout: &Checkout) -> Result<Tally, Failure> {
    setup::ensure_dist(checkout)?;
    let mut command = checkout.cargo(["doc", "--locked", "--workspace", "--no-deps"]);
    command.env("RUSTDOCFLAGS", "--deny warnings");
    child::run(checkout, command, Shown::Quiet, "docs")
}

pub(crate) fn build(checkout: &Checkout) -> Result<Tally, Failure> {
    setup::ensure_dist(checkout)?;
    let command = checkout.cargo(["build", "--locked", "--workspace", "--all-targets"]);
    child::run(checkout, command, Shown::Quiet, "build")
}

fn tests(checkout: &Checkout) -> Result<Tally, Failure> {
    build(checkout)?;
    let mut command = checkout.cargo(["test", "--locked", "--workspace", "--no-fail-fast"]);
    equip(checkout, &mut command)?;
    child::run(checkout, command, Shown::Tests, "tests")
}

fn generated_files(checkout: &Checkout) -> Result<Tally, Failure> {
    build(checkout)?;
    generated::check_all(checkout)
}

fn demo(checkout: &Checkout) -> Result<Tally, Failure> {
    build(checkout)?;
    run::show_on_paper(checkout)
}

/// What tests are told of this machine. The types of the front end, which some tests write, go
/// beside the build, so that a test run changes nothing that is committed; the stage `generated`
/// compares them.
fn equip(checkout: &Checkout, command: &mut Command) -> Result<(), Failure> {
    command
        .env("TROWELOGUE_FUZZ_SECONDS", "20")
        .env("TROWELOGUE_VENV", setup::validators(checkout))
        .env("TROWELOGUE_PROGRAMS", checkout.programs())
        .env("TS_RS_EXPORT_DIR", generated::for_the_tests(checkout)?);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stage_names_are_plain_and_unlike() {
        let names: BTreeSet<&str> = STAGES.iter().map(|stage| stage.name).collect();
        assert_eq!(names.len(), STAGES.len());
        assert!(names.iter().all(|name| name.chars().all(|letter| letter.is_ascii_lowercase())));
    }

    #[test]
    fn a_selection_takes_its_stages_and_no_other() {
        let some = Selection { only: vec!["edges".into()], keep_going: false };
        assert!(some.wants("edges") && !some.wants("tidy"));
        assert!(Selection::default().wants("tidy"));
    }
}
