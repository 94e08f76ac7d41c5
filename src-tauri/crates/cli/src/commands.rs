//! The commands: each asks the api once and prints the answer.

mod calc;
mod paper;
mod write;

use std::path::Path;
use std::process::ExitCode;

use serde::Serialize;
use serde_json::json;
use trowelogue_api::{
    About, Clock, EraseAsk, Result, Session, Setup, Text, default_home, dto, rule, rules, text, verify_paper,
};

use crate::args::{self, Cli, Command, Global};
use crate::failure;
use crate::print::{self, Out};
use crate::progress::Progress;

/// A stop stands, or something is broken.
const FOUND: u8 = 1;

const READING: Text = text("reading the folder", "leyendo la carpeta");
const CHECKING: Text = text("checking the folder", "comprobando la carpeta");

/// Runs a command and gives the exit code.
pub(crate) fn run(cli: Cli) -> ExitCode {
    let json = cli.global.json;
    let desk = match Desk::new(&cli.global) {
        Ok(desk) => desk,
        Err(error) => return failure::tell(error, json, dto::Lang::default()),
    };
    let mut out = Out::default();
    let done = desk.perform(cli.command, &mut out);
    out.flush();
    match done {
        Ok(code) => ExitCode::from(code),
        Err(error) => failure::tell(error, json, desk.lang()),
    }
}

/// What every command works with.
struct Desk {
    setup: Setup,
    json: bool,
}

impl Desk {
    fn new(global: &Global) -> Result<Self> {
        let home = global.home.clone().map_or_else(default_home, Ok)?;
        let lang = global.lang.map(|lang| match lang {
            args::Lang::En => dto::Lang::En,
            args::Lang::Es => dto::Lang::Es,
        });
        let units = global.units.map(|units| match units {
            args::Units::Si => dto::UnitsChoice::Si,
            args::Units::Us => dto::UnitsChoice::Us,
        });
        Ok(Self { setup: Setup { home, clock: Clock::System, lang, units }, json: global.json })
    }

    fn perform(&self, command: Command, out: &mut Out) -> Result<u8> {
        match command {
            Command::New { folder, shop, person, key_store } => {
                self.with_key(key_store, || self.found(&folder, &shop, &person, out))
            }
            Command::Join { folder, person, key_store } => {
                self.with_key(key_store, || self.join(&folder, &person, out))
            }
            Command::Key { into_store, into_file } => self.key(into_store, into_file, out),
            Command::Recover { folder, code, code_file, person } => {
                let code = self.code(code, code_file.as_deref())?;
                self.recover(&folder, &code, &person, out)
            }
            Command::Accept { folder, device, role } => {
                let written = self.open(&folder)?.accept(&device, role.as_deref())?;
                self.written(&written, out)
            }
            Command::Retire { folder, device, reason } => {
                let written = self.open(&folder)?.retire(&device, reason.as_deref())?;
                self.written(&written, out)
            }
            Command::Add { folder, file, photo } => self.add(&folder, &file, &photo, out),
            Command::Passphrase { folder, set } => self.passphrase(&folder, set, out),
            Command::Erase { folder, client, entry, why } => {
                let ask = EraseAsk { client, entries: entry, why };
                let written = self.open(&folder)?.erase(&ask)?;
                self.written(&written, out)
            }
            Command::Show { folder, about } => {
                let show = self.open(&folder)?.show(&wanted(about))?;
                self.answer(&show, out, |out| print::show(&show, self.lang(), out))
            }
            Command::Check { folder, about, as_of } => {
                let check = self.open(&folder)?.check(&wanted(about), as_of.as_deref())?;
                self.answer(&check, out, |out| print::check(&check, self.lang(), out))?;
                Ok(if check.has_stop() { FOUND } else { 0 })
            }
            Command::Next { folder, about, as_of } => {
                let next = self.open(&folder)?.next(&wanted(about), as_of.as_deref())?;
                self.answer(&next, out, |out| print::next(&next, self.lang(), out))
            }
            Command::Record { folder, piece, sheet } => self.record(&folder, piece, &sheet, out),
            Command::Care { folder, about, sheet } => self.care(&folder, about, &sheet, out),
            Command::Labels { folder, about, sheet } => self.labels(&folder, about, &sheet, out),
            Command::Export { folder, form, about, out: path } => {
                self.export(&folder, form, about, &path, out)
            }
            Command::Verify { what, folder } => self.verify(&what, folder.as_deref(), out),
            Command::Restore { folder } => {
                let written = self.open(&folder)?.restore()?;
                self.answer(&json!({ "written": written }), out, |out| {
                    written.iter().for_each(|file| out.line(file));
                })
            }
            Command::Digest { folder } => {
                let digest = self.open(&folder)?.digest();
                self.answer(&json!({ "digest": digest }), out, |out| out.line(&digest))
            }
            Command::Rules { code } => {
                let rules = match code {
                    Some(code) => vec![rule(&code, self.lang())?],
                    None => rules(self.lang()),
                };
                self.answer(&json!({ "rules": rules }), out, |out| print::rules(&rules, self.lang(), out))
            }
            Command::Calc { sum } => self.calc(sum, out),
            Command::Import { what } => self.import(what, out),
        }
    }

    /// The reader's language.
    fn lang(&self) -> dto::Lang {
        self.setup.language()
    }

    fn open(&self, folder: &Path) -> Result<Session> {
        let session = {
            let _progress = Progress::start(READING.get(self.lang().into()));
            Session::open(&self.setup, folder)?
        };
        if !self.json {
            session.remarks().iter().for_each(|remark| print::remark(remark));
        }
        Ok(session)
    }

    fn verify(&self, what: &Path, folder: Option<&Path>, out: &mut Out) -> Result<u8> {
        let verify = if folder.is_some() || what.is_file() {
            let _progress = Progress::start(CHECKING.get(self.lang().into()));
            verify_paper(&self.setup, what, folder)?
        } else {
            let mut session = self.open(what)?;
            let _progress = Progress::start(CHECKING.get(self.lang().into()));
            session.verify()?
        };
        self.answer(&verify, out, |out| print::verify(&verify, self.lang(), out))?;
        Ok(if verify.breaks.is_empty() { 0 } else { FOUND })
    }

    /// Prints the machine form or the words.
    fn answer<T: Serialize>(&self, value: &T, out: &mut Out, words: impl FnOnce(&mut Out)) -> Result<u8> {
        if self.json {
            out.json(value);
        } else {
            words(out);
        }
        Ok(0)
    }
}

fn wanted(about: args::About) -> About {
    About { piece: about.piece, job: about.job }
}
