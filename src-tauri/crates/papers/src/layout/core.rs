//! The column on paper: the core laid in two lengths side by side, as cores lie in their box, with its words.
//!
//! The newest layer lies at the top left, the pour at the bottom right. Words that are too long for their layer
//! are cut short: they stand in full in the table of steps.

use std::rc::Rc;

use trowelogue_core::column::{Column, Layer, LayerKind, WIDTH};
use trowelogue_core::drawing::Tone;
use trowelogue_core::rules::Severity;

use super::figure::{FigureBox, draw};
use super::flow::Composer;
use super::paragraph::{Align, Mark, one_line};
use super::slab::{Slab, Split};
use crate::font::Face;
use crate::scene::{Item, NodeId, Role};
use crate::text::Style;
use crate::theme::{MM, SMALL, TABLE};

/// Space between the two lengths of a core, in points.
const LANE_GAP: f64 = 20.0;
/// Space between core and words; marks of findings stand in it.
const MARKS: f64 = 13.0;
/// Width of the moments at the right edge.
const WHEN: f64 = 27.0 * MM;
/// No part of a core is lower than this.
const LEAST_PART: f64 = 26.0 * MM;

/// A part of a core.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Core {
    layers: Vec<Stratum>,
    /// How far the second length stands from the first.
    lane: f64,
}

/// A layer: its piece of the core, and its words.
#[derive(Debug, Clone, PartialEq)]
struct Stratum {
    height: f64,
    core: Vec<Item>,
    words: Vec<Item>,
}

impl Composer {
    /// A core with the words of its layers. `alt` is the whole of it in words.
    pub(crate) fn core(&mut self, column: &Column, alt: String, before: f64) {
        let figure = self.tree.add_figure(self.parent, alt);
        let list = self.tree.add(self.parent, Role::List);
        let lane = (self.region.width - LANE_GAP) / 2.0;
        let layers = column.layers.iter().enumerate();
        let layers = layers.map(|(at, layer)| {
            let drawing = column.cut(at..at + 1);
            let room = FigureBox { width: WIDTH * MM, height: drawing.height * MM };
            let core = draw(&self.shaper, &drawing, self.region.x, room, figure).items;
            let item = self.tree.add(list, Role::ListItem);
            let body = self.tree.add(item, Role::ListBody);
            let height = drawing.height * MM;
            Stratum { height, core, words: self.words(layer, height, lane, body) }
        });
        let core = Core { layers: layers.collect(), lane: lane + LANE_GAP };
        let mut slab = core.balanced();
        slab.before = before;
        self.push(vec![slab]);
    }

    /// The words of a layer, as many lines as it is high; what matters most comes first.
    fn words(&self, layer: &Layer, height: f64, lane: f64, node: NodeId) -> Vec<Item> {
        let left = self.region.x + WIDTH * MM + MARKS;
        let right = self.region.x + lane;
        let strong = TABLE.face(if layer.kind == LayerKind::Step { Face::Semibold } else { Face::Italic });
        let title = strong.tone(if layer.kind == LayerKind::Wait { Tone::Graphite } else { Tone::Ink });
        let room = right - left - if layer.words.when.is_empty() { 0.0 } else { WHEN + 4.0 };
        let set = |words: &str, style: Style, align, at: (f64, f64)| {
            one_line(&self.shaper, words, Style { leading: 9.6, ..style }, align, at, Some(node))
        };
        let mut lines = Slab::default();
        lines.absorb(set(&layer.words.title, title, Align::Left, (left, room)), 0.0);
        lines.absorb(set(&layer.words.when, SMALL, Align::Right, (right - WHEN, WHEN)), 0.0);
        let mut items: Vec<Item> = Vec::new();
        let rule = ((left - MARKS, height), (right, height));
        items.push(Item::rule(rule.0, rule.1, Tone::DryConcrete, 0.4));
        for line in more_lines(layer) {
            let down = lines.height;
            if down + 9.6 > height - 1.0 {
                break;
            }
            lines.absorb(set(&line.words, line.style, Align::Left, (left, right - left)), down);
        }
        items.extend(lines.items.into_iter().map(|item| item.moved(0.0, 1.6)));
        if let Some(mark) = worst(layer) {
            items.push(mark.item(left - MARKS + 2.5, 6.6, 8.5));
        }
        items
    }
}

struct MoreLine {
    words: String,
    style: Style,
}

/// What a layer says below its title: findings, its gate, its values.
fn more_lines(layer: &Layer) -> Vec<MoreLine> {
    let plain = |words: &str, tone| MoreLine { words: words.to_owned(), style: SMALL.tone(tone) };
    let finding = layer.findings.iter().map(|mark| plain(&mark.title, tone(mark.severity)));
    let seam = layer.seam.iter().map(|seam| plain(&seam.text, Tone::IronOxide));
    let detail = (layer.kind != LayerKind::Wait && !layer.words.detail.is_empty())
        .then(|| plain(&layer.words.detail, Tone::Graphite));
    finding.chain(seam).chain(detail).collect()
}

fn worst(layer: &Layer) -> Option<Mark> {
    let severity = layer.findings.iter().map(|mark| mark.severity).min()?;
    Some(match severity {
        Severity::Stop => Mark::Square,
        Severity::Caution => Mark::Triangle,
        Severity::Note => Mark::Ring,
    })
}

fn tone(severity: Severity) -> Tone {
    match severity {
        Severity::Stop => Tone::IronOxide,
        Severity::Caution => Tone::YellowOxide,
        Severity::Note => Tone::Graphite,
    }
}

impl Core {
    /// The layers in two lengths as equal as they can be; the first is the longer one.
    fn balanced(self) -> Slab {
        let half = total(&self.layers) / 2.0;
        let mut reached = 0.0;
        let first = self.layers.iter().take_while(|layer| {
            let goes_on = reached < half - 1e-6;
            reached += layer.height;
            goes_on
        });
        let count = first.count();
        self.laid(count, self.layers.len())
    }

    /// The first `first` layers at the left, those up to `end` at the right.
    fn laid(&self, first: usize, end: usize) -> Slab {
        let lanes = [(&self.layers[..first], 0.0), (&self.layers[first..end], self.lane)];
        let mut slab = Slab::default();
        let mut words = Vec::new();
        for (layers, aside) in lanes {
            let mut down = 0.0;
            for layer in layers {
                let moved = |item: &Item| item.clone().moved(aside, down);
                slab.items.extend(layer.core.iter().map(moved));
                words.extend(layer.words.iter().map(moved));
                down += layer.height;
            }
            slab.height = slab.height.max(down);
        }
        slab.items.extend(words);
        let part = Self { layers: self.layers[..end].to_vec(), lane: self.lane };
        slab.split = Some(Rc::new(Split::Core(part)));
        slab
    }

    /// Fills both lengths down to the end of the page.
    pub(crate) fn cut(&self, room: f64) -> Option<(Slab, Slab)> {
        if room < LEAST_PART {
            return None;
        }
        let first = fitting(&self.layers, room);
        let end = first + fitting(&self.layers[first..], room);
        if first == 0 || end >= self.layers.len() {
            return None;
        }
        let rest = Self { layers: self.layers[end..].to_vec(), lane: self.lane };
        let mut below = rest.balanced();
        below.before = 0.0;
        Some((self.laid(first, end), below))
    }
}

fn total(layers: &[Stratum]) -> f64 {
    layers.iter().map(|layer| layer.height).sum()
}

fn fitting(layers: &[Stratum], room: f64) -> usize {
    let mut down = 0.0;
    let fits = |layer: &&Stratum| {
        down += layer.height;
        down <= room
    };
    layers.iter().take_while(fits).count()
}
