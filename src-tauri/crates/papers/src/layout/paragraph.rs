//! Paragraphs: lines with a label beside them, a mark before them, and no lonely first or last line.

use trowelogue_core::drawing::Tone;

use super::slab::Slab;
use crate::font::CAP_HEIGHT;
use crate::scene::{Ink, Item, NodeId, Pen};
use crate::text::{Line, Shaper, Span, Style, break_lines};

/// Where lines stand in their column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Align {
    /// At its left edge.
    #[default]
    Left,
    /// At its right edge.
    Right,
}

/// A paragraph.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Para {
    /// The words.
    pub(crate) spans: Vec<Span>,
    /// A label to the left of the words, and how far in from the edge the words begin, in points.
    pub(crate) label: Option<(Vec<Span>, f64)>,
    /// A mark before the words.
    pub(crate) mark: Option<Mark>,
    /// Space above, in points.
    pub(crate) before: f64,
    /// Where the lines stand.
    pub(crate) align: Align,
}

/// A mark before a paragraph: shape and tone together, never tone alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mark {
    /// A filled square: a stop.
    Square,
    /// A filled triangle: a caution.
    Triangle,
    /// A ring: a note.
    Ring,
    /// A tick: accepted, done.
    Tick,
    /// A grain: an entry of a list.
    Grain,
}

impl Para {
    /// Words in one style.
    pub(crate) fn new(spans: Vec<Span>) -> Self {
        Self { spans, ..Self::default() }
    }

    /// With space above.
    pub(crate) fn before(self, before: f64) -> Self {
        Self { before, ..self }
    }

    /// With a mark before it.
    pub(crate) fn mark(self, mark: Mark) -> Self {
        Self { mark: Some(mark), ..self }
    }

    /// With a label to its left; the words begin `tab` points in.
    pub(crate) fn label(self, label: Vec<Span>, tab: f64) -> Self {
        Self { label: Some((label, tab)), ..self }
    }

    /// Sets the paragraph into strips, a line each, between `x` and `x + width`. The mark hangs on the node
    /// too when it is given one, so that shape and words are one thing.
    pub(crate) fn set(&self, shaper: &Shaper, x: f64, width: f64, node: Option<NodeId>) -> Vec<Slab> {
        let indent = self.mark.map_or(0.0, |_| self.size() * 1.35);
        let mut slabs = match &self.label {
            Some((label, tab)) => self.set_labelled(shaper, label, *tab, (x + indent, width - indent), node),
            None => set_lines(shaper, &self.spans, self.align, (x + indent, width - indent), node),
        };
        if let (Some(mark), Some(first)) = (self.mark, slabs.first_mut()) {
            let middle = first.height / 2.0;
            first.items.insert(0, mark.item(x, middle, self.size()));
        }
        if let Some(first) = slabs.first_mut() {
            first.before = self.before;
        }
        hold_together(&mut slabs);
        slabs
    }

    fn size(&self) -> f64 {
        self.spans.first().map_or(8.0, |span| span.style.size)
    }

    /// Label and words side by side; a label of several lines stays in one strip with the words, or above
    /// them if they are many, so that neither is read in pieces.
    fn set_labelled(
        &self,
        shaper: &Shaper,
        label: &[Span],
        tab: f64,
        (x, width): (f64, f64),
        node: Option<NodeId>,
    ) -> Vec<Slab> {
        let names = set_lines(shaper, label, Align::Left, (x, (tab - LABEL_GAP).max(1.0)), node);
        let values = set_lines(shaper, &self.spans, self.align, (x + tab, (width - tab).max(1.0)), node);
        if names.len() == 1 {
            let mut values = values;
            for mut name in names {
                if let Some(first) = values.first_mut() {
                    let value = std::mem::take(first);
                    name.absorb(value, 0.0);
                    *first = name;
                }
            }
            return values;
        }
        if values.len() <= MOST_LINES_BESIDE {
            return super::beside(vec![names, values], f64::MAX);
        }
        names.into_iter().chain(values).collect()
    }
}

/// Space between a label and its words, in points.
const LABEL_GAP: f64 = 4.0;
/// Words of more lines than this stand below a label that itself takes several.
const MOST_LINES_BESIDE: usize = 12;

fn set_lines(
    shaper: &Shaper,
    spans: &[Span],
    align: Align,
    (x, width): (f64, f64),
    node: Option<NodeId>,
) -> Vec<Slab> {
    let lines = break_lines(shaper, spans, width);
    lines.iter().map(|line| line_slab(line, align, x, width, node)).collect()
}

fn line_slab(line: &Line, align: Align, x: f64, width: f64, node: Option<NodeId>) -> Slab {
    let shift = match align {
        Align::Left => 0.0,
        Align::Right => width - line.width,
    };
    let baseline = baseline(line.size, line.leading);
    let items = line.pieces.iter().map(|piece| Item {
        node,
        ink: Ink::Text {
            at: (x + shift + piece.x, baseline),
            word: std::rc::Rc::clone(&piece.word),
            glyphs: piece.glyphs,
            style: piece.style,
        },
    });
    Slab { height: line.leading, items: items.collect(), ..Slab::default() }
}

/// Distance of the baseline from the upper edge of a line: capitals stand in the middle.
pub(crate) fn baseline(size: f64, leading: f64) -> f64 {
    (leading + CAP_HEIGHT * size) / 2.0
}

/// One line of words between `x` and `x + width`; what does not fit ends in an ellipsis, for it stands in full
/// elsewhere.
pub(crate) fn one_line(
    shaper: &Shaper,
    words: &str,
    style: Style,
    align: Align,
    (x, width): (f64, f64),
    node: Option<NodeId>,
) -> Slab {
    let mut shown = words.replace('\n', " ");
    while break_lines(shaper, &[Span::new(&*shown, style)], width).len() > 1 {
        let count = shown.chars().count();
        // Far too long words lose many letters at a time.
        let kept = if count > 400 { 300 } else { count.saturating_sub(2) };
        let short: String = shown.trim_end_matches('…').chars().take(kept).collect();
        shown = format!("{}…", short.trim_end());
    }
    let slabs = set_lines(shaper, &[Span::new(shown, style)], align, (x, width), node);
    slabs.into_iter().next().unwrap_or_default()
}

/// The words as they fit into so many lines; what does not fit ends in an ellipsis, for it stands in full elsewhere.
pub(crate) fn clamped(shaper: &Shaper, words: &str, style: Style, width: f64, lines: usize) -> String {
    let fits = |words: &str| break_lines(shaper, &[Span::new(words, style)], width).len() <= lines;
    if fits(words) {
        return words.to_owned();
    }
    let letters: Vec<char> = words.chars().collect();
    let short = |count: usize| {
        let kept: String = letters[..count].iter().collect();
        format!("{}…", kept.trim_end())
    };
    // The most letters that fit lie between these two.
    let (mut some, mut many) = (0, letters.len());
    while many - some > 1 {
        let middle = usize::midpoint(some, many);
        if fits(&short(middle)) { some = middle } else { many = middle }
    }
    short(some)
}

/// No page ends after the first line of a paragraph or begins with its last.
fn hold_together(slabs: &mut [Slab]) {
    let count = slabs.len();
    if count > 1 {
        slabs[0].keep = true;
        slabs[count - 2].keep = true;
    }
}

impl Mark {
    /// The mark at `x`, its middle at `y`, for letters of a size.
    pub(super) fn item(self, x: f64, y: f64, size: f64) -> Item {
        let (left, r) = (x + size * 0.08, size * 0.36);
        let centre = (left + r, y);
        let (rings, fill, stroke) = match self {
            Self::Square => (vec![ring(centre, r, 4, 45.0)], Some(Tone::IronOxide), None),
            Self::Triangle => (vec![ring(centre, r * 1.15, 3, -90.0)], Some(Tone::YellowOxide), None),
            Self::Ring => (vec![ring(centre, r * 0.85, 16, 0.0)], None, Some((Tone::Graphite, size * 0.1))),
            Self::Tick => (vec![tick(centre, r)], None, Some((Tone::Glass, size * 0.14))),
            Self::Grain => (vec![ring(centre, r * 0.42, 6, 12.0)], Some(Tone::Stone), None),
        };
        let closed = self != Self::Tick;
        let stroke = stroke.map(|(tone, width)| Pen { tone, width, dash: None });
        Item { node: None, ink: Ink::Path { rings, holes: false, closed, fill, stroke } }
    }
}

/// A regular polygon of `corners`, the first at `turn` degrees.
pub(crate) fn ring(centre: (f64, f64), radius: f64, corners: usize, turn: f64) -> Vec<(f64, f64)> {
    let corner = |n: usize| {
        let angle = (turn + 360.0 * n as f64 / corners as f64).to_radians();
        (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin())
    };
    (0..corners).map(corner).collect()
}

fn tick((x, y): (f64, f64), r: f64) -> Vec<(f64, f64)> {
    vec![(x - r * 0.9, y), (x - r * 0.25, y + r * 0.7), (x + r * 0.95, y - r * 0.8)]
}
