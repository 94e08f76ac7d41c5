//! From a course to layers: what lies on what, and how thick.

use super::grains::{Seed, rounded};
use super::{Ahead, Course, Done, Layer, LayerKind, Scale, Seam, Texture, WIDTH, Words, paint};
use crate::drawing::{Paint, Shape, Stroke, Tone};
use crate::id::Hash;
use crate::moment::{Moment, hours_between};
use crate::text::{Lang, Text, text};
use crate::units::{self, Dimension, System};

/// Hours from which on a wait is a layer of its own.
const WAIT_FROM_H: f64 = 1.0;
/// A layer with a seam is so much thicker, for the seam has words of its own.
const SEAM_SHARE: f64 = 0.5;

const WAITED: Text = text("Wait of", "Espera de");
const NOTHING: Text = text("nothing was done", "no se hizo nada");
const SINCE: Text = text("until now", "hasta ahora");
const AHEAD: Text = text("until the next step may begin", "hasta que se pueda hacer el siguiente paso");

/// A layer and what it is drawn with.
pub(super) struct Stratum {
    pub(super) layer: Layer,
    texture: Option<Texture>,
    seed: Hash,
}

/// The layers of a course, the top one first, each at its place.
pub(super) fn stack(course: &Course, scale: Scale, lang: Lang) -> Vec<Stratum> {
    let mut pile = Pile { scale, lang, strata: Vec::new(), reached: None };
    let mut done: Vec<&Done> = course.done.iter().collect();
    // A tie in time is broken by the hash, so that the order in which entries came in shows nowhere.
    done.sort_by_key(|it| (it.span.start, it.span.finish(), it.hash));
    for it in done {
        pile.wait(it.span.start, NOTHING);
        pile.done(it, course.now);
    }
    if let Some(now) = course.now {
        pile.wait(now, SINCE);
        if let Some(earliest) = course.ahead.first().and_then(|it| it.earliest) {
            pile.wait(earliest, AHEAD);
        }
    }
    for (place, it) in course.ahead.iter().enumerate() {
        pile.ahead(it, place);
    }
    placed(pile.strata)
}

/// Gives every layer its place, counted from the top.
fn placed(mut strata: Vec<Stratum>) -> Vec<Stratum> {
    strata.reverse();
    let mut down = 0.0;
    for stratum in &mut strata {
        // Until here `bottom` is the thickness alone.
        stratum.layer.top = down;
        down = rounded(down + stratum.layer.bottom);
        stratum.layer.bottom = down;
    }
    strata
}

/// Layers as they are laid, the lowest first.
struct Pile {
    scale: Scale,
    lang: Lang,
    strata: Vec<Stratum>,
    /// The moment up to which something was done.
    reached: Option<Moment>,
}

impl Pile {
    /// Empty rock up to a moment, where it is long enough to show.
    fn wait(&mut self, until: Moment, detail: Text) {
        let Some(reached) = self.reached else { return };
        let hours = hours_between(reached, until);
        if hours < WAIT_FROM_H {
            return;
        }
        let span = units::show(hours, Dimension::Hour, System::Metric, self.lang);
        let words = Words {
            title: format!("{} {span}", WAITED.get(self.lang)),
            detail: detail.get(self.lang).to_owned(),
            when: String::new(),
        };
        let seed = Hash::of(&[b"wait", &reached.timestamp_millis().to_be_bytes()]);
        self.lay(LayerKind::Wait, self.scale.thickness(hours), words, None, seed);
        self.reached = Some(until);
    }

    fn done(&mut self, it: &Done, now: Option<Moment>) {
        let finish = it.span.finish().max(it.span.start);
        // What runs on after the moment of the picture has lasted until then.
        let finish = now.map_or(finish, |now| finish.min(now).max(it.span.start));
        let hours = hours_between(it.span.start, finish);
        self.reached = Some(self.reached.map_or(finish, |reached| reached.max(finish)));
        let thickness = self.scale.thickness(hours);
        self.lay(LayerKind::Step, thickness, it.words.clone(), Some(it.texture), it.hash);
        if let Some(top) = self.strata.last_mut() {
            top.layer.hash = Some(it.hash);
            top.layer.findings.clone_from(&it.findings);
        }
    }

    fn ahead(&mut self, it: &Ahead, place: usize) {
        let kind = if place == 0 { LayerKind::Next } else { LayerKind::Planned };
        let more = if it.seam.is_some() { SEAM_SHARE } else { 0.0 };
        let thickness = rounded(self.scale.least * (1.0 + more));
        let seed = Hash::of(&[it.words.title.as_bytes(), &(place as u64).to_be_bytes()]);
        self.lay(kind, thickness, it.words.clone(), Some(it.texture), seed);
        if let Some(top) = self.strata.last_mut() {
            top.layer.seam.clone_from(&it.seam);
        }
    }

    fn lay(&mut self, kind: LayerKind, thick: f64, words: Words, texture: Option<Texture>, seed: Hash) {
        let layer =
            Layer { top: 0.0, bottom: thick, kind, hash: None, words, findings: Vec::new(), seam: None };
        self.strata.push(Stratum { layer, texture, seed });
    }
}

impl Stratum {
    /// What is drawn for it.
    pub(super) fn shapes(&self) -> Vec<Shape> {
        let bed = paint::Bed { top: self.layer.top, height: self.layer.bottom - self.layer.top };
        let mut seed = Seed::of(&self.seed);
        let mut shapes = match (self.layer.kind, self.texture) {
            (LayerKind::Step, Some(texture)) => paint::texture(texture, bed, &mut seed),
            (LayerKind::Next, _) => planned(bed, Some(Tone::Cream), Tone::Ink),
            (LayerKind::Planned, _) => planned(bed, None, Tone::Graphite),
            _ => vec![bed.ground(Tone::Slurry)],
        };
        if matches!(self.layer.kind, LayerKind::Step | LayerKind::Wait) {
            shapes.push(bed.bedding());
        }
        shapes.extend(self.layer.seam.as_ref().map(|seam| joint(seam, bed, &mut seed)));
        shapes
    }
}

/// A broken outline.
fn planned(bed: paint::Bed, fill: Option<Tone>, line: Tone) -> Vec<Shape> {
    let stroke = Some(Stroke { tone: line, width: 0.35, dash: Some((1.2, 0.8)) });
    let size = (WIDTH - 0.6, rounded(bed.height - 0.6));
    vec![Shape::Rect { at: (0.3, rounded(bed.top + 0.3)), size, paint: Paint { fill, stroke } }]
}

/// A gate: an open joint in rust, a closed one in glass, ragged as a break in rock.
fn joint(seam: &Seam, bed: paint::Bed, seed: &mut Seed) -> Shape {
    let y = bed.top + bed.height - 1.1;
    let points = (0..=8).map(|n| {
        let sway = if n % 2 == 0 { 0.0 } else { 0.35 + 0.3 * seed.next() };
        (WIDTH * f64::from(n) / 8.0, rounded(y + sway))
    });
    let tone = if seam.open { Tone::Glass } else { Tone::IronOxide };
    Shape::Polyline { points: points.collect(), stroke: Stroke::solid(tone, 0.6) }
}
