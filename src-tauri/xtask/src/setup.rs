//! What a machine needs beside Rust and Node, and putting it there.
//!
//! Each stage of a chore names its needs; only those are looked at. What is present is left alone.

mod debian;
mod node;
mod python;

use std::collections::BTreeSet;

use crate::checkout::Checkout;
use crate::ledger::Ledger;

pub(crate) use node::ensure_dist;

/// Where the validators lie.
pub(crate) fn validators(checkout: &Checkout) -> std::path::PathBuf {
    python::folder(checkout, &python::VALIDATORS)
}

/// The typesetter's Python.
pub(crate) fn typesetter(checkout: &Checkout) -> std::path::PathBuf {
    python::folder(checkout, &python::TYPESETTER).join("bin/python")
}

/// One thing a stage cannot do without.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Need {
    /// Headers and libraries of the system's web view, to build the app.
    WebView,
    /// Readers and checkers of PDF files.
    PaperTools,
    /// Conformance validators of PDF files, in a Python environment of their own.
    Validators,
    /// A general typesetter, to measure against.
    Typesetter,
    /// A real engine that carries a folder between devices.
    Engine,
    /// Tools to make file systems that fail.
    FileSystems,
    /// The packages of the front end.
    FrontEnd,
    /// A plain browser that a test can drive.
    Browser,
    /// A virtual display, and what drives the system's web view on it.
    Display,
}

impl Need {
    /// Debian's packages for it.
    fn packages(self) -> &'static [&'static str] {
        match self {
            Self::WebView => &["libwebkit2gtk-4.1-dev", "pkg-config"],
            Self::PaperTools => &["qpdf", "poppler-utils", "mupdf-tools"],
            Self::Validators | Self::Typesetter => &["python3", "python3-venv"],
            Self::Engine => &["syncthing"],
            Self::FileSystems => &["xfsprogs"],
            Self::FrontEnd => &[],
            Self::Browser => &["chromium"],
            Self::Display => &["webkit2gtk-driver", "xvfb", "xauth", "dbus-daemon"],
        }
    }

    /// The folder of its npm packages.
    fn npm_folder(self) -> Option<&'static str> {
        match self {
            Self::FrontEnd => Some("ui"),
            _ => None,
        }
    }
}

/// Puts everything needed in place, one stage a kind; true when all of it is there.
pub(crate) fn perform(checkout: &Checkout, needs: &BTreeSet<Need>, ledger: &mut Ledger) -> bool {
    let packages: Vec<&str> = needs.iter().flat_map(|need| need.packages()).copied().collect();
    let mut ready = true;
    if !packages.is_empty() {
        ready &=
            ledger.stage("packages", "what the system must have", || debian::ensure(checkout, &packages));
    }
    if ready && needs.contains(&Need::Validators) {
        ready &= ledger.stage("validators", "a Python environment with the paper validators", || {
            python::ensure(checkout, &python::VALIDATORS)
        });
    }
    if ready && needs.contains(&Need::Typesetter) {
        ready &= ledger.stage("typesetter", "a Python environment with a general typesetter", || {
            python::ensure(checkout, &python::TYPESETTER)
        });
    }
    let folders: Vec<&str> = needs.iter().filter_map(|need| need.npm_folder()).collect();
    if ready && !folders.is_empty() {
        let about = format!("the packages of {}", folders.join(" and "));
        ready &= ledger.stage("npm", &about, || node::ensure(checkout, &folders));
    }
    ready
}
