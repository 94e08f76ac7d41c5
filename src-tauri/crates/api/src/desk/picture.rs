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

#[cfg(test)]
mod tests {
    use std::path::Path;

    use trowelogue_core::body::Group;
    use trowelogue_core::plan;
    use trowelogue_core::rules::check_piece;
    use trowelogue_core::text::Lang;
    use trowelogue_core::units::System;

    use super::*;
    use crate::Clock;
    use crate::session::{Session, Setup};

    /// The demo shop, looked at by a home that never joined it.
    fn demo(home: &Path) -> Session {
        let now = trowelogue_core::moment::parse("2025-06-02T09:15:00-06:00").expect("a moment");
        let setup = Setup { home: home.to_owned(), clock: Clock::At(now), lang: None, units: None };
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../sample-logs/demo-shop");
        Session::open(&setup, &folder).expect("the demo shop opens")
    }

    #[test]
    fn the_column_of_every_demo_piece_holds_all_its_work_in_both_languages() {
        let home = tempfile::tempdir().expect("a folder");
        let session = demo(home.path());
        let (shop, now) = (session.shop(), session.now());
        for piece in shop.pieces.keys() {
            let findings = check_piece(shop, *piece);
            let plan = plan::next_with(shop, *piece, now, &findings);
            for lang in [Lang::En, Lang::Es] {
                let voice = Voice { lang, system: System::Us, zone: None };
                let drawn = || column(&voice, shop, &plan, &findings, now, &|it| it.rule.code.to_owned());
                let column = drawn();
                let shown: Vec<&String> = column.layers.iter().filter_map(|it| it.hash.as_ref()).collect();
                let work = shop.history(*piece).into_iter();
                let work = work.filter(|it| it.kind.is_some_and(|kind| kind.group() == Group::Work));
                for step in work {
                    assert!(shown.contains(&&step.hash.to_string()), "{step:?}");
                }
                let marked = column.layers.iter().filter(|it| !it.findings.is_empty()).count();
                let on_steps =
                    |it: &&Finding| it.entries.iter().any(|hash| shown.contains(&&hash.to_string()));
                assert_eq!(marked > 0, findings.iter().any(|it| on_steps(&it)));
                assert_eq!(column.drawing.text.len(), column.layers.len() + 1);
                assert_eq!(column, drawn());
            }
            let outline = outline(&session.voice, shop.pieces[piece].now());
            assert!(!outline.drawing.shapes.is_empty() && !outline.text.is_empty(), "{outline:?}");
        }
    }
}
