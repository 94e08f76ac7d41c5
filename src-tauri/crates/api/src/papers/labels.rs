//! The labels of pieces.

use trowelogue_core::body::setup::Piece;
use trowelogue_core::id::ObjectId;
use trowelogue_core::rules::{Case, safety};
use trowelogue_core::shop::Versions;
use trowelogue_core::units::{self, Dimension};
use trowelogue_papers::model::{Label, Labels, Lift};

use super::Maker;

impl Maker<'_> {
    pub(super) fn labels(&self, pieces: &[ObjectId]) -> Labels {
        Labels {
            imprint: self.imprint("labels", pieces),
            labels: pieces.iter().filter_map(|piece| self.label(*piece)).collect(),
        }
    }

    fn label(&self, id: ObjectId) -> Option<Label> {
        let shop = self.shop;
        let piece = shop.pieces.get(&id).map(Versions::now)?;
        let job = piece.job.and_then(|job| shop.jobs.get(&job)).map(Versions::now);
        Some(Label {
            id: id.to_string(),
            code: piece.code.clone(),
            name: Some(piece.name.clone()).filter(|it| !it.is_empty()),
            job: job.map(|it| format!("{} {}", it.code, it.name)),
            place: self.place_of(piece, job.and_then(|it| it.site.clone())),
            lift: self.lift(id),
        })
    }

    /// Where a piece goes: its site and use; for a retained witness, where it is kept.
    fn place_of(&self, piece: &Piece, site: Option<String>) -> Option<String> {
        let used_as = piece.used_as.map(|it| self.voice.say(it.label()));
        let place = piece.kept_at.clone().or(site);
        let parts: Vec<String> = [place, used_as].into_iter().flatten().collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    fn lift(&self, piece: ObjectId) -> Option<Lift> {
        let weight = safety::weight(&Case::new(self.shop, piece))?;
        let show = |kg| units::show(kg, Dimension::Kilogram, self.voice.system, self.voice.lang);
        Some(Lift { mass: show(weight.mass_kg), persons: weight.persons, limit: show(weight.limit_kg) })
    }
}
