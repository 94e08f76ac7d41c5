//! The one type family of the papers, inside the program: Source Sans 3 (SIL Open Font License 1.1, see
//! `fonts/LICENSE.md`), static TrueType files as published, unchanged.

use std::sync::OnceLock;

/// A face of the family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Face {
    /// Running text.
    Regular,
    /// Headings and strong words.
    Semibold,
    /// Notes as written, asides.
    Italic,
}

/// Units of an em in every file of the family; widths in a PDF use the same.
pub(crate) const UNITS_PER_EM: f64 = 1000.0;
/// Height of what text occupies above the baseline, in em: accents on capitals included.
pub(crate) const ASCENT: f64 = 0.92;
/// Depth of what text occupies below the baseline, in em.
pub(crate) const DESCENT: f64 = 0.24;
/// Height of a capital letter, in em.
pub(crate) const CAP_HEIGHT: f64 = 0.66;

impl Face {
    /// The font file.
    pub(crate) const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../fonts/SourceSans3-Regular.ttf"),
            Self::Semibold => include_bytes!("../fonts/SourceSans3-Semibold.ttf"),
            Self::Italic => include_bytes!("../fonts/SourceSans3-It.ttf"),
        }
    }

    /// PostScript name with the subset tag a reduced font program must carry (ISO 32000-1, 9.6.4).
    pub(crate) const fn subset_name(self) -> &'static str {
        match self {
            Self::Regular => "TRWRAA+SourceSans3-Regular",
            Self::Semibold => "TRWSAA+SourceSans3-Semibold",
            Self::Italic => "TRWIAA+SourceSans3-It",
        }
    }

    /// Name of the font resource.
    pub(crate) const fn resource(self) -> &'static str {
        match self {
            Self::Regular => "TRWRAA",
            Self::Semibold => "TRWSAA",
            Self::Italic => "TRWIAA",
        }
    }

    /// The parsed face, for shaping.
    pub(crate) fn shaper(self) -> &'static rustybuzz::Face<'static> {
        static FACES: [OnceLock<rustybuzz::Face<'static>>; 3] =
            [OnceLock::new(), OnceLock::new(), OnceLock::new()];
        FACES[self as usize].get_or_init(|| parse(self))
    }

    /// Whether the face can show the character.
    pub(crate) fn has(self, c: char) -> bool {
        self.shaper().glyph_index(c).is_some_and(|glyph| glyph.0 != 0)
    }
}

/// Parses a vendored file. The files are constants of the program, and a test parses each of them.
#[expect(clippy::expect_used, reason = "the vendored files are constants; a test parses each of them")]
fn parse(face: Face) -> rustybuzz::Face<'static> {
    rustybuzz::Face::from_slice(face.bytes(), 0).expect("vendored font file")
}

#[cfg(test)]
mod tests {
    use super::*;

    const FACES: [Face; 3] = [Face::Regular, Face::Semibold, Face::Italic];

    #[test]
    fn every_vendored_file_parses_and_has_the_family_em() {
        for face in FACES {
            assert_eq!(face.shaper().units_per_em(), UNITS_PER_EM as i32);
        }
    }

    #[test]
    fn the_family_covers_what_the_trade_writes() {
        for c in "áéíñóúüÁÉÍÑÓÚÜ¿¡≥≤≠→✓²³½µ×°±–—“”‘’€…·".chars()
        {
            assert!(FACES.iter().all(|face| face.has(c)), "{c}");
        }
        assert!(!Face::Regular.has('漢'));
    }
}
