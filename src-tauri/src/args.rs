//! What the app may be started with: `[--home DIR] [[--folder] DIR]`.

use std::ffi::OsString;
use std::path::PathBuf;

/// The places named at the start.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Args {
    /// This device's app data; without it the platform's convention.
    pub home: Option<PathBuf>,
    /// The shop folder to open.
    pub folder: Option<PathBuf>,
}

impl Args {
    /// Reads the words after the program's name. Desktops pass words of their own: unknown options are skipped.
    /// `home_by_environment` counts where no `--home` is given.
    pub fn read(words: impl IntoIterator<Item = OsString>, home_by_environment: Option<OsString>) -> Self {
        let mut args =
            Self { home: home_by_environment.filter(|home| !home.is_empty()).map(Into::into), folder: None };
        let mut words = words.into_iter();
        while let Some(word) = words.next() {
            match word.to_str() {
                Some("--home") => args.home = words.next().map(Into::into).or(args.home),
                Some("--folder") => args.folder = words.next().map(Into::into).or(args.folder),
                Some(option) if option.starts_with('-') => {}
                _ => args.folder = Some(word.into()),
            }
        }
        args
    }
}

#[cfg(test)]
mod tests {
    use super::Args;

    fn read(words: &[&str], environment: Option<&str>) -> Args {
        Args::read(words.iter().map(Into::into), environment.map(Into::into))
    }

    #[test]
    fn home_and_folder_are_read_in_any_order() {
        let wanted = Args { home: Some("h".into()), folder: Some("f".into()) };
        assert_eq!(read(&["--home", "h", "--folder", "f"], None), wanted);
        assert_eq!(read(&["f", "--home", "h"], None), wanted);
        assert_eq!(read(&["f"], Some("h")), wanted);
    }

    #[test]
    fn a_home_by_argument_beats_the_environment() {
        assert_eq!(read(&["--home", "a"], Some("b")).home, Some("a".into()));
        assert_eq!(read(&[], Some("")).home, None);
    }

    #[test]
    fn unknown_options_and_a_missing_value_change_nothing() {
        assert_eq!(read(&["-psn_0_1", "--minimized"], None), Args::default());
        assert_eq!(read(&["--home"], Some("b")).home, Some("b".into()));
    }
}
