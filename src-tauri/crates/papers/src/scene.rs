//! The display list: everything a paper shows, placed, with what it means. The layout makes it, a writer turns
//! it into a file; neither knows the other.
//!
//! Lengths are points (1/72 in), `x` to the right, `y` down from the top left corner of the page.

use std::rc::Rc;

use trowelogue_core::drawing::Tone;
use trowelogue_core::text::Lang;

use crate::text::{Style, Word};

/// A whole paper.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Scene {
    /// Language of the paper.
    pub(crate) lang: Lang,
    /// Title.
    pub(crate) title: String,
    /// Who issues it.
    pub(crate) author: String,
    /// What it is about.
    pub(crate) subject: String,
    /// Pages in order.
    pub(crate) pages: Vec<Page>,
    /// What everything means, in reading order.
    pub(crate) tree: Tree,
    /// The headings, for the outline.
    pub(crate) outline: Vec<Mark>,
    /// The pictures.
    pub(crate) images: Vec<Rc<crate::jpeg::Jpeg>>,
}

/// A page.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Page {
    /// Width and height.
    pub(crate) size: (f64, f64),
    /// What stands on it, the first at the back, in reading order.
    pub(crate) items: Vec<Item>,
}

/// A heading and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mark {
    /// The words.
    pub(crate) title: String,
    /// Level, from 1.
    pub(crate) level: u8,
    /// Page, from 0.
    pub(crate) page: usize,
    /// Upper edge on the page.
    pub(crate) y: f64,
}

/// Something drawn, and what it belongs to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Item {
    /// What it belongs to; none for an artifact: furniture of the page that says nothing of its own.
    pub(crate) node: Option<NodeId>,
    /// What is drawn.
    pub(crate) ink: Ink,
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Ink {
    /// Glyphs on a baseline.
    Text {
        /// Start of the baseline.
        at: (f64, f64),
        /// The shaped word.
        word: Rc<Word>,
        /// Which of its glyphs.
        glyphs: (usize, usize),
        /// Their look.
        style: Style,
    },
    /// Closed rings, or open lines.
    Path {
        /// The corners of each ring.
        rings: Vec<Vec<(f64, f64)>>,
        /// Whether a ring inside another is a hole (even-odd rule), or both are filled.
        holes: bool,
        /// Whether the last corner joins the first.
        closed: bool,
        /// Tone of the area.
        fill: Option<Tone>,
        /// Tone, width and dash of the line.
        stroke: Option<Pen>,
    },
    /// A picture in its frame.
    Image {
        /// Upper left corner.
        at: (f64, f64),
        /// Width and height as seen.
        size: (f64, f64),
        /// Number of the picture, and how it is to be turned (EXIF orientation).
        image: (usize, u8),
    },
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pen {
    /// Its tone.
    pub(crate) tone: Tone,
    /// Its width.
    pub(crate) width: f64,
    /// Dash and gap.
    pub(crate) dash: Option<(f64, f64)>,
}

impl Item {
    /// The item moved.
    pub(crate) fn moved(mut self, dx: f64, dy: f64) -> Self {
        match &mut self.ink {
            Ink::Text { at, .. } | Ink::Image { at, .. } => *at = (at.0 + dx, at.1 + dy),
            Ink::Path { rings, .. } => {
                for point in rings.iter_mut().flatten() {
                    *point = (point.0 + dx, point.1 + dy);
                }
            }
        }
        self
    }

    /// The item as an artifact: a repeated header row says nothing new.
    pub(crate) fn artifact(mut self) -> Self {
        self.node = None;
        self
    }

    /// A filled rectangle that is an artifact.
    pub(crate) fn area(x: f64, y: f64, width: f64, height: f64, tone: Tone) -> Self {
        let ring = vec![(x, y), (x + width, y), (x + width, y + height), (x, y + height)];
        let ink = Ink::Path { rings: vec![ring], holes: false, closed: true, fill: Some(tone), stroke: None };
        Self { node: None, ink }
    }

    /// A line that is an artifact.
    pub(crate) fn rule(from: (f64, f64), to: (f64, f64), tone: Tone, width: f64) -> Self {
        let stroke = Some(Pen { tone, width, dash: None });
        Self {
            node: None,
            ink: Ink::Path { rings: vec![vec![from, to]], holes: false, closed: false, fill: None, stroke },
        }
    }

    /// The box it covers: left, top, right, bottom.
    pub(crate) fn bounds(&self) -> (f64, f64, f64, f64) {
        match &self.ink {
            Ink::Text { at, word, glyphs, style } => {
                let advance: f64 = word.glyphs[glyphs.0..glyphs.1].iter().map(|g| g.advance).sum();
                let width = advance / crate::font::UNITS_PER_EM * style.size;
                let up = crate::font::ASCENT * style.size;
                (at.0, at.1 - up, at.0 + width, at.1 + crate::font::DESCENT * style.size)
            }
            Ink::Image { at, size, .. } => (at.0, at.1, at.0 + size.0, at.1 + size.1),
            Ink::Path { rings, stroke, .. } => {
                let half = stroke.map_or(0.0, |pen| pen.width / 2.0);
                let start = (f64::MAX, f64::MAX, f64::MIN, f64::MIN);
                rings.iter().flatten().fold(start, |b, p| {
                    (b.0.min(p.0 - half), b.1.min(p.1 - half), b.2.max(p.0 + half), b.3.max(p.1 + half))
                })
            }
        }
    }
}

/// Number of a node in the tree.
pub(crate) type NodeId = usize;

/// What a part of a paper is (ISO 32000-1, 14.8.4).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Role {
    /// The whole paper.
    Document,
    /// A part under a heading.
    Section,
    /// A heading of a level from 1.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// A list.
    List,
    /// An entry of a list.
    ListItem,
    /// Its mark or name.
    ListLabel,
    /// Its text.
    ListBody,
    /// A table.
    Table,
    /// A row of a table.
    Row,
    /// A cell that names a column or a row.
    Header(Scope),
    /// A cell.
    Cell,
    /// A picture with a text equivalent.
    Figure,
    /// Words that belong to a picture or table.
    Caption,
}

/// What a header cell names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Scope {
    /// Its column.
    Column,
    /// Its row.
    Row,
}

/// A node of the tree. What is drawn hangs on leaves only.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Node {
    /// What it is.
    pub(crate) role: Role,
    /// Its parts, in reading order.
    pub(crate) kids: Vec<NodeId>,
    /// Its parent; the root has none.
    pub(crate) parent: Option<NodeId>,
    /// Text equivalent of a figure.
    pub(crate) alt: Option<String>,
}

/// What everything means. Node 0 is the document.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tree {
    nodes: Vec<Node>,
}

impl Default for Tree {
    fn default() -> Self {
        Self { nodes: vec![Node { role: Role::Document, kids: Vec::new(), parent: None, alt: None }] }
    }
}

impl Tree {
    /// Number of the document node.
    pub(crate) const ROOT: NodeId = 0;

    /// Adds a part at the end of another.
    pub(crate) fn add(&mut self, parent: NodeId, role: Role) -> NodeId {
        let id = self.nodes.len();
        self.nodes.push(Node { role, kids: Vec::new(), parent: Some(parent), alt: None });
        self.nodes[parent].kids.push(id);
        id
    }

    /// Adds a figure with its text equivalent.
    pub(crate) fn add_figure(&mut self, parent: NodeId, alt: String) -> NodeId {
        let id = self.add(parent, Role::Figure);
        self.nodes[id].alt = Some(alt);
        id
    }

    /// Every node, by number.
    pub(crate) fn nodes(&self) -> &[Node] {
        &self.nodes
    }
}
