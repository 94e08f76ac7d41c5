//! The command line: arguments in, text or JSON out, the exit code of the contract.
//!
//! 0 done; 1 from `check` where a stop stands and from `verify` where something is broken; 2 bad input or usage;
//! 3 where folder or disk failed. Nothing of the trade is decided here.

mod args;
mod commands;
mod failure;
mod print;
mod progress;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    match args::Cli::try_parse() {
        Ok(cli) => commands::run(cli),
        Err(error) => failure::usage(&error),
    }
}
