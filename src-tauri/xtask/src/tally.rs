//! Counting tests from what the test runners print, for one plain closing line.

use std::fmt;
use std::ops::AddAssign;

/// Tests counted so far.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Tally {
    pub(crate) passed: u64,
    pub(crate) failed: u64,
    pub(crate) skipped: u64,
}

impl Tally {
    /// Adds what a line says, if it is a closing line of cargo's or Node's test runner.
    pub(crate) fn read(&mut self, line: &str) {
        if let Some(counts) = line.trim_start().strip_prefix("test result: ") {
            self.read_cargo(counts);
        } else if let Some(count) = line.strip_prefix("# ").or_else(|| line.strip_prefix("ℹ ")) {
            self.read_node(count);
        }
    }

    pub(crate) fn is_empty(self) -> bool {
        self == Self::default()
    }

    /// `ok. 12 passed; 0 failed; 1 ignored; 0 measured; 3 filtered out; finished in 0.01s`
    fn read_cargo(&mut self, counts: &str) {
        let words: Vec<&str> = counts.split([' ', ';']).filter(|word| !word.is_empty()).collect();
        for pair in words.windows(2) {
            self.count(pair[1], pair[0]);
        }
    }

    /// `pass 12`, `fail 0`, `skipped 1`
    fn read_node(&mut self, count: &str) {
        if let Some((word, number)) = count.trim_end().split_once(' ') {
            self.count(word, number);
        }
    }

    fn count(&mut self, word: &str, number: &str) {
        let Ok(number) = number.parse::<u64>() else { return };
        match word {
            "passed" | "pass" => self.passed += number,
            "failed" | "fail" => self.failed += number,
            "ignored" | "skipped" => self.skipped += number,
            _ => {}
        }
    }
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
        self.skipped += other.skipped;
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} passed, {} failed, {} skipped", self.passed, self.failed, self.skipped)
    }
}

#[cfg(test)]
mod tests {
    use super::Tally;

    fn counted(output: &str) -> Tally {
        let mut tally = Tally::default();
        output.lines().for_each(|line| tally.read(line));
        tally
    }

    #[test]
    fn closing_lines_of_both_runners_are_added_up() {
        let output = "running 3 tests\ntest a ... ok\n\
            test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured; 3 filtered out; finished in 0.01s\n\
            # tests 4\n# pass 3\n# fail 1\n# cancelled 0\n# skipped 0\n# todo 0\n# duration_ms 41.5\n";
        assert_eq!(counted(output), Tally { passed: 15, failed: 1, skipped: 1 });
    }

    #[test]
    fn the_newer_form_of_nodes_lines_is_read_too() {
        assert_eq!(counted("ℹ pass 7\nℹ fail 0\nℹ skipped 2\n"), Tally { passed: 7, failed: 0, skipped: 2 });
    }

    #[test]
    fn other_lines_count_for_nothing() {
        assert!(counted("test passed ... ok\n12 passed in a note\n# Heading 4\n").is_empty());
    }
}
