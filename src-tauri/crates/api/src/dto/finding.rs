//! A finding and a rule, in words.

use super::{Fact, Severity, When};

dto! {
    /// What a finding stands for now.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum FindingState {
        /// It stands.
        Stands,
        /// A named person accepted it.
        Accepted,
        /// It waits for a moment or an entry.
        Waiting,
    }

    /// What a rule found, explained.
    pub struct Finding {
        /// Names this finding as long as rule, piece and entries stay the same.
        pub key: String,
        /// Code of the rule.
        pub rule: String,
        /// The rule as one sentence.
        pub title: String,
        /// Its weight.
        pub severity: Severity,
        /// The word for it.
        pub severity_text: String,
        /// Stands, accepted or waiting.
        pub state: FindingState,
        /// The words for it.
        pub state_text: String,
        /// The record does not say; it is no breach that was seen.
        pub cannot_tell: bool,
        /// The piece, by id; none where it is about a person, a day or the record.
        pub piece: Option<String>,
        /// The entries that caused it.
        pub entries: Vec<String>,
        /// What was measured and what it was held against.
        pub facts: Vec<Fact>,
        /// Cause, and what goes wrong later.
        pub why: String,
        /// What the rule rests on.
        pub basis: String,
        /// What to do now.
        pub remedy: String,
        /// When it clears by itself.
        pub clears_at: Option<When>,
        /// Who accepted it, and why.
        pub accepted_by: Option<String>,
        /// An exception may be recorded for it.
        pub may_except: bool,
    }

    /// A rule, explained.
    #[derive(Eq)]
    pub struct RuleText {
        /// Its code.
        pub code: String,
        /// The rule as one sentence.
        pub title: String,
        /// Its weight.
        pub severity: Severity,
        /// The word for it.
        pub severity_text: String,
        /// About people's safety.
        pub safety: bool,
        /// Cause, and what goes wrong later.
        pub why: String,
        /// What it rests on.
        pub basis: String,
        /// What to do.
        pub remedy: String,
    }
}
