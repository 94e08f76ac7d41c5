//! Papers of this home: each in a file of its own, none ever written over.

use std::path::{Path, PathBuf};

use trowelogue_core::text::{Lang, Text, text};

use super::Desk;
use crate::dto::{PaperAsk, PaperKind, PaperMade};
use crate::say::fill;
use crate::{Result, faults, keep};

const RECORD: Text = text("process-record", "registro-de-proceso");
const CARE: Text = text("care-sheet", "hoja-de-cuidado");
const LABELS: Text = text("labels", "etiquetas");
const MADE: Text = text("{name} is made ({bytes} bytes).", "{name} está hecho ({bytes} bytes).");

impl Desk {
    /// Makes a paper and keeps it among this home's papers, under a name of its own.
    ///
    /// # Errors
    /// No shop is open; there is no such piece or job; the paper cannot be made or written.
    pub fn make_paper(&self, ask: &PaperAsk) -> Result<PaperMade> {
        let (bytes, stem) = self.with(|open| {
            let bytes = open.session.paper(ask)?;
            let day = open.session.voice.local(&open.session.now()).date_naive();
            Ok((bytes, format!("{}-{}-{day}", subject(open, ask)?, kind(ask))))
        })?;
        let (path, name) = put(&self.papers(), &stem, &bytes, ask.lang.into())?;
        let say = fill(MADE, ask.lang.into(), &[("name", &name), ("bytes", &bytes.len())]);
        let path = path.display().to_string();
        Ok(PaperMade { path, name, bytes: bytes.len() as u64, sealed: false, say })
    }
}

fn kind(ask: &PaperAsk) -> &'static str {
    let words = match ask.kind {
        PaperKind::Record => RECORD,
        PaperKind::Care => CARE,
        PaperKind::Labels => LABELS,
    };
    words.get(ask.lang.into())
}

/// What the paper is of: the code of the piece or of the job, in letters every file system takes.
fn subject(open: &super::open::Open, ask: &PaperAsk) -> Result<String> {
    let shop = open.session.shop();
    let code = match (&ask.piece, &ask.job) {
        (Some(piece), _) => crate::format::piece_code(shop, open.session.piece_named(piece)?),
        (None, Some(job)) => crate::format::name_of(shop, open.session.job_named(job)?),
        (None, None) => String::new(),
    };
    let plain = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    let name: String = code.chars().take(40).map(plain).collect();
    Ok(name.trim_matches('-').to_owned())
}

/// Puts a paper under the first name that is free, or that holds the same paper already.
fn put(dir: &Path, stem: &str, bytes: &[u8], lang: Lang) -> Result<(PathBuf, String)> {
    let stem = stem.trim_start_matches('-');
    let mut number = 1;
    loop {
        let name = if number == 1 { format!("{stem}.pdf") } else { format!("{stem}-{number}.pdf") };
        let path = dir.join(&name);
        match std::fs::read(&path) {
            Ok(there) if there == bytes => return Ok((path, name)),
            Ok(_) => number += 1,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                keep::replace(&path, bytes, lang)?;
                return Ok((path, name));
            }
            Err(error) => return Err(faults::file(&path, &error, lang)),
        }
    }
}
