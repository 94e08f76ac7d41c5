//! `cargo xtask screenshots`: every screen of the demo shop, at every size, in light and dark, for looking at.

use std::collections::BTreeSet;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::ledger::Ledger;
use crate::setup::{self, Need};
use crate::tally::Tally;
use crate::test::journeys;
use crate::window;

/// True when all pictures were taken.
pub(crate) fn perform(checkout: &Checkout) -> bool {
    let mut ledger = Ledger::default();
    let needs = BTreeSet::from([Need::WebView, Need::FrontEnd, Need::Browser]);
    let _all_passed = setup::perform(checkout, &needs, &mut ledger)
        && ledger.stage("ui", "the front end", || window::build_front_end(checkout))
        && ledger.stage("bridge", "the desk for a plain browser, the demo's home", || build(checkout))
        && ledger
            .stage("pictures", "of every screen, in target/screenshots", || journeys::pictures(checkout));
    ledger.close()
}

fn build(checkout: &Checkout) -> Result<Tally, Failure> {
    let words = ["build", "--locked", "--package", "trowelogue-app", "--package", "trowelogue-testkit"];
    let mut command = checkout.cargo(words);
    command.args(["--bins", "--examples"]);
    child::run(checkout, command, Shown::Quiet, "build-bridge")
}
