//! Line breaking: greedy, at the places the Unicode line breaking algorithm (UAX 14) allows, except between a
//! number and its unit. A word wider than the line is broken inside; nothing ever sticks out.

use std::rc::Rc;

use unicode_linebreak::{BreakOpportunity, linebreaks};

use super::{Glyph, Shaper, Span, Style, Word, showable};
use crate::font::UNITS_PER_EM;

/// A word, or a part of one, on a line.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Piece {
    /// The word.
    pub(crate) word: Rc<Word>,
    /// Which of its glyphs stand here.
    pub(crate) glyphs: (usize, usize),
    /// Its look.
    pub(crate) style: Style,
    /// Distance from the start of the line, in points.
    pub(crate) x: f64,
    /// Width with trailing spaces, in points.
    pub(crate) width: f64,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Line {
    /// What stands on it.
    pub(crate) pieces: Vec<Piece>,
    /// Width without trailing spaces, in points.
    pub(crate) width: f64,
    /// Greatest line distance of its styles, in points.
    pub(crate) leading: f64,
    /// Greatest size of its styles, in points.
    pub(crate) size: f64,
}

/// A word that waits for its place; `breaks` says that a line may end after it, `ends` that it must.
struct Unit {
    word: Rc<Word>,
    style: Style,
    breaks: bool,
    ends: bool,
}

/// Sets spans into lines no wider than `width` points.
pub(crate) fn break_lines(shaper: &Shaper, spans: &[Span], width: f64) -> Vec<Line> {
    let units = units(shaper, spans);
    let mut setter = Setter { width, lines: Vec::new(), line: Line::default(), pen: 0.0 };
    let mut from = 0;
    while from < units.len() {
        let length = units[from..].iter().position(|unit| unit.breaks).map_or(units.len() - from, |n| n + 1);
        let chunk = &units[from..from + length];
        setter.place(chunk);
        from += length;
    }
    setter.finish(spans)
}

/// Width of the spans on one endless line, and of their widest unbreakable part, in points.
pub(crate) fn natural_width(shaper: &Shaper, spans: &[Span]) -> (f64, f64) {
    let (mut whole, mut part, mut widest, mut longest) = (0.0_f64, 0.0_f64, 0.0_f64, 0.0_f64);
    for unit in units(shaper, spans) {
        let visible = (unit.word.width - unit.word.trailing) * unit.style.size;
        longest = longest.max(whole + visible);
        widest = widest.max(part + visible);
        let full = unit.word.width * unit.style.size;
        whole = if unit.ends { 0.0 } else { whole + full };
        part = if unit.breaks { 0.0 } else { part + full };
    }
    (longest, widest)
}

fn units(shaper: &Shaper, spans: &[Span]) -> Vec<Unit> {
    let texts: Vec<_> = spans.iter().map(|span| showable(&span.text, span.style.face)).collect();
    let whole: String = texts.concat();
    let mut breaks = linebreaks(&whole).filter(|(at, kind)| may_break(&whole, *at, *kind)).peekable();
    let mut units = Vec::new();
    let mut start = 0;
    for (span, text) in spans.iter().zip(&texts) {
        let end = start + text.len();
        let mut from = start;
        while from < end {
            let next = breaks.peek().copied().unwrap_or((whole.len(), BreakOpportunity::Mandatory));
            let to = next.0.min(end);
            let here = to == next.0;
            if here {
                breaks.next();
            }
            let ends = here && next.1 == BreakOpportunity::Mandatory && to < whole.len();
            let shown = whole[from..to].trim_end_matches('\n');
            units.push(Unit { word: shaper.word(shown, span.style), style: span.style, breaks: here, ends });
            from = to;
        }
        start = end;
    }
    units
}

/// A value stays with its unit: no line ends between a figure and a following word of up to four letters
/// that does not end a longer one (`5 min`, `20 °C`, `4 000 psi`).
fn may_break(whole: &str, at: usize, kind: BreakOpportunity) -> bool {
    if kind == BreakOpportunity::Mandatory {
        return true;
    }
    let after_figure =
        whole[..at].strip_suffix(' ').is_some_and(|s| s.ends_with(|c: char| c.is_ascii_digit()));
    if !after_figure {
        return true;
    }
    let next: Vec<char> = whole[at..].chars().take_while(|c| !c.is_whitespace()).take(6).collect();
    let letters = next.iter().filter(|c| c.is_alphabetic()).count();
    !(next.first().is_some_and(|c| c.is_alphabetic() || "°%µ".contains(*c))
        && letters <= 4
        && next.len() <= 5)
}

struct Setter {
    width: f64,
    lines: Vec<Line>,
    line: Line,
    pen: f64,
}

impl Setter {
    /// Places words that belong together: on this line if they fit, else on the next, else broken inside.
    fn place(&mut self, chunk: &[Unit]) {
        let full: f64 = chunk.iter().map(|unit| unit.word.width * unit.style.size).sum();
        let trailing = chunk.last().map_or(0.0, |unit| unit.word.trailing * unit.style.size);
        let visible = full - trailing;
        if self.pen + visible > self.width + EPSILON && self.pen > 0.0 {
            self.end_line();
        }
        let whole = visible <= self.width + EPSILON;
        for unit in chunk {
            if whole {
                self.put(unit, (0, unit.word.glyphs.len()));
            } else {
                self.put_broken(unit);
            }
            if unit.ends {
                self.note_height(unit.style);
                self.end_line();
            }
        }
    }

    fn put(&mut self, unit: &Unit, glyphs: (usize, usize)) {
        self.note_height(unit.style);
        let part = &unit.word.glyphs[glyphs.0..glyphs.1];
        let width = part.iter().map(|g| g.advance).sum::<f64>() / UNITS_PER_EM * unit.style.size;
        if part.is_empty() {
            return;
        }
        let at_end = glyphs.1 == unit.word.glyphs.len();
        let trailing = if at_end { unit.word.trailing * unit.style.size } else { 0.0 };
        self.line.pieces.push(Piece {
            word: Rc::clone(&unit.word),
            glyphs,
            style: unit.style,
            x: self.pen,
            width,
        });
        self.line.width = (self.pen + width - trailing).max(self.line.width);
        self.pen += width;
    }

    /// Breaks a word that is wider than the line between its clusters.
    fn put_broken(&mut self, unit: &Unit) {
        let glyphs = &unit.word.glyphs;
        let mut from = 0;
        while from < glyphs.len() {
            let room = (self.width - self.pen) / unit.style.size * UNITS_PER_EM;
            let count = fitting(&glyphs[from..], room);
            if count == 0 && self.pen > 0.0 {
                self.end_line();
                continue;
            }
            let to = from + count.max(cluster_length(&glyphs[from..]));
            self.put(unit, (from, to));
            from = to;
            if from < glyphs.len() {
                self.end_line();
            }
        }
    }

    fn note_height(&mut self, style: Style) {
        self.line.leading = self.line.leading.max(style.leading);
        self.line.size = self.line.size.max(style.size);
    }

    fn end_line(&mut self) {
        self.lines.push(std::mem::take(&mut self.line));
        self.pen = 0.0;
    }

    fn finish(mut self, spans: &[Span]) -> Vec<Line> {
        if !self.line.pieces.is_empty() || self.lines.is_empty() {
            if let Some(span) = spans.first().filter(|_| self.line.pieces.is_empty()) {
                self.note_height(span.style);
            }
            self.end_line();
        }
        self.lines
    }
}

/// Rounding of sums of widths, in points: far below what can be seen.
const EPSILON: f64 = 1e-6;

/// How many of the glyphs, whole clusters only, fit into `room` thousandths of an em.
fn fitting(glyphs: &[Glyph], room: f64) -> usize {
    let mut used = 0.0;
    let mut fits = 0;
    for (at, glyph) in glyphs.iter().enumerate() {
        if glyph.bytes.0 < glyph.bytes.1 && used <= room {
            fits = at;
        }
        used += glyph.advance;
    }
    if used <= room { glyphs.len() } else { fits }
}

/// Length of the first cluster.
fn cluster_length(glyphs: &[Glyph]) -> usize {
    glyphs.iter().skip(1).position(|g| g.bytes.0 < g.bytes.1).map_or(glyphs.len(), |n| n + 1)
}
