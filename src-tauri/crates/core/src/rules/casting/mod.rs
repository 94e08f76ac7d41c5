//! Casting: what is agreed, prepared and kept in bounds before the face is worked.

pub(crate) mod backing_out_of_window;
pub(crate) mod form_not_cured;
pub(crate) mod glass_without_pozzolan;
pub(crate) mod heat_cure;
pub(crate) mod sample_late;

use crate::body::before::SampleAgreed;
use crate::moment::Moment;
use crate::rules::prelude::*;

/// The samples agreed for a piece, or for its whole job, up to a moment.
pub(crate) fn samples<'a>(past: &Past<'_, 'a>, at: Moment) -> Vec<(&'a Step, &'a SampleAgreed)> {
    let case = past.case;
    let job = case.facts().and_then(|it| it.job);
    let of_job = |step: &&'a Step| job.is_some() && step.object == job && step.pieces.is_empty();
    let for_job = case.shop.of_kind(Kind::SampleAgreed).filter(of_job);
    let own = case.of(Kind::SampleAgreed);
    let all = own.chain(for_job).filter(|step| step.done.start <= at);
    all.filter_map(|step| Some((step, view::sample_agreed(step.body()?)?))).collect()
}
