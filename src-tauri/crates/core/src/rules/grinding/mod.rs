//! Grinding and filling: ladders, bonds, what a pass left behind.

pub(crate) mod brush_first_cut;
pub(crate) mod chatter_left;
pub(crate) mod fill_before_open;
pub(crate) mod fill_not_repassed;
pub(crate) mod fill_still_soft;
pub(crate) mod finer_than_useful;
pub(crate) mod grit_step;
pub(crate) mod grit_too_coarse;
pub(crate) mod pass_unfinished;
pub(crate) mod plucking;
pub(crate) mod soft_stone_dished;
pub(crate) mod wrong_backer;

use crate::body::setup::{FinishKind, Power};
use crate::body::surface::{Bond, Exposure, Fill, FillMethod, GritPass, GritScale};
use crate::rules::prelude::*;
use crate::sums::grit::Grit;

/// Particle size of a pass's grit, in µm; `None` for a number its scale does not know.
pub(crate) fn size_um(pass: &GritPass) -> Option<f64> {
    Grit { number: pass.grit, scale: pass.scale }.particle_um().ok()
}

/// The grit of a pass.
pub(crate) const fn grit_of(pass: &GritPass) -> Grit {
    Grit { number: pass.grit, scale: pass.scale }
}

/// The grit as people write it: "200 (pad number)".
pub(crate) fn grit_fact(name: Text, pass: &GritPass) -> Fact {
    said(name, &format!("{} {}", pass.grit, scale_word(pass.scale)))
}

const fn scale_word(scale: GritScale) -> &'static str {
    match scale {
        GritScale::Pad => "pad",
        GritScale::Mesh => "mesh",
        GritScale::P => "P",
        GritScale::Cami => "CAMI",
    }
}

/// Whether a machine cuts here: paper, hand pads and non-woven pads only rub.
pub(crate) const fn is_cut(pass: &GritPass) -> bool {
    matches!(pass.bond, Bond::Metal | Bond::CupWheel | Bond::Hybrid | Bond::Resin | Bond::Brush)
}

/// What drives the tool of a pass: as stated, as the shop's tool says, else by hand for paper and pads.
pub(crate) fn power_of(case: &Case<'_>, pass: &GritPass) -> Option<Power> {
    let tool = || pass.tool.and_then(|id| case.shop.tools.get(&id)).map(|tool| tool.now().power);
    let rubbed = || (!is_cut(pass)).then_some(Power::Hand);
    pass.power.or_else(tool).or_else(rubbed)
}

/// The passes over a region so far.
pub(crate) fn passes<'a>(past: &Past<'_, 'a>, region: Option<Region>) -> Vec<(&'a Step, &'a GritPass)> {
    past.all(view::grit_pass).filter(|(step, _)| covers(step, region)).collect()
}

/// The regions a coat or another step over the piece is about: its own, else those that were ground or washed,
/// else the face.
pub(crate) fn regions(past: &Past<'_, '_>, named: Option<Region>) -> Vec<Region> {
    if let Some(region) = named {
        return vec![region];
    }
    let worked = [Kind::GritPass, Kind::AcidWash, Kind::Strip];
    let surface = past.steps.iter().filter(|step| step.kind.is_some_and(|kind| worked.contains(&kind)));
    let mut regions: Vec<Region> = surface.filter_map(|step| region_of(step)).collect();
    regions.sort_unstable();
    regions.dedup();
    if regions.is_empty() { vec![Region::Face] } else { regions }
}

/// The region as a fact, where one is named.
pub(crate) fn region_fact(region: Option<Region>) -> Option<Fact> {
    region.map(|it| word(text("region", "zona"), it.label()))
}

/// The passes over a region so far in which a machine cut.
pub(crate) fn cuts<'a>(past: &Past<'_, 'a>, region: Option<Region>) -> Vec<(&'a Step, &'a GritPass)> {
    passes(past, region).into_iter().filter(|(_, pass)| is_cut(pass)).collect()
}

/// Whether stone or glass is brought out of a region: a pass has shown it, or the finish is made of it. `None`
/// where no finish is recorded.
pub(crate) fn is_deep(past: &Past<'_, '_>, region: Option<Region>) -> Option<bool> {
    let shows = |pass: &GritPass| matches!(pass.exposure, Some(Exposure::SmallStone | Exposure::Stone));
    if passes(past, region).iter().any(|(_, pass)| shows(pass)) {
        return Some(true);
    }
    Some(matches!(past.case.finish()?, FinishKind::Aggregate | FinishKind::Glass))
}

/// Whether voids of a fill are opened by grinding first: the finish is ground, nothing was backfilled as cast,
/// and nothing of the piece was sealed before (a repair). `None` where no finish is recorded.
pub(crate) fn fills_opened(before: &Past<'_, '_>, fill: Option<&Fill>) -> Option<bool> {
    if before.has(&[Kind::SealCoat]) || fill.is_some_and(|it| it.method == FillMethod::Backfill) {
        return Some(false);
    }
    let finish = before.case.finish()?;
    Some(matches!(
        finish,
        FinishKind::Honed
            | FinishKind::SaltPepper
            | FinishKind::Aggregate
            | FinishKind::Glass
            | FinishKind::Floor
    ))
}
