//! Shops to make papers from.

use std::path::{Path, PathBuf};

use tempfile::TempDir;
use trowelogue_api::dto::{Lang, PaperAsk, PaperKind, PaperSize, UnitsChoice};
use trowelogue_api::{About, Clock, Session, Setup};
use trowelogue_testkit::trowelogue_core::moment::parse;

use crate::reader::Paper;

/// The moment every paper of these tests is made.
const NOW: &str = "2026-03-04T10:20:00-06:00";

/// One way to ask for a paper.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Variant {
    pub(crate) lang: Lang,
    pub(crate) units: UnitsChoice,
    pub(crate) paper: PaperSize,
}

impl Variant {
    /// English, metric, A4.
    pub(crate) const FIRST: Self = Self { lang: Lang::En, units: UnitsChoice::Si, paper: PaperSize::A4 };

    /// All eight.
    pub(crate) fn all() -> Vec<Self> {
        let mut all = Vec::new();
        for lang in [Lang::En, Lang::Es] {
            for units in [UnitsChoice::Si, UnitsChoice::Us] {
                all.extend([PaperSize::A4, PaperSize::Letter].map(|paper| Self { lang, units, paper }));
            }
        }
        all
    }
}

/// A place for papers and homes.
pub(crate) struct Desk {
    pub(crate) place: TempDir,
    pub(crate) folder: PathBuf,
}

impl Desk {
    /// Beside the demo shop.
    pub(crate) fn of_demo() -> Self {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sample-logs/demo-shop");
        Self { place: tempfile::tempdir().unwrap(), folder }
    }

    /// What a session is opened with.
    pub(crate) fn setup(&self, variant: Variant) -> Setup {
        let home = self.place.path().join("home");
        let clock = Clock::At(parse(NOW).unwrap());
        Setup { home, clock, lang: Some(variant.lang), units: Some(variant.units) }
    }

    /// The shop, read in a variant's language and units.
    pub(crate) fn open(&self, variant: Variant) -> Session {
        Session::open(&self.setup(variant), &self.folder).unwrap()
    }

    /// Makes a paper of a piece.
    pub(crate) fn make(
        &self,
        session: &mut Session,
        kind: PaperKind,
        piece: &str,
        variant: Variant,
    ) -> Paper {
        let Variant { lang, units, paper } = variant;
        let ask = PaperAsk { kind, piece: Some(piece.into()), job: None, lang, paper, units };
        let name = format!("{kind:?}-{piece}-{lang:?}-{units:?}-{paper:?}.pdf");
        let path = self.place.path().join(name);
        session.write_paper(&ask, &path).unwrap();
        Paper { path }
    }
}

/// The codes of every piece.
pub(crate) fn codes(session: &Session) -> Vec<String> {
    session.show(&About::default()).unwrap().pieces.into_iter().map(|it| it.code).collect()
}

/// One piece.
pub(crate) fn about(piece: &str) -> About {
    About { piece: Some(piece.into()), job: None }
}
