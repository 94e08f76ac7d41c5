//! Figures: drawings and photos in their frames, with text equivalents and captions.

use std::rc::Rc;

use trowelogue_core::drawing::{Anchor, Drawing, Paint, Point, Shape, Stroke, Tone};

use super::flow::Composer;
use super::paragraph::{Para, ring};
use super::slab::{Slab, stack};
use crate::PaperError;
use crate::font::{ASCENT, DESCENT, Face};
use crate::jpeg::Jpeg;
use crate::model::Figure;
use crate::scene::{Ink, Item, NodeId, Pen, Role};
use crate::text::{Shaper, Span, Style, break_lines, natural_width};
use crate::theme::{MM, SMALL};

/// The room a figure may take, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FigureBox {
    /// Width.
    pub(crate) width: f64,
    /// Height without the caption.
    pub(crate) height: f64,
}

/// Lengths beyond this many millimetres are refused: no sheet is as long.
const MAX_LENGTH: f64 = 10_000.0;

impl Composer {
    /// A drawing, scaled down if it is larger than its box, with its caption below.
    pub(crate) fn figure(&mut self, figure: &Figure, room: FigureBox, before: f64) {
        if let Err(fault) = check(&figure.drawing) {
            return self.refuse(fault);
        }
        let node = self.tree.add_figure(self.parent, figure.alt.clone());
        let x = self.region.x;
        let mut slab = draw(&self.shaper, &figure.drawing, x, room, node);
        slab.before = before;
        let caption = figure.caption.as_deref();
        self.framed(slab, caption, room.width);
    }

    /// A photo as large as its box allows, turned as it was taken.
    pub(crate) fn photo(&mut self, jpeg: Rc<Jpeg>, alt: &str, caption: &str, room: FigureBox) {
        let node = self.tree.add_figure(self.parent, alt.to_owned());
        let size = crate::photo::placed(jpeg.seen(), room);
        let ink = Ink::Image { at: (self.region.x, 0.0), size, image: (self.images.len(), jpeg.turn) };
        self.images.push(jpeg);
        let slab = Slab { height: size.1, items: vec![Item { node: Some(node), ink }], ..Slab::default() };
        self.framed(slab, Some(caption), room.width);
    }

    /// Figure and caption become one strip.
    fn framed(&mut self, mut slab: Slab, caption: Option<&str>, width: f64) {
        let Some(caption) = caption else {
            return self.push(vec![slab]);
        };
        let node = self.tree.add(self.parent, Role::Caption);
        let para = Para::new(vec![Span::new(caption, SMALL)]).before(3.0);
        slab.keep = true;
        let mut slabs = vec![slab];
        slabs.extend(para.set(&self.shaper, self.region.x, width, Some(node)));
        self.together(slabs);
    }
}

/// Refuses numbers that are no lengths.
fn check(drawing: &Drawing) -> Result<(), PaperError> {
    let size = [drawing.width, drawing.height];
    let inside = drawing.shapes.iter().flat_map(numbers);
    let bad = size.into_iter().chain(inside).find(|n| !n.is_finite() || n.abs() > MAX_LENGTH);
    match bad.or(size.into_iter().find(|n| *n <= 0.0)) {
        Some(value) => Err(PaperError::Length { what: "a drawing's length", value: value.to_string() }),
        None => Ok(()),
    }
}

fn numbers(shape: &Shape) -> Vec<f64> {
    let flat = |points: &[Point]| points.iter().flat_map(|p| [p.0, p.1]).collect::<Vec<_>>();
    match shape {
        Shape::Rect { at, size, .. } => flat(&[*at, *size]),
        Shape::Polyline { points, .. } => flat(points),
        Shape::Polygon { rings, .. } => rings.iter().flat_map(|ring| flat(ring)).collect(),
        Shape::Dots { dots, .. } => dots.iter().flat_map(|(p, r)| [p.0, p.1, *r]).collect(),
        Shape::Label { at, size, .. } => vec![at.0, at.1, *size],
    }
}

/// Draws into a box whose upper left corner is `(x, 0)`.
pub(crate) fn draw(shaper: &Shaper, drawing: &Drawing, x: f64, room: FigureBox, node: NodeId) -> Slab {
    let natural = (drawing.width * MM, drawing.height * MM);
    let scale = (room.width / natural.0).min(room.height / natural.1).min(1.0);
    let canvas = Canvas { shaper, node, x, scale: scale * MM, size: (natural.0 * scale, natural.1 * scale) };
    let items = drawing.shapes.iter().flat_map(|shape| canvas.items(shape)).collect();
    Slab { height: canvas.size.1, items, ..Slab::default() }
}

/// Where a drawing lands: millimetres in, points out.
struct Canvas<'a> {
    shaper: &'a Shaper,
    node: NodeId,
    x: f64,
    scale: f64,
    size: (f64, f64),
}

impl Canvas<'_> {
    fn items(&self, shape: &Shape) -> Vec<Item> {
        match shape {
            Shape::Rect { at, size, paint } => {
                let (x2, y2) = (at.0 + size.0, at.1 + size.1);
                self.area(&[vec![*at, (x2, at.1), (x2, y2), (at.0, y2)]], *paint)
            }
            Shape::Polyline { points, stroke } => {
                vec![self.path(std::slice::from_ref(points), false, None, Some(*stroke))]
            }
            Shape::Polygon { rings, paint } => self.area(rings, *paint),
            Shape::Dots { dots, tone } => self.dots(dots, *tone),
            Shape::Label { at, anchor, size, strong, text, tone } => {
                let face = if *strong { Face::Semibold } else { Face::Regular };
                let size = size * self.scale / (ASCENT + DESCENT);
                self.label(*at, *anchor, text, Style::new(face, size, size).tone(*tone))
            }
        }
    }

    fn at(&self, point: Point) -> Point {
        (self.x + point.0 * self.scale, point.1 * self.scale)
    }

    fn area(&self, rings: &[Vec<Point>], paint: Paint) -> Vec<Item> {
        let seen = paint.fill.is_some() || paint.stroke.is_some();
        if seen { vec![self.path(rings, true, paint.fill, paint.stroke)] } else { Vec::new() }
    }

    fn path(&self, rings: &[Vec<Point>], closed: bool, fill: Option<Tone>, stroke: Option<Stroke>) -> Item {
        let ring = |ring: &Vec<Point>| ring.iter().map(|p| self.at(*p)).collect();
        let rings = rings.iter().filter(|ring| ring.len() > 1).map(ring).collect();
        let stroke = stroke.map(|it| Pen {
            tone: it.tone,
            width: it.width * self.scale,
            dash: it.dash.map(|(dash, gap)| (dash * self.scale, gap * self.scale)),
        });
        Item { node: Some(self.node), ink: Ink::Path { rings, holes: true, closed, fill, stroke } }
    }

    /// All dots of a tone as one shape; few corners, as grains have, more where a dot is large.
    fn dots(&self, dots: &[(Point, f64)], tone: Tone) -> Vec<Item> {
        let dot = |(centre, radius): &(Point, f64)| {
            let corners = if *radius > 0.8 { 24 } else { 7 };
            ring(self.at(*centre), radius * self.scale, corners, centre.0 * 90.0)
        };
        let rings: Vec<_> = dots.iter().map(dot).collect();
        if rings.is_empty() {
            return Vec::new();
        }
        let ink = Ink::Path { rings, holes: false, closed: true, fill: Some(tone), stroke: None };
        vec![Item { node: Some(self.node), ink }]
    }

    /// A label, made smaller and moved where it would leave the frame.
    fn label(&self, at: Point, anchor: Anchor, text: &str, style: Style) -> Vec<Item> {
        let span = |style: Style| vec![Span::new(text, style)];
        let (natural, _) = natural_width(self.shaper, &span(style));
        let size = if natural > self.size.0 { style.size * self.size.0 / natural * 0.99 } else { style.size };
        let style = Style { size, leading: size, ..style };
        let lines = break_lines(self.shaper, &span(style), f64::MAX);
        let Some(line) = lines.first() else {
            return Vec::new();
        };
        let (x, y) = self.at(at);
        let left = match anchor {
            Anchor::Start => x,
            Anchor::Middle => x - line.width / 2.0,
            Anchor::End => x - line.width,
        };
        let left = left.min(self.x + self.size.0 - line.width).max(self.x);
        let y = y.min(self.size.1 - DESCENT * size).max(ASCENT * size);
        let item = |piece: &crate::text::Piece| Item {
            node: Some(self.node),
            ink: Ink::Text {
                at: (left + piece.x, y),
                word: Rc::clone(&piece.word),
                glyphs: piece.glyphs,
                style: piece.style,
            },
        };
        line.pieces.iter().map(item).collect()
    }
}

/// Figures in rows of `columns`, each in a box as wide as its column.
pub(crate) fn grid(columns: usize, region: super::Region, gap: f64) -> Vec<super::Region> {
    let width = (region.width - gap * (columns - 1) as f64) / columns as f64;
    (0..columns).map(|n| super::Region { x: region.x + n as f64 * (width + gap), width }).collect()
}

/// Strips of one figure as one, for a row of a grid.
pub(crate) fn as_one(slabs: Vec<Slab>) -> Slab {
    stack(slabs)
}
