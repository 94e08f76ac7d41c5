//! The command line of `cargo xtask`, read by hand: seven words and four options need no library.

use crate::failure::Failure;
use crate::generated::Mode;
use crate::test;

/// What was asked for.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Chore {
    Help,
    Run,
    Test(Selection),
    Bench(Vec<String>),
    Sample(Mode),
    Codegen(Mode),
    Package,
    Screenshots,
}

/// Which stages of `test` are wanted, and whether a failed one ends the run.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Selection {
    /// Names of stages; empty means all.
    pub(crate) only: Vec<String>,
    pub(crate) keep_going: bool,
}

/// Reads the words after `cargo xtask`.
///
/// # Errors
/// An unknown chore, option or stage, each with what would be right.
pub(crate) fn parse(words: impl IntoIterator<Item = String>) -> Result<Chore, Failure> {
    let mut words = words.into_iter();
    let chore = words.next().unwrap_or_else(|| "help".into());
    let rest: Vec<String> = words.collect();
    match chore.as_str() {
        "help" | "--help" | "-h" => Ok(Chore::Help),
        "run" => nothing_more(&rest).map(|()| Chore::Run),
        "test" => selection(&rest).map(Chore::Test),
        "bench" => Ok(Chore::Bench(rest)),
        "sample" => mode(&rest).map(Chore::Sample),
        "codegen" => mode(&rest).map(Chore::Codegen),
        "package" => nothing_more(&rest).map(|()| Chore::Package),
        "screenshots" => nothing_more(&rest).map(|()| Chore::Screenshots),
        other => Err(Failure::new(format!("no chore is called {other:?}\n\n{}", help()))),
    }
}

/// The text of `cargo xtask help`.
pub(crate) fn help() -> String {
    format!(
        "cargo xtask run                    set up, print the demo shop's findings, write two papers, open the app
cargo xtask test                   set up, then every check; the stages are listed below
    --only NAME[,NAME]             these stages alone
    --keep-going                   go on after a stage that failed
cargo xtask bench [ARGUMENTS]      the benchmarks, in release; arguments go to them
cargo xtask bench window           the app in its web view on a shop of many years, beside an empty window
cargo xtask sample [--check]       write sample-logs/ again, or compare it
cargo xtask codegen [--check]      write schemas/ and the types of the UI again, or compare them
cargo xtask package                a Debian package of the app
cargo xtask screenshots            pictures of every screen of the demo shop, in target/screenshots/

Stages of test:
{}",
        test::listing()
    )
}

fn nothing_more(rest: &[String]) -> Result<(), Failure> {
    match rest.first() {
        None => Ok(()),
        Some(word) => Err(unknown(word)),
    }
}

fn mode(rest: &[String]) -> Result<Mode, Failure> {
    match rest {
        [] => Ok(Mode::Write),
        [word] if word == "--check" => Ok(Mode::Check),
        [word, ..] => Err(unknown(word)),
    }
}

fn selection(rest: &[String]) -> Result<Selection, Failure> {
    let mut chosen = Selection::default();
    let mut words = rest.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--keep-going" => chosen.keep_going = true,
            "--only" => chosen.only.extend(stage_names(words.next())?),
            _ => return Err(unknown(word)),
        }
    }
    Ok(chosen)
}

fn stage_names(list: Option<&String>) -> Result<Vec<String>, Failure> {
    let list = list.ok_or_else(|| Failure::new("--only needs the name of a stage"))?;
    let names: Vec<String> = list.split(',').map(str::to_owned).collect();
    match names.iter().find(|name| !test::is_stage(name)) {
        None => Ok(names),
        Some(name) => {
            Err(Failure::new(format!("test has no stage {name:?}; its stages are:\n{}", test::listing())))
        }
    }
}

fn unknown(word: &str) -> Failure {
    Failure::new(format!("{word:?} is not understood here; see cargo xtask help"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(line: &str) -> Result<Chore, String> {
        parse(line.split_whitespace().map(str::to_owned)).map_err(|failure| failure.to_string())
    }

    #[test]
    fn each_chore_is_known_by_its_word() {
        assert_eq!(parsed(""), Ok(Chore::Help));
        assert_eq!(parsed("run"), Ok(Chore::Run));
        assert_eq!(parsed("sample"), Ok(Chore::Sample(Mode::Write)));
        assert_eq!(parsed("codegen --check"), Ok(Chore::Codegen(Mode::Check)));
        assert_eq!(parsed("bench fold"), Ok(Chore::Bench(vec!["fold".into()])));
    }

    #[test]
    fn stages_are_chosen_by_name() {
        let chosen = Selection { only: vec!["edges".into(), "tidy".into()], keep_going: true };
        assert_eq!(parsed("test --only edges,tidy --keep-going"), Ok(Chore::Test(chosen)));
    }

    #[test]
    fn what_is_not_understood_is_named() {
        for (line, named) in [
            ("fly", "\"fly\""),
            ("run --fast", "\"--fast\""),
            ("sample --chek", "\"--chek\""),
            ("test --only edge", "\"edge\""),
            ("test --only", "--only needs"),
        ] {
            let said = parsed(line).expect_err(line);
            assert!(said.contains(named), "{line}: {said}");
        }
    }
}
