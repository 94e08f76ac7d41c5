//! The journeys under `tests/app/`: the front end in a plain browser, then the app in its real web
//! view on a virtual display.

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::tally::Tally;

/// A window that hangs must not hold up everything else.
const LIMIT: &str = "20m";

/// Runs both scripts of the folder's `package.json`.
pub(super) fn perform(checkout: &Checkout) -> Result<Tally, Failure> {
    super::build(checkout)?;
    let mut tally = script(checkout, "browser")?;
    tally += script(checkout, "window")?;
    Ok(tally)
}

/// `timeout` gives the whole family of processes a group of its own and ends all of it.
fn script(checkout: &Checkout, name: &str) -> Result<Tally, Failure> {
    let mut command = checkout.command("timeout");
    command.args(["--kill-after=10", LIMIT, "npm", "run", name]);
    command.current_dir(checkout.path("tests/app")).env("NO_COLOR", "1");
    super::equip(checkout, &mut command);
    let tally = child::run(checkout, command, Shown::Tests, &format!("journeys-{name}"))?;
    if tally.is_empty() {
        return Err(Failure::new(format!("`npm run {name}` in tests/app ended well but ran no test")));
    }
    Ok(tally)
}
