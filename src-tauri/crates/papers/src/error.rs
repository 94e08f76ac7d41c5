//! Why a paper could not be made.

/// A paper that could not be made. Nothing is written in that case.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PaperError {
    /// A photo is not a JPEG this tool can carry unchanged.
    #[error("photo {photo}: {fault}")]
    Photo {
        /// Shortened hash or name of the photo.
        photo: String,
        /// What is wrong with it, in words.
        fault: String,
    },
    /// Two attachments share a name, or a name is empty.
    #[error("attachment {0:?}: the name is empty or used twice")]
    AttachmentName(String),
    /// A care sheet without a piece.
    #[error("a care sheet needs at least one piece")]
    NoPiece,
    /// A number in a drawing or layout is not finite or absurdly large.
    #[error("{what} is not a usable length: {value}")]
    Length {
        /// What it is a length of.
        what: &'static str,
        /// The value found.
        value: String,
    },
    /// The file could not be assembled; a fault of this program, not of the input.
    #[error("the file could not be assembled: {0}")]
    Assembly(String),
}
