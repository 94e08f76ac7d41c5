//! Pictures: the shapes of `core::drawing`, as the screen gets them.

use trowelogue_core::drawing as core;

dto! {
    /// A picture with its full text equivalent.
    pub struct Picture {
        /// What is drawn.
        pub drawing: Drawing,
        /// What it is, in a few words.
        pub title: String,
        /// All it shows, in words, a line each.
        pub text: Vec<String>,
    }

    /// A frame and the shapes in it, drawn in order. Lengths in mm, origin at the top left, y down.
    pub struct Drawing {
        /// Width of the frame.
        pub width: f64,
        /// Height of the frame.
        pub height: f64,
        /// What is drawn, the first at the back.
        pub shapes: Vec<Shape>,
    }

    /// One shape.
    #[serde(rename_all = "snake_case")]
    pub enum Shape {
        /// A rectangle by its top left corner and size.
        Rect {
            /// Top left corner.
            at: (f64, f64),
            /// Width and height.
            size: (f64, f64),
            /// How it is painted.
            paint: Paint,
        },
        /// An open line.
        Polyline {
            /// The corners.
            points: Vec<(f64, f64)>,
            /// How it is drawn.
            stroke: Stroke,
        },
        /// Closed rings, filled by the even-odd rule.
        Polygon {
            /// The rings.
            rings: Vec<Vec<(f64, f64)>>,
            /// How it is painted.
            paint: Paint,
        },
        /// Filled dots.
        Dots {
            /// Centre and radius of each.
            dots: Vec<((f64, f64), f64)>,
            /// Their tone.
            tone: Tone,
        },
        /// A line of text.
        Label {
            /// The anchor on the baseline.
            at: (f64, f64),
            /// Which part of the text stands at the anchor.
            anchor: Anchor,
            /// Size of the letters.
            size: f64,
            /// Heavier letters.
            strong: bool,
            /// The words.
            text: String,
            /// Their tone.
            tone: Tone,
        },
    }

    /// How an area is painted.
    #[derive(Copy)]
    pub struct Paint {
        /// Tone of the area.
        pub fill: Option<Tone>,
        /// Its outline.
        pub stroke: Option<Stroke>,
    }

    /// How a line is drawn.
    #[derive(Copy)]
    pub struct Stroke {
        /// Its tone.
        pub tone: Tone,
        /// Its width.
        pub width: f64,
        /// Length of dash and gap; none for a whole line.
        pub dash: Option<(f64, f64)>,
    }

    /// Where a label stands relative to its anchor.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum Anchor {
        /// It begins there.
        Start,
        /// Its middle is there.
        Middle,
        /// It ends there.
        End,
    }

    /// A tone, named after the material it is taken from.
    #[derive(Copy, Eq)]
    #[serde(rename_all = "snake_case")]
    pub enum Tone {
        /// The ground.
        Paper,
        /// Text and the darkest line.
        Ink,
        /// Quiet text and fine rules.
        Graphite,
        /// Freshly wetted concrete.
        WetConcrete,
        /// Dry concrete.
        DryConcrete,
        /// Grinding slurry.
        Slurry,
        /// The cement skin.
        Cream,
        /// Fine aggregate.
        Sand,
        /// Coarse aggregate.
        Stone,
        /// A stop.
        IronOxide,
        /// A caution.
        YellowOxide,
        /// Done, clear, open.
        Glass,
        /// A coat.
        PaleGlass,
    }
}

impl From<core::Drawing> for Drawing {
    fn from(it: core::Drawing) -> Self {
        Self { width: it.width, height: it.height, shapes: it.shapes.into_iter().map(Into::into).collect() }
    }
}

impl From<core::Shape> for Shape {
    fn from(shape: core::Shape) -> Self {
        match shape {
            core::Shape::Rect { at, size, paint } => Self::Rect { at, size, paint: paint.into() },
            core::Shape::Polyline { points, stroke } => Self::Polyline { points, stroke: stroke.into() },
            core::Shape::Polygon { rings, paint } => Self::Polygon { rings, paint: paint.into() },
            core::Shape::Dots { dots, tone } => Self::Dots { dots, tone: tone.into() },
            core::Shape::Label { at, anchor, size, strong, text, tone } => {
                Self::Label { at, anchor: anchor.into(), size, strong, text, tone: tone.into() }
            }
        }
    }
}

impl From<core::Paint> for Paint {
    fn from(it: core::Paint) -> Self {
        Self { fill: it.fill.map(Into::into), stroke: it.stroke.map(Into::into) }
    }
}

impl From<core::Stroke> for Stroke {
    fn from(it: core::Stroke) -> Self {
        Self { tone: it.tone.into(), width: it.width, dash: it.dash }
    }
}

impl From<core::Anchor> for Anchor {
    fn from(it: core::Anchor) -> Self {
        match it {
            core::Anchor::Start => Self::Start,
            core::Anchor::Middle => Self::Middle,
            core::Anchor::End => Self::End,
        }
    }
}

impl From<core::Tone> for Tone {
    fn from(it: core::Tone) -> Self {
        match it {
            core::Tone::Paper => Self::Paper,
            core::Tone::Ink => Self::Ink,
            core::Tone::Graphite => Self::Graphite,
            core::Tone::WetConcrete => Self::WetConcrete,
            core::Tone::DryConcrete => Self::DryConcrete,
            core::Tone::Slurry => Self::Slurry,
            core::Tone::Cream => Self::Cream,
            core::Tone::Sand => Self::Sand,
            core::Tone::Stone => Self::Stone,
            core::Tone::IronOxide => Self::IronOxide,
            core::Tone::YellowOxide => Self::YellowOxide,
            core::Tone::Glass => Self::Glass,
            core::Tone::PaleGlass => Self::PaleGlass,
        }
    }
}
