//! The plan of a piece with what is marked on it, and how a finger finds a place on it.

use trowelogue_core::body::setup::Piece;
use trowelogue_core::form;
use trowelogue_core::id::ObjectId;
use trowelogue_core::moment::Moment;
use trowelogue_core::shop::{Step, Versions};
use trowelogue_core::silhouette::{Lie, Mark, Spot, lie, marked};
use trowelogue_core::text::{Text, text};

use super::form::reads;
use crate::dto::{Control, MapMark, MarkKind, NamedSpot, PieceMap, PlanFrame};
use crate::format::Voice;
use crate::papers::Maker;
use crate::reading::{first_upper, title};
use crate::session::Session;

/// Largest side of the plan, in millimetres of the drawing.
const SIDE: f64 = 80.0;

/// Places by name, as shares of length and width: for whoever does not point.
const NAMED: [(Text, f64, f64); 9] = [
    (text("front left", "delante izquierda"), 0.1, 0.1),
    (text("front middle", "delante centro"), 0.5, 0.1),
    (text("front right", "delante derecha"), 0.9, 0.1),
    (text("left", "izquierda"), 0.1, 0.5),
    (text("middle", "centro"), 0.5, 0.5),
    (text("right", "derecha"), 0.9, 0.5),
    (text("back left", "detrás izquierda"), 0.1, 0.9),
    (text("back middle", "detrás centro"), 0.5, 0.9),
    (text("back right", "detrás derecha"), 0.9, 0.9),
];

/// The plan with the marks of every entry that counts.
pub(super) fn of_piece(session: &Session, id: ObjectId, piece: &Piece, now: Moment) -> PieceMap {
    let voice = session.voice;
    let maker = Maker::unillustrated(session.shop(), voice, now);
    let found = maker.spots(id, |_| true);
    let mark = |(at, (step, spot)): (usize, &(&Step, Spot))| MapMark {
        number: super::open::small(at as u64 + 1),
        kind: spot.mark.into(),
        title: first_upper(&title(&voice, step)),
        when: voice.when(&step.done.start, &now),
        hash: step.hash.to_string(),
    };
    let marks = found.iter().enumerate().map(mark).collect();
    let spots: Vec<Spot> = found.into_iter().map(|(_, spot)| spot).collect();
    PieceMap {
        picture: marked(piece, &spots, SIDE, voice.system, voice.lang).into(),
        frame: lie(piece, SIDE).map(|lie| frame(&voice, &lie)),
        marks,
    }
}

/// The control that takes places on the plan of the first piece.
pub(super) fn control(session: &Session, pieces: &[ObjectId]) -> Control {
    let voice = &session.voice;
    let piece = pieces.first().and_then(|id| session.shop().pieces.get(id)).map(Versions::now);
    let Some(piece) = piece else { return Control::List };
    let lies = lie(piece, SIDE);
    Control::Places {
        plan: marked(piece, &[], SIDE, voice.system, voice.lang).into(),
        frame: lies.map(|lie| frame(voice, &lie)),
        named: lies.map_or_else(Vec::new, |lie| named(voice, &lie)),
    }
}

fn frame(voice: &Voice, lie: &Lie) -> PlanFrame {
    let (unit, decimals) = form::place_unit(reads(voice));
    PlanFrame {
        left: lie.left,
        front: lie.front,
        scale: lie.scale * unit,
        length: lie.length_mm / unit,
        width: lie.width_mm / unit,
        decimals,
    }
}

fn named(voice: &Voice, lie: &Lie) -> Vec<NamedSpot> {
    let (unit, decimals) = form::place_unit(reads(voice));
    let decimals = usize::try_from(decimals).unwrap_or(0);
    let said = |value: f64| format!("{:.decimals$}", value / unit);
    let spot = |(label, x, y): &(Text, f64, f64)| NamedSpot {
        label: voice.say(*label),
        line: format!("{}; {}", said(lie.length_mm * x), said(lie.width_mm * y)),
    };
    NAMED.iter().map(spot).collect()
}

impl From<Mark> for MarkKind {
    fn from(mark: Mark) -> Self {
        match mark {
            Mark::Fill => Self::Fill,
            Mark::Chip => Self::Chip,
            Mark::Photo => Self::Photo,
            Mark::Claim => Self::Claim,
        }
    }
}
