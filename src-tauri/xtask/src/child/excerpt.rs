//! Which lines of a program's output the terminal shows; the log has all of them.

/// How much is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shown {
    /// Signs of life alone; the end of the output if the program fails.
    Quiet,
    /// Of a test run: which group runs, how it ended, and everything about failures.
    Tests,
    /// Every line.
    All,
}

/// Picks lines as they come.
pub(crate) struct Excerpt {
    shown: Shown,
    in_failures: bool,
}

impl Excerpt {
    pub(crate) fn new(shown: Shown) -> Self {
        Self { shown, in_failures: false }
    }

    /// Whether this line is shown. Lines are given in the order they came.
    pub(crate) fn wants(&mut self, line: &str) -> bool {
        match self.shown {
            Shown::Quiet => false,
            Shown::All => true,
            Shown::Tests => self.wants_of_tests(line),
        }
    }

    /// Cargo prints the output of failed tests between `failures:` and the group's closing line.
    fn wants_of_tests(&mut self, line: &str) -> bool {
        let text = line.trim_start();
        if text.starts_with("test result:") {
            self.in_failures = false;
            return true;
        }
        self.in_failures |= text == "failures:";
        self.in_failures || is_news(text)
    }
}

/// Cargo's marks, then those of Node's two reporters.
fn is_news(text: &str) -> bool {
    let cargo = ["Running ", "Doc-tests ", "error", "warning", "thread '"];
    let node = ["ok ", "not ok ", "# pass ", "# fail ", "✔ ", "✖ ", "ℹ pass ", "ℹ fail "];
    cargo.iter().chain(&node).any(|start| text.starts_with(start))
        || (text.starts_with("test ") && text.ends_with(" FAILED"))
        || text.contains("has been running for over")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picked(shown: Shown, output: &str) -> Vec<&str> {
        let mut excerpt = Excerpt::new(shown);
        output.lines().filter(|line| excerpt.wants(line)).collect()
    }

    const OUTPUT: &str = "\
   Compiling a v0.1.0
     Running unittests src/lib.rs (target/debug/deps/a-1)
test good ... ok
test bad ... FAILED
failures:
---- bad stdout ----
left: 1, right: 2
failures:
    bad
test result: FAILED. 1 passed; 1 failed
test late ... ok";

    #[test]
    fn of_a_test_run_the_failures_and_the_closing_line_are_shown() {
        assert_eq!(
            picked(Shown::Tests, OUTPUT),
            [
                "     Running unittests src/lib.rs (target/debug/deps/a-1)",
                "test bad ... FAILED",
                "failures:",
                "---- bad stdout ----",
                "left: 1, right: 2",
                "failures:",
                "    bad",
                "test result: FAILED. 1 passed; 1 failed",
            ]
        );
    }

    #[test]
    fn quiet_shows_nothing_and_all_shows_everything() {
        assert!(picked(Shown::Quiet, OUTPUT).is_empty());
        assert_eq!(picked(Shown::All, OUTPUT).len(), OUTPUT.lines().count());
    }
}
