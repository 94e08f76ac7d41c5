//! Answers in words, a line at a time.

mod findings;
mod shop;
mod sums;
mod words;

pub(crate) use findings::{check, next, rules, verify};
pub(crate) use shop::{founded, joined, recovered, show};
pub(crate) use sums::calculated;

use std::io::Write as _;

use serde::Serialize;
use trowelogue_api::Text;
use trowelogue_api::dto::{Fact, Lang};

/// Standard output, collected. A reader that went away ends nothing: what it did not want is dropped.
#[derive(Default)]
pub(crate) struct Out {
    text: String,
}

impl Out {
    /// A line.
    pub(crate) fn line(&mut self, words: &str) {
        self.text.push_str(words);
        self.text.push('\n');
    }

    /// An empty line, unless nothing was said yet.
    pub(crate) fn gap(&mut self) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
    }

    /// The machine form.
    pub(crate) fn json<T: Serialize>(&mut self, value: &T) {
        // Answers are plain data: turning them into JSON cannot fail.
        self.line(&serde_json::to_string(value).unwrap_or_default());
    }

    /// Label and value under a heading.
    fn fact(&mut self, fact: &Fact) {
        self.line(&format!("    {}: {}", fact.label, fact.value));
    }

    /// Brings it out.
    pub(crate) fn flush(&mut self) {
        let mut out = std::io::stdout().lock();
        let _ = out.write_all(self.text.as_bytes()).and_then(|()| out.flush());
        self.text.clear();
    }
}

/// Something a person should know beside the answer.
pub(crate) fn remark(words: &str) {
    let _ = writeln!(std::io::stderr(), "{words}");
}

/// The words in `lang`, with `{}` filled in from the left.
pub(crate) fn say(words: Text, lang: Lang, values: &[&str]) -> String {
    let mut said = String::new();
    let mut values = values.iter();
    let mut parts = words.get(lang.into()).split("{}");
    said.push_str(parts.next().unwrap_or_default());
    for part in parts {
        said.push_str(values.next().copied().unwrap_or_default());
        said.push_str(part);
    }
    said
}
