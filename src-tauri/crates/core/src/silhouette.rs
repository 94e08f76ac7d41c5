//! Silhouettes: the plan of a piece, drawn to scale from what is recorded of it.
//!
//! Length runs to the right and width upwards, so that the front lies at the bottom, as the piece lies before the
//! person who works on it. Nothing is made up: what is not recorded is not drawn, and the words say so.

mod measures;
mod plan;
#[cfg(test)]
mod tests;

use plan::{BadPlan, Plan};

use crate::body::setup::Piece;
use crate::drawing::{Drawing, Paint, Point, Shape, Stroke, Tone};
use crate::picture::Picture;
use crate::text::{Lang, Text, text};
use crate::units::{self, Dimension, System};

/// Largest side of the drawing without its margin, in millimetres.
const SIDE: f64 = 40.0;
/// Space around the plan for its lines.
const MARGIN: f64 = 1.0;

const PLAN: Text = text("plan of", "planta de");
const SIZE: Text = text("size", "medidas");
const THICK: Text = text("thickness", "espesor");
const CUT_OUT: Text = text("cut-out", "hueco");
const ROUND: Text = text("diameter", "diámetro");
const EDGES: Text = text("edges that show", "cantos vistos");
const CURVED: Text = text("basin or curve", "lavabo o curva");
const SCALE: Text = text("drawn to scale, 1 to", "a escala, 1 a");
const LEFT_OUT: Text = text(
    "cut-outs left out of the drawing, since they do not lie inside the plan:",
    "huecos que no se dibujan porque no caen dentro de la planta:",
);

choices! {
    /// What is marked on a plan. Each has a shape of its own.
    pub enum Mark {
        Fill = "fill": "fill", "relleno";
        Chip = "chip": "chip or flaw", "desconchón o defecto";
        Photo = "photo": "photo", "foto";
        Claim = "claim": "claim", "reclamación";
    }
}

/// A place marked on a plan: a fill, a chip, a photo, a claim.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// What it is.
    pub mark: Mark,
    /// From the left, in millimetres of the piece.
    pub x_mm: f64,
    /// From the front.
    pub y_mm: f64,
    /// Its size, where it is recorded.
    pub size_mm: Option<f64>,
    /// What stands there, in words.
    pub title: String,
}

/// How the plan lies on its drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lie {
    /// Left edge of the plan, in millimetres of the drawing.
    pub left: f64,
    /// Front edge of the plan, from the top of the drawing.
    pub front: f64,
    /// Millimetres of the drawing to one of the piece.
    pub scale: f64,
    /// Length of the plan, in millimetres of the piece.
    pub length_mm: f64,
    /// Its width.
    pub width_mm: f64,
}

/// How the plan of a piece lies on the drawing that [`marked`] gives; none where no plan can be drawn.
pub fn lie(piece: &Piece, side: f64) -> Option<Lie> {
    let plan = Plan::of(piece).ok()?;
    let sheet = Sheet::of(&plan, (side, side), Margins::EVEN);
    let (left, front) = sheet.point((0.0, 0.0));
    Some(Lie { left, front, scale: sheet.scale, length_mm: plan.size.0, width_mm: plan.size.1 })
}

/// The plan of a piece.
pub fn silhouette(piece: &Piece, system: System, lang: Lang) -> Picture {
    marked(piece, &[], SIDE, system, lang)
}

/// The plan of a piece, `side` millimetres at most, with numbered marks on it.
pub fn marked(piece: &Piece, spots: &[Spot], side: f64, system: System, lang: Lang) -> Picture {
    let title = format!("{} {}", PLAN.get(lang), piece.code);
    let plan = match Plan::of(piece) {
        Ok(plan) => plan,
        Err(why) => return Picture { drawing: blank(side), title, text: vec![why.words(system, lang)] },
    };
    let sheet = Sheet::of(&plan, (side, side), Margins::EVEN);
    let shapes = sheet.shapes(&plan);
    finished(piece, &plan, &sheet, spots, shapes, (system, lang))
}

/// The plan of a piece with its measures, as large as `room` (width and height in millimetres) lets it be: length
/// above, width at the left, the front named below, cut-outs named inside, numbered marks on it.
pub fn measured(piece: &Piece, spots: &[Spot], room: Point, system: System, lang: Lang) -> Picture {
    let title = format!("{} {}", PLAN.get(lang), piece.code);
    let plan = match Plan::of(piece) {
        Ok(plan) => plan,
        Err(why) => {
            let side = room.0.min(room.1 * 2.0).max(1.0);
            return Picture { drawing: blank(side), title, text: vec![why.words(system, lang)] };
        }
    };
    let sheet = Sheet::of(&plan, room, Margins::MEASURED);
    let mut shapes = sheet.shapes(&plan);
    shapes.extend(measures::shapes(&plan, &sheet, system, lang));
    finished(piece, &plan, &sheet, spots, shapes, (system, lang))
}

/// The marks laid on, and all of it in words.
fn finished(
    piece: &Piece,
    plan: &Plan,
    sheet: &Sheet,
    spots: &[Spot],
    mut shapes: Vec<Shape>,
    (system, lang): (System, Lang),
) -> Picture {
    let (seen, missed): (Vec<_>, Vec<_>) = spots.iter().enumerate().partition(|(_, it)| plan.holds(it));
    shapes.extend(seen.iter().flat_map(|(at, it)| sheet.mark(*at, it)));
    let mut text = said(piece, plan, sheet, system, lang);
    text.extend(spots.iter().enumerate().map(|(at, it)| format!("{}: {}", at + 1, it.title)));
    if !missed.is_empty() {
        text.push(BadPlan::spots_outside(missed.len(), lang));
    }
    let drawing = Drawing { width: sheet.size.0, height: sheet.size.1, shapes };
    Picture { drawing, title: format!("{} {}", PLAN.get(lang), piece.code), text }
}

/// What is drawn where no plan is known: an empty form.
fn blank(side: f64) -> Drawing {
    let (width, height) = (side + 2.0 * MARGIN, side / 2.0 + 2.0 * MARGIN);
    let stroke = Stroke { tone: Tone::Graphite, width: 0.4, dash: Some((1.6, 1.2)) };
    let paint = Paint { fill: None, stroke: Some(stroke) };
    let shapes = vec![Shape::Rect { at: (MARGIN, MARGIN), size: (side, side / 2.0), paint }];
    Drawing { width, height, shapes }
}

/// Space around a plan, in millimetres.
struct Margins {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Margins {
    /// For the plan's own lines.
    const EVEN: Self = Self { left: MARGIN, right: MARGIN, top: MARGIN, bottom: MARGIN };
    /// For its measures too.
    const MEASURED: Self = Self { left: 21.0, right: 2.0, top: 7.5, bottom: 6.0 };
}

/// How a plan lies on the drawing.
struct Sheet {
    /// Millimetres of the drawing to one of the piece.
    scale: f64,
    /// Size of the drawing.
    size: Point,
    /// Space around the plan.
    margins: Margins,
}

impl Sheet {
    /// The plan as large as `room` lets it be, margins not counted.
    fn of(plan: &Plan, room: Point, margins: Margins) -> Self {
        let scale = (room.0 / plan.size.0).min(room.1 / plan.size.1);
        let width = plan.size.0 * scale + margins.left + margins.right;
        let height = plan.size.1 * scale + margins.top + margins.bottom;
        Self { scale, size: (rounded(width), rounded(height)), margins }
    }

    fn point(&self, (x, y): Point) -> Point {
        let up = self.margins.bottom + y * self.scale;
        (rounded(self.margins.left + x * self.scale), rounded(self.size.1 - up))
    }

    fn ring(&self, ring: &[Point]) -> Vec<Point> {
        ring.iter().map(|point| self.point(*point)).collect()
    }

    fn shapes(&self, plan: &Plan) -> Vec<Shape> {
        let rings = std::iter::once(&plan.outline).chain(&plan.holes);
        let stroke = Some(Stroke::solid(Tone::Graphite, 0.35));
        let paint = Paint { fill: Some(Tone::DryConcrete), stroke };
        let mut shapes = vec![Shape::Polygon { rings: rings.map(|ring| self.ring(ring)).collect(), paint }];
        // A hole over a hole would be filled again by the even-odd rule: it is laid on top instead.
        let paint = Paint { fill: Some(Tone::Paper), stroke };
        shapes.extend(plan.over.iter().map(|ring| Shape::Polygon { rings: vec![self.ring(ring)], paint }));
        let shown = |points: &Vec<Point>| Shape::Polyline {
            points: self.ring(points),
            stroke: Stroke::solid(Tone::Ink, 0.9),
        };
        shapes.extend(plan.edges.iter().map(shown));
        shapes
    }

    /// A numbered mark; its ring is as large as the spot where its size is recorded.
    fn mark(&self, number: usize, spot: &Spot) -> Vec<Shape> {
        let at = self.point((spot.x_mm, spot.y_mm));
        let radius = spot.size_mm.filter(|it| it.is_finite()).map_or(0.0, |it| it * self.scale / 2.0);
        let radius = rounded(radius.clamp(0.5, SIDE));
        let label = Shape::Label {
            at: (rounded(at.0 + 0.9), rounded(at.1 - 0.5)),
            anchor: crate::drawing::Anchor::Start,
            size: 2.8,
            strong: true,
            text: (number + 1).to_string(),
            tone: Tone::Ink,
        };
        let ground = Shape::Dots { dots: vec![(at, radius.min(2.0))], tone: Tone::Cream };
        let sign = match spot.mark {
            Mark::Fill => Shape::Dots { dots: vec![(at, 0.5)], tone: Tone::IronOxide },
            Mark::Chip => sign(at, &[(-0.8, 0.7), (0.8, 0.7), (0.0, -0.8)]),
            Mark::Photo => sign(at, &[(-0.7, -0.7), (0.7, -0.7), (0.7, 0.7), (-0.7, 0.7)]),
            Mark::Claim => sign(at, &[(0.0, -0.9), (0.9, 0.0), (0.0, 0.9), (-0.9, 0.0)]),
        };
        vec![ground, sign, label]
    }
}

/// A small filled figure about a point.
fn sign(at: Point, corners: &[Point]) -> Shape {
    let ring = corners.iter().map(|it| (rounded(at.0 + it.0), rounded(at.1 + it.1))).collect();
    Shape::Polygon { rings: vec![ring], paint: Paint { fill: Some(Tone::IronOxide), stroke: None } }
}

/// What the drawing says, in words.
fn said(piece: &Piece, plan: &Plan, sheet: &Sheet, system: System, lang: Lang) -> Vec<String> {
    let length = |mm: f64| units::show(mm, Dimension::Millimetre, system, lang);
    let mut lines = vec![format!("{}: {} × {}", SIZE.get(lang), length(plan.size.0), length(plan.size.1))];
    lines.extend(piece.thickness_mm.map(|it| format!("{}: {}", THICK.get(lang), length(it))));
    if piece.curved == Some(true) {
        lines.push(CURVED.get(lang).to_owned());
    }
    for cut in &plan.cut_outs {
        let name = cut.purpose.as_deref().unwrap_or_else(|| CUT_OUT.get(lang));
        lines.push(match cut.width_mm {
            Some(width) => format!("{name}: {} × {}", length(cut.length_mm), length(width)),
            None => format!("{name}: {} {}", ROUND.get(lang), length(cut.length_mm)),
        });
    }
    if plan.left_out > 0 {
        lines.push(format!("{} {}", LEFT_OUT.get(lang), plan.left_out));
    }
    let sides: Vec<_> = piece.finished_edges.iter().flatten().map(|it| it.label().get(lang)).collect();
    if !sides.is_empty() {
        lines.push(format!("{}: {}", EDGES.get(lang), sides.join(", ")));
    }
    lines.push(format!("{} {}", SCALE.get(lang), units::number(1.0 / sheet.scale, 1, lang)));
    lines
}

fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}
