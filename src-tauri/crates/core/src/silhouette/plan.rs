//! The plan of a piece in its own millimetres, with everything held to what a piece can be.

use super::Spot;
use crate::body::setup::{CutOut, Piece, Side};
use crate::drawing::Point;
use crate::text::{Lang, Text, text};
use crate::units::{self, Dimension, System};

/// No piece is shorter.
const LEAST_MM: f64 = 1.0;
/// No piece, not even a floor bay, is longer.
const MOST_MM: f64 = 100_000.0;
/// Corners to a round cut-out.
const CORNERS: u32 = 48;
/// More corners or cut-outs than this are no piece.
const MOST_PARTS: usize = 500;

/// A plan.
pub(super) struct Plan<'a> {
    /// Length and width of the box it fits in.
    pub(super) size: Point,
    /// The outline.
    pub(super) outline: Vec<Point>,
    /// Cut-outs that meet no other.
    pub(super) holes: Vec<Vec<Point>>,
    /// Cut-outs that lie over another.
    pub(super) over: Vec<Vec<Point>>,
    /// Edges that show, as lines.
    pub(super) edges: Vec<Vec<Point>>,
    /// The cut-outs drawn.
    pub(super) cut_outs: Vec<&'a CutOut>,
    /// How many are not.
    pub(super) left_out: usize,
}

/// Why a plan cannot be drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum BadPlan {
    /// Length, width and outline are not recorded.
    Missing,
    /// A length is none a piece can have.
    Length(f64),
    /// The outline has too few corners or far too many.
    Corners(usize),
}

impl BadPlan {
    /// Why, and what to do.
    pub(super) fn words(self, system: System, lang: Lang) -> String {
        const MISSING: Text = text(
            "Length and width are not recorded, so no plan is drawn. Add them to the piece.",
            "No se anotaron largo y ancho: no se dibuja la planta. Añádalos a la pieza.",
        );
        const LENGTH: Text =
            text("No plan is drawn: no piece measures", "No se dibuja la planta: ninguna pieza mide");
        const CORNERS: Text = text(
            "No plan is drawn: corners of the outline:",
            "No se dibuja la planta: vértices del contorno:",
        );
        match self {
            Self::Missing => MISSING.get(lang).to_owned(),
            Self::Length(mm) => {
                format!("{} {}", LENGTH.get(lang), units::show(mm, Dimension::Millimetre, system, lang))
            }
            Self::Corners(count) => format!("{} {count}", CORNERS.get(lang)),
        }
    }

    /// Marks that were recorded off the piece.
    pub(super) fn spots_outside(count: usize, lang: Lang) -> String {
        const OUTSIDE: Text = text(
            "places recorded off the plan, not drawn:",
            "lugares anotados fuera de la planta, sin dibujar:",
        );
        format!("{} {count}", OUTSIDE.get(lang))
    }
}

impl<'a> Plan<'a> {
    pub(super) fn of(piece: &'a Piece) -> Result<Self, BadPlan> {
        let (outline, size) = outline(piece)?;
        let cut_outs = piece.cut_outs.as_deref().unwrap_or_default();
        let mut plan = Self {
            size,
            edges: edges(&outline, size, piece.finished_edges.as_deref().unwrap_or_default()),
            outline,
            holes: Vec::new(),
            over: Vec::new(),
            cut_outs: Vec::new(),
            left_out: 0,
        };
        for cut in cut_outs {
            plan.cut(cut);
        }
        Ok(plan)
    }

    /// Whether a spot lies on the plan.
    pub(super) fn holds(&self, spot: &Spot) -> bool {
        let (x, y) = (spot.x_mm, spot.y_mm);
        x >= 0.0 && y >= 0.0 && x <= self.size.0 && y <= self.size.1
    }

    fn cut(&mut self, cut: &'a CutOut) {
        let Some(ring) = ring_of(cut, self.size).filter(|_| self.cut_outs.len() < MOST_PARTS) else {
            self.left_out += 1;
            return;
        };
        let meets = self.holes.iter().any(|hole| meet(bounds(hole), bounds(&ring)));
        if meets {
            self.over.push(ring);
        } else {
            self.holes.push(ring);
        }
        self.cut_outs.push(cut);
    }
}

/// The outline moved to the corner of its box, and the box.
fn outline(piece: &Piece) -> Result<(Vec<Point>, Point), BadPlan> {
    let corners: Vec<Point> = match &piece.outline {
        Some(corners) => corners.iter().map(|it| (it.x_mm, it.y_mm)).collect(),
        None => {
            let (Some(length), Some(width)) = (piece.length_mm, piece.width_mm) else {
                return Err(BadPlan::Missing);
            };
            let (length, width) = (measured(length)?, measured(width)?);
            vec![(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
        }
    };
    if corners.len() < 3 || corners.len() > MOST_PARTS {
        return Err(BadPlan::Corners(corners.len()));
    }
    if let Some(bad) =
        corners.iter().flat_map(|p| [p.0, p.1]).find(|it| !it.is_finite() || it.abs() > MOST_MM)
    {
        return Err(BadPlan::Length(bad));
    }
    let (low, high) = bounds(&corners);
    let size = (high.0 - low.0, high.1 - low.1);
    measured(size.0).and(measured(size.1))?;
    // Cut-outs and spots are measured from the front left corner of the plan.
    Ok((corners.iter().map(|p| (p.0 - low.0, p.1 - low.1)).collect(), size))
}

/// A length a piece can have.
fn measured(mm: f64) -> Result<f64, BadPlan> {
    if (LEAST_MM..=MOST_MM).contains(&mm) { Ok(mm) } else { Err(BadPlan::Length(mm)) }
}

/// The ring of a cut-out, if it lies inside the plan.
fn ring_of(cut: &CutOut, size: Point) -> Option<Vec<Point>> {
    let (x, y, length) = (cut.x_mm, cut.y_mm, cut.length_mm);
    let width = cut.width_mm.unwrap_or(length);
    let inside = |at: f64, side: f64, whole: f64| at >= 0.0 && side > 0.0 && at + side <= whole;
    if !inside(x, length, size.0) || !inside(y, width, size.1) {
        return None;
    }
    if cut.width_mm.is_some() {
        return Some(vec![(x, y), (x + length, y), (x + length, y + width), (x, y + width)]);
    }
    let radius = length / 2.0;
    let corner = |n: u32| {
        let turn = std::f64::consts::TAU * f64::from(n) / f64::from(CORNERS);
        (x + radius + radius * turn.cos(), y + radius + radius * turn.sin())
    };
    Some((0..CORNERS).map(corner).collect())
}

/// The parts of the outline that lie on a side of its box and show.
fn edges(outline: &[Point], size: Point, sides: &[Side]) -> Vec<Vec<Point>> {
    let next = outline.iter().cycle().skip(1);
    let segments = outline.iter().zip(next);
    let lies_on = |side: &Side, a: &Point, b: &Point| {
        let near = |p: f64, q: f64, at: f64| (p - at).abs() < 1e-6 && (q - at).abs() < 1e-6;
        match side {
            Side::Front => near(a.1, b.1, 0.0),
            Side::Back => near(a.1, b.1, size.1),
            Side::Left => near(a.0, b.0, 0.0),
            Side::Right => near(a.0, b.0, size.0),
        }
    };
    let shown = segments.filter(|(a, b)| sides.iter().any(|side| lies_on(side, a, b)));
    shown.map(|(a, b)| vec![*a, *b]).collect()
}

fn bounds(ring: &[Point]) -> (Point, Point) {
    let start = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
    ring.iter()
        .fold(start, |(low, high), p| ((low.0.min(p.0), low.1.min(p.1)), (high.0.max(p.0), high.1.max(p.1))))
}

fn meet(a: (Point, Point), b: (Point, Point)) -> bool {
    a.0.0 < b.1.0 && b.0.0 < a.1.0 && a.0.1 < b.1.1 && b.0.1 < a.1.1
}
