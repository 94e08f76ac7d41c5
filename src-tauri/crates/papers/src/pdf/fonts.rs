//! Fonts in the file: each face reduced to the glyphs used, each glyph with the text it stands for.

use std::collections::BTreeMap;

use printpdf::{FontId, FontMetrics, FontType, ParsedFont, PdfFont, PdfFontMetricsStub};
use rustybuzz::ttf_parser::GlyphId;
use subsetter::GlyphRemapper;

use crate::PaperError;
use crate::font::Face;
use crate::scene::{Ink, Scene};

/// The glyphs a paper uses, with the first text each stands for.
pub(crate) struct Used {
    glyphs: BTreeMap<Face, BTreeMap<u16, String>>,
}

impl Used {
    /// Collects the glyphs of a display list.
    pub(crate) fn of(scene: &Scene) -> Self {
        let mut glyphs: BTreeMap<Face, BTreeMap<u16, String>> = BTreeMap::new();
        for item in scene.pages.iter().flat_map(|page| &page.items) {
            let Ink::Text { word, glyphs: (from, to), style, .. } = &item.ink else { continue };
            let face = glyphs.entry(style.face).or_default();
            for glyph in &word.glyphs[*from..*to] {
                face.entry(glyph.id).or_insert_with(|| glyph_text(&word.text, glyph.bytes));
            }
        }
        Self { glyphs }
    }
}

/// The text a glyph stands for. The later glyphs of a cluster stand for nothing, which a file must not say: a
/// zero-width space says it. Every kind of space is one: they share a glyph.
pub(crate) fn glyph_text(word: &str, bytes: (u32, u32)) -> String {
    match &word[bytes.0 as usize..bytes.1 as usize] {
        "" => "\u{200B}".to_owned(),
        "\u{A0}" | "\u{202F}" => " ".to_owned(),
        text => text.to_owned(),
    }
}

/// What the content streams need to know of the reduced faces.
pub(crate) struct Subsets {
    faces: BTreeMap<Face, Subset>,
}

struct Subset {
    remapper: GlyphRemapper,
    texts: BTreeMap<u16, String>,
}

impl Subsets {
    /// Number of a glyph in the reduced face, and the text the face says it stands for.
    pub(crate) fn glyph(&self, face: Face, id: u16) -> Option<(u16, &str)> {
        let subset = self.faces.get(&face)?;
        Some((subset.remapper.get(id)?, subset.texts.get(&id)?))
    }
}

/// Reduces each face used.
pub(crate) fn subset(used: &Used) -> Result<(BTreeMap<FontId, PdfFont>, Subsets), PaperError> {
    let mut fonts = BTreeMap::new();
    let mut faces = BTreeMap::new();
    for (face, texts) in &used.glyphs {
        let ids: Vec<u16> = texts.keys().copied().collect();
        let remapper = GlyphRemapper::new_from_glyphs_sorted(&ids);
        let program = subsetter::subset(face.bytes(), 0, &remapper)
            .map_err(|e| PaperError::Assembly(format!("font {face:?}: {e:?}")))?;
        fonts.insert(FontId(face.resource().into()), PdfFont::new(parsed(*face, program, &remapper)));
        faces.insert(*face, Subset { remapper, texts: texts.clone() });
    }
    Ok((fonts, Subsets { faces }))
}

/// What `printpdf` wants to know of a face; the numbers are those of the file, whose em is 1000 units.
fn parsed(face: Face, program: Vec<u8>, remapper: &GlyphRemapper) -> ParsedFont {
    let file = face.shaper();
    let advance = |old| file.glyph_hor_advance(GlyphId(old)).unwrap_or(0);
    let widths = remapper.remapped_gids().enumerate().map(|(new, old)| (new as u16, advance(old)));
    let bounds = file.global_bounding_box();
    // The caret of an upright face rises 1 and runs 0; of the italic it leans as its angle says.
    let lean = -file.italic_angle().to_radians().tan() * 1000.0;
    ParsedFont {
        original_bytes: program,
        font_index: 0,
        font_name: Some(face.subset_name().into()),
        codepoint_to_glyph: BTreeMap::new(),
        glyph_widths: widths.collect(),
        units_per_em: file.units_per_em() as u16,
        font_metrics: FontMetrics { ascent: file.ascender(), descent: file.descender() },
        font_type: FontType::TrueType,
        pdf_font_metrics: PdfFontMetricsStub {
            units_per_em: file.units_per_em() as u16,
            x_min: bounds.x_min,
            y_min: bounds.y_min,
            x_max: bounds.x_max,
            y_max: bounds.y_max,
            caret_slope_rise: 1000,
            caret_slope_run: lean.round() as i16,
            us_weight_class: file.weight().to_number(),
        },
    }
}
