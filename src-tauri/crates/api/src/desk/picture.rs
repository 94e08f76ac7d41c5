//! The drawings of a piece as the window gets them: its column and its plan.

use trowelogue_core::body::setup::Piece;
use trowelogue_core::column::{self as core, Scale};
use trowelogue_core::moment::Moment;
use trowelogue_core::picture;
use trowelogue_core::plan::PiecePlan;
use trowelogue_core::rules::Finding;
use trowelogue_core::shop::Shop;
use trowelogue_core::silhouette::silhouette;

use crate::dto::{Column, FindingMark, Layer, LayerKind, Picture, Seam};
use crate::format::Voice;
use crate::reading::Teller;

/// The course of a piece at a moment as a column. `key` names a finding, as the window names it elsewhere.
pub(crate) fn column(
    voice: &Voice,
    shop: &Shop,
    plan: &PiecePlan,
    findings: &[Finding],
    now: Moment,
    key: &dyn Fn(&Finding) -> String,
) -> Column {
    let when = |moment: &Moment| voice.when(moment, &now).text;
    let course = Teller { voice, shop, when: &when, key }.course(plan, findings, now);
    let drawn = core::column(&course, Scale::SCREEN, voice.lang);
    Column {
        drawing: drawn.picture.into(),
        layers: drawn.layers.into_iter().map(|it| layer(voice, it, &now)).collect(),
        scale: drawn.scale,
    }
}

/// The plan of a piece to scale.
pub(crate) fn outline(voice: &Voice, piece: &Piece) -> Picture {
    silhouette(piece, voice.system, voice.lang).into()
}

impl From<picture::Picture> for Picture {
    fn from(it: picture::Picture) -> Self {
        Self { drawing: it.drawing.into(), title: it.title, text: it.text }
    }
}

fn layer(voice: &Voice, it: core::Layer, now: &Moment) -> Layer {
    let mark = |it: core::Mark| FindingMark { key: it.key, severity: it.severity.into(), title: it.title };
    Layer {
        top: it.top,
        bottom: it.bottom,
        kind: match it.kind {
            core::LayerKind::Step => LayerKind::Step,
            core::LayerKind::Wait => LayerKind::Wait,
            core::LayerKind::Next => LayerKind::Next,
            core::LayerKind::Planned => LayerKind::Planned,
        },
        hash: it.hash.map(|hash| hash.to_string()),
        title: it.words.title,
        detail: it.words.detail,
        when: it.words.when,
        findings: it.findings.into_iter().map(mark).collect(),
        seam: it.seam.map(|seam| Seam {
            text: seam.text,
            clears_at: seam.clears_at.map(|moment| voice.when(&moment, now)),
            open: seam.open,
        }),
    }
}
