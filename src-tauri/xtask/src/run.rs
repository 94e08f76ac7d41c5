//! `cargo xtask run`: the demo shop from a bare checkout: its findings, two papers, the app.
//!
//! The demo shop is copied under `target/`, and a fresh home there joins it, so that nothing that is
//! committed and nothing of the person's own is touched.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::checkout::Checkout;
use crate::child::{self, Shown};
use crate::failure::Failure;
use crate::generated::folders;
use crate::ledger::Ledger;
use crate::say;
use crate::setup::{self, Need};
use crate::tally::Tally;
use crate::window;

/// All of it; with no display it ends after the papers, and that is no failure.
pub(crate) fn perform(checkout: &Checkout) -> bool {
    let mut ledger = Ledger::default();
    let demo = Demo::new(checkout);
    let _all_passed = demo.on_paper(&mut ledger) && demo.in_the_window(&mut ledger);
    ledger.close()
}

/// The part before the window, with the programs that were built already: a stage of `test`.
///
/// # Errors
/// As its steps.
pub(crate) fn show_on_paper(checkout: &Checkout) -> Result<Tally, Failure> {
    let demo = Demo::new(checkout);
    demo.prepare()?;
    demo.findings()?;
    demo.papers()
}

/// The copy of the demo shop and the home that has joined it.
struct Demo<'a> {
    checkout: &'a Checkout,
    shop: PathBuf,
    home: PathBuf,
}

impl<'a> Demo<'a> {
    fn new(checkout: &'a Checkout) -> Self {
        Self { checkout, shop: checkout.target("demo/shop"), home: checkout.target("demo/home") }
    }

    fn on_paper(&self, ledger: &mut Ledger) -> bool {
        ledger.stage("build", "the command line", || self.build())
            && ledger
                .stage("demo", "a copy of the demo shop, and a home that has joined it", || self.prepare())
            && ledger.stage("findings", "what the rules say about the demo shop", || self.findings())
            && ledger.stage("papers", "both papers of one finished piece", || self.papers())
    }

    fn in_the_window(&self, ledger: &mut Ledger) -> bool {
        if !window::has_display() {
            say::line(
                "\nNo display here (neither DISPLAY nor WAYLAND_DISPLAY is set), so the app is not opened.",
            );
            return true;
        }
        let needs = BTreeSet::from([Need::WebView, Need::FrontEnd]);
        setup::perform(self.checkout, &needs, ledger)
            && ledger.stage("ui", "the front end", || window::build_front_end(self.checkout))
            && ledger.stage("shell", "the app around it", || window::build_shell(self.checkout))
            && ledger.stage("app", "open until you close it", || {
                window::open(self.checkout, &self.home, &self.shop)
            })
    }

    fn build(&self) -> Result<Tally, Failure> {
        let command = self.checkout.cargo([
            "build",
            "--locked",
            "--package",
            "trowelogue-cli",
            "--package",
            "trowelogue-testkit",
            "--bins",
        ]);
        child::run(self.checkout, command, Shown::Quiet, "build-cli")
    }

    fn prepare(&self) -> Result<Tally, Failure> {
        folders::clear(&self.checkout.target("demo"))?;
        folders::copy(&self.checkout.path("sample-logs/demo-shop"), &self.shop)?;
        let mut join = self.checkout.program("demo-home")?;
        join.arg("--home").arg(&self.home).arg("--folder").arg(&self.shop);
        child::run(self.checkout, join, Shown::All, "demo-home")
    }

    /// The demo shop has planted mistakes, so the check must end with 1: a stop stands.
    fn findings(&self) -> Result<Tally, Failure> {
        let mut check = self.trowelogue("check")?;
        self.say_command(&check);
        let named = child::spelled(&check);
        let status = check.stdin(Stdio::null()).status().map_err(child::cannot_start(&named))?;
        match status.code() {
            Some(1) => {
                say::note("ended with 1, as it must: stops stand in the demo shop");
                Ok(Tally::default())
            }
            _ => Err(Failure::new(format!("`{named}` ended with {status} instead of 1"))),
        }
    }

    fn papers(&self) -> Result<Tally, Failure> {
        let piece = self.showpiece()?;
        let folder = self.checkout.target("papers");
        folders::clear(&folder)?;
        let mut written = Vec::new();
        for kind in ["record", "care"] {
            let path = folder.join(format!("{piece}-{kind}.pdf"));
            let mut command = self.trowelogue(kind)?;
            command.args(["--piece", &piece, "--out"]).arg(&path);
            self.say_command(&command);
            child::run(self.checkout, command, Shown::All, kind)?;
            written.push(path);
        }
        match written.iter().find(|path| !path.is_file()) {
            Some(path) => Err(Failure::new(format!("{} was not written", path.display()))),
            None => {
                written.iter().for_each(|path| say::note(format!("written: {}", path.display())));
                Ok(Tally::default())
            }
        }
    }

    /// The finished piece that the demo shop offers for a look.
    fn showpiece(&self) -> Result<String, Failure> {
        let path = self.checkout.path("sample-logs/demo-shop/PLANTED.json");
        let text = std::fs::read_to_string(&path).map_err(Failure::at("read", &path))?;
        let planted: Result<Value, _> = serde_json::from_str(&text);
        let code = planted.ok().and_then(|planted| Some(planted.get("showpiece")?.as_str()?.to_owned()));
        code.ok_or_else(|| Failure::new(format!("{} names no \"showpiece\"", path.display())))
    }

    /// The command line on the copy of the shop. The home is always named: the default home is the
    /// person's own.
    fn trowelogue(&self, command: &str) -> Result<Command, Failure> {
        let mut trowelogue = self.checkout.program("trowelogue")?;
        trowelogue.arg(command).arg(&self.shop).arg("--home").arg(&self.home);
        Ok(trowelogue)
    }

    fn say_command(&self, command: &Command) {
        say::note(format!("$ {}", child::spelled(command)));
    }
}
