//! The stages of one chore: their names, times and ends, and the closing table.

use std::time::{Duration, Instant};

use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

/// What became of a stage.
enum End {
    Done,
    Failed,
}

/// The stages done so far.
#[derive(Default)]
pub(crate) struct Ledger {
    rows: Vec<(String, Duration, End)>,
    tally: Tally,
}

impl Ledger {
    /// Does one stage, saying its name before and its time after; true when it passed.
    pub(crate) fn stage(
        &mut self,
        name: &str,
        about: &str,
        work: impl FnOnce() -> Result<Tally, Failure>,
    ) -> bool {
        say::heading(name, about);
        let start = Instant::now();
        let end = match work() {
            Ok(tally) => {
                self.tally += tally;
                End::Done
            }
            Err(failure) => {
                say::error(&format!("{name}: {failure}"));
                End::Failed
            }
        };
        let took = start.elapsed();
        let passed = matches!(end, End::Done);
        say::note(format!("{name} {} in {}", if passed { "done" } else { "failed" }, say::span(took)));
        self.rows.push((name.to_owned(), took, end));
        passed
    }

    /// Prints the table, and the count of tests last, where a reader of the output looks for it.
    /// True when every stage passed.
    pub(crate) fn close(&self) -> bool {
        say::line(&self.table());
        let passed = self.rows.iter().all(|(_, _, end)| matches!(end, End::Done));
        if !self.tally.is_empty() {
            say::line(&format!("{}", self.tally));
        }
        passed
    }

    fn table(&self) -> String {
        let width = self.rows.iter().map(|(name, ..)| name.len()).max().unwrap_or(0).max(5);
        let mut table = format!("\n{:width$}  minutes", "stage");
        let mut total = Duration::ZERO;
        for (name, took, end) in &self.rows {
            total += *took;
            let mark = if matches!(end, End::Failed) { "  FAILED" } else { "" };
            table.push_str(&format!("\n{name:width$}  {:7.2}{mark}", minutes(*took)));
        }
        table.push_str(&format!("\n{:width$}  {:7.2}", "total", minutes(total)));
        table
    }
}

fn minutes(time: Duration) -> f64 {
    time.as_secs_f64() / 60.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_stage_is_marked_and_fails_the_whole() {
        let mut ledger = Ledger::default();
        assert!(ledger.stage("first", "passes", || Ok(Tally::default())));
        assert!(!ledger.stage("second", "fails", || Err(Failure::new("on purpose"))));
        assert!(!ledger.close());
        let table = ledger.table();
        let marked: Vec<&str> = table.lines().filter(|line| line.contains("FAILED")).collect();
        assert_eq!(marked.len(), 1);
        assert!(marked[0].starts_with("second"));
    }

    #[test]
    fn all_stages_passed_is_a_pass() {
        let mut ledger = Ledger::default();
        ledger.stage("only", "passes", || Ok(Tally { passed: 1, ..Tally::default() }));
        assert!(ledger.close());
        assert_eq!(ledger.tally.passed, 1);
    }
}
