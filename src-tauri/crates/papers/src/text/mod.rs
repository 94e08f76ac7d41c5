//! Text: what can be shown, how it is shaped, where lines break.

mod lines;
mod marks;
mod shape;
#[cfg(test)]
mod tests;

pub(crate) use lines::{Line, Piece, break_lines, natural_width};
pub(crate) use marks::{has_mark, showable};
pub(crate) use shape::{Glyph, Shaper, Word};

use crate::font::Face;
use trowelogue_core::drawing::Tone;

/// How a stretch of text looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Style {
    /// The face.
    pub(crate) face: Face,
    /// Size in points.
    pub(crate) size: f64,
    /// Distance of baselines in points.
    pub(crate) leading: f64,
    /// Tone of the letters.
    pub(crate) tone: Tone,
    /// Small capitals, spaced.
    pub(crate) caps: bool,
}

impl Style {
    /// Running text of a size and line distance, in ink.
    pub(crate) const fn new(face: Face, size: f64, leading: f64) -> Self {
        Self { face, size, leading, tone: Tone::Ink, caps: false }
    }

    /// The same in another tone.
    pub(crate) const fn tone(self, tone: Tone) -> Self {
        Self { tone, ..self }
    }

    /// The same in another face.
    pub(crate) const fn face(self, face: Face) -> Self {
        Self { face, ..self }
    }

    /// The same in spaced small capitals.
    pub(crate) const fn caps(self) -> Self {
        Self { caps: true, ..self }
    }

    /// Extra space after each glyph, in em.
    pub(crate) const fn tracking(self) -> f64 {
        if self.caps { 0.06 } else { 0.0 }
    }
}

/// A stretch of text in one style.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Span {
    /// The words.
    pub(crate) text: String,
    /// Their look.
    pub(crate) style: Style,
}

impl Span {
    /// Text in a style.
    pub(crate) fn new(text: impl Into<String>, style: Style) -> Self {
        Self { text: text.into(), style }
    }
}
