//! Plain shapes that screen and paper draw alike: the column, silhouettes, charts.
//!
//! Lengths are millimetres, `x` to the right, `y` down from the top left corner. A shape names a tone, never
//! a colour: each surface has one table that says what a tone looks like there.

use serde::{Deserialize, Serialize};

/// A picture: a frame and the shapes in it, drawn in order.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Drawing {
    /// Width of the frame in millimetres.
    pub width: f64,
    /// Height of the frame in millimetres.
    pub height: f64,
    /// What is drawn, the first at the back.
    pub shapes: Vec<Shape>,
}

/// A point `(x, y)` in millimetres.
pub type Point = (f64, f64);

/// One shape of a drawing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// A rectangle by its top left corner and size.
    Rect {
        /// Top left corner.
        at: Point,
        /// Width and height.
        size: Point,
        /// How it is painted.
        paint: Paint,
    },
    /// An open line through the points.
    Polyline {
        /// The corners, in order.
        points: Vec<Point>,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// Closed rings filled by the even-odd rule, so that an inner ring is a hole.
    Polygon {
        /// The rings; none needs to repeat its first point.
        rings: Vec<Vec<Point>>,
        /// How it is painted.
        paint: Paint,
    },
    /// Filled dots: grains in a layer, points of a chart.
    Dots {
        /// Centre and radius of each.
        dots: Vec<(Point, f64)>,
        /// Their tone.
        tone: Tone,
    },
    /// A line of text at an anchor.
    Label {
        /// The anchor on the baseline.
        at: Point,
        /// Which part of the text stands at the anchor.
        anchor: Anchor,
        /// Size of the letters, in millimetres from ascender to descender.
        size: f64,
        /// Heavier letters.
        strong: bool,
        /// The words.
        text: String,
        /// Their tone.
        tone: Tone,
    },
}

/// How an area is painted; at least one of the two.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Paint {
    /// Tone of the area.
    pub fill: Option<Tone>,
    /// Its outline.
    pub stroke: Option<Stroke>,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stroke {
    /// Its tone.
    pub tone: Tone,
    /// Its width in millimetres.
    pub width: f64,
    /// Length of dash and gap in millimetres; none for a whole line.
    pub dash: Option<(f64, f64)>,
}

/// Where a label stands relative to its anchor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Anchor {
    /// The text begins at the anchor.
    #[default]
    Start,
    /// The anchor is the middle of the text.
    Middle,
    /// The text ends at the anchor.
    End,
}

/// A tone, named after the material it is taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tone {
    /// The ground.
    Paper,
    /// Text and the darkest line.
    Ink,
    /// Quiet text and fine rules.
    Graphite,
    /// Dark, freshly wetted concrete.
    WetConcrete,
    /// Light, dry concrete.
    DryConcrete,
    /// The pale film of grinding slurry: tints and bands.
    Slurry,
    /// The cement skin: the palest warm tint.
    Cream,
    /// Fine aggregate.
    Sand,
    /// Coarse aggregate.
    Stone,
    /// Iron oxide red: a stop.
    IronOxide,
    /// Yellow oxide: a caution.
    YellowOxide,
    /// Bottle glass green: done, clear, open.
    Glass,
    /// Thin glass: the tint of a coat.
    PaleGlass,
}

impl Paint {
    /// An area without an outline.
    pub const fn fill(tone: Tone) -> Self {
        Self { fill: Some(tone), stroke: None }
    }

    /// An outline `width` millimetres wide without a filled area.
    pub const fn outline(tone: Tone, width: f64) -> Self {
        Self { fill: None, stroke: Some(Stroke::solid(tone, width)) }
    }
}

impl Stroke {
    /// A whole line `width` millimetres wide.
    pub const fn solid(tone: Tone, width: f64) -> Self {
        Self { tone, width, dash: None }
    }
}
