//! The column: the course of a piece, drawn as a core drilled out of it.
//!
//! The pour lies at the bottom (on what was agreed and prepared before it), the newest step at the top. Every
//! step is a layer, as thick as it took; time in which nothing was done is empty rock; what is planned has
//! broken outlines. The same course gives the same picture everywhere: grains are scattered by the entry's hash.

mod grains;
mod layers;
mod paint;
mod texture;

#[cfg(test)]
mod tests;

pub use texture::{Stones, Texture};

use crate::drawing::{Drawing, Shape, Stroke, Tone};
use crate::id::Hash;
use crate::moment::{Moment, Span};
use crate::picture::Picture;
use crate::rules::Severity;
use crate::text::{Lang, Text, text};

/// Width of the core, in millimetres.
pub const WIDTH: f64 = 12.0;

/// How thick a layer is drawn.
///
/// Time is compressed by its logarithm: up to an hour a layer has its least thickness, and each tenfold time adds
/// half of that. So a minute, a day and a winter can stand in one picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Thickness of a layer of an hour or less, in millimetres.
    pub least: f64,
}

impl Scale {
    /// For a screen: a row for a finger.
    pub const SCREEN: Self = Self { least: 8.0 };
    /// For paper: two lines of print.
    pub const PAPER: Self = Self { least: 7.2 };

    /// Thickness of so many hours, in millimetres.
    fn thickness(self, hours: f64) -> f64 {
        let tenfold = if hours.is_finite() { hours.max(1.0).log10() } else { 0.0 };
        grains::rounded(self.least * (1.0 + tenfold / 2.0))
    }
}

const SCALE: Text = text(
    "Time is compressed: up to one hour is one layer thick, and each tenfold time adds half a layer (10 h: 1½ layers, 100 h: 2). Waits under one hour are not drawn; planned steps are not to scale.",
    "El tiempo está comprimido: hasta una hora es una capa de espesor y cada tiempo diez veces mayor añade media capa (10 h: 1½ capas; 100 h: 2). Las esperas de menos de una hora no se dibujan; los pasos previstos no están a escala.",
);

/// The words of a layer, as a person reads them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words {
    /// What it is.
    pub title: String,
    /// The values that matter.
    pub detail: String,
    /// When.
    pub when: String,
}

/// A finding beside the layer that caused it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// Names the finding.
    pub key: String,
    /// Its weight.
    pub severity: Severity,
    /// The rule as one sentence.
    pub title: String,
}

/// A gate at the lower edge of a layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seam {
    /// What it is and when it clears.
    pub text: String,
    /// When it clears by itself.
    pub clears_at: Option<Moment>,
    /// It is open.
    pub open: bool,
}

/// A step that was done.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// The entry; its bytes scatter the grains.
    pub hash: Hash,
    /// What it looks like.
    pub texture: Texture,
    /// When it was done, from start to end where it had one.
    pub span: Span,
    /// Its words.
    pub words: Words,
    /// Findings it caused.
    pub findings: Vec<Mark>,
}

/// A step that is still ahead.
#[derive(Debug, Clone, PartialEq)]
pub struct Ahead {
    /// What it would look like.
    pub texture: Texture,
    /// The earliest moment for it; none where something blocks it.
    pub earliest: Option<Moment>,
    /// Its words.
    pub words: Words,
    /// The gate before it.
    pub seam: Option<Seam>,
}

/// The course of a piece.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Course {
    /// What the picture is called.
    pub title: String,
    /// What was done, in any order.
    pub done: Vec<Done>,
    /// What is ahead, in order: the first is next.
    pub ahead: Vec<Ahead>,
    /// The moment the picture is for; none where the course is over and nothing runs any more.
    pub now: Option<Moment>,
}

/// What a layer stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayerKind {
    /// A step that was done.
    Step,
    /// Time in which nothing was done.
    Wait,
    /// The next step.
    Next,
    /// A step that is planned.
    Planned,
}

/// A layer of the column.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// Its top, in millimetres from the top of the drawing.
    pub top: f64,
    /// Its bottom.
    pub bottom: f64,
    /// What it stands for.
    pub kind: LayerKind,
    /// The entry it shows.
    pub hash: Option<Hash>,
    /// Its words.
    pub words: Words,
    /// Findings it caused.
    pub findings: Vec<Mark>,
    /// The gate at its lower edge.
    pub seam: Option<Seam>,
}

/// The course of a piece as a core.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// The core, without labels, and all it says in words.
    pub picture: Picture,
    /// Its layers, the top one first.
    pub layers: Vec<Layer>,
    /// The scale, in words.
    pub scale: String,
}

/// Draws the course of a piece.
pub fn column(course: &Course, scale: Scale, lang: Lang) -> Column {
    let stack = layers::stack(course, scale, lang);
    let height = stack.last().map_or(scale.least, |it| it.layer.bottom);
    let mut shapes: Vec<Shape> = stack.iter().flat_map(layers::Stratum::shapes).collect();
    shapes.extend(now_line(&stack));
    let layers: Vec<Layer> = stack.into_iter().map(|it| it.layer).collect();
    let scale = SCALE.get(lang).to_owned();
    let mut said = vec![scale.clone()];
    said.extend(layers.iter().map(|layer| layer.said(lang)));
    let drawing = Drawing { width: WIDTH, height, shapes };
    Column { picture: Picture { drawing, title: course.title.clone(), text: said }, layers, scale }
}

impl Column {
    /// The part of the core that shows some of its layers, as a drawing of its own.
    pub fn cut(&self, layers: std::ops::Range<usize>) -> Drawing {
        let Some(part) = self.layers.get(layers).filter(|part| !part.is_empty()) else {
            return Drawing { width: WIDTH, ..Drawing::default() };
        };
        let (top, bottom) = (part[0].top, part[part.len() - 1].bottom);
        let inside = |shape: &&Shape| {
            let middle = grains::middle(shape);
            middle > top && middle < bottom
        };
        let shapes = self.picture.drawing.shapes.iter().filter(inside);
        let shapes = shapes.map(|shape| grains::lowered(shape.clone(), -top)).collect();
        Drawing { width: WIDTH, height: grains::rounded(bottom - top), shapes }
    }
}

/// The line of today: above it nothing was done yet.
fn now_line(stack: &[layers::Stratum]) -> Option<Shape> {
    let at = stack.iter().position(|it| it.layer.kind == LayerKind::Step)?;
    let first = (0..at).rev().find(|place| stack[*place].layer.kind != LayerKind::Wait)?;
    let y = stack[first].layer.bottom - 0.35;
    Some(Shape::Polyline { points: vec![(0.0, y), (WIDTH, y)], stroke: Stroke::solid(Tone::Ink, 0.7) })
}

impl Layer {
    /// The layer in one line.
    fn said(&self, lang: Lang) -> String {
        const NEXT: Text = text("Next:", "A continuación:");
        const PLANNED: Text = text("Planned:", "Previsto:");
        let kind = match self.kind {
            LayerKind::Step | LayerKind::Wait => None,
            LayerKind::Next => Some(NEXT.get(lang)),
            LayerKind::Planned => Some(PLANNED.get(lang)),
        };
        let words = [&self.words.title, &self.words.detail, &self.words.when];
        let words: Vec<&str> = words.into_iter().map(String::as_str).filter(|it| !it.is_empty()).collect();
        let mut line = kind.map(|kind| format!("{kind} ")).unwrap_or_default() + &words.join("; ");
        for mark in &self.findings {
            line.push_str(&format!("; {}: {}", mark.severity.label().get(lang), mark.title));
        }
        if let Some(seam) = &self.seam {
            line.push_str("; ");
            line.push_str(&seam.text);
        }
        line
    }
}
