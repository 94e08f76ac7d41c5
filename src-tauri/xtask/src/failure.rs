//! Why a stage could not be done, in a sentence for the person at the terminal.

use std::fmt;
use std::path::Path;

/// One sentence or a short list; the output of a failed program has been shown before.
#[derive(Debug)]
pub(crate) struct Failure(String);

impl Failure {
    pub(crate) fn new(sentence: impl Into<String>) -> Self {
        Self(sentence.into())
    }

    /// For `map_err` on a file operation: what was tried, on which path, and what the system said.
    pub(crate) fn at(tried: &'static str, path: &Path) -> impl FnOnce(std::io::Error) -> Self {
        let path = path.to_owned();
        move |error| Self(format!("could not {tried} {}: {error}", path.display()))
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
