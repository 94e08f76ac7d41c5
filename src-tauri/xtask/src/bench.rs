//! `cargo xtask bench`: the benchmarks under `tests/bench/`, and that of the window, built as released.

use std::collections::BTreeSet;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::ledger::Ledger;
use crate::setup::{self, Need};
use crate::tally::Tally;
use crate::test::journeys;
use crate::window;

/// Builds first, so that nothing else runs on the machine while figures are taken. Arguments go to
/// the benchmarks; `window` alone is the one of the app in its web view.
pub(crate) fn perform(checkout: &Checkout, arguments: &[String]) -> bool {
    let mut ledger = Ledger::default();
    if arguments.first().is_some_and(|name| name == "window") {
        of_the_window(checkout, &mut ledger);
        return ledger.close();
    }
    let papers = arguments.is_empty() || arguments.iter().any(|it| "papers".contains(it.as_str()));
    let needs: BTreeSet<Need> = papers.then_some(Need::Typesetter).into_iter().collect();
    let ready = setup::perform(checkout, &needs, &mut ledger)
        && ledger.stage("build", "the benchmarks, as released", || {
            let command = checkout.cargo([
                "bench",
                "--locked",
                "--package",
                "trowelogue-tests",
                "--benches",
                "--no-run",
            ]);
            child::run(checkout, command, Shown::Quiet, "bench-build")
        });
    if ready {
        ledger.stage("bench", "figures of this machine", || {
            let mut command =
                checkout.cargo(["bench", "--locked", "--package", "trowelogue-tests", "--benches", "--"]);
            command.args(arguments).env("TROWELOGUE_TYPESETTER", setup::typesetter(checkout));
            child::run(checkout, command, Shown::All, "bench")
        });
    }
    ledger.close()
}

/// The app and an empty window of the same shell, on a shop of many years.
fn of_the_window(checkout: &Checkout, ledger: &mut Ledger) {
    let needs = BTreeSet::from([Need::WebView, Need::FrontEnd]);
    let _all_passed = setup::perform(checkout, &needs, ledger)
        && ledger.stage("ui", "the front end", || window::build_front_end(checkout))
        && ledger.stage("build", "the app and an empty window, as released", || build(checkout))
        && ledger.stage("bench", "figures of this machine", || {
            journeys::figures(checkout, &checkout.target("release"))
        });
}

fn build(checkout: &Checkout) -> Result<Tally, Failure> {
    let words =
        ["build", "--locked", "--release", "--package", "trowelogue-app", "--package", "trowelogue-testkit"];
    let mut command = checkout.cargo(words);
    command.args(["--bins", "--example", "empty"]);
    child::run(checkout, command, Shown::Quiet, "bench-build")
}
