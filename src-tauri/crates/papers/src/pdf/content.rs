//! Page contents: display list items become operations, wrapped in the marks that tie them to the tag tree.

use std::collections::BTreeMap;

use printpdf::{
    Codepoint, Color, CurTransMat, DictItem, FontId, Line, LineDashPattern, LinePoint, Op, PaintMode,
    PdfFontHandle, Point, Polygon, PolygonRing, Pt, Rgb, TextItem, TextMatrix, WindingOrder, XObjectId,
    XObjectTransform,
};
use trowelogue_core::drawing::Tone;

use super::fonts::{Subsets, glyph_text};
use super::images;
use crate::font::UNITS_PER_EM;
use crate::scene::{Ink, Item, NodeId, Page, Pen};
use crate::text::{Style, Word};
use crate::theme::colour;

/// Where the parts of each node were drawn, for the tag tree.
pub(crate) struct Drawn {
    /// Per node: page and number of each marked stretch, in order.
    pub(crate) stretches: Vec<Vec<(usize, usize)>>,
    /// Per node: page and box it covers there, in page coordinates from the top left.
    pub(crate) boxes: BTreeMap<NodeId, (usize, [f64; 4])>,
    /// Per page: the node of each marked stretch, by number.
    pub(crate) pages: Vec<Vec<NodeId>>,
}

impl Drawn {
    /// Nothing drawn yet, for a tree of so many nodes.
    pub(crate) fn new(nodes: usize) -> Self {
        Self { stretches: vec![Vec::new(); nodes], boxes: BTreeMap::new(), pages: Vec::new() }
    }

    /// Begins a marked stretch and gives its number on the page.
    fn begin(&mut self, page: usize, node: NodeId) -> usize {
        let number = self.pages[page].len();
        self.pages[page].push(node);
        self.stretches[node].push((page, number));
        number
    }

    fn cover(&mut self, page: usize, item: &Item) {
        let Some(node) = item.node else { return };
        let (left, top, right, bottom) = item.bounds();
        let (_, it) = self.boxes.entry(node).or_insert((page, [left, top, right, bottom]));
        *it = [it[0].min(left), it[1].min(top), it[2].max(right), it[3].max(bottom)];
    }
}

/// The operations of a page.
pub(crate) fn ops(number: usize, page: &Page, subsets: &Subsets, drawn: &mut Drawn) -> Vec<Op> {
    drawn.pages.push(Vec::new());
    let mut pen = Painter { ops: Vec::new(), height: page.size.1, subsets, fill: None, stroke: None };
    for stretch in page.items.chunk_by(|a, b| a.node == b.node) {
        pen.ops.push(opening(stretch[0].node, number, drawn));
        for run in stretch.chunk_by(same_line) {
            run.iter().for_each(|item| drawn.cover(number, item));
            pen.run(run);
        }
        pen.ops.push(Op::EndMarkedContent);
    }
    pen.ops
}

fn opening(node: Option<NodeId>, page: usize, drawn: &mut Drawn) -> Op {
    let Some(node) = node else {
        return Op::BeginMarkedContent { tag: "Artifact".into() };
    };
    let number = drawn.begin(page, node);
    let map = BTreeMap::from([("MCID".into(), DictItem::Int(number as i64))]);
    Op::BeginMarkedContentWithProperties { tag: "Span".into(), properties: DictItem::Dict { map } }
}

/// Whether two items are text that stands on one line in one style.
fn same_line(a: &Item, b: &Item) -> bool {
    match (&a.ink, &b.ink) {
        (Ink::Text { at, style, .. }, Ink::Text { at: next, style: other, .. }) => {
            style == other && (at.1 - next.1).abs() < 1e-6 && next.0 >= at.0
        }
        _ => false,
    }
}

struct Painter<'a> {
    ops: Vec<Op>,
    height: f64,
    subsets: &'a Subsets,
    fill: Option<Tone>,
    stroke: Option<Pen>,
}

impl Painter<'_> {
    fn run(&mut self, run: &[Item]) {
        match &run[0].ink {
            Ink::Text { at, style, .. } => self.text(*at, *style, run),
            Ink::Path { rings, holes, closed, fill, stroke } => {
                self.path(rings, *holes, *closed, *fill, *stroke);
            }
            Ink::Image { at, size, image } => self.image(*at, *size, *image),
        }
    }

    fn fill(&mut self, tone: Tone) {
        if self.fill != Some(tone) {
            self.fill = Some(tone);
            self.ops.push(Op::SetFillColor { col: rgb(tone) });
        }
    }

    fn stroke(&mut self, pen: Pen) {
        if self.stroke == Some(pen) {
            return;
        }
        self.stroke = Some(pen);
        let dash = pen.dash.map(|(dash, gap)| [short(dash), short(gap)]);
        let dash = dash.map_or_else(LineDashPattern::solid, |it| LineDashPattern::new(0.0, &it));
        self.ops.push(Op::SetOutlineColor { col: rgb(pen.tone) });
        self.ops.push(Op::SetOutlineThickness { pt: Pt(short(pen.width)) });
        self.ops.push(Op::SetLineDashPattern { dash });
    }

    /// Words on one line in one style become one show operation, with the gaps between them as numbers.
    fn text(&mut self, at: (f64, f64), style: Style, run: &[Item]) {
        self.fill(style.tone);
        let font = PdfFontHandle::External(FontId(style.face.resource().into()));
        let matrix = TextMatrix::Raw([1.0, 0.0, 0.0, 1.0, short(at.0), self.up(at.1)]);
        self.ops.push(Op::StartTextSection);
        self.ops.push(Op::SetFont { font, size: Pt(short(style.size)) });
        self.ops.push(Op::SetTextMatrix { matrix });
        let mut shown = Shown { subsets: self.subsets, style, ops: Vec::new(), items: Vec::new(), owed: 0.0 };
        let mut pen = at.0;
        for item in run {
            let Ink::Text { at, word, glyphs, .. } = &item.ink else { continue };
            shown.owed += (at.0 - pen) / style.size * UNITS_PER_EM;
            pen = at.0 + shown.word(word, *glyphs) / UNITS_PER_EM * style.size;
        }
        shown.flush();
        self.ops.append(&mut shown.ops);
        self.ops.push(Op::EndTextSection);
    }

    fn path(
        &mut self,
        rings: &[Vec<(f64, f64)>],
        holes: bool,
        closed: bool,
        fill: Option<Tone>,
        stroke: Option<Pen>,
    ) {
        let mode = match (fill, stroke) {
            (Some(_), Some(_)) => PaintMode::FillStroke,
            (Some(_), None) => PaintMode::Fill,
            (None, Some(_)) => PaintMode::Stroke,
            (None, None) => return,
        };
        fill.into_iter().for_each(|tone| self.fill(tone));
        stroke.into_iter().for_each(|pen| self.stroke(pen));
        let rings = rings.iter().map(|ring| ring.iter().map(|p| self.point(*p)).collect::<Vec<_>>());
        if closed {
            let rings = rings.map(|points| PolygonRing { points }).collect();
            let winding_order = if holes { WindingOrder::EvenOdd } else { WindingOrder::NonZero };
            self.ops.push(Op::DrawPolygon { polygon: Polygon { rings, mode, winding_order } });
        } else {
            let lines: Vec<_> = rings.map(|points| Line { points, is_closed: false }).collect();
            self.ops.extend(lines.into_iter().map(|line| Op::DrawLine { line }));
        }
    }

    fn image(&mut self, at: (f64, f64), size: (f64, f64), image: (usize, u8)) {
        let corner = (at.0, self.height - at.1 - size.1);
        let matrix = images::placement(image.1, corner, size).map(short);
        self.ops.push(Op::SaveGraphicsState);
        self.ops.push(Op::SetTransformationMatrix { matrix: CurTransMat::Raw(matrix) });
        let transform = XObjectTransform { no_auto_scale: true, ..XObjectTransform::default() };
        self.ops.push(Op::UseXobject { id: XObjectId(images::name(image.0)), transform });
        self.ops.push(Op::RestoreGraphicsState);
    }

    fn point(&self, point: (f64, f64)) -> LinePoint {
        LinePoint { p: Point { x: Pt(short(point.0)), y: Pt(self.up(point.1)) }, bezier: false }
    }

    /// Pages count upwards from the lower edge.
    fn up(&self, y: f64) -> f32 {
        short(self.height - y)
    }
}

/// The show operations of a line.
struct Shown<'a> {
    subsets: &'a Subsets,
    style: Style,
    ops: Vec<Op>,
    items: Vec<TextItem>,
    /// How far the pen has to move before the next glyph, in thousandths of an em.
    owed: f64,
}

impl Shown<'_> {
    /// Shows some glyphs of a word and gives their width. A stretch whose glyphs stand for other text than
    /// their face says carries its text beside it (ISO 32000-1, 14.9.4).
    fn word(&mut self, word: &Word, (from, to): (usize, usize)) -> f64 {
        let glyphs = &word.glyphs[from..to];
        let said =
            |g: &crate::text::Glyph| self.subsets.glyph(self.style.face, g.id).map(|it| it.1.to_owned());
        let plain =
            glyphs.iter().all(|g| said(g).is_some_and(|text| text == glyph_text(&word.text, g.bytes)));
        if !plain {
            self.flush();
            let first = glyphs.first().map_or(0, |g| g.bytes.0) as usize;
            let last = glyphs.last().map_or(0, |g| g.bytes.1) as usize;
            self.ops.push(actual_text(&word.text[first..last]));
        }
        for glyph in glyphs {
            self.glyph(glyph);
        }
        if !plain {
            self.flush();
            self.ops.push(Op::EndMarkedContent);
        }
        glyphs.iter().map(|g| g.advance).sum()
    }

    fn glyph(&mut self, glyph: &crate::text::Glyph) {
        let Some((id, text)) = self.subsets.glyph(self.style.face, glyph.id) else { return };
        let text = text.to_owned();
        let natural = self.style.face.shaper().glyph_hor_advance(rustybuzz::ttf_parser::GlyphId(glyph.id));
        self.owed += glyph.dx;
        if glyph.dy != 0.0 {
            self.flush();
            self.rise(glyph.dy);
        }
        self.settle();
        self.items.push(TextItem::GlyphIds(vec![Codepoint::with_cid(id, 0.0, text)]));
        self.owed += glyph.advance - f64::from(natural.unwrap_or(0)) - glyph.dx;
        if glyph.dy != 0.0 {
            self.flush();
            self.rise(0.0);
        }
    }

    /// Moves the pen by what is owed. Numbers in a show operation move it back (ISO 32000-1, 9.4.3).
    fn settle(&mut self) {
        let whole = self.owed.round();
        if whole != 0.0 {
            self.items.push(TextItem::Offset(-whole as f32));
            self.owed -= whole;
        }
    }

    fn rise(&mut self, thousandths: f64) {
        let multiplier = short(thousandths / UNITS_PER_EM * self.style.size);
        self.ops.push(Op::SetLineOffset { multiplier });
    }

    fn flush(&mut self) {
        if !self.items.is_empty() {
            self.ops.push(Op::ShowText { items: std::mem::take(&mut self.items) });
        }
    }
}

fn actual_text(text: &str) -> Op {
    let units = std::iter::once(0xFEFF).chain(text.encode_utf16());
    let data = units.flat_map(u16::to_be_bytes).collect();
    let map = BTreeMap::from([("ActualText".into(), DictItem::String { data, literal: false })]);
    Op::BeginMarkedContentWithProperties { tag: "Span".into(), properties: DictItem::Dict { map } }
}

fn rgb(tone: Tone) -> Color {
    let [r, g, b] = colour(tone).map(|c| (f32::from(c) / 255.0 * 1000.0).round() / 1000.0);
    Color::Rgb(Rgb { r, g, b, icc_profile: None })
}

/// Hundredths of a point: finer than any printer, short in the file.
fn short(points: f64) -> f32 {
    ((points * 100.0).round() / 100.0) as f32
}
