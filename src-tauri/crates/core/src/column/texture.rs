//! What a step looks like in the core.

use crate::body::setup::{Aggregate, Mix};
use crate::body::{Body, Group, Kind};
use crate::shop::Step;
use crate::sums::grit::Grit;

/// What a layer is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Texture {
    /// What was agreed and prepared before the pour: boards.
    Mould,
    /// The pour: stones in fresh paste.
    Pour(Stones),
    /// A cure: wet concrete with drops.
    Cure,
    /// Out of the form: the cement skin lies bare.
    Bare,
    /// A reading, a test or an inspection: a rule.
    Reading,
    /// A wash: a ragged upper edge, as deep as it bites, from 0 to 1.
    Wash(f64),
    /// A grit pass: grains by the particle, in micrometres.
    Grit(f64),
    /// A fill: lenses of slurry.
    Fill,
    /// A trowelled face: long arcs.
    Trowel,
    /// Colour: drifts that sink in from above.
    Colour,
    /// A densifier: glass that sinks in from above.
    Densify,
    /// Drying: fine cracks.
    Dry,
    /// A coat: a clear band.
    Coat,
    /// Stored, packed, moved, set in its place: bearers.
    Moved,
    /// Handed over: solid glass.
    Handover,
    /// Anything else, and what a newer version wrote.
    Other,
}

/// The stones of a pour, after the mix.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stones {
    /// Siliceous stone, or not known.
    #[default]
    Plain,
    /// Basalt or granite.
    Dark,
    /// Limestone, marble, dolomite, shell.
    Pale,
    /// Glass.
    Glass,
    /// Lightweight aggregate.
    Light,
}

impl Stones {
    /// The stones of a mix: glass is seen before any other.
    pub fn of(mix: Option<&Mix>) -> Self {
        let all = mix.map_or(&[][..], |mix| &mix.aggregates);
        let has = |wanted: &[Aggregate]| all.iter().any(|it| wanted.contains(it));
        match all {
            _ if has(&[Aggregate::Glass]) => Self::Glass,
            _ if has(&[Aggregate::Marble, Aggregate::Limestone, Aggregate::Dolomite, Aggregate::Shell]) => {
                Self::Pale
            }
            _ if has(&[Aggregate::Basalt]) => Self::Dark,
            _ if has(&[Aggregate::Light]) => Self::Light,
            _ => Self::Plain,
        }
    }
}

impl Texture {
    /// What a recorded step looks like. `stones` are those of the piece's mix.
    pub fn of_step(step: &Step, stones: Stones) -> Self {
        step.kind.map_or(Self::Other, |kind| Self::of(kind, step.body(), stones))
    }

    /// What a step of this kind looks like.
    pub fn of(kind: Kind, body: Option<&Body>, stones: Stones) -> Self {
        use Kind as K;
        match kind {
            K::Pour => Self::Pour(stones),
            K::InitialCure | K::SealerCure => Self::Cure,
            K::Demould => Self::Bare,
            K::GritPass => grit(body),
            K::AcidWash => Self::Wash(bite(body)),
            K::Clean | K::Neutralise | K::Flush => Self::Wash(0.35),
            K::Rinse => Self::Wash(0.15),
            K::Strip => Self::Wash(0.7),
            K::Fill => Self::Fill,
            K::Trowel => Self::Trowel,
            K::Colour => Self::Colour,
            K::Densify => Self::Densify,
            K::Dry => Self::Dry,
            K::SealCoat => Self::Coat,
            K::Storage | K::Packing | K::Loading | K::Delivery | K::Install | K::InCareOf => Self::Moved,
            K::Handover => Self::Handover,
            _ => match kind.group() {
                Group::Before => Self::Mould,
                Group::Work | Group::After => Self::Reading,
                Group::Setup | Group::Record => Self::Other,
            },
        }
    }
}

fn grit(body: Option<&Body>) -> Texture {
    let Some(Body::GritPass(pass)) = body else { return Texture::Other };
    let size = Grit { number: pass.grit, scale: pass.scale }.particle_um();
    size.map_or(Texture::Other, Texture::Grit)
}

/// How deep an acid wash bites: ten parts of water to one of acid, the strong end, is a whole bite.
fn bite(body: Option<&Body>) -> f64 {
    const STRONG: f64 = 10.0;
    let Some(Body::AcidWash(wash)) = body else { return 0.6 };
    let ratio = wash.water_parts / wash.acid_parts;
    if ratio.is_finite() && ratio > 0.0 { (STRONG / ratio).clamp(0.4, 1.0) } else { 1.0 }
}
