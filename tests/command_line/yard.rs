//! A place with a shop folder and any number of homes, and the built program run in it.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::{Value, json};

/// The morning on which the tests log, by the program's clock in debug builds.
pub(crate) const NOW: &str = "2025-06-02T08:00:00-06:00";

/// What the program answered.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Said {
    fn of(output: Output) -> Self {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("the program speaks UTF-8");
        let code = output.status.code().expect("the program was not killed");
        Self { code, out: text(output.stdout), err: text(output.stderr) }
    }

    /// Standard output as JSON.
    #[track_caller]
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {self:?}"))
    }

    /// The error object on standard error.
    #[track_caller]
    pub(crate) fn error(&self) -> Value {
        let told: Value = serde_json::from_str(&self.err).unwrap_or_else(|error| panic!("{error}: {self:?}"));
        told["error"].clone()
    }

    /// Holds the answer to a successful end with nothing on standard error.
    #[track_caller]
    pub(crate) fn good(self) -> Self {
        assert!(self.code == 0 && self.err.is_empty(), "{self:?}");
        self
    }
}

/// A command line being put together.
pub(crate) struct Run {
    command: Command,
    input: Vec<u8>,
}

impl Run {
    pub(crate) fn args<I: AsRef<OsStr>>(mut self, words: impl IntoIterator<Item = I>) -> Self {
        self.command.args(words);
        self
    }

    pub(crate) fn at(mut self, now: &str) -> Self {
        self.command.env("TROWELOGUE_TEST_NOW", now);
        self
    }

    pub(crate) fn input(mut self, bytes: impl Into<Vec<u8>>) -> Self {
        self.input = bytes.into();
        self
    }

    /// Runs it to its end.
    pub(crate) fn say(mut self) -> Said {
        self.command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = self.command.spawn().expect("the program starts");
        let mut stdin = child.stdin.take().expect("standard input is a pipe");
        let input = self.input;
        let feeding = std::thread::spawn(move || {
            // A program that refuses its arguments reads nothing: the pipe breaks, and that is right.
            let _ = stdin.write_all(&input);
        });
        let output = child.wait_with_output().expect("the program ends");
        feeding.join().expect("feeding ends");
        Said::of(output)
    }
}

/// A temporary place with a folder and any number of homes.
pub(crate) struct Yard {
    dir: tempfile::TempDir,
}

impl Yard {
    pub(crate) fn new() -> Self {
        Self { dir: tempfile::tempdir().expect("a temporary folder") }
    }

    /// A yard in which `ada` has founded the shop.
    pub(crate) fn founded() -> Self {
        let yard = Self::new();
        yard.run("ada", &["new", &yard.shop(), "--shop", "North Yard", "--person", "Ada Fell"]).say().good();
        yard
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.dir.path().join(name)
    }

    /// The shop folder, as a word of a command.
    pub(crate) fn shop(&self) -> String {
        self.word("shop")
    }

    pub(crate) fn word(&self, name: &str) -> String {
        self.path(name).to_str().expect("a path of this test is text").to_owned()
    }

    /// The program with a home and words.
    pub(crate) fn run(&self, home: &str, words: &[&str]) -> Run {
        let mut command = Command::new(env!("CARGO_BIN_EXE_trowelogue"));
        command.env_clear().env("TROWELOGUE_TEST_NOW", NOW).current_dir(self.dir.path());
        command.arg("--home").arg(self.path(home));
        Run { command, input: Vec::new() }.args(words)
    }

    /// Runs a command on the shop folder.
    pub(crate) fn on_shop(&self, home: &str, command: &str, words: &[&str]) -> Said {
        self.run(home, &[command, &self.shop()]).args(words).say()
    }

    /// Adds entries given as JSON.
    pub(crate) fn add(&self, home: &str, entries: &Value) -> Said {
        self.run(home, &["add", &self.shop(), "-"]).input(entries.to_string()).say()
    }

    #[track_caller]
    pub(crate) fn digest(&self, home: &str) -> String {
        let said = self.on_shop(home, "digest", &[]);
        assert_eq!(said.code, 0, "{said:?}");
        said.out.trim().to_owned()
    }

    #[track_caller]
    pub(crate) fn show(&self, home: &str) -> Value {
        self.on_shop(home, "show", &["--json"]).json()
    }

    /// Joins with a home and gives the device's id.
    #[track_caller]
    pub(crate) fn join(&self, home: &str, person: &str) -> String {
        let said = self.on_shop(home, "join", &["--person", person, "--json"]);
        assert_eq!(said.code, 0, "{said:?}");
        said.json()["device"].as_str().expect("a device").to_owned()
    }

    /// Every file below a folder of the yard, with its bytes; empty folders by their name.
    pub(crate) fn files(&self, below: &str) -> BTreeMap<PathBuf, Vec<u8>> {
        let mut files = BTreeMap::new();
        collect(&self.path(below), &mut files);
        files
    }

    /// Everything in the yard.
    pub(crate) fn everything(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        self.files("")
    }
}

fn collect(dir: &Path, files: &mut BTreeMap<PathBuf, Vec<u8>>) {
    let Ok(entries) = std::fs::read_dir(dir) else { return };
    files.insert(dir.to_owned(), Vec::new());
    for entry in entries {
        let path = entry.expect("a folder of this test can be listed").path();
        if path.is_dir() {
            collect(&path, files);
        } else {
            let bytes = std::fs::read(&path).expect("a file of this test can be read");
            files.insert(path, bytes);
        }
    }
}

/// A piece, as `add` takes it.
pub(crate) fn piece(code: &str) -> Value {
    json!({ "kind": "piece", "body": { "code": code, "name": format!("slab {code}") } })
}

/// A demoulding of a piece.
pub(crate) fn demould(code: &str) -> Value {
    json!({ "kind": "demould", "pieces": [code], "done": "2025-06-01T10:00:00-06:00", "body": { "face": ["clean"] } })
}

/// Codes of the pieces in an answer of `show`.
pub(crate) fn codes(show: &Value) -> Vec<String> {
    let pieces = show["pieces"].as_array().expect("pieces");
    pieces.iter().map(|it| it["code"].as_str().expect("a code").to_owned()).collect()
}

/// Copies a folder with everything in it.
pub(crate) fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).expect("a folder can be made");
    for entry in std::fs::read_dir(from).expect("a folder can be listed") {
        let path = entry.expect("a folder can be listed").path();
        let target = to.join(path.file_name().expect("an entry has a name"));
        if path.is_dir() {
            copy(&path, &target);
        } else {
            std::fs::copy(&path, &target).expect("a file can be copied");
        }
    }
}
