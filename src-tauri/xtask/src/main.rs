//! The chores of this checkout: `cargo xtask run | test | bench | sample | codegen | package | screenshots`.
//!
//! A chore is a list of stages. Each stage says its name, shows that it is alive, and stands with
//! its minutes in the closing table. The chores call cargo, npm and the project's own programs;
//! this package links none of them, so that it is compiled in seconds on a bare machine.

mod arguments;
mod bench;
mod checkout;
mod child;
mod edges;
mod failure;
mod generated;
mod ledger;
mod package;
mod run;
mod say;
mod screenshots;
mod setup;
mod tally;
mod test;
mod window;

use std::process::ExitCode;

use arguments::Chore;
use checkout::Checkout;
use failure::Failure;

fn main() -> ExitCode {
    match perform() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(failure) => {
            say::error(&failure.to_string());
            ExitCode::from(2)
        }
    }
}

/// Runs the chore named on the command line; true when every stage of it passed.
fn perform() -> Result<bool, Failure> {
    let chore = arguments::parse(std::env::args().skip(1))?;
    let checkout = Checkout::find()?;
    Ok(match chore {
        Chore::Help => {
            say::line(&arguments::help());
            true
        }
        Chore::Run => run::perform(&checkout),
        Chore::Test(selection) => test::perform(&checkout, &selection),
        Chore::Bench(filter) => bench::perform(&checkout, &filter),
        Chore::Sample(mode) => generated::sample(&checkout, mode),
        Chore::Codegen(mode) => generated::codegen(&checkout, mode),
        Chore::Package => package::perform(&checkout),
        Chore::Screenshots => screenshots::perform(&checkout),
    })
}
