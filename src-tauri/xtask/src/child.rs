//! Running a program: its output into a log file, signs of life on the terminal.

mod excerpt;

use std::fs::File;
use std::io::{BufRead, BufReader, PipeReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use crate::checkout::Checkout;
use crate::failure::Failure;
use crate::say;
use crate::tally::Tally;

pub(crate) use excerpt::Shown;

/// Nothing is silent for longer than this.
const HEARTBEAT: Duration = Duration::from_secs(20);
/// How often a program that prints nothing is asked whether it has ended.
const GLANCE: Duration = Duration::from_millis(250);
/// How much of the log is shown when a program failed.
const TAIL: usize = 80;

/// Runs a program to its end. Standard input is empty; everything printed goes to
/// `target/xtask/log/<log>.log`, and to the terminal as `shown` says.
///
/// # Errors
/// When it cannot be started or ends with anything but success; then the end of its output has
/// been printed.
pub(crate) fn run(checkout: &Checkout, command: Command, shown: Shown, log: &str) -> Result<Tally, Failure> {
    let named = spelled(&command);
    let mut watch = Watch::start(command, shown, log_path(checkout, log)?)?;
    let status = watch.until_the_end()?;
    if status.success() {
        return Ok(watch.tally);
    }
    if shown != Shown::All {
        watch.print_tail();
    }
    Err(Failure::new(format!("`{named}` ended with {status}; all of its output: {}", watch.log.display())))
}

/// Runs a short program and returns what it printed on standard output.
///
/// # Errors
/// When it cannot be started or fails; with what it said on standard error.
pub(crate) fn output(mut command: Command) -> Result<String, Failure> {
    let named = spelled(&command);
    let output = command.stdin(Stdio::null()).output().map_err(cannot_start(&named))?;
    if output.status.success() {
        return Ok(String::from_utf8_lossy(&output.stdout).into_owned());
    }
    let said = String::from_utf8_lossy(&output.stderr);
    Err(Failure::new(format!("`{named}` ended with {}: {}", output.status, said.trim())))
}

/// The command as a person would type it, for messages. Cargo is called by its whole path, which
/// nobody types.
pub(crate) fn spelled(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let program =
        if program.file_stem().is_some_and(|name| name == "cargo") { Path::new("cargo") } else { program };
    let words = std::iter::once(program.as_os_str()).chain(command.get_args());
    words.map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" ")
}

pub(crate) fn cannot_start(named: &str) -> impl FnOnce(std::io::Error) -> Failure {
    let named = named.to_owned();
    move |error| Failure::new(format!("`{named}` could not be started: {error}"))
}

fn log_path(checkout: &Checkout, log: &str) -> Result<PathBuf, Failure> {
    let folder = checkout.target("xtask/log");
    std::fs::create_dir_all(&folder).map_err(Failure::at("create", &folder))?;
    Ok(folder.join(log).with_extension("log"))
}

/// A running program and what is known of it.
struct Watch {
    child: Child,
    named: String,
    lines: Receiver<String>,
    excerpt: excerpt::Excerpt,
    log: PathBuf,
    file: File,
    tally: Tally,
    started: Instant,
    spoke: Instant,
    last: String,
}

impl Watch {
    fn start(mut command: Command, shown: Shown, log: PathBuf) -> Result<Self, Failure> {
        let named = spelled(&command);
        let file = File::create(&log).map_err(Failure::at("create", &log))?;
        let (reader, writer) = std::io::pipe().map_err(cannot_start(&named))?;
        let second = writer.try_clone().map_err(cannot_start(&named))?;
        let child = command
            .stdin(Stdio::null())
            .stdout(writer)
            .stderr(second)
            .spawn()
            .map_err(cannot_start(&named))?;
        // The command owns this process's copies of the pipe's writing end; the reader sees the end
        // of the output only when they are closed.
        drop(command);
        let now = Instant::now();
        Ok(Self {
            child,
            named,
            lines: read_lines(reader),
            excerpt: excerpt::Excerpt::new(shown),
            log,
            file,
            tally: Tally::default(),
            started: now,
            spoke: now,
            last: String::new(),
        })
    }

    /// Takes lines until the program has ended. A helper it left behind may hold the pipe open, so
    /// a silent pipe of a program that has ended is the end too.
    fn until_the_end(&mut self) -> Result<ExitStatus, Failure> {
        loop {
            match self.lines.recv_timeout(GLANCE) {
                Ok(line) => self.take(line)?,
                Err(RecvTimeoutError::Disconnected) => return self.status(Child::wait),
                Err(RecvTimeoutError::Timeout) => {
                    if let Some(status) = self.status(Child::try_wait)? {
                        return Ok(status);
                    }
                }
            }
            self.show_life();
        }
    }

    fn status<T>(&mut self, ask: impl FnOnce(&mut Child) -> std::io::Result<T>) -> Result<T, Failure> {
        ask(&mut self.child)
            .map_err(|error| Failure::new(format!("`{}` cannot be waited for: {error}", self.named)))
    }

    fn take(&mut self, line: String) -> Result<(), Failure> {
        writeln!(self.file, "{line}").map_err(Failure::at("write", &self.log))?;
        self.tally.read(&line);
        if self.excerpt.wants(&line) {
            say::line(&line);
            self.spoke = Instant::now();
        }
        if !line.trim().is_empty() {
            self.last = line;
        }
        Ok(())
    }

    fn show_life(&mut self) {
        if self.spoke.elapsed() >= HEARTBEAT {
            say::heartbeat(self.started.elapsed(), &self.last);
            self.spoke = Instant::now();
        }
    }

    fn print_tail(&self) {
        let text = read_lossily(&self.log);
        let lines: Vec<&str> = text.lines().collect();
        for line in &lines[lines.len().saturating_sub(TAIL)..] {
            say::line(line);
        }
    }
}

fn read_lossily(path: &Path) -> String {
    std::fs::read(path).map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default()
}

/// Reads on a thread of its own, so that the waiting side can look at the clock. Of a line that
/// was rewritten in place, as progress bars are, the last state counts.
fn read_lines(reader: PipeReader) -> Receiver<String> {
    let (sender, receiver) = channel();
    std::thread::spawn(move || {
        for bytes in BufReader::new(reader).split(b'\n') {
            let Ok(bytes) = bytes else { return };
            let text = String::from_utf8_lossy(&bytes);
            let text = text.trim_end_matches('\r');
            let shown = text.rsplit('\r').next().unwrap_or(text);
            if sender.send(shown.to_owned()).is_err() {
                return;
            }
        }
    });
    receiver
}
