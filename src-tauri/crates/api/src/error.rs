//! Errors of the boundary: a stable code, one plain sentence, where, what was kept, what to do.

use std::path::Path;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What kind of error it is. The user interface decides by this, never by the words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[ts(export)]
#[serde(rename_all = "snake_case")]
pub enum ErrorCode {
    /// The command was not called as it has to be.
    Usage,
    /// A value cannot be taken.
    BadInput,
    /// There is no such piece.
    UnknownPiece,
    /// There is no such person, job, mix, product, tool, pour, entry or device.
    Unknown,
    /// A code or a name fits more than one.
    Ambiguous,
    /// This home never joined the shop.
    NotJoined,
    /// Only an owner may do this.
    NotOwner,
    /// An entry does not fit on a line.
    TooLong,
    /// Made by a newer version.
    NewerFormat,
    /// The folder is not there.
    FolderMissing,
    /// It cannot be written there.
    ReadOnly,
    /// The disk is full.
    DiskFull,
    /// Another process holds the home.
    Locked,
    /// The home was lost or set back: the device must go on as a new one.
    HomeBehind,
    /// `shop.json`, or a file of the home, is damaged.
    Damaged,
    /// The system failed in another way.
    Io,
}

impl ErrorCode {
    /// The exit code of the command line: 2 for bad input or usage, 3 where folder or disk failed.
    pub const fn exit(self) -> u8 {
        match self {
            Self::Usage
            | Self::BadInput
            | Self::UnknownPiece
            | Self::Unknown
            | Self::Ambiguous
            | Self::NotOwner
            | Self::TooLong => 2,
            Self::NotJoined
            | Self::NewerFormat
            | Self::FolderMissing
            | Self::ReadOnly
            | Self::DiskFull
            | Self::Locked
            | Self::HomeBehind
            | Self::Damaged
            | Self::Io => 3,
        }
    }
}

/// An error as the command line and the window get it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, Serialize, Deserialize, TS)]
#[error("{message}")]
#[ts(export)]
pub struct ApiError {
    /// What kind it is.
    pub code: ErrorCode,
    /// What happened, in one sentence.
    pub message: String,
    /// The file or folder.
    pub file: Option<String>,
    /// The line, from 1.
    #[ts(type = "number | null")]
    pub line: Option<u64>,
    /// The field.
    pub field: Option<String>,
    /// What was kept.
    pub kept: Option<String>,
    /// What to do.
    pub remedy: Option<String>,
}

/// What the functions of this crate give back.
pub type Result<T> = std::result::Result<T, ApiError>;

impl ApiError {
    /// An error with nothing but its code and sentence.
    pub fn new(code: ErrorCode, message: impl Into<String>) -> Self {
        let (file, line, field, kept, remedy) = (None, None, None, None, None);
        Self { code, message: message.into(), file, line, field, kept, remedy }
    }

    /// A value that cannot be taken.
    pub fn bad_input(field: impl Into<String>, message: impl Into<String>) -> Self {
        Self::new(ErrorCode::BadInput, message).field(field)
    }

    /// The same error, at a file.
    #[must_use]
    pub fn file(self, file: impl AsRef<Path>) -> Self {
        Self { file: Some(file.as_ref().display().to_string()), ..self }
    }

    /// The same error, at a line.
    #[must_use]
    pub fn line(self, line: u64) -> Self {
        Self { line: Some(line), ..self }
    }

    /// The same error, at a field.
    #[must_use]
    pub fn field(self, field: impl Into<String>) -> Self {
        Self { field: Some(field.into()), ..self }
    }

    /// The same error, with what was kept.
    #[must_use]
    pub fn kept(self, kept: impl Into<String>) -> Self {
        Self { kept: Some(kept.into()), ..self }
    }

    /// The same error, with what to do.
    #[must_use]
    pub fn remedy(self, remedy: impl Into<String>) -> Self {
        Self { remedy: Some(remedy.into()), ..self }
    }
}
