//! The reading commands: what is recorded, what the rules say of it, what may be done next, whether the files hold.

mod check;
mod course;
mod health;
mod next;
mod rules;
mod show;
mod steps;
pub(crate) mod verify;

pub use rules::{rule, rules};

pub(crate) use check::{accepted, entry_lines, severity_words, state_words};
pub(crate) use course::Teller;
pub(crate) use health::{health, matters};
pub(crate) use next::{day_state, first_upper, gate_code, line_of};
pub(crate) use steps::{body_value, status_words, title};
pub(crate) use verify::photos;

use trowelogue_core::id::ObjectId;

use crate::Result;
use crate::add::Book;
use crate::format::Table;
use crate::session::Session;

/// Which pieces a reading command is about.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct About {
    /// One piece, by id or code.
    pub piece: Option<String>,
    /// One job, by id or code.
    pub job: Option<String>,
}

impl Session {
    /// A piece by id or code.
    pub(crate) fn piece_named(&self, name: &str) -> Result<ObjectId> {
        Book::of(&self.view.shop)
            .find(Table::Pieces, name, self.voice.lang)
            .map_err(|error| error.field("piece"))
    }

    /// A job by id or code.
    pub(crate) fn job_named(&self, name: &str) -> Result<ObjectId> {
        Book::of(&self.view.shop).find(Table::Jobs, name, self.voice.lang).map_err(|error| error.field("job"))
    }

    /// The pieces asked about, in order of their codes.
    pub(crate) fn pieces_about(&self, about: &About) -> Result<Vec<ObjectId>> {
        let one = about.piece.as_deref().map(|name| self.piece_named(name)).transpose()?;
        let job = about.job.as_deref().map(|name| self.job_named(name)).transpose()?;
        let mut pieces: Vec<(&str, ObjectId)> = Vec::new();
        for (id, piece) in &self.shop().pieces {
            let piece = piece.now();
            if one.is_none_or(|one| one == *id) && job.is_none_or(|job| piece.job == Some(job)) {
                pieces.push((&piece.code, *id));
            }
        }
        pieces.sort();
        Ok(pieces.into_iter().map(|(_, id)| id).collect())
    }
}
