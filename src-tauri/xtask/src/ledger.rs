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
        let result = work();
        let took = start.elapsed();
        if let Err(failure) = &result {
            say::error(&format!("{name}: {failure}"));
        }
        say::note(format!(
            "{name} {} in {}",
            if result.is_ok() { "done" } else { "failed" },
            say::span(took)
        ));
        self.record(name, took, &result);
        result.is_ok()
    }

    /// Prints the table, and the count of tests last, where a reader of the output looks for it.
    /// True when every stage passed.
    pub(crate) fn close(&self) -> bool {
        say::line(&self.table());
        if !self.tally.is_empty() {
            say::line(&self.tally.to_string());
        }
        self.all_passed()
    }

    fn record(&mut self, name: &str, took: Duration, result: &Result<Tally, Failure>) {
        let end = match result {
            Ok(tally) => {
                self.tally += *tally;
                End::Done
            }
            Err(_) => End::Failed,
        };
        self.rows.push((name.to_owned(), took, end));
    }

    fn all_passed(&self) -> bool {
        self.rows.iter().all(|(_, _, end)| matches!(end, End::Done))
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

    fn ledger(results: impl IntoIterator<Item = (&'static str, Result<Tally, Failure>)>) -> Ledger {
        let mut ledger = Ledger::default();
        for (name, result) in results {
            ledger.record(name, Duration::from_secs(90), &result);
        }
        ledger
    }

    #[test]
    fn a_failed_stage_is_marked_and_fails_the_whole() {
        let ledger = ledger([("first", Ok(Tally::default())), ("second", Err(Failure::new("on purpose")))]);
        assert!(!ledger.all_passed());
        assert_eq!(
            ledger.table(),
            "\nstage   minutes\nfirst      1.50\nsecond     1.50  FAILED\ntotal      3.00"
        );
    }

    #[test]
    fn counts_of_stages_are_added_up() {
        let one = Tally { passed: 1, ..Tally::default() };
        let ledger = ledger([("first", Ok(one)), ("second", Ok(one))]);
        assert!(ledger.all_passed());
        assert_eq!(ledger.tally.passed, 2);
    }
}
