//! The one table of what a tone looks like on paper, and the type scale.
//!
//! Colours are sRGB, taken from the material: wet and dry concrete, slurry, iron oxide, glass. Every tone used
//! for letters has a contrast of at least 7:1 on the paper, and on the tints it is set on (WCAG 2.2, 1.4.6).

use trowelogue_core::drawing::Tone;

use crate::font::Face;
use crate::text::Style;

/// The colour of a tone, sRGB, 0 to 255.
pub(crate) const fn colour(tone: Tone) -> [u8; 3] {
    match tone {
        Tone::Paper => [255, 255, 255],
        Tone::Ink => [32, 34, 33],
        Tone::Graphite => [80, 83, 81],
        Tone::WetConcrete => [61, 66, 65],
        Tone::DryConcrete => [176, 172, 163],
        Tone::Slurry => [235, 232, 225],
        Tone::Cream => [247, 244, 238],
        Tone::Sand => [205, 188, 154],
        Tone::Stone => [128, 122, 113],
        Tone::IronOxide => [133, 45, 24],
        Tone::YellowOxide => [110, 75, 8],
        Tone::Glass => [16, 88, 79],
        Tone::PaleGlass => [218, 234, 229],
    }
}

/// Points in a millimetre.
pub(crate) const MM: f64 = 72.0 / 25.4;

/// Running text.
pub(crate) const BODY: Style = Style::new(Face::Regular, 9.5, 13.0);
/// Text in tables.
pub(crate) const TABLE: Style = Style::new(Face::Regular, 8.5, 11.0);
/// Small print: footers, captions, hashes.
pub(crate) const SMALL: Style = Style::new(Face::Regular, 7.5, 10.0).tone(Tone::Graphite);
/// Labels of values and columns: spaced small capitals.
pub(crate) const LABEL: Style = Style::new(Face::Regular, 8.5, 11.0).tone(Tone::Graphite).caps();
/// The code of the piece on the first page.
pub(crate) const DISPLAY: Style = Style::new(Face::Semibold, 34.0, 36.0);
/// The line under it.
pub(crate) const LEAD: Style = Style::new(Face::Regular, 14.0, 18.0).tone(Tone::WetConcrete);
/// Heading of a section.
pub(crate) const SECTION: Style = Style::new(Face::Semibold, 13.0, 16.0);
/// Heading inside a section.
pub(crate) const SUBSECTION: Style = Style::new(Face::Semibold, 10.0, 13.0);

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance (WCAG 2.2, definition of "relative luminance").
    fn luminance(tone: Tone) -> f64 {
        let linear = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        let [r, g, b] = colour(tone);
        0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)
    }

    #[test]
    fn letters_stand_out_seven_to_one_on_every_ground_they_are_set_on() {
        let letters =
            [Tone::Ink, Tone::Graphite, Tone::WetConcrete, Tone::IronOxide, Tone::YellowOxide, Tone::Glass];
        for letter in letters {
            for ground in [Tone::Paper, Tone::Cream] {
                let contrast = (luminance(ground) + 0.05) / (luminance(letter) + 0.05);
                assert!(contrast >= 7.0, "{letter:?} on {ground:?}: {contrast:.2}");
            }
        }
        for ground in [Tone::Slurry, Tone::PaleGlass] {
            let contrast = (luminance(ground) + 0.05) / (luminance(Tone::Ink) + 0.05);
            assert!(contrast >= 7.0, "ink on {ground:?}: {contrast:.2}");
        }
    }
}
