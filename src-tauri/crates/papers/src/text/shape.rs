//! Shaping: the same library measures the text and says which glyphs are drawn where.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;
use std::str::FromStr;

use rustybuzz::{BufferClusterLevel, Feature, GlyphBuffer, UnicodeBuffer};

use super::Style;
use crate::font::{Face, UNITS_PER_EM};

/// A glyph with its advance and shift, in thousandths of an em.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Glyph {
    /// Glyph number in the face's file.
    pub(crate) id: u16,
    /// How far the pen moves.
    pub(crate) advance: f64,
    /// Shift to the right, without moving the pen.
    pub(crate) dx: f64,
    /// Shift upwards.
    pub(crate) dy: f64,
    /// The bytes of the word it stands for; empty for the later glyphs of a cluster.
    pub(crate) bytes: (u32, u32),
}

/// A shaped word: the stretch between two places where a line may break, in one style.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Word {
    /// The text.
    pub(crate) text: String,
    /// Its glyphs in drawing order.
    pub(crate) glyphs: Vec<Glyph>,
    /// Sum of the advances, in em.
    pub(crate) width: f64,
    /// Width of the spaces at its end, in em.
    pub(crate) trailing: f64,
}

/// Shapes words and keeps them: a paper repeats its words many times.
#[derive(Default)]
pub(crate) struct Shaper {
    words: RefCell<HashMap<(Face, bool, String), Rc<Word>>>,
}

impl Shaper {
    /// The word in a style's face.
    pub(crate) fn word(&self, text: &str, style: Style) -> Rc<Word> {
        let key = (style.face, style.caps, text.to_owned());
        if let Some(word) = self.words.borrow().get(&key) {
            return Rc::clone(word);
        }
        let word = Rc::new(shape(text, style));
        self.words.borrow_mut().insert(key, Rc::clone(&word));
        word
    }
}

fn shape(text: &str, style: Style) -> Word {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.set_cluster_level(BufferClusterLevel::MonotoneGraphemes);
    buffer.guess_segment_properties();
    // Whatever the letters, the order of the text is kept; scripts that run the other way are marked before.
    buffer.set_direction(rustybuzz::Direction::LeftToRight);
    let shaped = rustybuzz::shape(style.face.shaper(), &features(style), buffer);
    let glyphs = collect(&shaped, text, style.tracking() * UNITS_PER_EM);
    let advance = |part: &[Glyph]| part.iter().map(|g| g.advance).sum::<f64>() / UNITS_PER_EM;
    let visible = text.trim_end_matches([' ', '\n']).len() as u32;
    let tail = glyphs.iter().rposition(|g| g.bytes.0 < visible).map_or(0, |last| last + 1);
    Word { text: text.to_owned(), width: advance(&glyphs), trailing: advance(&glyphs[tail..]), glyphs }
}

/// Ligatures are off: weak readers lose letters in them. Figures of the family are tabular as they are.
fn features(style: Style) -> Vec<Feature> {
    let wanted: &[&str] = if style.caps { &["-liga", "smcp", "c2sc"] } else { &["-liga"] };
    wanted.iter().filter_map(|name| Feature::from_str(name).ok()).collect()
}

fn collect(shaped: &GlyphBuffer, text: &str, tracking: f64) -> Vec<Glyph> {
    let infos = shaped.glyph_infos();
    let ends = cluster_ends(infos, text.len() as u32);
    let mut last = None;
    let mut glyphs = Vec::with_capacity(infos.len());
    for ((info, position), end) in infos.iter().zip(shaped.glyph_positions()).zip(ends) {
        let first = last.replace(info.cluster) != Some(info.cluster);
        glyphs.push(Glyph {
            id: info.glyph_id as u16,
            advance: f64::from(position.x_advance) + if position.x_advance > 0 { tracking } else { 0.0 },
            dx: f64::from(position.x_offset),
            dy: f64::from(position.y_offset),
            bytes: if first { (info.cluster, end) } else { (end, end) },
        });
    }
    glyphs
}

/// For each glyph the byte where its cluster ends.
fn cluster_ends(infos: &[rustybuzz::GlyphInfo], length: u32) -> Vec<u32> {
    let mut ends = vec![length; infos.len()];
    let mut next = length;
    for at in (0..infos.len()).rev() {
        if at + 1 < infos.len() && infos[at + 1].cluster != infos[at].cluster {
            next = infos[at + 1].cluster;
        }
        ends[at] = next;
    }
    ends
}
