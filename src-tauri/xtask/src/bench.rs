//! `cargo xtask bench`: the benchmarks under `tests/bench/`, built as released.

use std::collections::BTreeSet;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::ledger::Ledger;
use crate::setup::{self, Need};

/// Builds first, so that nothing else runs on the machine while figures are taken. Arguments go to
/// the benchmarks.
pub(crate) fn perform(checkout: &Checkout, arguments: &[String]) -> bool {
    let mut ledger = Ledger::default();
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
